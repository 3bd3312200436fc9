"""The shipped demo jobs pass every check they ask for, and between them show every kind of job."""

from __future__ import annotations

import subprocess
import sys

import pytest

import railgen
from railgen.checks import Verdict
from railgen.checks.table import overall
from railgen.job.strength_model import GroundKind
from railgen.units import Unit
from tests.packs import CONFIGS, GOOD

LOADED = [name for name in GOOD if railgen.load(CONFIGS / f"{name}.toml").strength.loads]


@pytest.mark.parametrize("name", GOOD)
def test_a_demo_names_its_rule_sets_and_meets_them_all(name: str) -> None:
    job = railgen.load(CONFIGS / f"{name}.toml")
    checks = railgen.check(job, railgen.solve(job))
    assert job.rules.sets not in ((), ("none",))
    asked = {check.rule.split("/")[0] for check in checks if check.rule}
    assert asked == set(job.rules.sets)
    assert overall(checks) is (Verdict.MEETS if job.strength.loads else Verdict.AS_JUDGED)
    assert all(len(set(flight.risers)) > 1 for flight in job.flights)  # uneven, as real stairs are


@pytest.mark.parametrize("name", LOADED)
def test_a_demo_with_loads_has_every_link_verified_or_stated(name: str) -> None:
    job = railgen.load(CONFIGS / f"{name}.toml")
    links = [c for c in railgen.check(job, railgen.solve(job)) if c.code.startswith("strength-")]
    codes = {link.code.removeprefix("strength-") for link in links}
    chain = {
        "rail",
        "post",
        "post-rivets",
        "socket",
        "weld",
        "socket-rivets",
        "head-rivets",
        "saddle",
        "plate",
        "tread",
    }
    assert chain < codes
    assert codes & {"withdrawal", "cone"}
    assert all(not link.missing and link.value is not None and link.value <= 1 for link in links)
    assert job.strength.stated.document


def test_the_demos_show_every_region_ground_and_unit() -> None:
    jobs = [railgen.load(CONFIGS / f"{name}.toml") for name in GOOD]
    assert {name.split("-")[0] for job in jobs for name in job.rules.sets} == {"au", "uk", "us"}
    assert any(len(job.rules.sets) > 1 for job in jobs)
    assert len(LOADED) >= 2
    loaded = [railgen.load(CONFIGS / f"{name}.toml") for name in LOADED]
    assert {layer.kind for job in loaded for layer in job.ground.layers} == {GroundKind.TIMBER, GroundKind.CONCRETE}
    assert {job.output_unit for job in loaded} == {Unit.MM, Unit.INCH}


def test_of_two_rule_sets_the_stricter_is_marked() -> None:
    """IRC R311.7.6 asks for 36 in of landing, IBC 1011.6 for the stair's width: 42 in; the rise is limited by both."""
    job = railgen.load(CONFIGS / "mill_weir_steps_inch.toml")
    checks = railgen.check(job, railgen.solve(job))
    found = {
        (check.code, check.rule.split("/")[0]): check.governs
        for check in checks
        if check.where in ("landing 1", "flight 1") and check.code in ("rule-landing-length", "rule-flight-rise")
    }
    assert found == {
        ("rule-landing-length", "us-irc-2021"): False,
        ("rule-landing-length", "us-ibc-2021-dwelling"): True,
        ("rule-flight-rise", "us-irc-2021"): False,  # 151 in
        ("rule-flight-rise", "us-ibc-2021-dwelling"): True,  # 144 in
    }


def test_the_terminal_says_which_document_is_the_strictest() -> None:
    job = CONFIGS / "mill_weir_steps_inch.toml"
    done = subprocess.run(
        [sys.executable, "-m", "railgen", "check", str(job), "--all"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    rises = [line for line in done.stdout.splitlines() if "rise of the flight" in line]
    assert [("Building Code" in line, "the strictest here" in line) for line in rises] == [(False, False)] * 2 + [
        (True, True)
    ] * 2
    risers = [line for line in done.stdout.splitlines() if "  riser height  " in line]
    assert risers
    assert not any("strictest" in line for line in risers)  # both documents ask the same
