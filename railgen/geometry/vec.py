"""A point or direction in space (mm, right-handed, z up)."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

__all__ = ["DOWN", "ORIGIN", "UP", "Vec", "angle_between"]


@dataclass(frozen=True, slots=True)
class Vec:
    """Three numbers with the usual arithmetic.

    >>> Vec(1, 2, 3) + 2 * Vec(0, 0, 1)
    Vec(x=1, y=2, z=5)
    """

    x: float
    y: float
    z: float = 0.0

    def __add__(self, other: Vec) -> Vec:
        return Vec(self.x + other.x, self.y + other.y, self.z + other.z)

    def __sub__(self, other: Vec) -> Vec:
        return Vec(self.x - other.x, self.y - other.y, self.z - other.z)

    def __mul__(self, k: float) -> Vec:
        return Vec(self.x * k, self.y * k, self.z * k)

    __rmul__ = __mul__

    def __neg__(self) -> Vec:
        return Vec(-self.x, -self.y, -self.z)

    def __iter__(self) -> Iterator[float]:
        return iter((self.x, self.y, self.z))

    def dot(self, other: Vec) -> float:
        return self.x * other.x + self.y * other.y + self.z * other.z

    def cross(self, o: Vec) -> Vec:
        return Vec(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)

    @property
    def length(self) -> float:
        return math.hypot(self.x, self.y, self.z)

    def unit(self) -> Vec:
        """The direction of this vector. Raises ZeroDivisionError for a vector of no length."""
        return self * (1.0 / self.length)

    def square_to(self, axis: Vec) -> Vec:
        """The part of this vector square to the unit vector ``axis``."""
        return self - axis * self.dot(axis)


ORIGIN = Vec(0.0, 0.0, 0.0)
UP = Vec(0.0, 0.0, 1.0)
DOWN = Vec(0.0, 0.0, -1.0)


def angle_between(u: Vec, v: Vec) -> float:
    """Angle between two directions, radians, 0 to pi; exact near 0 and pi where acos is not.

    >>> round(math.degrees(angle_between(Vec(1, 0), Vec(0, 2))), 9)
    90.0
    """
    return math.atan2(u.cross(v).length, u.dot(v))
