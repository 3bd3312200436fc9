"""Which holes wait for the trial fit is said with the hole, and read there by every paper."""

from __future__ import annotations

import csv
import io

from railgen import fabricate, solve
from railgen.job.order_model import Finish
from railgen.members.pieces import Purpose, StairBody, Tube, When
from railgen.schedules.drill import drill_table
from railgen.schedules.labels import label_table, labels
from tests import jobs


def test_screws_of_the_rail_wait_and_rivets_of_the_posts_do_not() -> None:
    """A rail is drilled where its saddles and elbows came to lie; posts and plates are drilled on the bench."""
    job = jobs.job([jobs.flight(1, [175.0] * 6, [280.0] * 5)])
    fabrication = fabricate(job, solve(job))
    waits = {Purpose.SADDLE_SCREW: When.AFTER_FIT, Purpose.ELBOW_SCREW: When.AFTER_FIT}
    for piece in fabrication.pieces.values():
        for hole in piece.holes:
            in_stair = isinstance(piece, StairBody)
            assert hole.when is (None if in_stair else waits.get(hole.purpose, When.WORKSHOP))
    rows = list(csv.DictReader(io.StringIO(drill_table(fabrication).csv(), newline="")))
    rail = [row["when"] for row in rows if row["part"].startswith("R")]
    post = [row["when"] for row in rows if row["part"].startswith("P")]
    tread = [row["when"] for row in rows if row["measured_from"]]
    assert (set(rail), set(post), set(tread)) == ({"after trial fit"}, {"workshop"}, {""})
    made = label_table(tuple(labels(job, fabrication, Finish())))
    at = [column.name for column in made.columns].index("notes")
    told = {str(row[0]): str(row[at]) for row in made.rows}
    (tube,) = (piece for piece in fabrication.pieces.values() if isinstance(piece, Tube) and piece.mark == "R1")
    assert f"{len(tube.holes)} of {len(tube.holes)} holes wait for the trial fit" in told["R1"]
    assert "trial fit" not in told["P1"]
