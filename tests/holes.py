"""Every hole of a drill schedule looked up in the STEP text, from the CSV's own numbers."""

from __future__ import annotations

import math
import re
from pathlib import Path

from railgen.geometry import Vec
from railgen.layout import Layout
from railgen.members import Fabrication
from railgen.members.pieces import Fitting, Group, Tube
from tests.readback import read_step

__all__ = ["missing_holes"]

Row = dict[str, str]


def missing_holes(step: Path, rows: list[Row], layout: Layout, fabrication: Fabrication) -> list[tuple[str, str]]:
    """Part and name of each scheduled hole that is no cylinder of its diameter on its axis in its wall."""
    file = read_step(step)
    products = {o.name.removesuffix(".body"): o.product for group in file.root.children for o in group.children}
    bodies = {place.mark: place.frame for place in fabrication.placed if place.group is Group.STAIR}
    missing = []
    for row in rows:
        piece = fabrication.pieces[row["part"]]
        radius = float(row["diameter_mm"]) / 2
        axis, point = Vec(0, 0, 1), Vec(0, 0, 0)
        if row["distance_mm"]:
            clock = math.radians(float(row["clock_deg"]))
            axis = Vec(math.cos(clock), math.sin(clock), 0.0)
            point = Vec(0.0, 0.0, float(row["distance_mm"])) + axis * _outside(piece)
        elif row["x_mm"]:
            point = Vec(float(row["x_mm"]), float(row["y_mm"]), 0.0)
        else:
            point = bodies[row["part"]].local(_marked_out(layout, row))
        matches = [
            cylinder
            for cylinder in file.products[products.get(row["part"], row["part"])].cylinders
            if cylinder.hollow
            and abs(cylinder.radius - radius) < 0.001
            and cylinder.direction.cross(axis).length < 1e-5
            and cylinder.off_axis(point) < 0.002
        ]
        ends = [
            abs((cylinder.point + cylinder.direction * at - point).dot(axis))
            for cylinder in matches
            for span in cylinder.spans
            for at in span
        ]
        # a tube's hole is in the wall at its clock position, not in the one opposite
        if not matches or (isinstance(piece, Tube) and min(ends) > piece.section.wall + 0.1):
            missing.append((row["part"], row["hole"]))
    return missing


def _outside(piece: object) -> float:
    if isinstance(piece, Tube):
        return piece.section.od / 2
    assert isinstance(piece, Fitting)
    return float(piece.item.socket_od) / 2  # type: ignore[union-attr]


def _marked_out(layout: Layout, row: Row) -> Vec:
    """Where a person who measures from the named nosing and edge would mark the hole."""
    found = re.fullmatch(r"flight (\d+): nosing (\d+), (left|right) edge", row["measured_from"])
    assert found
    placed = layout.survey.flights[int(found[1]) - 1]
    along = sum(placed.flight.goings[: int(found[2]) - 1]) + float(row["from_nosing_mm"])
    inward = float(row["from_edge_mm"])
    across = -inward if found[3] == "left" else inward - placed.flight.width
    return placed.foot + placed.ahead * along + placed.left * across
