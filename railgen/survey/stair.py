"""The whole stair: flights and landings chained bottom to top, plan dimensions nosing to nosing."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

from railgen.geometry import UP, Vec
from railgen.job.model import Flight, Job, Landing, Side
from railgen.survey.flight import FlightSurvey

__all__ = ["Survey", "survey_job"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """Flights in space and the landings between them (landing j lies between flights j and j + 1)."""

    flights: tuple[FlightSurvey, ...]
    landings: tuple[Landing, ...]


def survey_job(job: Job) -> Survey:
    """Place every flight: x along the first flight, y to its left, z up, origin at its first nosing's left end."""
    placed = [_place(job.flights[0], Vec(0.0, 0.0, 0.0), Vec(1.0, 0.0, 0.0))]
    for landing, upper in zip(job.landings, job.flights[1:], strict=True):
        placed.append(_next(placed[-1], landing, upper))
    return Survey(flights=tuple(placed), landings=job.landings)


def _place(flight: Flight, foot: Vec, ahead: Vec) -> FlightSurvey:
    return FlightSurvey(
        flight=flight,
        foot=foot,
        ahead=ahead,
        xs=tuple(accumulate(flight.goings, initial=0.0)),
        zs=tuple(foot.z + rise for rise in accumulate(flight.risers)),
    )


def _next(lower: FlightSurvey, landing: Landing, upper: Flight) -> FlightSurvey:
    """The flight above a landing, from the landing nosing at the lower flight's edge on the inside of the turn."""
    inside = landing.turn.side
    edge = lower.across(inside or Side.LEFT, 0.0)
    corner = lower.at(lower.xs[-1], edge, lower.top_level)
    inward = lower.left if inside is not Side.RIGHT else -lower.left
    if inside is None:
        ahead, start = lower.ahead, corner + lower.ahead * landing.length
    elif landing.turn.quarters == 1:
        ahead = inward
        start = corner + lower.ahead * (landing.length - upper.width) + inward * landing.upper_offset
    else:
        ahead = -lower.ahead
        start = corner + inward * landing.well + lower.ahead * landing.upper_offset
    # `start` lies on the upper flight's edge at the same hand as the turn; its foot is at the left edge
    foot = start if inside is not Side.RIGHT else start + UP.cross(ahead) * upper.width
    return _place(upper, foot, ahead)
