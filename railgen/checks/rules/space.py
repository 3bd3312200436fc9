"""Rules about the room around the stair: landings, width, headroom, treads, and what the rail leaves of it."""

from __future__ import annotations

from collections.abc import Iterator

from railgen.checks.rules.found import Found, Scene
from railgen.checks.rules.model import Rule
from railgen.job.model import Flight, Turn
from railgen.job.rules_model import Beside, Guarding, OtherSide

__all__ = [
    "clear_width",
    "headroom",
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
    """Free distance between the rail and the wall or separate barrier on its side; nothing where neither stands."""
    if scene.site.beside is Beside.OPEN and scene.site.guarding is not Guarding.SEPARATE:
        return
    offset, radius = scene.job.posts.edge_offset, scene.job.hardware.tube.radius
    found = Found(where="rail", value=None, least=rule.least, most=rule.most)
    if scene.site.beside is None:
        yield _waiting(found, "surroundings.beside")
    elif scene.site.wall_distance is None:
        yield _waiting(found, "surroundings.wall_distance")
    else:
        value = scene.site.wall_distance + offset - radius
        formula = f"{scene.mm(scene.site.wall_distance)} + {scene.mm(offset)} - {scene.mm(radius)}"
        bound = rule.least if rule.least is not None and value < rule.least else rule.most
        move = (bound or value) - value
        yield Found(where="rail", value=value, least=rule.least, most=rule.most, formula=formula).advised(
            f"set posts.edge_offset to {scene.mm(offset + move)}"
        )


def projection(scene: Scene, rule: Rule) -> Iterator[Found]:
    """How far the handrail with its posts reaches into the stair; what plates take of the width is asked elsewhere."""
    offset = scene.job.posts.edge_offset
    where, reach = next(_reaches(scene))
    formula = f"{scene.mm(offset)} + {scene.mm(reach - offset)}"
    yield Found(where=where, value=reach, least=rule.least, most=rule.most, formula=formula).advised(
        _nearer_edge(scene, offset - (reach - (rule.most or 0.0)))
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
    """Width between what stands in the stair on both sides, at the rail and at the plates."""
    site = scene.site
    width = min(flight.width for flight in scene.job.flights)
    both = site.other_side is OtherSide.RAIL
    least = rule.least
    if both and rule.unit == "length" and rule.least_both_sides is not None:
        least = rule.least_both_sides
    for where, reach in _reaches(scene):
        other = site.other_projection if both else 0.0
        found = Found(where=where, value=None, least=least, most=rule.most)
        if site.other_side is None:
            yield _waiting(found, "surroundings.other_side")
        elif other is None:
            yield _waiting(found, "surroundings.other_projection")
        else:
            value = width - reach - other
            formula = f"{scene.mm(width)} - {scene.mm(reach)} - {scene.mm(other)}"
            offset = scene.job.posts.edge_offset - ((least or 0.0) - value)
            yield Found(where=where, value=value, least=least, most=rule.most, formula=formula).advised(
                _nearer_edge(scene, offset)
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
