"""A right-handed coordinate frame: where a piece sits and how it is turned."""

from __future__ import annotations

import math
from dataclasses import dataclass

from railgen.geometry.vec import Vec

__all__ = ["Frame"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Origin and two unit axes, square to each other; the third follows by the right-hand rule.

    A tube's frame has its origin at the centre of the datum end, ``z`` along the tube and ``x`` towards clock
    position 0; a clock position is the angle from ``x`` towards ``y``, which is clockwise seen along ``z``.
    """

    origin: Vec
    x: Vec
    z: Vec

    @classmethod
    def along(cls, origin: Vec, axis: Vec, zero: Vec) -> Frame:
        """Frame with ``z`` along ``axis`` and ``x`` as near to ``zero`` as a right angle allows.

        Raises ZeroDivisionError if ``zero`` lies along ``axis``.
        """
        z = axis.unit()
        return cls(origin=origin, x=zero.square_to(z).unit(), z=z)

    @property
    def y(self) -> Vec:
        return self.z.cross(self.x)

    def point(self, local: Vec) -> Vec:
        """World position of a point given in this frame."""
        return self.origin + self.direction(local)

    def direction(self, local: Vec) -> Vec:
        """World direction of a direction given in this frame."""
        return self.x * local.x + self.y * local.y + self.z * local.z

    def local(self, world: Vec) -> Vec:
        """Position in this frame of a world point."""
        return self.local_direction(world - self.origin)

    def local_direction(self, world: Vec) -> Vec:
        """Direction in this frame of a world direction."""
        return Vec(world.dot(self.x), world.dot(self.y), world.dot(self.z))

    def placed_in(self, outer: Frame) -> Frame:
        """The world frame of this one, which is given in ``outer``."""
        return Frame(origin=outer.point(self.origin), x=outer.direction(self.x), z=outer.direction(self.z))

    def shifted(self, local: Vec) -> Frame:
        """The same directions at another origin, given in this frame."""
        return Frame(origin=self.point(local), x=self.x, z=self.z)

    def clock_of(self, world: Vec) -> float:
        """Clock position (radians, 0 to 2 pi) of a world direction."""
        return math.atan2(world.dot(self.y), world.dot(self.x)) % math.tau
