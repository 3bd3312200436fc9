"""The verdict on all checks: how far it goes, what it rests on, and what the commands answer."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest
from click.testing import CliRunner

from railgen import build, check, load, solve
from railgen.checks.model import Certainty, Check, Verdict
from railgen.checks.table import checks_json, count_line, overall
from railgen.cli.main import cli
from railgen.cli.show import exit_status
from railgen.job.rules_model import RulesInput, Trust
from tests import jobs

MET = Check(code="x", title="x", where="x", value=1.0, unit="mm", least=1.0, certainty=Certainty.JOB)
RULE = replace(MET, rule="set/rule", certainty=Certainty.MEMORY)
LINK = replace(MET, code="strength-x")


@pytest.mark.parametrize(
    ("checks", "verdict", "status"),
    [
        ((MET, RULE, LINK), "meets", 0),
        ((MET, RULE), "meets as far as judged", 0),
        ((MET, LINK), "meets as far as judged", 0),
        ((), "meets as far as judged", 0),
        ((MET, replace(RULE, value=0.5)), "does not meet", 1),
        ((MET, RULE, replace(LINK, value=None)), "cannot say", 1),
        ((replace(MET, value=None), replace(LINK, value=0.5)), "does not meet", 1),
    ],
)
def test_success_goes_as_far_as_was_judged(checks: tuple[Check, ...], verdict: str, status: int) -> None:
    assert overall(checks).value == verdict
    assert exit_status(checks) == status
    assert json.loads(checks_json(checks, []))["verdict"] == verdict


def test_verdicts_by_memory_are_counted_apart() -> None:
    assert count_line([MET, RULE, replace(RULE, value=0.5)]) == (
        "3 checks: 2 met (1 of them by numbers from memory), 1 not met (1 of them by numbers from memory)"
    )


def plain_job(tmp_path: Path, extra: str = "") -> Path:
    path = tmp_path / "plain.toml"
    path.write_text(
        """format = 1
[project]
id = "plain"
[hardware]
set = "wide-48.3"
[rail]
side = "left"
least_height = 900
[posts]
edge_offset = 70
substrate = "timber"
[[stair]]
kind = "flight"
risers = [175, 175, 175, 175, 175]
goings = [270, 270, 270, 270]
nosing_overhang = 20
width = 900
tread_thickness = 70
"""
        + extra,
        encoding="utf-8",
    )
    return path


def test_nothing_named_is_met_as_far_as_judged_and_not_green(tmp_path: Path) -> None:
    result = CliRunner().invoke(cli, ["check", str(plain_job(tmp_path))], color=True)
    assert result.exit_code == 0
    (line,) = (line for line in result.stdout.splitlines() if "Met as far as judged" in line)
    assert "building code not judged; strength not judged" in line
    assert "\x1b[32m" not in line  # green
    pack = build(load(plain_job(tmp_path)), tmp_path / "out", only=["job-sheet", "hand-over"]).folder
    assert json.loads((pack / "manifest.json").read_text())["checks_met"] is False
    assert '<div class="banner judged">' in (pack / "job_sheet.html").read_text(encoding="utf-8")
    with pdfplumber.open(pack / "hand_over.pdf") as pdf:
        record = "".join(page.extract_text() for page in pdf.pages)
    for paper in (record, (pack / "hand_over.txt").read_text(encoding="utf-8")):
        assert "Building code not judged; strength not judged" in " ".join(paper.split())


@pytest.mark.parametrize(
    ("trust", "doubted"),
    [
        (Trust.READ, {Certainty.SECONDARY, Certainty.MEMORY}),
        (Trust.SECONDARY, {Certainty.MEMORY}),
        (Trust.MEMORY, set()),
    ],
)
def test_what_is_less_sure_than_the_job_asks_cannot_be_said(trust: Trust, doubted: set[Certainty]) -> None:
    job = jobs.job([jobs.flight(1, [175.0] * 6, [280.0] * 5, width=1200)])
    sets = ("us-ibc-2021", "us-osha-1910", "uk-adk-2013-private")
    job = replace(job, rules=RulesInput(sets=sets, certainty=trust))
    plain = check(replace(job, rules=replace(job.rules, certainty=Trust.MEMORY)), solve(job))
    seen = check(job, solve(job))
    assert {Certainty.READ, Certainty.SECONDARY, Certainty.MEMORY} <= {one.certainty for one in plain}
    for before, after in zip(plain, seen, strict=True):
        if before.certainty in doubted:
            assert after.verdict is Verdict.CANNOT_SAY
        else:
            assert after == before
