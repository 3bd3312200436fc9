"""The drill schedule: every hole the workshop or the site drills, once for each distinct piece."""

from __future__ import annotations

import math
from collections.abc import Iterator

from railgen.members import Fabrication
from railgen.members.facts import mates
from railgen.members.pieces import FaceHole, Fitting, FittingKind, Hole, SurfaceHole, TubeHole
from railgen.schedules.rows import number, to_csv

__all__ = ["COLUMNS", "drill_rows", "drill_schedule"]

COLUMNS = (
    "part",
    "hole",
    "distance_mm",
    "clock_deg",
    "diameter_mm",
    "depth_mm",
    "walls",
    "purpose",
    "mates_with",
    "x_mm",
    "y_mm",
    "countersink_mm",
    "thread",
    "from_nosing_mm",
    "from_edge_mm",
    "measured_from",
)


def drill_schedule(fabrication: Fabrication) -> str:
    """``drill_schedule.csv``: tubes by distance and clock position, plates by x and y, treads from nosing and edge.

    A tread's holes are measured along and across the flight named: from a nosing, negative in front of it, and
    inwards from the side edge at the rail.

    A plate's x points down the flight and its y to the walker's right, from the plate's centre; its socket's holes
    are given by their height above the plate's underside and clock position.
    """
    return to_csv(COLUMNS, drill_rows(fabrication))


def drill_rows(fabrication: Fabrication) -> Iterator[dict[str, str]]:
    """The schedule's rows, in the order of the pieces."""
    mate = mates(fabrication)
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, Fitting) and piece.kind is not FittingKind.BASE_PLATE:
            continue
        for hole in piece.holes:
            row = {"part": mark, "mates_with": " | ".join(mate.get((mark, hole.id), ())), **_common(hole)}
            if isinstance(hole, TubeHole):
                row |= _polar(hole.distance, hole.clock)
            elif isinstance(hole, SurfaceHole):
                row |= _on_surface(hole)
            elif isinstance(hole, FaceHole):
                row |= _on_plate(hole)
            yield row


def _common(hole: Hole) -> dict[str, str]:
    return {
        "hole": hole.id,
        "diameter_mm": number(hole.diameter),
        "depth_mm": number(hole.depth),
        "walls": str(hole.walls),
        "purpose": hole.purpose.value,
        "countersink_mm": number(hole.countersink) if hole.countersink else "",
        "thread": hole.thread,
    }


def _polar(distance: float, clock: float) -> dict[str, str]:
    return {"distance_mm": number(distance), "clock_deg": number(math.degrees(clock) % 360.0)}


def _on_plate(hole: FaceHole) -> dict[str, str]:
    if abs(hole.axis.z) > 0.5:
        return {"x_mm": number(hole.point.x), "y_mm": number(hole.point.y)}
    return _polar(hole.point.z, math.atan2(hole.axis.y, hole.axis.x))


def _on_surface(hole: SurfaceHole) -> dict[str, str]:
    return {
        "from_nosing_mm": number(hole.from_nosing),
        "from_edge_mm": number(hole.from_edge),
        "measured_from": hole.measured_from,
    }
