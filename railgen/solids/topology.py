"""Vertices, edges, wires and faces put together by hand, thinly over the kernel's builder."""

from __future__ import annotations

from OCP.BRep import BRep_Builder
from OCP.Geom import Geom_Curve, Geom_Surface
from OCP.Geom2d import Geom2d_Curve, Geom2d_Line
from OCP.GeomAbs import GeomAbs_Shape
from OCP.gp import gp_Dir2d, gp_Pnt, gp_Pnt2d
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Edge, TopoDS_Face, TopoDS_Shape, TopoDS_Shell, TopoDS_Solid, TopoDS_Vertex, TopoDS_Wire

__all__ = ["FINE", "closed_solid", "edge", "face", "lay_on", "lay_seam", "line2d", "vertex", "wire"]

FINE = 1e-6  # mm: tolerance of what has a closed form
_BUILD = BRep_Builder()
_HERE = TopLoc_Location()


def vertex(at: gp_Pnt, tolerance: float = FINE) -> TopoDS_Vertex:
    """A corner that edges share."""
    made = TopoDS_Vertex()
    _BUILD.MakeVertex(made, at, tolerance)
    return made


def edge(
    curve: Geom_Curve,
    ends: tuple[TopoDS_Vertex, TopoDS_Vertex],
    span: tuple[float, float],
    tolerance: float = FINE,
) -> TopoDS_Edge:
    """The curve between two of its parameters, from one vertex to the other."""
    made = TopoDS_Edge()
    _BUILD.MakeEdge(made, curve, tolerance)
    _BUILD.Add(made, ends[0].Oriented(TopAbs_Orientation.TopAbs_FORWARD))
    _BUILD.Add(made, ends[1].Oriented(TopAbs_Orientation.TopAbs_REVERSED))
    _BUILD.Range(made, span[0], span[1])
    return made


def lay_on(made: TopoDS_Edge, surface: Geom_Surface, curve: Geom2d_Curve, tolerance: float = FINE) -> None:
    """Say where an edge runs on a surface, in the surface's own parameters."""
    _BUILD.UpdateEdge(made, curve, surface, _HERE, tolerance)


def lay_seam(made: TopoDS_Edge, surface: Geom_Surface, high: Geom2d_Curve, low: Geom2d_Curve) -> None:
    """The same for the edge that closes a surface onto itself: it runs on both borders of the parameters."""
    _BUILD.UpdateEdge(made, high, low, surface, _HERE, FINE)
    _BUILD.Continuity(made, surface, surface, _HERE, _HERE, GeomAbs_Shape.GeomAbs_CN)


def line2d(start: tuple[float, float], direction: tuple[float, float]) -> Geom2d_Line:
    """A line in the parameters of a surface."""
    return Geom2d_Line(gp_Pnt2d(*start), gp_Dir2d(*direction))


def wire(*edges: TopoDS_Shape) -> TopoDS_Wire:
    """A closed wire of edges in their order."""
    made = TopoDS_Wire()
    _BUILD.MakeWire(made)
    for piece in edges:
        _BUILD.Add(made, piece)
    made.Closed(True)
    return made


def face(surface: Geom_Surface, wires: list[TopoDS_Wire], *, back: bool = False) -> TopoDS_Shape:
    """The part of a surface within the first wire and outside the others; ``back``: material on its other side."""
    made = TopoDS_Face()
    _BUILD.MakeFace(made, surface, _HERE, FINE)
    for border in wires:
        _BUILD.Add(made, border)
    return made.Reversed() if back else made


def closed_solid(faces: list[TopoDS_Shape]) -> TopoDS_Solid:
    """The solid within faces that share all their edges."""
    shell, made = TopoDS_Shell(), TopoDS_Solid()
    _BUILD.MakeShell(shell)
    for piece in faces:
        _BUILD.Add(shell, piece)
    shell.Closed(True)
    _BUILD.MakeSolid(made)
    _BUILD.Add(made, shell)
    return made
