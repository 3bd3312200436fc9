"""The shipped job that fails on purpose, as the command shows it."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from railgen.checks.strength.notes import STRENGTH_CAUTION

WEAK = Path(__file__).parents[3] / "configs" / "weak_mezzanine.toml"


def check(*options: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "railgen", "check", str(WEAK), *options]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_it_exits_with_one_and_shows_what_would_mend_it() -> None:
    done = check()
    assert done.returncode == 1
    assert done.stderr == ""
    assert STRENGTH_CAUTION in done.stdout
    lines = done.stdout.splitlines()
    failing = [at for at, line in enumerate(lines) if line.startswith("does not meet")]
    assert any("post in bending at its socket" in lines[at] for at in failing)
    assert all(lines[at + 1].startswith("    would help: ") for at in failing)
    assert "posts.largest_span = " in done.stdout
    titles = [line for line in lines if "post in bending at its socket" in line]
    assert len(titles) == 1  # one line for all posts


def test_its_json_carries_load_case_formula_and_source() -> None:
    told = json.loads(check("--json").stdout)
    assert told["verdict"] == "does not meet"
    rows = [row for row in told["checks"] if row["code"] == "strength-post"]
    assert rows
    for row in rows:
        assert row["says"].startswith("asce-7, lrfd, ")
        assert "M = " in row["formula"]
        assert "MRd = " in row["formula"]
        assert "ASCE 7" in row["source"]
        assert "AISC 360" in row["source"]
