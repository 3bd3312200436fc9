"""Rules about barriers at open sides. A handrail without infill is not one, whatever its height."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from railgen.checks.rules.found import Found, Scene
from railgen.checks.rules.model import Kind, Rule, When
from railgen.checks.rules.rail import landing_tops, set_height
from railgen.job.model import Flight, Landing
from railgen.job.rules_model import Beside, Flank, Guarding
from railgen.survey.flight import FlightSurvey

__all__ = ["NOT_A_GUARD", "guard", "guard_height", "guard_opening"]

NOT_A_GUARD = "a handrail without infill is not a barrier"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edge:
    """One side of a flight or landing: ``falls`` by nosing number; a landing has one, at its flight's last nosing."""

    part: Flight | Landing
    other: bool  # not the rail's side
    side: Flank
    flight: FlightSurvey
    falls: dict[int, float | None]

    @property
    def where(self) -> str:
        name = "landing" if isinstance(self.part, Landing) else "flight"
        return f"{name} {self.part.number}{', other side' if self.other else ''}"


def _edges(scene: Scene, *, landing: bool) -> Iterator[_Edge]:
    """Both sides of flights (the treads between landings) or of landings, with how far down it is beside them."""
    parts: Sequence[Flight | Landing] = scene.job.landings if landing else scene.job.flights
    for part, flight in zip(parts, scene.flights, strict=False):
        for other in (False, True):
            side, last = scene.side(part, other=other), flight.last
            ground = side.ground_level
            numbers = (last,) if landing else range(1, last)
            falls = {n: None if ground is None else flight.zs[n - 1] - ground for n in numbers}
            yield _Edge(part=part, other=other, side=side, flight=flight, falls=falls)


def _far(when: When, fall: float | None) -> bool:
    if fall is None:
        return not when.asks_fall
    enough = when.fall is None or fall >= when.fall - 1e-9
    return enough and (when.fall_above is None or fall > when.fall_above + 1e-9)


def guard(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Whether a barrier stands where the drop asks for one, on either side."""
    for edge in _edges(scene, landing=rule.kind is Kind.GUARD_LANDING):
        side = edge.side
        fits = scene.applies(rule.when, edge.flight)
        if side.beside is Beside.WALL or not (fits and edge.falls):
            continue
        if side.beside is None or (rule.when.asks_fall and side.ground_level is None):
            name = "beside" if side.beside is None else "ground_level"
            yield Found(where=edge.where, value=None, missing=scene.side_key(edge.part, name, other=edge.other))
            continue
        asked = any(_far(rule.when, fall) for fall in edge.falls.values())
        known = [fall for fall in edge.falls.values() if fall is not None]
        formula = f"greatest fall {scene.mm(max(known))}, " if known else ""
        formula += "a barrier is asked for" if asked else "no barrier asked for"
        unknown = asked and side.guarding is None
        missing = scene.side_key(edge.part, "guarding", other=edge.other) if unknown else ""
        stands = side.guarding in (Guarding.INFILL, Guarding.SEPARATE)
        yield Found(
            where=edge.where,
            value=None if missing else float(stands),
            least=float(asked),
            formula=formula,
            missing=missing,
        ).advised(f"{NOT_A_GUARD}: add infill under this rail at the height asked for, or a barrier of its own")


def guard_height(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Height of the barrier, at every nosing and over every landing where one is asked for."""
    landing = rule.kind is Kind.GUARD_HEIGHT_LANDING
    tops = {number: min(top for _, top in found) for number, found in landing_tops(scene) if found}
    nosings = {(at.flight, at.nosing): at.height for at in scene.layout.heights}
    for edge, nosing in _asked(scene, landing=landing):
        number, side = edge.flight.flight.number, edge.side
        where = edge.where if landing else f"flight {number}, nosing {nosing}{', other side' if edge.other else ''}"
        if side.guarding is Guarding.SEPARATE or edge.other:  # whatever guards the other side, it is not this rail
            value = side.guard_height if side.guarding in (Guarding.SEPARATE, Guarding.INFILL) else 0.0
            missing = "" if value is not None else scene.side_key(edge.part, "guard_height", other=edge.other)
            formula = "separate barrier" if side.guarding is Guarding.SEPARATE else "the other side's barrier"
            yield Found(
                where=where, value=value, least=rule.least, most=rule.most, formula=formula, missing=missing
            ).advised(f"make the barrier {scene.mm((rule.least or 0.0) - (value or 0.0))} higher")
            continue
        top = tops.get(number) if landing else nosings.get((number, nosing))
        formula = "no rail here" if top is None else "this rail"
        if side.guarding is not Guarding.INFILL:
            formula += f"; {NOT_A_GUARD}"
        found = Found(where=where, value=top or 0.0, least=rule.least, most=rule.most, formula=formula)
        yield found.advised(_higher(scene, rule, top))


def _higher(scene: Scene, rule: Rule, top: float | None) -> str:
    if top is None:
        return "lengthen the rail, or set a barrier of its own"
    low = rule.least is not None and top < rule.least
    shift = ((rule.least if low else rule.most) or 0.0) - top
    height = scene.job.rail.least_height + shift
    handrail = scene.rule_set.first(Kind.HEIGHT)
    if low and handrail is not None and handrail.most is not None and height > handrail.most:
        return (
            f"set a barrier of its own: at {scene.mm(rule.least or 0.0)} this rail would be too high for the hand "
            f"({scene.mm(handrail.most)} at most)"
        )
    return set_height(scene, shift)


def guard_opening(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Largest ball that passes through the barrier, where one is asked for and stands."""
    told: set[str] = set()
    for edge, _ in _asked(scene, landing=rule.kind is Kind.GUARD_OPENING_LANDING):
        if edge.where in told or edge.side.guarding not in (Guarding.INFILL, Guarding.SEPARATE):
            continue
        told.add(edge.where)
        value = edge.side.guard_opening
        missing = "" if value is not None else scene.side_key(edge.part, "guard_opening", other=edge.other)
        yield Found(where=edge.where, value=value, most=rule.most, missing=missing).advised(
            f"close the infill to {scene.mm(rule.most or 0.0)} or less"
        )


def _asked(scene: Scene, *, landing: bool) -> Iterator[tuple[_Edge, int]]:
    """Every nosing beside an open side where the set's own trigger asks for a barrier."""
    trigger = scene.rule_set.first(Kind.GUARD_LANDING if landing else Kind.GUARD_FLIGHT)
    if trigger is None:
        return
    for edge in _edges(scene, landing=landing):
        if edge.side.beside is Beside.OPEN and scene.applies(trigger.when, edge.flight):
            yield from ((edge, nosing) for nosing, fall in edge.falls.items() if _far(trigger.when, fall))
