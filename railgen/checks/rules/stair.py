"""Rules about the steps: riser, going, 2R + G, pitch, uniformity, number of risers, rise of a flight."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from railgen.checks.rules.found import Found, Scene, extremes
from railgen.checks.rules.model import Kind, Rule
from railgen.job.model import Turn
from railgen.survey.flight import FlightSurvey

__all__ = ["flight_rise", "pitch", "riser_count", "risers_in_line", "sizes", "steps", "uniformity"]


def sizes(scene: Scene, rule: Rule) -> Iterator[Found]:
    """The lowest and highest riser, or the shortest and longest going, of each flight."""
    for flight in scene.flights:
        if scene.applies(rule.when, flight):
            word, values = _measured(flight, rule.kind)
            named = [(f"{word} {i}", value) for i, value in enumerate(values, start=1)]
            for found in extremes(rule, _where(flight), named):
                yield found.advised(_size_advice(scene, rule, named))


def steps(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Twice the riser plus the going, of every tread with the riser before it and with the riser behind it."""
    for flight in scene.flights:
        risers, goings = flight.flight.risers, flight.flight.goings
        named = [
            (f"tread {i} with riser {i + k}", 2 * risers[i - 1 + k] + going)
            for i, going in enumerate(goings, start=1)
            for k in (0, 1)
        ]
        twice = 2 * sum(risers) / len(risers)
        low = "" if rule.least is None else f"from {scene.mm(max(rule.least - twice, 0))} "
        high = "" if rule.most is None else f"to {scene.mm(max(rule.most - twice, 0))}"
        for found in extremes(rule, _where(flight), named):
            yield found.advised(f"at the mean riser of {scene.mm(twice / 2)}, goings {low}{high} meet it")


def pitch(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Pitch from the first nosing to the last, in degrees."""
    for flight in scene.flights:
        value = math.degrees(flight.pitch())
        found = Found(where=_where(flight), value=value, least=rule.least, most=rule.most)
        bound = rule.most if rule.most is not None and value > rule.most else rule.least
        if bound:
            going = sum(flight.flight.risers) / len(flight.flight.risers) / math.tan(math.radians(bound))
            found = found.advised(f"at these risers a mean going of {scene.mm(going)} gives {bound:g} degrees")
        yield found


def uniformity(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Difference of neighbouring steps, or largest less smallest; a document without a number gets the job's own."""
    adjacent = rule.kind in (Kind.RISER_ADJACENT, Kind.GOING_ADJACENT)
    for flight in scene.flights:
        word, values = _measured(flight, rule.kind)
        if len(values) < 2:
            continue
        if adjacent:
            value, first = max((abs(b - a), -i) for i, (a, b) in enumerate(pairwise(values), start=1))
            formula = f"{word}s {-first} and {1 - first}"
        else:
            value = max(values) - min(values)
            formula = f"{scene.mm(max(values))} less {scene.mm(min(values))}, {len(set(values))} sizes in {len(values)}"
        most, missing = rule.most, ""
        if most is None:
            most = scene.rules.uniform_within
            if most is None and value < 1e-6:
                most = 0.0
            elif most is None:
                missing = "rules.uniform_within: the document says uniform and gives no number"
        even = sum(values) / len(values)
        yield Found(where=_where(flight), value=value, most=most, formula=formula, missing=missing).advised(
            f"mend the stair before cutting a rail: all {len(values)} {word}s at {scene.mm(even)} are even"
        )


def riser_count(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Number of risers in each flight."""
    for flight in scene.flights:
        advice = "fewer steps than this need another way: a ramp or a single threshold"
        if rule.most is not None and flight.last > rule.most:
            pieces = math.ceil(flight.last / rule.most)
            advice = f"landings after at most {rule.most:g} risers make {pieces} flights of it"
        found = Found(where=_where(flight), value=float(flight.last), least=rule.least, most=rule.most)
        yield found.advised(advice)


def risers_in_line(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Risers of flights that follow each other without a turn."""
    first, total = 1, 0
    for number, flight in enumerate(scene.flights, start=1):
        total += flight.last
        ends = number == len(scene.flights) or scene.job.landings[number - 1].turn is not Turn.STRAIGHT
        if ends:
            where = f"flight {first}" if first == number else f"flights {first} to {number}"
            yield Found(where=where, value=float(total), least=rule.least, most=rule.most).advised(
                f"a landing that turns after at most {rule.most or 0:g} risers meets it"
            )
            first, total = number + 1, 0


def flight_rise(scene: Scene, rule: Rule) -> Iterator[Found]:
    """Rise of each flight from landing to landing."""
    for flight in scene.flights:
        rise = math.fsum(flight.flight.risers)
        yield Found(where=_where(flight), value=rise, least=rule.least, most=rule.most).advised(
            f"a landing no more than {scene.mm(rule.most or 0)} up meets it"
        )


def _where(flight: FlightSurvey) -> str:
    return f"flight {flight.flight.number}"


def _measured(flight: FlightSurvey, kind: Kind) -> tuple[str, tuple[float, ...]]:
    if kind in (Kind.RISER, Kind.RISER_ADJACENT, Kind.RISER_SPREAD):
        return "riser", flight.flight.risers
    return "going", flight.flight.goings


def _listed(scene: Scene, outside: list[tuple[str, float]], of: int) -> str:
    """Steps with their sizes one by one, or how many there are where that is all ``of`` them in one size."""
    sizes = [scene.mm(value) for _, value in outside]
    if len(sizes) == of > 1 and len(set(sizes)) == 1:
        return f"{of} equal {outside[0][0].partition(' ')[0]}s of {sizes[0]}"
    return ", ".join(f"{name} {size}" for (name, _), size in zip(outside, sizes, strict=True))


def _size_advice(scene: Scene, rule: Rule, named: list[tuple[str, float]]) -> str:
    """Which are outside, and what equal division would give."""
    low, high = rule.least or 0.0, math.inf if rule.most is None else rule.most
    listed = _listed(scene, [item for item in named if not low - 1e-9 <= item[1] <= high + 1e-9], len(named))
    total = math.fsum(value for _, value in named)
    if rule.kind is Kind.GOING:
        run = [bound * len(named) for bound in (rule.least, rule.most) if bound is not None]
        bounds = " to ".join(scene.mm(bound) for bound in run)
        return f"outside: {listed}; {len(named)} goings need a run of {bounds}, this one is {scene.mm(total)}"
    fewest = max(math.ceil(total / high - 1e-9), 1)
    most = math.floor(total / low + 1e-9) if low > 0 else max(len(named), fewest)
    if fewest > most:
        return f"outside: {listed}; no number of equal risers divides {scene.mm(total)} within the limits"
    count = min(max(len(named), fewest), most)
    return (
        f"outside: {listed}; {count} equal risers of {scene.mm(total / count)} make the same rise of {scene.mm(total)}"
    )
