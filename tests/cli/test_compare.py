"""``railgen compare`` and what ``build`` says of the pack before: on the terminal, for machines, by exit status."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from railgen.cli import main

JOB = """\
format = 1
project = { id = "one", revision = "A" }
hardware.set = "wide-48.3"
posts.edge_offset = 62
[rail]
side = "left"
least_height = 900
[[stair]]
kind = "flight"
risers = [171, 176, 169, 174]
goings = [281, 279, 283]
width = 1000
"""


@pytest.fixture
def jobs(tmp_path: Path) -> tuple[str, str]:
    """A job, and the same with a riser 1 mm higher."""
    old, new = tmp_path / "old.toml", tmp_path / "new.toml"
    old.write_text(JOB, encoding="utf-8")
    new.write_text(JOB.replace("169", "170"), encoding="utf-8")
    return str(old), str(new)


def run(monkeypatch: pytest.MonkeyPatch, *words: str) -> int:
    monkeypatch.setattr(sys, "argv", ["railgen", *words])
    try:
        main()
    except SystemExit as leave:
        return int(leave.code or 0)
    return 0


def test_compare_ends_with_one_where_jobs_differ_and_writes_nothing(
    jobs: tuple[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = sorted(tmp_path.rglob("*"))
    assert run(monkeypatch, "compare", *jobs) == 1
    told = capsys.readouterr().out
    assert "old: one, revision A, build " in told
    assert "z_mm" in told
    assert "(+1.000)" in told
    assert run(monkeypatch, "compare", jobs[0], jobs[0]) == 0
    assert "no change" in capsys.readouterr().out
    assert sorted(tmp_path.rglob("*")) == before


def test_compare_tells_machines_every_difference(
    jobs: tuple[str, str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "compare", *jobs, "--json") == 1
    told = json.loads(capsys.readouterr().out)
    assert told["old"]["build"] != told["new"]["build"]
    assert told["same"] is False
    lifted = [change for change in told["changes"] if change["subject"] == "post" and "z_mm" in change["values"]]
    assert lifted
    assert {change["values"]["z_mm"]["difference"] for change in lifted} == {1.0}


@pytest.mark.parametrize("other", ["missing.toml", "."])
def test_compare_ends_with_two_where_one_cannot_be_read(
    other: str,
    jobs: tuple[str, str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run(monkeypatch, "compare", str(tmp_path / other), jobs[0]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith("railgen: ")


def test_a_build_says_that_the_same_revision_had_other_numbers(
    jobs: tuple[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def built(job: str) -> str:
        run(monkeypatch, "build", job, "--out", str(tmp_path / "out"), "--only", "schedules")
        return capsys.readouterr().out

    words = "the same revision had other numbers before"
    assert words not in built(jobs[0])
    told = built(jobs[1])
    assert words in told
    assert str(tmp_path / "out" / "one" / "changes.txt") in told
    assert words not in built(jobs[1])


def test_a_build_says_where_it_cannot_say_what_changed(
    jobs: tuple[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for job in jobs:
        run(monkeypatch, "build", job, "--out", str(tmp_path / "out"), "--only", "labels")
    assert "cannot say what changed since the pack before: " in capsys.readouterr().out
