"""Each tube has to come out of one bar: just long enough, and a hair too short."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from railgen import check, load, solve
from railgen.checks.model import Certainty, Verdict
from railgen.job.model import Job
from railgen.job.order_model import RackPiece, Stock, StockLength
from tests import jobs


def bars(job: Job, stock: Stock) -> dict[str, Verdict]:
    job = replace(job, order=replace(job.order, stock=stock))
    return {one.where: one.verdict for one in check(job, solve(job)) if one.code == "job-bar"}


@pytest.mark.parametrize("trim", [0.0, 10.0, 25.0])
def test_a_bar_is_long_enough_with_its_trim_at_both_ends(trim: float) -> None:
    job = jobs.job([jobs.flight(1, [175.0] * 8, [280.0] * 7)])
    (rail,) = solve(job).rails
    for spare, verdict in ((0.01, Verdict.MEETS), (-0.01, Verdict.FAILS)):
        bar = StockLength(length=rail.length + 2 * trim + spare)
        assert bars(job, Stock(lengths=(bar,), trim=trim))["rail R1"] is verdict


def test_a_bar_of_another_section_and_a_short_piece_on_the_rack_do_not_count() -> None:
    job = jobs.job([jobs.flight(1, [175.0] * 8, [280.0] * 7)])
    (rail,) = solve(job).rails
    mine, other = job.hardware.tube.id, "60.3x2.0"
    short, long = StockLength(length=1200, section=mine), StockLength(length=6000, section=other)
    assert bars(job, Stock(lengths=(short, long)))["rail R1"] is Verdict.FAILS
    for spare, verdict in ((0.0, Verdict.MEETS), (-0.01, Verdict.FAILS)):
        rack = RackPiece(length=rail.length + spare, section=mine)  # of which nothing is trimmed
        assert bars(job, Stock(lengths=(short,), rack=(rack,)))["rail R1"] is verdict


@pytest.mark.parametrize(
    ("typed", "certainty"),
    [("", Certainty.PRACTICE), ("[[stock.lengths]]\nlength = 6000\n", Certainty.JOB)],
)
def test_the_usual_bar_is_common_practice_and_a_typed_one_the_jobs(
    tmp_path: Path, typed: str, certainty: Certainty
) -> None:
    path = tmp_path / "long.toml"
    path.write_text(
        'format = 1\nproject.id = "long"\nhardware.set = "wide-48.3"\nposts.edge_offset = 62\n'
        'rail = { side = "left", least_height = 900 }\n'
        f'[[stair]]\nkind = "flight"\nrise = 170\ngoing = 280\nriser_count = 24\nwidth = 1000\n{typed}',
        encoding="utf-8",
    )
    job = load(path)
    found = [one for one in check(job, solve(job)) if one.code == "job-bar" and one.where.startswith("rail")]
    assert {(one.most, one.verdict, one.certainty) for one in found} == {(5980.0, Verdict.FAILS, certainty)}
