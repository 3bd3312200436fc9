"""Vectors, frames and angles: pure arithmetic, no dependency but the standard library."""

from railgen.geometry.frame import Frame
from railgen.geometry.vec import DOWN, ORIGIN, UP, Vec, angle_between

__all__ = ["DOWN", "ORIGIN", "UP", "Frame", "Vec", "angle_between"]
