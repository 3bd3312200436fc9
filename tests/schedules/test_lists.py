"""Schedules agree with the pieces they list, and harm no reader."""

from __future__ import annotations

import csv
import io
import math

import pytest
from hypothesis import given

from railgen import fabricate, solve
from railgen.job.model import Job, Side
from railgen.members.pieces import FaceHole, StairBody, Tube, TubeHole
from railgen.schedules import cut_table, drill_table
from railgen.schedules.table import Column, Table
from tests.jobs import worked_job
from tests.members.test_properties import built
from tests.strategies import stairs


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


@given(stairs())
def test_the_drill_schedule_has_every_hole_of_every_tube_once(job: Job) -> None:
    _, fabrication = built(job)
    rows = rows_of(drill_table(fabrication).csv())
    for mark, piece in fabrication.pieces.items():
        if not isinstance(piece, Tube):
            continue
        mine = {row["hole"]: row for row in rows if row["part"] == mark}
        assert set(mine) == {hole.id for hole in piece.holes}
        for hole in piece.holes:
            assert isinstance(hole, TubeHole)
            row = mine[hole.id]
            assert float(row["distance_mm"]) == pytest.approx(hole.distance, abs=0.0006)
            turned = abs(float(row["clock_deg"]) - math.degrees(hole.clock))
            assert min(turned, 360 - turned) < 0.0006
            assert row["mates_with"]


def test_columns_are_those_the_outside_relies_on() -> None:
    promised = "part,hole,distance_mm,clock_deg,diameter_mm,depth_mm,walls,purpose,mates_with".split(",")
    job = worked_job()
    fabrication = fabricate(job, solve(job))
    columns = [column.name for column in drill_table(fabrication).columns]
    assert columns[: len(promised)] == promised
    assert {"x_mm", "y_mm", "countersink_mm", "thread", "from_nosing_mm", "from_edge_mm"} <= set(columns)
    header = cut_table(job, fabrication).csv().splitlines()[0]
    assert header.startswith("mark,quantity,section,length_mm,end_a,end_b")


@pytest.mark.parametrize("side", list(Side))
def test_tread_holes_are_placed_from_nosing_and_edge(side: Side) -> None:
    """Setback 122.050 and edge offset 60, bolts 35 either way: worked out by hand for the first post."""
    job = worked_job(side=side)
    fabrication = fabricate(job, solve(job))
    mine = [row for row in rows_of(drill_table(fabrication).csv()) if row["part"] == "F1-T1"]
    places = sorted((float(row["from_nosing_mm"]), float(row["from_edge_mm"])) for row in mine)
    expected = sorted((122.050 + a, 60.0 + b) for a in (-35, 35) for b in (-35, 35))
    assert [value for place in places for value in place] == pytest.approx(
        [value for place in expected for value in place], abs=0.01
    )
    body = fabrication.pieces["F1-T1"]
    assert isinstance(body, StairBody)
    assert all(isinstance(hole, FaceHole) for hole in body.holes)


def test_masses_are_volume_times_density() -> None:
    """Ring of 48.3 x 2.0, 1982.657 long, less five holes through one wall; 7900 kg/m3 (EN 10088-1)."""
    job = worked_job()
    (row,) = [row for row in rows_of(cut_table(job, fabricate(job, solve(job))).csv()) if row["mark"] == "R1"]
    ring = math.pi / 4 * (48.3**2 - 44.3**2) * 1982.657
    holes = math.pi / 4 * (4 * 5.0**2 + 6.4**2) * 2.0
    assert float(row["mass_kg"]) == pytest.approx((ring - holes) * 7900e-9, abs=0.0006)


def test_cells_that_look_like_formulas_are_made_harmless() -> None:
    rows = (('=HYPERLINK("x")', "-12.5"), ("+cmd", 'with "quotes", and\nline'), ("x", -0.0004))
    text = Table(name="", columns=(Column(name="a"), Column(name="b")), rows=rows).csv()
    assert rows_of(text) == [
        {"a": '\'=HYPERLINK("x")', "b": "-12.5"},
        {"a": "'+cmd", "b": 'with "quotes", and\nline'},
        {"a": "x", "b": "0.000"},
    ]
