"""The drill schedule: every hole the workshop or the site drills, once for each distinct piece."""

from __future__ import annotations

import math
from collections.abc import Iterator

from railgen.members import Fabrication
from railgen.members.facts import mates
from railgen.members.pieces import FaceHole, Fitting, FittingKind, SurfaceHole, TubeHole
from railgen.schedules.table import Cell, Column, Quantity, Table

__all__ = ["drill_table"]

_COLUMNS = (
    Column(name="part"),
    Column(name="hole"),
    Column(name="distance_mm", quantity=Quantity.LENGTH),
    Column(name="clock_deg", quantity=Quantity.ANGLE),
    Column(name="diameter_mm", quantity=Quantity.DRILL),
    Column(name="depth_mm", quantity=Quantity.LENGTH),
    Column(name="walls", quantity=Quantity.COUNT),
    Column(name="purpose"),
    Column(name="mates_with"),
    Column(name="x_mm", quantity=Quantity.LENGTH),
    Column(name="y_mm", quantity=Quantity.LENGTH),
    Column(name="countersink_mm", quantity=Quantity.DRILL),
    Column(name="thread"),
    Column(name="from_nosing_mm", quantity=Quantity.LENGTH),
    Column(name="from_edge_mm", quantity=Quantity.LENGTH),
    Column(name="measured_from"),
    Column(name="when"),
)


def drill_table(fabrication: Fabrication) -> Table:
    """``drill_schedule.csv``: tubes by distance and clock position, plates by x and y, treads from nosing and edge.

    A tread's holes are measured along and across the flight named: from a nosing, negative in front of it, and
    inwards from the side edge at the rail.

    A plate's x points down the flight and its y to the walker's right, from the plate's centre; its socket's holes
    are given by their height above the plate's underside and clock position.

    ``when`` says which holes wait for the trial fit; of a hole in the stair it is empty: site sets it out.
    """
    rows = (tuple(row.get(column.name) for column in _COLUMNS) for row in _rows(fabrication))
    return Table(name="Drill schedule", columns=_COLUMNS, rows=tuple(rows))


def _rows(fabrication: Fabrication) -> Iterator[dict[str, Cell]]:
    """The schedule's cells by column, in the order of the pieces."""
    mate = mates(fabrication)
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, Fitting) and piece.kind is not FittingKind.BASE_PLATE:
            continue
        for hole in piece.holes:
            yield {
                "part": mark,
                "hole": hole.id,
                "diameter_mm": hole.diameter,
                "depth_mm": hole.depth,
                "walls": hole.walls,
                "purpose": hole.purpose.value,
                "mates_with": " | ".join(mate.get((mark, hole.id), ())),
                "countersink_mm": hole.countersink or None,
                "thread": hole.thread,
                "when": "" if hole.when is None else hole.when.value,
                **_place(hole),
            }


def _place(hole: TubeHole | FaceHole) -> dict[str, Cell]:
    if isinstance(hole, TubeHole):
        return {"distance_mm": hole.distance, "clock_deg": hole.clock % math.tau}
    if isinstance(hole, SurfaceHole):
        where = hole.measured_from
        return {"from_nosing_mm": hole.from_nosing, "from_edge_mm": hole.from_edge, "measured_from": where}
    if abs(hole.axis.z) > 0.5:
        return {"x_mm": hole.point.x, "y_mm": hole.point.y}
    return {"distance_mm": hole.point.z, "clock_deg": math.atan2(hole.axis.y, hole.axis.x) % math.tau}
