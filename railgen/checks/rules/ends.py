"""Rules about where the rail begins and ends: how far beyond the flight, and what becomes of its ends."""

from __future__ import annotations

import math
from collections.abc import Iterator

from railgen.checks.rules.found import Found, Scene
from railgen.checks.rules.model import Kind, Rule
from railgen.checks.rules.rail import covered
from railgen.job.model import EndFinish, Landing
from railgen.layout.model import LEVEL, RailTube
from railgen.survey.flight import FlightSurvey

__all__ = ["end_finish", "end_return", "extension"]

_OVER = 1.0  # mm: a level rail that starts this close to the nosing starts over it; common practice


def extension(scene: Scene, rule: Rule) -> Iterator[Found]:
    """How far the rail runs on beyond each flight that wants a handrail, at its top or at its bottom."""
    upward = rule.kind is not Kind.EXTENSION_BOTTOM
    for index, flight in enumerate(scene.flights):
        rail = scene.tube_of(flight)
        beside = index if upward else index - 1
        landing = scene.job.landings[beside] if 0 <= beside < len(scene.job.landings) else None
        if rail is None or not scene.sides_asked(flight) or _runs_on(scene, rule, landing):
            continue
        where = f"flight {flight.flight.number}, {'top' if upward else 'bottom'}"
        if rule.kind is Kind.EXTENSION_BOTTOM:
            yield _bottom(scene, rule, flight, rail, where)
        elif rule.kind is Kind.EXTENSION_TOP_LEVEL:
            yield _level_top(scene, rule, flight, rail, where)
        else:
            reach = covered(scene, rail, flight)[1] - flight.xs[-1]
            yield Found(where=where, value=max(reach, 0.0), least=rule.least).advised(
                _overhang(scene, "top", (rule.least or 0.0) - reach, rail)
            )


def _runs_on(scene: Scene, rule: Rule, landing: Landing | None) -> bool:
    """Whether the document asks for no extension because the rail runs on to the next flight."""
    if landing is None or rule.unit != "length" or rule.continuous is None:
        return False
    return rule.continuous == "anywhere" or landing.turn.side is scene.job.rail.side


def _bottom(scene: Scene, rule: Rule, flight: FlightSurvey, rail: RailTube, where: str) -> Found:
    """Sloping rail in front of the first nosing, measured level, to the tube's end or to the node it bends at."""
    least = rule.least or 0.0
    formula = ""
    if rule.unit == "length" and rule.tread_depths is not None:
        depth = max(flight.flight.goings, default=flight.flight.design_going)
        least = rule.tread_depths * depth
        formula = f"asked for: {rule.tread_depths} tread depth of {scene.mm(depth)}"
    node = rail.start_end.node
    at = scene.layout.node(node).at if node else rail.start
    reach = -(at - flight.foot).dot(flight.ahead)
    return Found(where=where, value=max(reach, 0.0), least=least, formula=formula).advised(
        _overhang(scene, "bottom", least - reach, rail)
        if node is None
        else f"the bend on the landing has to stand {scene.mm(least - reach)} further from the first riser"
    )


def _level_top(scene: Scene, rule: Rule, flight: FlightSurvey, rail: RailTube, where: str) -> Found:
    """Level rail beyond the top nosing, if it starts over it.

    The tops of both tubes meet over the nosing where their centrelines meet ``r tan(pitch / 2)`` further on.
    """
    radius, least = scene.job.hardware.tube.radius, rule.least or 0.0
    further = radius * math.tan(rail.pitch / 2)
    sloping = max(covered(scene, rail, flight)[1] - flight.xs[-1], 0.0)
    level = _next_level(scene, rail)
    value, has = 0.0, f"{scene.mm(sloping)} of rail at the pitch, none of it level"
    if level is not None and rail.far_end.node is not None:
        meets = (scene.layout.node(rail.far_end.node).at - flight.foot).dot(flight.ahead) - further - flight.xs[-1]
        reach = (level.end - flight.foot).dot(flight.ahead) - flight.xs[-1]
        has = f"level rail starts {scene.mm(meets)} past the nosing and reaches {scene.mm(reach)} past it"
        value = reach if abs(meets) <= _OVER else 0.0
    height = next((at.height for at in reversed(scene.layout.heights) if at.flight == flight.flight.number), None)
    advice = (
        f"carry a level tube {scene.mm(least)} past the nosing from a bend whose node is {scene.mm(further)} past it"
    )
    if height is not None:
        advice += (
            f", {scene.mm(height - radius)} above the landing: its top is then {scene.mm(height)}, as over the steps"
        )
    return Found(where=where, value=max(value, 0.0), least=rule.least, formula=has).advised(advice)


def _next_level(scene: Scene, rail: RailTube) -> RailTube | None:
    """The level tube that follows a flight's tube, if one does."""
    rails = scene.layout.rails
    at = rails.index(rail) + 1
    if at == len(rails) or rails[at].flight is not None or abs(rails[at].direction.z) > LEVEL:
        return None
    return rails[at]


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
