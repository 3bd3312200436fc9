"""Simple bodies, how far each reaches in a direction, and how far it stays clear of what it must not run into."""

from __future__ import annotations

import math
from dataclasses import dataclass

from railgen.geometry.vec import Vec

__all__ = ["Block", "Body", "HalfSpace", "Round"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """A round bar with flat ends; a ball where both ends are one point."""

    start: Vec
    end: Vec
    radius: float

    def reach(self, way: Vec) -> float:
        """The largest distance along the unit vector ``way`` from the origin to any of its points (mm).

        >>> Round(start=Vec(0, 0), end=Vec(100, 0), radius=20).reach(Vec(1, 0)), Round(
        ...     start=Vec(9, 0), end=Vec(9, 0), radius=20
        ... ).reach(Vec(1, 0))
        (100.0, 29.0)
        """
        axis = self.end - self.start
        along = axis.dot(way) / axis.length if axis.length else 0.0
        return max(self.start.dot(way), self.end.dot(way)) + self.radius * math.sqrt(max(0.0, 1.0 - along**2))


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A box, by its middle and half of each of its edges."""

    middle: Vec
    halves: tuple[Vec, Vec, Vec]

    def reach(self, way: Vec) -> float:
        """The largest distance along the unit vector ``way`` from the origin to any of its points (mm)."""
        return self.middle.dot(way) + sum(abs(half.dot(way)) for half in self.halves)


Body = Round | Block


@dataclass(frozen=True, slots=True, kw_only=True)
class HalfSpace:
    """All that lies beyond a plane: ``into`` is the unit vector square to it, from what is free into it."""

    at: Vec
    into: Vec

    def clear(self, body: Body) -> float:
        """How far (mm) a body stays in front of it; negative, how far it reaches in.

        >>> HalfSpace(at=Vec(90, 0), into=Vec(1, 0)).clear(Round(start=Vec(0, 0), end=Vec(100, 0), radius=20))
        -10.0
        """
        return self.at.dot(self.into) - body.reach(self.into)
