"""The shipped job that fails on purpose, as the command shows it."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import railgen
from railgen.checks import Check, Verdict
from railgen.checks.strength.notes import STRENGTH_CAUTION
from tests.checks.strength.scenes import load
from tests.checks.strength.test_jobs import text_with

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
    failing = [at for at, line in enumerate(lines) if line.startswith("not met")]
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


def checked(folder: Path, content: str) -> tuple[Check, ...]:
    job = load(folder, content)
    return railgen.check(job, railgen.solve(job))


def test_every_failure_has_a_remedy_with_the_utilisation_it_leads_to() -> None:
    job = railgen.load(WEAK)
    failing = [check for check in railgen.check(job, railgen.solve(job)) if check.verdict is Verdict.FAILS]
    assert len({check.code for check in failing}) > 5
    for check in failing:
        used = re.findall(r"would bring it to (\d\.\d\d)", check.advice)
        assert used, check.title
        assert all(float(value) <= 1.0 for value in used), check.advice


def test_the_remedies_followed_one_after_the_other_mend_the_job(tmp_path: Path) -> None:
    """Of each first failure the first remedy that wants nothing but words in the job file; the last job is sound."""
    content = WEAK.read_text(encoding="utf-8")
    steps: list[str] = []
    while len(steps) < 6:
        checks = checked(tmp_path, content)
        failing = [check for check in checks if check.verdict is Verdict.FAILS]
        if not failing:
            break
        words = next(words for words in failing[0].advice.split("; or ") if "(wants " not in words)
        promised = re.search(r"would bring it to (\d\.\d\d)", words)
        assert promised, words
        steps.append(words)
        content, code = text_with(content, words), failing[0].code
        mended = [check for check in checked(tmp_path, content) if check.code == code]
        assert max(check.value or 0.0 for check in mended) <= float(promised[1]) + 0.006
    assert steps
    assert {check.verdict for check in checked(tmp_path, content)} == {Verdict.MEETS}


def test_each_failure_tells_what_is_found_allowed_worked_out_and_by_which_clause() -> None:
    lines = check().stdout.splitlines()
    failing = [at for at, line in enumerate(lines) if line.startswith("not met")]
    assert failing
    for at in failing:
        assert re.search(r"\d\.\d\d used +at most 1 ", lines[at]), lines[at]
        below = [line for line in lines[at + 1 : at + 4] if line.startswith("    ")]
        assert [line.split(":")[0].strip() for line in below] == ["would help", "worked out", "by"], lines[at]
        assert re.search(r"= [\d.]+ (kN|kNm|mm|MPa)|: \d", below[1]), below[1]
        assert re.search(r"ASCE 7|BS 6180", below[2]), below[2]
        assert "from memory" not in below[2]  # how sure it is stands in the line itself


def test_all_shows_the_sum_of_every_link_with_its_sources() -> None:
    lines = check("--all").stdout.splitlines()
    links = [at for at, line in enumerate(lines) if re.search(r"\d\.\d\d used ", line)]
    assert len(links) > 40
    for at in links:
        below = "\n".join(lines[at + 1 : at + 4])
        assert "    worked out: " in below, lines[at]
        assert "    by: " in below, lines[at]
