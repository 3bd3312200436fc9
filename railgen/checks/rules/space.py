"""Rules about the room around the stair: landings, width, headroom, treads, and what the rail leaves of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from railgen.checks.rules.found import Found, Scene
from railgen.checks.rules.model import Rule
from railgen.job.model import Flight, Landing, Turn
from railgen.job.rules_model import Beside, Flank, Guarding, OtherSide

__all__ = [
    "between_rails",
    "clear_width",
    "headroom",
    "inside_edge",
    "landing_length",
    "nosing",
    "nosing_radius",
    "projection",
    "stair_width",
    "tread_gap",
    "wall_clearance",
]


def landing_length(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Each landing along both flights it serves, and the floors at the bottom and the top of the stair."""
    flights = scene.job.flights
    for index, landing in enumerate(scene.job.landings):
        along = landing.length
        other = landing.length_behind(flights[index])
        formula = ""
        if landing.turn is not Turn.STRAIGHT:
            formula = f"{scene.mm(along)} along flight {index + 1}, {scene.mm(other)} along flight {index + 2}"
        where, served = f"landing {landing.number}", flights[index : index + 2]
        key = scene.untyped(landing, "upper_offset") if landing.turn is not Turn.STRAIGHT else ""
        if key:  # where the upper flight begins can only make it shorter still
            found = _length(scene, rule, where, along, served, f"{scene.mm(along)} along flight {index + 1}")
            yield found if found.failed else _waiting(found, key)
        else:
            yield _length(scene, rule, where, min(along, other), served, formula)
    for name, value, served in (
        ("bottom", scene.site.floor_bottom, flights[:1]),
        ("top", scene.site.floor_top, flights[-1:]),
    ):
        found = _length(scene, rule, f"floor at the {name}", value, served, "")
        yield found if value is not None else _waiting(found, f"surroundings.floor_{name}")


def _length(
    scene: Scene, rule: Rule, where: str, value: float | None, served: tuple[Flight, ...], formula: str
) -> Found:
    least = rule.least
    if rule.unit == "length" and rule.as_wide_as is not None:
        widths = [flight.width for flight in served]
        width = min(widths) if rule.as_wide_as == "narrowest" else max(widths)
        least = max(least or 0.0, width if rule.need_not_exceed is None else min(width, rule.need_not_exceed))
    found = Found(where=where, value=value, least=least, most=rule.most, formula=formula)
    return found.advised(f"make it {scene.mm((least or 0.0) - (value or 0.0))} longer")


def stair_width(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Width of each flight between its edges."""
    for flight in scene.job.flights:
        found = Found(where=f"flight {flight.number}", value=flight.width, least=rule.least, most=rule.most)
        yield found.advised(f"{scene.mm((rule.least or 0.0) - flight.width)} more is asked for")


def headroom(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Least clear height anywhere on the stair, as measured."""
    value = scene.site.headroom
    found = Found(where="stair", value=value, least=rule.least, most=rule.most)
    yield (
        found.advised(f"{scene.mm((rule.least or 0.0) - (value or 0.0))} more is asked for")
        if value
        else _waiting(found, "surroundings.headroom")
    )


def tread_gap(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Largest ball that passes between two treads."""
    value = scene.site.tread_gap
    found = Found(where="stair", value=value, most=rule.most)
    if value is None:
        yield _waiting(found, "surroundings.tread_gap")
    else:
        yield found.advised(f"close the gap under the treads to {scene.mm(rule.most or 0.0)} or less")


def nosing(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Overhang of the treads beyond the riser below."""
    for survey in scene.flights:
        flight = survey.flight
        if scene.applies(rule.when, survey):
            found = Found(where=f"flight {flight.number}", value=flight.overhang, least=rule.least, most=rule.most)
            if key := scene.untyped(flight, "nosing_overhang"):
                yield _waiting(found, key)
                continue
            bound = rule.least if rule.least is not None and flight.overhang < rule.least else rule.most
            advice = f"an overhang of {scene.mm(bound or 0.0)} meets it"
            if rule.when.going_below is not None:
                advice += f", or goings of at least {scene.mm(rule.when.going_below)}"
            yield found.advised(advice)


def nosing_radius(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Radius of the nosings' leading edge, as measured."""
    value = scene.site.nosing_radius
    found = Found(where="stair", value=value, least=rule.least, most=rule.most)
    yield (
        found.advised("ease or dress the nosings")
        if value is not None
        else _waiting(found, "surroundings.nosing_radius")
    )


def wall_clearance(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Free distance between the rail and the wall or separate barrier on its side; nothing where neither stands.

    Told once for the whole rail where every flight and landing is alike.
    """
    offset, radius = scene.job.posts.edge_offset, scene.job.hardware.tube.radius
    parts: list[tuple[str, Flight | Landing]] = [(f"flight {flight.number}", flight) for flight in scene.job.flights]
    parts += [(f"landing {landing.number}", landing) for landing in scene.job.landings]
    alike: dict[Flank, list[tuple[str, Flight | Landing]]] = {}
    for where, part in parts:
        side = scene.side(part)
        alike.setdefault(
            Flank(beside=side.beside, guarding=side.guarding, wall_distance=side.wall_distance), []
        ).append((where, part))
    for side, places in alike.items():
        if side.beside is Beside.OPEN and side.guarding is not Guarding.SEPARATE:
            continue
        where = "rail" if len(alike) == 1 else ", ".join(name for name, _ in places)
        found = Found(where=where, value=None, least=rule.least, most=rule.most)
        if side.beside is None or side.wall_distance is None:
            yield _waiting(found, scene.side_key(places[0][1], "beside" if side.beside is None else "wall_distance"))
            continue
        value = side.wall_distance + offset - radius
        bound = rule.least if rule.least is not None and value < rule.least else rule.most
        formula = f"{scene.mm(side.wall_distance)} + {scene.mm(offset)} - {scene.mm(radius)}"
        yield replace(found, value=value, formula=formula).advised(
            f"set posts.edge_offset to {scene.mm(offset + (bound or value) - value)}"
        )


def inside_edge(scene: Scene, rule: Rule) -> Iterator[Found]:
    """How far the rail's inner face, towards those who walk, stands inside the edge of the steps."""
    value = scene.job.posts.edge_offset + scene.job.hardware.tube.radius
    yield Found(where="rail", value=value, least=rule.least, most=rule.most).advised(
        _nearer_edge(scene, scene.job.posts.edge_offset - (value - (rule.most or 0.0)))
    )


def projection(scene: Scene, rule: Rule) -> Iterator[Found]:
    """How far the handrail with its posts reaches into the stair; plates too where what is below counts."""
    offset = scene.job.posts.edge_offset
    reaches = list(_reaches(scene))
    for where, reach in reaches if rule.unit == "length" and rule.counts == "below" else reaches[:1]:
        formula = f"{scene.mm(offset)} + {scene.mm(reach - offset)}"
        yield Found(where=where, value=reach, least=rule.least, most=rule.most, formula=formula).advised(
            _nearer_edge(scene, offset - (reach - (rule.most or 0.0)))
        )


def between_rails(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Free width between the handrails of each flight; from a single one to the stair's other edge."""
    inner = scene.job.posts.edge_offset + scene.job.hardware.tube.radius
    for survey in scene.flights:
        flight = survey.flight
        if rule.unit != "length" or not scene.applies(rule.when, survey):
            continue
        other, fields = scene.other_rail(flight), scene.site.middle_rails + 1
        both = other is OtherSide.RAIL
        reach = scene.other_reach(flight) if both else 0.0
        most = rule.most if both or rule.most_one_side is None else rule.most_one_side
        found = Found(where=f"flight {flight.number}", value=None, most=most)
        if other is None or reach is None:
            key = "other_side" if other is None else "other_projection"
            yield _waiting(found, scene.side_key(flight, key))
            continue
        value = (flight.width - inner - reach) / fields
        formula = f"({scene.mm(flight.width)} - {scene.mm(inner)} - {scene.mm(reach)}) / {fields}"
        yield replace(found, value=value, formula=formula).advised(
            "handrails that divide the width (surroundings.middle_rails) meet it, which this job does not draw"
        )


def _nearer_edge(scene: Scene, offset: float) -> str:
    """Advice to set the posts nearer to the stair's edge, where a base plate of this width still stands on it."""
    plate = scene.job.hardware.base_plate.width / 2
    told = f"set posts.edge_offset to {scene.mm(offset)} or less"
    if offset >= plate:
        return told
    if offset <= 0:
        return "even a rail at the stair's edge would be too much: the stair is too narrow"
    return f"{told}, with a base plate at most {scene.mm(2 * offset)} wide, or one fixed to the stair's side"


def clear_width(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Width between what stands in the stair on both sides, at the rail and at the plates.

    Of flights whose other sides are alike, the narrowest.
    """
    narrowest: dict[tuple[OtherSide | None, float | None], Flight] = {}
    for flight in sorted(scene.job.flights, key=lambda flight: flight.width):
        narrowest.setdefault((scene.other_rail(flight), scene.other_reach(flight)), flight)
    for (other, reaches_in), flight in narrowest.items():
        both, place = other is OtherSide.RAIL, "" if len(narrowest) == 1 else f"flight {flight.number}, "
        least = rule.least
        if both and rule.unit == "length" and rule.least_both_sides is not None:
            least = rule.least_both_sides
        for where, reach in _reaches(scene):
            found = Found(where=f"{place}{where}", value=None, least=least, most=rule.most)
            taken = reaches_in if both else 0.0
            if other is None or taken is None:
                yield _waiting(found, scene.side_key(flight, "other_side" if other is None else "other_projection"))
                continue
            value = flight.width - reach - taken
            formula = f"{scene.mm(flight.width)} - {scene.mm(reach)} - {scene.mm(taken)}"
            yield replace(found, value=value, formula=formula).advised(
                _nearer_edge(scene, scene.job.posts.edge_offset - ((least or 0.0) - value))
            )


def _reaches(scene: Scene) -> Iterator[tuple[str, float]]:
    """How far from the stair's edge things reach in: the rail or its post, and the plate or its cover."""
    hardware, offset = scene.job.hardware, scene.job.posts.edge_offset
    cover = hardware.cover_plate
    yield "at the rail", offset + max(hardware.tube.radius, hardware.post_tube.radius)
    yield "at the base plates", offset + max(hardware.base_plate.width, cover.width if cover else 0.0) / 2


def _waiting(found: Found, name: str) -> Found:
    """The same without a value, waiting for an input."""
    return Found(where=found.where, value=None, least=found.least, most=found.most, missing=name)
