"""Level ends as solids: nothing clashes, and the STEP file has every hole that the schedule lists."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from railgen import fabricate, solve
from railgen.job.model import EndFinish, Job, RailEnd, Side
from railgen.schedules import drill_table
from railgen.solids import build_all, write_step
from tests.holes import missing_holes
from tests.jobs import flight, hardware, job
from tests.overlap import overlaps
from tests.readback import read_step

RISERS, GOINGS = (171.0, 180.0, 176.0, 183.0), (252.0, 248.0, 251.0)


def made(finish: EndFinish, posts: tuple[int, ...], side: Side, *, close: bool = False) -> Job:
    top, bottom = (RailEnd(finish=finish, overhang=100, level=reach) for reach in (305, 300))
    steps = flight(1, RISERS, GOINGS, posts=posts)
    return job([steps], top=top, bottom=bottom, side=side, fittings=hardware(close=close))


@pytest.mark.parametrize(
    ("finish", "posts", "side", "close"),
    [
        (EndFinish.CAP, (0, 2, 4), Side.LEFT, False),
        (EndFinish.SCROLL, (0, 2, 4), Side.RIGHT, True),
        (EndFinish.SCROLL, (1, 3), Side.LEFT, False),
        (EndFinish.OPEN, (0, 3), Side.RIGHT, True),
    ],
)
def test_a_rail_with_two_level_ends_clashes_with_nothing(
    finish: EndFinish, posts: tuple[int, ...], side: Side, close: bool
) -> None:
    given = made(finish, posts, side, close=close)
    tried, clashes = overlaps(fabricate(given, solve(given)))
    assert tried > 10
    assert clashes == []


def test_the_step_file_has_the_elbows_the_saddle_and_every_scheduled_hole(tmp_path: Path) -> None:
    given = made(EndFinish.CAP, (0, 2, 4), Side.RIGHT)
    layout = solve(given)
    fabrication = fabricate(given, layout)
    write_step(tmp_path / "a.step", given, fabrication, build_all(fabrication))
    rows = list(csv.DictReader(io.StringIO(drill_table(fabrication).csv())))
    screws = [row for row in rows if row["purpose"] == "screw, elbow to rail"]
    assert {row["part"] for row in screws} == {"R1", "R2", "R3"}
    assert missing_holes(tmp_path / "a.step", rows, layout, fabrication) == []
    names = [occurrence.name for occurrence, _ in read_step(tmp_path / "a.step").root.walk()]
    assert {"N1.tongue", "N1.fork", "N2.tongue", "N2.fork", "F1-P3.saddle", "R1.cap-a", "R3.cap-b"} <= set(names)
