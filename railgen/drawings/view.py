"""A part of the world on paper: which directions are right and up, where its origin lies, at which scale."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from railgen.drawings.sheet import Box, Point, Scale
from railgen.geometry import UP, Vec

__all__ = ["SCALES", "View", "fitted"]

SCALES = tuple(Scale(paper=1, real=real) for real in (5, 10, 15, 20, 25, 50, 75, 100, 150, 200, 500))
"""Scales of set-out drawings: those of ISO 5455:1979 (from memory), with 1:15, 1:25, 1:75 and 1:150 between."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A parallel projection on to the plane of two unit directions."""

    right: Vec
    up: Vec
    centre: Vec  # the world point shown at ``at``
    at: Point
    scale: Scale

    def point(self, world: Vec) -> Point:
        away = (world - self.centre) * self.scale.ratio
        return self.at[0] + away.dot(self.right), self.at[1] + away.dot(self.up)

    def length(self, mm: float) -> float:
        """A true length on paper."""
        return mm * self.scale.ratio

    def angle(self, direction: Vec) -> float:
        """Direction on paper of a direction in the world."""
        return math.atan2(direction.dot(self.up), direction.dot(self.right))


def fitted(points: Iterable[Vec], right: Vec, room: Box, up: Vec = UP, scales: Sequence[Scale] = SCALES) -> View:
    """The view that shows all points in the middle of ``room``, at the largest scale that does."""
    shown = list(points)
    xs, ys = [p.dot(right) for p in shown], [p.dot(up) for p in shown]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = next((s for s in scales if wide * s.ratio <= room.width and high * s.ratio <= room.height), scales[-1])
    out = right.cross(up)
    depth = shown[0].dot(out)
    centre = right * ((min(xs) + max(xs)) / 2) + up * ((min(ys) + max(ys)) / 2) + out * depth
    return View(right=right, up=up, centre=centre, at=room.middle, scale=scale)
