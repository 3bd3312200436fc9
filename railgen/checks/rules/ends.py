"""Rules about where the rail begins and ends: how far beyond the flight, and what becomes of its ends."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from railgen.checks.rules.found import Found, Scene
from railgen.checks.rules.model import Kind, Rule
from railgen.checks.rules.rail import covered
from railgen.job.model import EndFinish, Landing
from railgen.layout.model import LEVEL, JointKind, RailTube
from railgen.survey.flight import FlightSurvey

__all__ = ["end_finish", "end_return", "extension"]

_OVER = 1.0  # mm: a level rail that starts this close to the nosing starts over it; common practice


def extension(scene: Scene, rule: Rule) -> Iterator[Found]:
    """How far the rail runs on beyond each flight that wants a handrail, at its top or at its bottom."""
    upward = rule.kind in (Kind.EXTENSION_TOP, Kind.EXTENSION_TOP_LEVEL)
    for index, flight in enumerate(scene.flights):
        rail = scene.tube_of(flight)
        beside = index if upward else index - 1
        landing = scene.job.landings[beside] if 0 <= beside < len(scene.job.landings) else None
        if rail is None or not scene.sides_asked(flight) or _runs_on(scene, rule, landing):
            continue
        where = f"flight {flight.flight.number}, {'top' if upward else 'bottom'}"
        found = _EXTENSIONS[rule.kind](scene, rule, flight, rail, where)
        key = scene.untyped(flight.flight, "nosing_overhang") if rule.measured_from == "riser" else ""
        yield replace(found, value=None, missing=key) if key and not found.failed else found


def behind(rule: Rule, flight: FlightSurvey) -> float:
    """How far behind its nosing (mm, walking up) what a document measures from stands: the riser, or the nosing."""
    return flight.flight.overhang if rule.measured_from == "riser" else 0.0


def _runs_on(scene: Scene, rule: Rule, landing: Landing | None) -> bool:
    """Whether the document asks for no extension because the rail runs on to the next flight."""
    if landing is None or rule.unit != "length" or rule.continuous is None:
        return False
    return rule.continuous == "anywhere" or landing.turn.side is scene.job.rail.side


def _top(scene: Scene, rule: Rule, flight: FlightSurvey, rail: RailTube, where: str) -> Found:
    """Rail beyond the top nosing in the flight's direction, sloping or level, to the tube's cut end."""
    least, level, edge = rule.least or 0.0, _next_level(scene, rail), flight.xs[-1] + behind(rule, flight)
    reach = covered(scene, rail, flight)[1] - edge
    if level is not None and level.direction.dot(flight.ahead) > 1 - LEVEL:
        reach = flight.along(level.end) - edge
    advice = f"a rail.top.level_extension of {scene.mm(least)} meets it"
    if rail.far_end.kind is JointKind.FREE:
        advice = f"{_overhang(scene, 'top', least - reach, rail)}; level, {advice}"
    return Found(where=where, value=max(reach, 0.0), least=rule.least).advised(advice)


def _bottom(scene: Scene, rule: Rule, flight: FlightSurvey, rail: RailTube, where: str) -> Found:
    """Sloping rail in front of the first nosing, measured level, to the tube's end or to where it turns level.

    A document that names a length, and not tread depths, counts a level part beyond the bend too.
    """
    edge = behind(rule, flight)
    sloping = edge - flight.along(rail.start)
    if rail.start_end.kind is JointKind.ELBOW:
        sloping = edge - covered(scene, rail, flight)[0]
    level = scene.layout.rails[0] if rail in scene.layout.rails[1:2] and scene.layout.rails[0].level_end else None
    if rule.unit == "length" and rule.tread_depths is not None:
        depth = max(flight.flight.goings, default=flight.flight.design_going)
        least = rule.tread_depths * depth
        found = Found(
            where=where,
            value=max(sloping, 0.0),
            least=least,
            formula=f"asked for: {rule.tread_depths} tread depth of {scene.mm(depth)}",
        )
        bent = f"a design_going of {scene.mm(least - edge)} for flight {flight.flight.number} bends it that far out"
    else:
        least = rule.least or 0.0
        found = Found(where=where, value=max(sloping, 0.0), least=least)
        if level is not None:
            reach = edge - flight.along(level.start)
            formula = f"{scene.mm(sloping)} of it at the pitch, then level"
            found = replace(found, where=f"{where}, level part included", value=reach, formula=formula)
        short = least - (found.value or 0.0)
        bent = f"a rail.bottom.level_extension of {scene.mm((scene.job.rail.bottom.level or 0.0) + short)} meets it"
    if rail.start_end.kind is JointKind.FREE:
        return found.advised(_overhang(scene, "bottom", least - sloping, rail))
    if level is not None:
        return found.advised(bent)
    return found.advised(
        f"the bend on the landing has to stand {scene.mm(least - sloping)} further from the first riser"
    )


def _level_top(scene: Scene, rule: Rule, flight: FlightSurvey, rail: RailTube, where: str) -> Found:
    """Level rail beyond the top nosing, if it starts over it.

    The tops of both tubes meet over the nosing where their centrelines meet ``r tan(pitch / 2)`` further on.
    """
    radius, least = scene.job.hardware.tube.radius, rule.least or 0.0
    from_what, back = rule.measured_from, behind(rule, flight)
    edge = flight.xs[-1] + back
    further = radius * math.tan(rail.pitch / 2)
    sloping = max(covered(scene, rail, flight)[1] - edge, 0.0)
    level = _next_level(scene, rail)
    value, has = 0.0, f"{scene.mm(sloping)} of rail at the pitch, none of it level"
    if level is not None and rail.far_end.node is not None:
        meets = flight.along(scene.layout.node(rail.far_end.node).at) - further - edge
        reach = flight.along(level.end) - edge
        starts = f"{scene.mm(abs(meets))} {'past' if meets >= 0 else 'before'}"
        has = f"level rail starts {starts} the {from_what} and reaches {scene.mm(reach)} past it"
        value = reach if -back - _OVER <= meets <= _OVER else 0.0
    height = next((at.height for at in reversed(scene.layout.heights) if at.flight == flight.flight.number), None)
    extend = scene.mm(least + back)
    advice = f"rail.top.level_extension = {extend}: " if flight is scene.flights[-1] else ""
    advice += f"carry a level tube {extend} past the nosing from a bend whose node is {scene.mm(further)} past it"
    if height is not None:
        advice += (
            f", {scene.mm(height - radius)} above the landing: its top is then {scene.mm(height)}, as over the steps"
        )
    return Found(where=where, value=max(value, 0.0), least=rule.least, formula=has).advised(advice)


def _level_bottom(scene: Scene, rule: Rule, flight: FlightSurvey, rail: RailTube, where: str) -> Found:
    """Level rail in front of the bottom nosing: of the level part what is in front of the nosing and of its bend."""
    radius, least = scene.job.hardware.tube.radius, rule.least or 0.0
    level = scene.layout.rails[0] if rail in scene.layout.rails[1:2] and scene.layout.rails[0].level_end else None
    value, has = 0.0, "none of the rail in front of the flight is level"
    if level is not None and rail.start_end.node is not None:
        node = scene.layout.node(rail.start_end.node)
        edge = behind(rule, flight)
        meets = edge + radius * math.tan(rail.pitch / 2) - flight.along(node.at)
        reach = edge - flight.along(level.start)
        value = reach - max(meets, 0.0)
        has = f"level rail from {scene.mm(meets)} to {scene.mm(reach)} in front of the {rule.measured_from}"
    have = scene.job.rail.bottom.level or 0.0
    return Found(where=where, value=max(value, 0.0), least=rule.least, formula=has).advised(
        f"a rail.bottom.level_extension of {scene.mm(have + least - value)} meets it"
    )


def _next_level(scene: Scene, rail: RailTube) -> RailTube | None:
    """The level tube that follows a flight's tube, if one does."""
    rails = scene.layout.rails
    at = rails.index(rail) + 1
    if at == len(rails) or rails[at].flight is not None or abs(rails[at].direction.z) > LEVEL:
        return None
    return rails[at]


_EXTENSIONS = {
    Kind.EXTENSION_TOP: _top,
    Kind.EXTENSION_TOP_LEVEL: _level_top,
    Kind.EXTENSION_BOTTOM: _bottom,
    Kind.EXTENSION_BOTTOM_LEVEL: _level_bottom,
}


def _overhang(scene: Scene, end: str, short: float, rail: RailTube) -> str:
    have = (scene.job.rail.bottom if end == "bottom" else scene.job.rail.top).overhang
    need = math.ceil(10 * (have + short / math.cos(rail.pitch))) / 10
    return f"a rail.{end}.overhang of {scene.mm(need)} meets it"


def end_return(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Free ends that are not returned: a cap or an open end is none; a scroll is for the authority to judge."""
    yield from _ends(
        scene,
        rule,
        sure={EndFinish.CAP: 1.0, EndFinish.OPEN: 1.0},
        advice="return the end to a wall, post, barrier or the floor, and say so in surroundings.ends_returned",
    )


def end_finish(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Free ends that can catch a sleeve or hurt: an open tube does, a scroll does not, a cap is judged on site."""
    yield from _ends(
        scene,
        rule,
        sure={EndFinish.SCROLL: 0.0, EndFinish.OPEN: 1.0},
        advice="close the end with a scroll, or return it",
    )


def _ends(scene: Scene, rule: Rule, *, sure: dict[EndFinish, float], advice: str) -> Iterator[Found]:
    for where, end in (("bottom end", scene.job.rail.bottom), ("top end", scene.job.rail.top)):
        value = 0.0 if scene.site.ends_returned else sure.get(end.finish)
        if value is None and scene.site.ends_returned is False:
            value = 1.0
        yield Found(
            where=where,
            value=value,
            most=rule.most,
            formula=f"finish: {end.finish.value}",
            missing="" if value is not None else f"surroundings.ends_returned: whether a {end.finish.value} is enough",
        ).advised(advice)
