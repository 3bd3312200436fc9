"""Mouth of a radial hole: the curve where its cylinder meets a wall of the tube.

With the tube along z and the hole along x, the mouth is y = r cos(t), z = r sin(t), x = sqrt(R^2 - y^2) for t from 0 to
2 pi. It has no closed form the kernel knows, so it is interpolated, in space and in the parameters of both cylinders.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import cast

import numpy as np
from numpy.typing import NDArray
from OCP.Geom import Geom_BSplineCurve
from OCP.Geom2d import Geom2d_BSplineCurve
from OCP.Geom2dAPI import Geom2dAPI_Interpolate
from OCP.GeomAPI import GeomAPI_Interpolate
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Pnt2d, gp_Trsf, gp_Vec, gp_Vec2d
from OCP.TColgp import TColgp_HArray1OfPnt, TColgp_HArray1OfPnt2d
from OCP.TColStd import TColStd_HArray1OfReal

__all__ = ["Mouth", "mouth"]

_POINTS = (24, 48, 96)  # tried in turn until the curve is fine enough
_FINE = 1e-3  # mm: a tenth of what is promised of a hole; finer curves only make larger files
_CLOSE = 1e-9


@dataclass(frozen=True, slots=True)
class Mouth:
    """A mouth at clock position 0, z = 0, and how far its curves stray from the two cylinders (mm)."""

    curve: Geom_BSplineCurve
    on_tube: Geom2d_BSplineCurve
    on_hole: Geom2d_BSplineCurve
    start: gp_Pnt
    tolerance: float

    def placed(self, clock: float, distance: float) -> tuple[Geom_BSplineCurve, gp_Pnt]:
        """The curve and its first point for a hole elsewhere on the tube."""
        move, up = gp_Trsf(), gp_Trsf()
        move.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), clock)
        up.SetTranslation(gp_Vec(0, 0, distance))
        move.PreMultiply(up)
        return cast("Geom_BSplineCurve", self.curve.Transformed(move)), self.start.Transformed(move)

    def on_wall(self, clock: float, distance: float) -> Geom2d_BSplineCurve:
        """The curve in the tube's parameters, ``clock`` being counted from the tube's seam."""
        return cast("Geom2d_BSplineCurve", self.on_tube.Translated(gp_Vec2d(clock, distance)))


@lru_cache(maxsize=64)
def mouth(tube_radius: float, hole_radius: float) -> Mouth:
    """The mouth of a hole in a cylinder; its tolerance is measured between the points it was made from."""
    for count in _POINTS:
        found = _interpolated(tube_radius, hole_radius, count)
        if found.tolerance <= _FINE:
            break
    return found


def _interpolated(tube: float, hole: float, count: int) -> Mouth:
    t = np.linspace(0.0, math.tau, count + 1)
    y, z = hole * np.cos(t), hole * np.sin(t)
    x = np.sqrt(tube * tube - y * y)
    points = np.column_stack((x, y, z))
    curve = _through(points[:-1], t)
    on_tube = _through_flat(np.column_stack((np.arctan2(y, x), z))[:-1], t, closed=True)
    on_hole = _through_flat(np.column_stack((t, x)), t, closed=False)
    stray = 0.0
    for at in (t[:-1] + t[1:]) / 2:
        in_space, tube_at, hole_at = curve.Value(at), on_tube.Value(at), on_hole.Value(at)
        on_wall = (tube * math.cos(tube_at.X()), tube * math.sin(tube_at.X()), tube_at.Y())
        in_hole = (hole_at.Y(), hole * math.cos(hole_at.X()), hole * math.sin(hole_at.X()))
        here = (in_space.X(), in_space.Y(), in_space.Z())
        stray = max(stray, math.dist(here, on_wall), math.dist(here, in_hole))
    start = gp_Pnt(float(x[0]), float(y[0]), 0.0)
    return Mouth(curve, on_tube, on_hole, start, max(1.5 * stray, 1e-6))


def _through(points: NDArray[np.float64], t: NDArray[np.float64]) -> Geom_BSplineCurve:
    array = TColgp_HArray1OfPnt(1, len(points))
    for number, point in enumerate(points.tolist(), start=1):
        array.SetValue(number, gp_Pnt(*point))
    work = GeomAPI_Interpolate(array, _reals(t), True, _CLOSE)
    work.Perform()
    return work.Curve()


def _through_flat(points: NDArray[np.float64], t: NDArray[np.float64], *, closed: bool) -> Geom2d_BSplineCurve:
    array = TColgp_HArray1OfPnt2d(1, len(points))
    for number, point in enumerate(points.tolist(), start=1):
        array.SetValue(number, gp_Pnt2d(*point))
    work = Geom2dAPI_Interpolate(array, _reals(t), closed, _CLOSE)
    work.Perform()
    return work.Curve()


def _reals(values: NDArray[np.float64]) -> TColStd_HArray1OfReal:
    array = TColStd_HArray1OfReal(1, len(values))
    for number, value in enumerate(values.tolist(), start=1):
        array.SetValue(number, value)
    return array
