"""Rules about the rail itself: where it is wanted, how high, how continuous, what the hand finds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from railgen.catalogue.models import Cradle
from railgen.checks.rules.found import Found, Scene, extremes
from railgen.checks.rules.model import Kind, PlainRule, Rule
from railgen.job.model import Flight, Landing
from railgen.job.rules_model import OtherSide
from railgen.layout import measure
from railgen.layout.model import LEVEL, PostRole, RailTube
from railgen.survey.flight import FlightSurvey

__all__ = [
    "continuity",
    "covered",
    "grip",
    "grip_length",
    "height",
    "landing_height",
    "landing_sides",
    "landing_tops",
    "loads",
    "set_height",
    "sides",
    "under_blocked",
    "under_clearance",
]

_HAIR = 1e-6  # mm: rounding, not a dimension
_FLUSH = 1.0  # mm of diameter that the hand does not feel; common practice


def sides(scene: Scene, rule: Rule) -> Iterator[Found]:
    """How many sides of each flight have a handrail, and how many must."""
    for survey in scene.flights:
        flight, asked = survey.flight, scene.asked(rule, survey)
        formula = f"{len(flight.risers)} risers, {scene.mm(sum(flight.risers))} up, {scene.mm(flight.width)} wide"
        found = _sided(scene, flight, f"flight {flight.number}", asked, f"{formula}: {asked} asked for")
        if (
            asked == 1
            and rule.unit == "count"
            and rule.each_open_side
            and scene.other_rail(flight) is not OtherSide.RAIL
        ):
            other = scene.side(flight, other=True).beside
            if other is None:
                found = replace(found, value=None, missing=scene.side_key(flight, "beside", other=True))
        yield found


def landing_sides(scene: Scene, rule: Rule) -> Iterator[Found]:
    """How many sides of each landing have a handrail, and how many must: this rail runs on over every landing."""
    for landing in scene.job.landings:
        yield _sided(scene, landing, f"landing {landing.number}", round(rule.least or 0), "")


def _sided(scene: Scene, part: Flight | Landing, where: str, asked: int, formula: str) -> Found:
    other = scene.other_rail(part)
    unknown = asked > 1 and other is None
    return Found(
        where=where,
        value=None if unknown else 2.0 if other is OtherSide.RAIL else 1.0,
        least=float(asked),
        formula=formula,
        missing=scene.side_key(part, "other_side") if unknown else "",
    ).advised("a second handrail on the other side meets it")


def height(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Height of the tube's top over every nosing that has rail above it."""
    known = [at.height for at in scene.layout.heights if at.height is not None]
    for at in scene.layout.heights:
        if at.height is not None:
            yield Found(
                where=f"flight {at.flight}, nosing {at.nosing}",
                value=at.height,
                least=rule.least,
                most=rule.most,
                formula=_band(scene, rule, known),
            ).advised(_raise(scene, rule, at.height, known))


def _band(scene: Scene, rule: Rule, heights: Sequence[float]) -> str:
    """Where the whole rail may lie so that every nosing meets the rule."""
    spread = max(heights) - min(heights)
    if rule.most is None:
        return f"every nosing meets it with the lowest at {scene.mm(rule.least or 0.0)} or more"
    top = rule.most - spread
    if rule.least is not None and top < rule.least:
        steps = max(map(measure.off_line, scene.flights))
        straight = "no straight rail meets it: " if steps > rule.most - rule.least else ""
        return f"{straight}heights differ by {scene.mm(spread)}, of which uneven steps make {scene.mm(steps)}"
    low = "up" if rule.least is None else f"from {scene.mm(rule.least)}"
    return f"every nosing meets it with the lowest {low} to {scene.mm(top)}"


def _raise(scene: Scene, rule: Rule, value: float, heights: Sequence[float]) -> str:
    spread = max(heights) - min(heights)
    low = rule.least is not None and value < rule.least
    if rule.least is not None and rule.most is not None and spread > rule.most - rule.least:
        return _level_out(scene, rule.most - rule.least, spread)
    bound = rule.least if low else rule.most
    return set_height(scene, (bound or 0.0) - (min(heights) if low else max(heights)))


def _level_out(scene: Scene, band: float, spread: float) -> str:
    """What brings heights closer that differ by more than is allowed: mended steps only where these are uneven."""
    steps, uneven = max((measure.off_line(flight), flight.flight.number) for flight in scene.flights)
    if steps > band:
        return f"the steps of flight {uneven} are {scene.mm(steps)} off one line: mend them, no straight rail meets it"
    along, tilted = max(
        (measure.along(scene.layout.heights, flight.number), flight.number) for flight in scene.job.flights
    )
    if along > band:
        return (
            f"the rail of flight {tilted} runs {scene.mm(along)} out of parallel with its steps: "
            'posts.lengths = "cut" lays it along them'
        )
    return (
        f"the heights differ by {scene.mm(spread)} from flight to flight, by at most {scene.mm(along)} within one: "
        "bring the pitch lines to meet on the landings (posts.edge_offset, a landing's upper_offset)"
    )


def set_height(scene: Scene, shift: float) -> str:
    """How to move the whole rail by ``shift`` mm or a little more: by whole millimetres, as equal posts do."""
    whole = math.ceil(shift - 1e-6) if shift > 0 else math.floor(shift + 1e-6)
    verb = "raise" if shift > 0 else "lower"
    return f"{verb} rail.least_height by {scene.mm(abs(whole))}, to {scene.mm(scene.job.rail.least_height + whole)}"


def landing_height(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Lowest and highest top of the rail above each landing and the top floor, where there is rail."""
    for number, tops in landing_tops(scene):
        for found in extremes(rule, f"landing {number}", tops):
            bound = found.least if found.least is not None else found.most
            shift = (bound or 0.0) - (found.value or 0.0)
            advice = set_height(scene, shift)
            if scene.job.landings[number - 1].turn.quarters == 2:
                tangent = math.tan(scene.flights[number].pitch())
                advice += f", or change the landing's upper_offset by {scene.mm(2 * shift / tangent)}"
            yield found.advised(advice)
    yield from _level_end(scene, rule, "floor at the bottom", scene.layout.rails[:1], scene.flights[0].foot.z)
    yield from _level_end(scene, rule, "floor at the top", scene.layout.rails[-1:], scene.flights[-1].top_level)
    yield from _top_end(scene, rule)


def _level_end(scene: Scene, rule: Rule, where: str, rails: Sequence[RailTube], floor: float) -> Iterator[Found]:
    """A level part over the floor at an end of the rail, if there is one."""
    for rail in rails:
        if rail.level_end:
            top = rail.start.z + scene.job.hardware.tube.radius - floor
            found = Found(where=where, value=top, least=rule.least, most=rule.most, formula=f"level part {rail.id}")
            low = rule.least is not None and top < rule.least
            yield found.advised(set_height(scene, ((rule.least if low else rule.most) or 0.0) - top))


def _top_end(scene: Scene, rule: Rule) -> Iterator[Found]:
    """The end of a pitched rail that runs on over the floor at the top: its highest point."""
    flight = scene.flights[-1]
    rail = scene.tube_of(flight)
    if rail is None or rail is not scene.layout.rails[-1] or covered(scene, rail, flight)[1] <= flight.xs[-1]:
        return
    top = rail.end.z + scene.job.hardware.tube.radius * math.cos(rail.pitch) - flight.top_level
    found = Found(where="floor at the top", value=top, least=rule.least, most=rule.most, formula="the rail's end")
    if rule.most is not None:
        found = found.advised(f"end the pitched rail {scene.mm((top - rule.most) / math.tan(rail.pitch))} earlier")
    yield found


def landing_tops(scene: Scene) -> Iterator[tuple[int, list[tuple[str, float]]]]:
    """For each landing the tops of the rail above it (mm): pitched ends carried past the nosing, and level tubes.

    The part in front of the next flight's first riser belongs to that flight's pitch line.
    """
    rails = scene.layout.rails
    for landing, flight in zip(scene.job.landings, scene.flights, strict=False):
        at = next((i for i, rail in enumerate(rails) if rail.flight == flight.flight.number), None)
        if at is None or at + 1 == len(rails):
            continue
        radius, level = scene.job.hardware.tube.radius, flight.top_level
        tops: list[tuple[str, float]] = []
        node_id = rails[at].far_end.node
        node = scene.layout.node(node_id) if node_id else None
        if node is not None and flight.along(node.at) > flight.xs[-1]:
            top = node.at.z + radius / math.cos(rails[at].pitch) - level
            tops.append((f"end of {rails[at].id}", top))
        for rail in rails[at + 1 :]:
            if rail.flight is not None:
                break
            if abs(rail.direction.z) < LEVEL:
                tops.append((rail.id, rail.start.z + radius - level))
        yield landing.number, tops


def continuity(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Nosings of each flight without rail above them, where the set wants a handrail on the flight.

    Where the document goes from riser to riser, the rail has to reach over the top riser too, an overhang behind the
    top nosing, and need not begin before the bottom one.
    """
    for flight in scene.flights:
        if not scene.sides_asked(flight):
            continue
        number, overhang = flight.flight.number, flight.flight.overhang
        bare = [at.nosing for at in scene.layout.heights if at.flight == number and at.height is None]
        rail = scene.tube_of(flight)
        short = False
        if rule.measured_from == "riser" and rail is not None:
            low, high = covered(scene, rail, flight)
            bare = [n for n in bare if n != 1 or low > overhang + _HAIR]
            short = flight.last not in bare and high < flight.xs[-1] + overhang - _HAIR and rail.far_end.node is None
        told = f"no rail over nosing {', '.join(map(str, bare))}" if bare else f"all {flight.last} covered"
        if short:
            told += f", but not the top riser, {scene.mm(overhang)} behind its nosing"
        found = Found(where=f"flight {number}", value=float(len(bare) + short), most=rule.most, formula=told)
        key = scene.untyped(flight.flight, "nosing_overhang") if rule.measured_from == "riser" else ""
        yield (
            replace(found, value=None, missing=key)
            if key and not found.failed
            else found.advised(_longer(scene, flight, overhang if rule.measured_from == "riser" else 0.0))
        )


def covered(scene: Scene, rail: RailTube, flight: FlightSurvey) -> tuple[float, float]:
    """From where to where along the flight the top of its tube reaches (mm from its first nosing)."""
    return measure.covered(flight, rail, scene.layout.nodes, scene.job.hardware.tube.radius)


def _longer(scene: Scene, flight: FlightSurvey, behind: float) -> str:
    rail = scene.tube_of(flight)
    if rail is None:
        return ""
    low, high = covered(scene, rail, flight)
    parts = []
    for end, short, have in (
        ("bottom", low - flight.xs[0] - behind, scene.job.rail.bottom.overhang),
        ("top", flight.xs[-1] + behind - high, scene.job.rail.top.overhang),
    ):
        if short > 1e-6:
            need = math.ceil(10 * (have + short / math.cos(rail.pitch))) / 10
            parts.append(
                f"a rail.{end}.overhang of {scene.mm(need)} reaches over the {end} {'riser' if behind else 'nosing'}"
            )
    return "; ".join(parts)


def grip(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Outside diameter of the rail tube, as measured: a nominal pipe size is never one."""
    tube = scene.job.hardware.tube
    low = "" if rule.least is None else f"from {scene.mm(rule.least)} "
    high = "" if rule.most is None else f"to {scene.mm(rule.most)} "
    yield Found(where=f"tube {tube.id}", value=tube.od, least=rule.least, most=rule.most).advised(
        f"a round tube {low}{high}outside diameter meets it"
    )


def grip_length(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Places along the whole rail where the hand meets a break: elbows with a hub or neck no hand can hold as a rail.

    What can be held is what the set allows a rail's diameter to be. Where it names none, a part as thick as the tube
    is no break, one of less than half its diameter is (common practice), and nothing is said of those between.
    """
    elbow, tube, nodes = scene.job.hardware.elbow, scene.job.hardware.tube, scene.layout.nodes
    parts = {"hub": elbow.hub_diameter, "neck": elbow.neck_diameter}
    band = scene.rule_set.first(Kind.GRIP)
    least, most = (tube.od / 2, math.inf) if band is None else (band.least or 0.0, band.most or math.inf)
    broken = [name for name, size in parts.items() if not least - _HAIR <= size <= most + _HAIR]
    between = band is None and not broken and min(parts.values()) < tube.od - _FLUSH
    sizes = ", ".join(f"{name} {scene.mm(size)}" for name, size in parts.items())
    yield Found(
        where="rail",
        value=None if nodes and between else float(len(nodes) if broken else 0),
        most=rule.most,
        formula=f"elbow {elbow.id}: {sizes}; tube {scene.mm(tube.od)}" if nodes else "no elbow",
        missing="the diameters this document lets a hand hold, which we have not read" if nodes and between else "",
    ).advised(f"an elbow whose {' and '.join(broken)} can be held like the rail, or no elbow (hardware.elbow)")


def under_clearance(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Free height under the rail down to the widest part of each kind of post head, its cap."""
    hardware = scene.job.hardware
    pitched = min((abs(rail.pitch) for rail in scene.layout.rails if rail.flight is not None), default=0.0)
    used = {post.role for post in scene.layout.posts}
    for role in (PostRole.PITCHED, PostRole.LEVEL, PostRole.NODE):
        if role in used:
            value = role.head(hardware).clearance(hardware.tube.radius, pitched if role is PostRole.PITCHED else 0.0)
            yield Found(where=role.value, value=value, least=rule.least, most=rule.most).advised(
                f"a saddle that stands {scene.mm((rule.least or 0.0) - value)} taller meets it"
            )


def under_blocked(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Share of the tubes' length that saddles take from below, in percent."""
    total = sum(rail.length for rail in scene.layout.rails)
    heads = (post.role.head(scene.job.hardware) for post in scene.layout.posts)
    blocked = sum(head.cradle_length for head in heads if isinstance(head, Cradle))
    if total > 0:
        yield Found(
            where="rail",
            value=100 * blocked / total,
            most=rule.most,
            formula=f"{scene.mm(blocked)} of {scene.mm(total)}",
        ).advised("fewer posts or shorter saddles meet it")


def loads(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Whether strength is worked out for a load the document accepts; how it is met is told link by link."""
    accepted = rule.loads if isinstance(rule, PlainRule) else ()
    named = scene.job.strength.loads
    choice = " or ".join(accepted)
    yield Found(
        where="rail",
        value=float(sum(name in accepted for name in named)) if named else None,
        least=rule.least,
        formula=f"named: {', '.join(named)}" if named else "",
        missing="" if named else f"strength.loads: {choice}",
    ).advised(f"name {choice} under strength.loads")
