"""Outlines, prisms, bodies of revolution and booleans: the little of the kernel that fittings are made with.

Every function returns exactly one solid; lengths in mm, angles in radians.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cadquery import Location, Plane, Shape, Solid, Vector
from OCP.BRepAlgoAPI import BRepAlgoAPI_BooleanOperation, BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeVertex,
    BRepBuilderAPI_MakeWire,
)
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Vec
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopoDS import TopoDS_Face, TopoDS_Shape
from OCP.TopTools import TopTools_ListOfShape

from railgen.errors import Fault, InputError
from railgen.geometry import ORIGIN, Frame, Vec

__all__ = [
    "Arc",
    "BadShapeError",
    "Outline",
    "Point",
    "cut",
    "cylinder",
    "fuse",
    "location",
    "prism",
    "refuse",
    "revolve",
    "rounded_rectangle",
    "vector",
]

Point = tuple[float, float]

UPRIGHT = Frame(origin=ORIGIN, x=Vec(1, 0, 0), z=Vec(0, 0, 1))
_LEAST = 1e-7  # mm: shorter steps of an outline are left out


class BadShapeError(Exception):
    """The kernel made something other than one solid; the caller knows which piece it was for."""


@dataclass(frozen=True, slots=True)
class Arc:
    """A step of an outline along a circle, through ``via`` to ``end``."""

    via: Point
    end: Point


Outline = list[Point | Arc]
"""A closed outline: a point to start from, then points and arcs to go to; the last is joined to the first."""


def refuse(where: str, message: str, hint: str = "") -> InputError:
    """The error for catalogue dimensions that make no piece."""
    return InputError(Fault(code="fitting-dimensions", where=where, message=message, hint=hint))


def vector(v: Vec) -> Vector:
    """The kernel's own vector."""
    return Vector(v.x, v.y, v.z)


def location(frame: Frame) -> Location:
    """The placement of a frame. It cannot mirror: the third axis follows from the other two by the right-hand rule."""
    x, y, z = frame.x, frame.y, frame.z
    if abs(x.cross(y).dot(z) - 1) > 1e-6 or abs(x.dot(z)) > 1e-6:
        raise BadShapeError(f"a frame is not right-handed with unit axes square to each other: {frame}")
    return Location(Plane(vector(frame.origin), vector(x), vector(z)))


def revolve(outline: Outline, frame: Frame = UPRIGHT, turn: float = math.tau) -> Solid:
    """Body of revolution about the frame's z axis; points of the outline are (radius, along z)."""
    ground = Frame(origin=frame.origin, x=frame.x, z=-frame.y)  # its y axis is the frame's z
    face = _face(outline, ground)
    o, z = frame.origin, frame.z
    axis = gp_Ax1(gp_Pnt(o.x, o.y, o.z), gp_Dir(z.x, z.y, z.z))
    made = BRepPrimAPI_MakeRevol(face, axis) if turn == math.tau else BRepPrimAPI_MakeRevol(face, axis, turn)
    return _outward(_one_solid(made.Shape()))


def prism(outline: Outline, frame: Frame, height: float) -> Solid:
    """The outline, given in the frame's x and y, extruded along its z by ``height`` (negative: downwards)."""
    up = frame.z * height
    made = BRepPrimAPI_MakePrism(_face(outline, frame), gp_Vec(up.x, up.y, up.z))
    return _outward(_one_solid(made.Shape()))


def cylinder(frame: Frame, radius: float, low: float, high: float) -> Solid:
    """Round bar about the frame's z axis from ``low`` to ``high``."""
    start, axis = frame.point(Vec(0, 0, low)), frame.z
    return Solid.makeCylinder(radius, high - low, vector(start), vector(axis))


def rounded_rectangle(length: float, width: float, radius: float) -> Outline:
    """Outline of a rectangle about the origin, its corners rounded; ``radius`` may be 0."""
    a, b, r = length / 2, width / 2, radius
    if r <= 0:
        return [(-a, -b), (a, -b), (a, b), (-a, b)]
    k = r * (1 - math.sqrt(0.5))
    return [
        (-a + r, -b),
        (a - r, -b),
        Arc((a - k, -b + k), (a, -b + r)),
        (a, b - r),
        Arc((a - k, b - k), (a - r, b)),
        (-a + r, b),
        Arc((-a + k, b - k), (-a, b - r)),
        (-a, -b + r),
        Arc((-a + k, -b + k), (-a + r, -b)),
    ]


def cut(body: Solid, tools: Iterable[Solid]) -> Solid:
    """``body`` without ``tools``, in one operation."""
    tools = list(tools)
    return _boolean(BRepAlgoAPI_Cut(), [body], tools) if tools else body


def fuse(body: Solid, *others: Solid) -> Solid:
    """``body`` and ``others`` as one solid, faces that continue each other made one."""
    joined = _boolean(BRepAlgoAPI_Fuse(), [body], others)
    upgrade = ShapeUpgrade_UnifySameDomain(joined.wrapped, True, True, True)  # edges, faces, splines
    upgrade.Build()
    return _one_solid(upgrade.Shape())


def _boolean(operation: BRepAlgoAPI_BooleanOperation, bodies: Sequence[Solid], tools: Sequence[Solid]) -> Solid:
    operation.SetRunParallel(False)  # two runs must give the same bytes
    operation.SetArguments(_list_of(bodies))
    operation.SetTools(_list_of(tools))
    operation.Build()
    if not operation.IsDone():
        raise BadShapeError("the kernel could not work out a cut or a joint")
    return _one_solid(operation.Shape())


def _list_of(shapes: Iterable[Solid]) -> TopTools_ListOfShape:
    found = TopTools_ListOfShape()
    for shape in shapes:
        found.Append(shape.wrapped)
    return found


def _one_solid(shape: TopoDS_Shape) -> Solid:
    solids = Shape.cast(shape).Solids()
    if len(solids) != 1:
        raise BadShapeError(f"the kernel made {len(solids)} solids in place of one")
    return solids[0]


def _outward(solid: Solid) -> Solid:
    """The solid with its faces pointing out, whichever way its outline ran."""
    return solid if solid.Volume() > 0 else Solid(solid.wrapped.Reversed())


def _face(outline: Outline, frame: Frame) -> TopoDS_Face:
    """The plane face within an outline. Neighbouring edges share a vertex made once: two runs give the same bytes."""

    def place(point: Point) -> gp_Pnt:
        return gp_Pnt(*frame.point(Vec(point[0], point[1], 0.0)))

    start = outline[0]
    if isinstance(start, Arc):
        raise BadShapeError("an outline starts with a point")
    steps = [step for step in outline[1:] if isinstance(step, Arc) or step != start]
    first = at = BRepBuilderAPI_MakeVertex(place(start)).Vertex()
    here, wire = start, BRepBuilderAPI_MakeWire()
    for number, step in enumerate([*steps, start]):
        end = step.end if isinstance(step, Arc) else step
        if math.dist(here, end) <= _LEAST:
            continue
        last = math.dist(end, start) <= _LEAST and number >= len(steps) - 1
        corner = first if last else BRepBuilderAPI_MakeVertex(place(end)).Vertex()
        if isinstance(step, Arc):
            circle = GC_MakeArcOfCircle(place(here), place(step.via), place(end)).Value()
            wire.Add(BRepBuilderAPI_MakeEdge(circle, at, corner).Edge())
        else:
            wire.Add(BRepBuilderAPI_MakeEdge(at, corner).Edge())
        here, at = end, corner
    return BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()
