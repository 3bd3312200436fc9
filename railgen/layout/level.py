"""The pitched lines of all flights together: equal posts that are moved, or posts that are cut to suit."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from railgen.job.model import Job, Landing, PostLengths
from railgen.layout.fit import fit_free
from railgen.layout.joins import Join, JoinMode
from railgen.layout.lines import PitchLine, Station, equal_post_line
from railgen.survey import FlightSurvey, Survey

__all__ = ["FlightLine", "pitch_line", "solve_lines", "square_total"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightLine:
    """A flight with its stations and its solved centreline."""

    flight: FlightSurvey
    stations: tuple[Station, ...]
    line: PitchLine

    @property
    def where(self) -> str:
        return f"flight {self.flight.flight.number}"

    @property
    def largest_move(self) -> float:
        return max(abs(s - at.nominal) for s, at in zip(self.line.setbacks, self.stations, strict=True))

    def x(self, index: int) -> float:
        """Where the post of a station stands, along the flight."""
        return self.stations[index].x + self.line.setbacks[index]


def solve_lines(
    job: Job, survey: Survey, joins: tuple[Join, ...], stations: tuple[tuple[Station, ...], ...]
) -> tuple[FlightLine, ...]:
    """Every flight's centreline; with equal posts, as if the posts had no length. Raises ImpossibleError."""
    if job.posts.lengths is PostLengths.CUT:
        return _cut_lines(job, survey, joins, stations)
    solved = [
        _fit(job, flight, places, flight.pitch()) for flight, places in zip(survey.flights, stations, strict=True)
    ]
    for index, landing in enumerate(survey.landings):
        if landing.square:
            solved[index : index + 2] = _square(job, solved[index], solved[index + 1], landing)
    return tuple(solved)


def _fit(job: Job, flight: FlightSurvey, stations: tuple[Station, ...], pitch: float) -> FlightLine:
    """The flight's line by its stations; ``pitch`` is a first guess."""
    line = equal_post_line(stations, job.hardware, pitch, f"flight {flight.flight.number}")
    return FlightLine(flight=flight, stations=stations, line=line)


def _square(job: Job, lower: FlightLine, upper: FlightLine, landing: Landing) -> tuple[FlightLine, FlightLine]:
    """Both flights fitted again so that the joining rail of a half turn is square to them.

    It is where the two setbacks on the landing sum to the upper flight's design going plus its offset. Landings are
    squared from the bottom up; a setback held by the landing below stays as it is.
    """
    total = square_total(upper.flight, landing)

    def pair(setback: float) -> tuple[FlightLine, FlightLine]:
        top = replace(lower.stations[-1], held=setback)
        bottom = replace(upper.stations[0], held=total - setback)
        return (
            _fit(job, lower.flight, (*lower.stations[:-1], top), lower.line.pitch),
            _fit(job, upper.flight, (bottom, *upper.stations[1:]), upper.line.pitch),
        )

    band = job.posts
    return pair(_least(lambda s: max(f.largest_move for f in pair(s)), band.setback_min, band.setback_max))


def square_total(upper: FlightSurvey, landing: Landing) -> float:
    """What the two setbacks on a half turn's landing must sum to for a joining rail square to the flights."""
    return upper.flight.design_going + landing.upper_offset


def _least(cost: Callable[[float], float], low: float, high: float) -> float:
    """Where a convex function is least, by golden section to 1e-9 mm."""
    ratio = (math.sqrt(5) - 1) / 2
    c, d = high - ratio * (high - low), low + ratio * (high - low)
    at_c, at_d = cost(c), cost(d)
    while high - low > 1e-9:
        if at_c <= at_d:
            high, d, at_d = d, c, at_c
            c = high - ratio * (high - low)
            at_c = cost(c)
        else:
            low, c, at_c = c, d, at_d
            d = low + ratio * (high - low)
            at_d = cost(d)
    return (low + high) / 2


def _cut_lines(
    job: Job, survey: Survey, joins: tuple[Join, ...], stations: tuple[tuple[Station, ...], ...]
) -> tuple[FlightLine, ...]:
    """Each flight's rail along its own best-fitting pitch line, as low as the least height allows.

    Where two flights meet, first the two landing posts move within their band, each as little as possible, then the
    lower of the two rails is raised, with everything joined to it below or above.
    """
    lines = [_cut_line(job, flight, places) for flight, places in zip(survey.flights, stations, strict=True)]
    for index, join in enumerate(joins):
        if join.mode is JoinMode.RISE:
            continue
        lower, upper = lines[index], lines[index + 1]
        gap = _node_z(upper, 0) - _node_z(lower, -1)
        if join.mode is JoinMode.PAIR:
            lower, upper = _levelled(job, lower, upper, gap, survey.landings[index])
            gap = _node_z(upper, 0) - _node_z(lower, -1)
        lines[index], lines[index + 1] = lower, upper
        raised = range(index + 1) if gap > 0 else range(index + 1, index + 2)
        for i in raised:
            line = lines[i].line
            lines[i] = replace(lines[i], line=replace(line, intercept=line.intercept + abs(gap)))
    return tuple(lines)


def _cut_line(job: Job, flight: FlightSurvey, stations: tuple[Station, ...]) -> FlightLine:
    slope, intercept = pitch_line(job, flight)
    setbacks = tuple(s.nominal for s in stations)
    return FlightLine(
        flight=flight, stations=stations, line=PitchLine(slope=slope, intercept=intercept, setbacks=setbacks)
    )


def pitch_line(job: Job, flight: FlightSurvey) -> tuple[float, float]:
    """Slope and level over the first nosing of the centreline that fits a flight's steps best, as low as it may be."""
    points = list(zip(flight.xs, flight.zs, strict=True))
    slope = math.tan(flight.pitch()) if len(points) == 1 else fit_free(points)[0]
    if flight.flight.number == 1 and job.rail.bottom.level is not None:
        points.append((flight.tread_x(0), flight.foot.z))  # where the rail bends to run on level over the floor
    top = max(z - slope * x for x, z in points) + job.rail.least_height
    return slope, top - job.hardware.tube.radius * math.hypot(1.0, slope)


def _node_z(solved: FlightLine, index: int) -> float:
    return solved.line.z(solved.x(index))


def _levelled(
    job: Job, lower: FlightLine, upper: FlightLine, gap: float, landing: Landing
) -> tuple[FlightLine, FlightLine]:
    """Both landing posts moved to close ``gap`` between their nodes, within the band unless the turn is held square."""
    slopes = lower.line.slope + upper.line.slope
    if not landing.square:
        low, high = job.posts.setback_min, job.posts.setback_max
        first = min(max(lower.line.setbacks[-1] + gap / slopes, low), high)
        second = min(max(upper.line.setbacks[0] - gap / slopes, low), high)
    else:
        spare = square_total(upper.flight, landing) - lower.line.setbacks[-1] - upper.line.setbacks[0]
        move = (gap + upper.line.slope * spare) / slopes
        first, second = lower.line.setbacks[-1] + move, upper.line.setbacks[0] + spare - move
    return (
        replace(lower, line=replace(lower.line, setbacks=(*lower.line.setbacks[:-1], first))),
        replace(upper, line=replace(upper.line, setbacks=(second, *upper.line.setbacks[1:]))),
    )
