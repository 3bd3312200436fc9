"""Whatever a job says, it is solved and every invariant holds, or it is refused in words: soon, with no traceback.

The short run takes the first jobs of the long one. A past failure is a folder of the corpus, named after what went
wrong; ``python -m tests.fuzz`` keeps the files of what it finds.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

import railgen
from railgen.checks import Certainty, Check
from railgen.errors import Fault
from railgen.members.pieces import Tube
from tests.fuzz.__main__ import run
from tests.fuzz.draw import drawn
from tests.fuzz.invariants import broken, poor
from tests.fuzz.plausible import Kind, plausible
from tests.fuzz.toml import Raw, written
from tests.fuzz.trial import Outcome, tried
from tests.packs import CONFIGS

CORPUS = sorted(path for path in (Path(__file__).parent / "corpus").iterdir() if path.is_dir())
SHORT, LONG, RANGE = 200, 50_000, 25_000


def test_a_short_run_finds_nothing(tmp_path: Path) -> None:
    tally = run(0, SHORT, tmp_path / "found")
    assert not tally.kinds
    assert sum(tally.outcomes.values()) == SHORT
    assert min(tally.outcomes[outcome] for outcome in (Outcome.SOLVED, Outcome.REFUSED, Outcome.IMPOSSIBLE)) > 20


@pytest.mark.long
@pytest.mark.parametrize("first", range(0, LONG, RANGE))
def test_a_long_run_finds_nothing(first: int, tmp_path: Path) -> None:
    tally = run(first, first + RANGE, tmp_path / "found")
    assert not tally.kinds
    assert sum(tally.outcomes.values()) == RANGE


@pytest.mark.parametrize("case", CORPUS, ids=[path.name for path in CORPUS])
def test_a_past_failure_stays_mended(case: Path, tmp_path: Path) -> None:
    trial = tried({path.name: path.read_bytes() for path in case.iterdir()}, tmp_path)
    assert not trial.found, trial.detail


def test_a_run_goes_on_where_it_stopped_and_comes_to_the_same(tmp_path: Path) -> None:
    whole = run(0, 20, tmp_path / "whole")
    run(0, 7, tmp_path / "parts")
    parts = run(0, 20, tmp_path / "parts")
    assert parts.outcomes == whole.outcomes
    assert parts.following == 20


def test_the_job_of_a_number_is_always_the_same() -> None:
    assert [drawn(number) for number in range(40)] == [drawn(number) for number in range(40)]


def test_what_is_written_as_toml_is_read_back() -> None:
    for number in range(100):
        tree = plausible(Random(number), Kind())  # noqa: S311 - not for secrets
        assert tomllib.loads(written(tree)) == tree
    odd = {"a.b": ['"\\\n\x7f\u202e', -0.0, [{}], {"é": float("inf")}], "t": {"": [{"x": 1}, {"y": [[]]}]}, "": True}
    assert tomllib.loads(written(odd)) == odd
    assert tomllib.loads(written({"x": Raw("0x10")})) == {"x": 16}


def test_faults_planted_in_a_good_job_are_found() -> None:
    """Each invariant sees a value that is off by a little."""
    job = railgen.load(CONFIGS / "mill_half_turn.toml")
    layout = railgen.solve(job)
    fabrication, checks = railgen.fabricate(job, layout), railgen.check(job, layout)
    assert not list(broken(job, layout, fabrication, checks))

    def seen(**changed: object) -> str:
        things = {"layout": layout, "fabrication": fabrication, "checks": checks} | changed
        return "; ".join(broken(job, **things))  # type: ignore[arg-type]

    rail, *rails = layout.rails
    assert f"{rail.id} ends " in seen(layout=replace(layout, rails=(replace(rail, length=rail.length + 0.001), *rails)))
    post, *posts = layout.posts
    assert f"{post.id} is nan long" in seen(layout=replace(layout, posts=(replace(post, length=math.nan), *posts)))
    height = replace(layout.heights[0], height=job.rail.least_height - 0.001)
    assert " over nosing " in seen(layout=replace(layout, heights=(height,)))

    mark, tube = next(
        (mark, each) for mark, each in fabrication.pieces.items() if isinstance(each, Tube) and each.holes
    )
    hole, *holes = tube.holes
    for bent, told in (
        (replace(hole, distance=tube.length - 1), f"{mark} {hole.id} at "),
        (replace(hole, depth=0.0), f"{mark} {hole.id}: diameter "),
        (replace(holes[-1], id=hole.id), f"{mark}: {hole.id} and {holes[-1].id} run into each other"),
    ):
        pieces = {**fabrication.pieces, mark: replace(tube, holes=(bent, *holes))}
        assert told in seen(fabrication=replace(fabrication, pieces=pieces))
    mating = fabrication.joints[0].a[0]
    placed = tuple(
        replace(each, frame=replace(each.frame, origin=each.frame.origin + each.frame.z * 0.02))
        if each.id == mating
        else each
        for each in fabrication.placed
    )
    assert " apart" in seen(fabrication=replace(fabrication, placed=placed))

    check = Check(code="x", title="x", where="x", value=math.nan, unit="", most=1, certainty=Certainty.MECHANICS)
    assert "x, x: nan" in seen(checks=[check])
    assert "between None and inf" in seen(checks=[replace(check, value=0.5, most=math.inf)])


def test_a_fault_that_says_too_little_is_found() -> None:
    whole = Fault(code="x", where="x", message="x")
    assert not list(poor([whole]))
    assert list(poor([])) == ["refused without a fault"]
    for lacking in (replace(whole, code=""), replace(whole, message=""), replace(whole, where="")):
        assert "without code, words or place" in next(poor([whole, lacking]))


def test_a_job_that_takes_too_long_and_one_that_crashes_are_told_apart(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = {"job.toml": (CONFIGS / "mill_loft_timber.toml").read_bytes()}
    assert tried(files, tmp_path).outcome is Outcome.SOLVED

    def endless(_: object) -> None:
        while True:
            pass

    def crashing(_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(railgen, "solve", endless)
    assert tried(files, tmp_path, seconds=0.2).outcome is Outcome.SPENT
    monkeypatch.setattr(railgen, "solve", crashing)
    trial = tried(files, tmp_path)
    assert (trial.outcome, trial.found) == (Outcome.CRASHED, True)
    assert "ZeroDivisionError" in trial.detail
