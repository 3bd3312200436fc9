"""Rules about barriers at open sides. A handrail without infill is not one, whatever its height."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from railgen.checks.rules.found import Found, Scene
from railgen.checks.rules.model import Kind, Rule, When
from railgen.checks.rules.rail import landing_tops, set_height
from railgen.job.rules_model import Beside, Guarding
from railgen.survey.flight import FlightSurvey

__all__ = ["NOT_A_GUARD", "guard", "guard_height", "guard_opening"]

NOT_A_GUARD = "a handrail without infill is not a barrier"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edge:
    """A piece of the open side: ``falls`` by nosing number; a landing has one, at its flight's last nosing."""

    where: str
    flight: FlightSurvey
    falls: dict[int, float | None]


def _edges(scene: Scene, *, landing: bool) -> Iterator[_Edge]:
    """Flights (the treads between landings) or landings, with how far down it is beside them."""
    ground = scene.site.ground_level
    for flight in scene.flights:
        last = flight.last
        if landing and flight is scene.flights[-1]:
            return
        numbers = (last,) if landing else range(1, last)
        falls = {n: None if ground is None else flight.zs[n - 1] - ground for n in numbers}
        where = f"landing {flight.flight.number}" if landing else f"flight {flight.flight.number}"
        yield _Edge(where=where, flight=flight, falls=falls)


def _far(when: When, fall: float | None) -> bool:
    if fall is None:
        return not when.asks_fall
    enough = when.fall is None or fall >= when.fall - 1e-9
    return enough and (when.fall_above is None or fall > when.fall_above + 1e-9)


def guard(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Whether a barrier stands where the drop asks for one."""
    site, landing = scene.site, rule.kind is Kind.GUARD_LANDING
    if site.beside is Beside.WALL:
        return
    for edge in _edges(scene, landing=landing):
        if site.beside is None:
            yield Found(where=edge.where, value=None, missing="surroundings.beside")
            continue
        fits = scene.applies(rule.when, edge.flight)
        if fits and rule.when.asks_fall and site.ground_level is None:
            yield Found(where=edge.where, value=None, missing="surroundings.ground_level")
            continue
        asked = fits and any(_far(rule.when, fall) for fall in edge.falls.values())
        known = [fall for fall in edge.falls.values() if fall is not None]
        formula = f"greatest fall {scene.mm(max(known))}, " if known else ""
        formula += "a barrier is asked for" if asked else "no barrier asked for"
        missing = "surroundings.guarding" if asked and site.guarding is None else ""
        stands = site.guarding in (Guarding.INFILL, Guarding.SEPARATE)
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
        number = edge.flight.flight.number
        where = edge.where if landing else f"{edge.where}, nosing {nosing}"
        if scene.site.guarding is Guarding.SEPARATE:
            value = scene.site.guard_height
            missing = "" if value is not None else "surroundings.guard_height"
            yield Found(
                where=where, value=value, least=rule.least, most=rule.most, formula="separate barrier", missing=missing
            ).advised(f"make the barrier {scene.mm((rule.least or 0.0) - (value or 0.0))} higher")
            continue
        top = tops.get(number) if landing else nosings.get((number, nosing))
        formula = "no rail here" if top is None else "this rail"
        if scene.site.guarding is not Guarding.INFILL:
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
    if scene.site.guarding not in (Guarding.INFILL, Guarding.SEPARATE):
        return
    landing = rule.kind is Kind.GUARD_OPENING_LANDING
    for where in dict.fromkeys(edge.where for edge, _ in _asked(scene, landing=landing)):
        value = scene.site.guard_opening
        missing = "" if value is not None else "surroundings.guard_opening"
        yield Found(where=where, value=value, most=rule.most, missing=missing).advised(
            f"close the infill to {scene.mm(rule.most or 0.0)} or less"
        )


def _asked(scene: Scene, *, landing: bool) -> Iterator[tuple[_Edge, int]]:
    """Every nosing beside an open side where the set's own trigger asks for a barrier."""
    trigger = scene.rule_set.first(Kind.GUARD_LANDING if landing else Kind.GUARD_FLIGHT)
    if trigger is None or scene.site.beside is not Beside.OPEN:
        return
    for edge in _edges(scene, landing=landing):
        if scene.applies(trigger.when, edge.flight):
            yield from ((edge, nosing) for nosing, fall in edge.falls.items() if _far(trigger.when, fall))
