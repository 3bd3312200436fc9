"""One flight in space: where each nosing and tread is, along the flight and up."""

from __future__ import annotations

import math
from dataclasses import dataclass

from railgen.geometry import UP, Vec
from railgen.job.model import Flight, Side

__all__ = ["CLOSURE", "Closure", "FlightSurvey"]

CLOSURE = 5.0
"""What a total measured on its own may differ from the sum of a flight's steps (mm): common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """What a flight's steps add up to, against totals measured independently (mm; None where not measured)."""

    rise_of_steps: float
    run_of_steps: float
    total_rise: float | None
    total_run: float | None

    @property
    def rise_error(self) -> float | None:
        """Measured total rise less the sum of the risers."""
        return None if self.total_rise is None else self.total_rise - self.rise_of_steps

    @property
    def run_error(self) -> float | None:
        """Measured total run less the sum of the goings."""
        return None if self.total_run is None else self.total_run - self.run_of_steps


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightSurvey:
    """A flight's nosings (x along the flight from its first nosing, z above the floor in front of flight 1).

    Treads are numbered by the nosing in front of them: tread 0 is the floor or landing in front of the first riser,
    tread N the landing or floor the flight arrives on; both carry the tread pattern on for one design going.
    """

    flight: Flight
    foot: Vec  # plan position of the first nosing at the flight's left edge, at the level in front of the first riser
    ahead: Vec  # unit, level, walking up
    xs: tuple[float, ...]  # of nosing 1..N
    zs: tuple[float, ...]

    @property
    def left(self) -> Vec:
        return UP.cross(self.ahead)

    @property
    def last(self) -> int:
        """Number of the tread it arrives on, which is its number of risers."""
        return len(self.xs)

    @property
    def top_level(self) -> float:
        return self.zs[-1]

    def tread_x(self, tread: int) -> float:
        """Where the tread begins: its nosing, or the projected nosing 0."""
        return -self.flight.design_going if tread == 0 else self.xs[tread - 1]

    def tread_z(self, tread: int) -> float:
        """Level of the tread's surface."""
        return self.foot.z if tread == 0 else self.zs[tread - 1]

    def going_of(self, tread: int) -> float:
        """Going of the tread: measured, or the design going for the two projected treads."""
        if tread in (0, self.last):
            return self.flight.design_going
        return self.flight.goings[tread - 1]

    def across(self, side: Side, offset: float) -> float:
        """Distance to the left of the left edge (so negative) of a line ``offset`` inside the edge at ``side``."""
        return -offset if side is Side.LEFT else offset - self.flight.width

    def at(self, x: float, across: float, z: float) -> Vec:
        """World position of a point given along the flight, to the left of its left edge, and by its level."""
        plan = self.foot + self.ahead * x + self.left * across
        return Vec(plan.x, plan.y, z)

    def along(self, at: Vec) -> float:
        """How far up the flight from its first nosing a world position is."""
        return (at - self.foot).dot(self.ahead)

    def inside(self, side: Side, at: Vec) -> float:
        """How far inside the edge at ``side`` a world position is; negative outside it."""
        across = (at - self.foot).dot(self.left) - self.across(side, 0.0)
        return -across if side is Side.LEFT else across

    def closure(self) -> Closure:
        f = self.flight
        return Closure(
            rise_of_steps=math.fsum(f.risers),
            run_of_steps=math.fsum(f.goings),
            total_rise=f.total_rise,
            total_run=f.total_run,
        )

    def pitch(self) -> float:
        """Pitch from the first nosing to the last (radians); of a single riser, from the projected nosing 0."""
        if self.last == 1:
            return math.atan2(self.flight.risers[0], self.flight.design_going)
        return math.atan2(self.zs[-1] - self.zs[0], self.xs[-1] - self.xs[0])
