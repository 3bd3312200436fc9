"""Holes in fittings and treads, cut as a drill and a countersink would."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cadquery import Solid

from railgen.geometry import Frame, Vec
from railgen.members.pieces import FaceHole, Purpose
from railgen.solids.shapes import cut, cylinder, revolve

__all__ = ["drilled"]

_CLEAR = 0.5  # mm the drill starts above the surface, and comes out behind it
_BLIND = (Purpose.ELBOW_SCREW,)


def drilled(body: Solid, holes: Iterable[FaceHole], thickness: float | None = None) -> Solid:
    """``body`` with its holes. ``thickness``: of a slab, whose holes end in it unless they are as deep.

    A hole with two walls goes on through whatever lies behind the first. A drill that comes out in a curved wall
    goes on until the whole of its mouth is out.
    """
    reach = body.BoundingBox().DiagonalLength
    return cut(body, (tool for hole in holes for tool in _tools(hole, reach, thickness)))


def _tools(hole: FaceHole, reach: float, thickness: float | None) -> Iterator[Solid]:
    side = Vec(1, 0, 0) if abs(hole.axis.x) < 0.9 else Vec(0, 1, 0)
    frame = Frame.along(hole.point, hole.axis, side)
    through = hole.purpose not in _BLIND if thickness is None else hole.depth >= thickness - 1e-9
    bottom = reach if hole.walls > 1 else hole.depth + (_CLEAR + hole.diameter / 2 if through else 0.0)
    yield cylinder(frame, hole.diameter / 2, -bottom, _CLEAR)
    if hole.countersink > hole.diameter:
        top = hole.countersink / 2
        yield revolve([(0, _CLEAR), (top + _CLEAR, _CLEAR), (top, 0), (0, -top)], frame)
