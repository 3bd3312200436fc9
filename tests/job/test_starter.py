"""The starter job is a good one, written once and never over another file."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

import railgen
from railgen.errors import OutputError
from railgen.job.read import load_job
from railgen.job.starter import starter_text, write_starter


def test_the_starter_job_reads_and_can_be_built(tmp_path: Path) -> None:
    path = tmp_path / "sail-store.toml"
    write_starter(path)
    job = load_job(path)
    assert job.project.id == "sail-store"
    layout = railgen.solve(job)
    assert len(layout.rails) == 1
    assert len(set(job.flights[0].risers)) > 1, "an uneven flight, as real ones are"


def test_with_the_marks_taken_off_the_starter_is_judged_by_rules_and_loads(tmp_path: Path) -> None:
    plain, marked = starter_text("sail-store.toml").split("# [rules]\n")
    path = tmp_path / "sail-store.toml"
    path.write_text(plain + re.sub("(?m)^# ?", "", "# [rules]\n" + marked), encoding="utf-8")
    job = railgen.load(path)
    checks = railgen.check(job, railgen.solve(job))
    assert any("Approved Document K" in check.source for check in checks)
    assert any(check.code.startswith("strength-") and check.value is not None for check in checks)
    assert not any("is not judged (rules.sets)" in note or "(strength.loads)" in note for note in job.notes)


@pytest.mark.parametrize(
    ("file", "ident"),
    [
        ("north stair.toml", "north_stair"),
        ("Treppe ä.toml", "Treppe"),
        ("階段.toml", "first_stair"),
        ("a" * 90, "a" * 60),
    ],
)
def test_the_jobs_name_is_taken_from_the_file(file: str, ident: str, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(starter_text(file), encoding="utf-8")
    assert load_job(path).project.id == ident


def test_a_file_is_never_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match="not overwritten"):
        write_starter(path)
    assert path.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("name", ["no/such/folder/job.toml", "job.toml/inside.toml", "a\0b.toml"])
def test_where_no_file_can_be_the_reason_is_told(name: str, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("", encoding="utf-8")
    with pytest.raises(OutputError, match="cannot be written"):
        write_starter(tmp_path / name)


def test_the_starter_needs_no_checking_library() -> None:
    code = "import sys, railgen.job.starter; print('pydantic' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
