"""The whole stair: flights and landings chained bottom to top, plan dimensions nosing to nosing."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from itertools import accumulate
from typing import assert_never

from railgen.geometry import UP, Vec
from railgen.job.model import Flight, Job, Landing, Side
from railgen.survey.flight import FlightSurvey

__all__ = ["SurfaceId", "SurfaceKind", "Survey", "surface_at", "survey_job"]


class SurfaceKind(Enum):
    """What can be stood on."""

    TREAD = auto()
    LANDING = auto()
    FLOOR = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceId:
    """One surface of the stair; ``flight`` is its own, of a landing the one below.

    ``number`` is a landing's own, else the tread's: 0 of the floor in front of the stair, the last of that at the top.
    """

    kind: SurfaceKind
    flight: int
    number: int

    def __str__(self) -> str:
        match self.kind:
            case SurfaceKind.TREAD:
                return f"F{self.flight}-T{self.number}"
            case SurfaceKind.LANDING:
                return f"LANDING-{self.number}"
            case SurfaceKind.FLOOR:
                return "FLOOR-TOP" if self.number else "FLOOR-BOTTOM"
            case _:
                assert_never(self.kind)


def surface_at(job: Job, flight: int, tread: int) -> SurfaceId:
    """The surface that a flight counts as a tread: 0 is what it starts on, its number of risers what it arrives on."""
    last = len(job.flights[flight - 1].risers)
    landing = flight - 1 if tread == 0 else flight if tread == last else 0
    if 0 < landing <= len(job.landings):
        return SurfaceId(kind=SurfaceKind.LANDING, flight=landing, number=landing)
    kind = SurfaceKind.FLOOR if tread in (0, last) else SurfaceKind.TREAD
    return SurfaceId(kind=kind, flight=flight, number=tread)


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
