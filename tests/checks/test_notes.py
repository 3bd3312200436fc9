"""What is left unjudged is said, so that nobody takes silence for a pass."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

import railgen
from railgen.checks.notes import check_notes
from railgen.checks.table import checks_json, unjudged
from railgen.errors import InputError
from railgen.job.rules_model import Nearby, OtherSide, RulesInput, Surroundings
from railgen.job.strength_model import SteelInput, StrengthInput
from tests.jobs import worked_job

RULES, LOADS = "whether the rail meets a building code is not judged", "whether the rail holds people is not judged"


def said(text: str, notes: tuple[str, ...]) -> bool:
    return any(text in note for note in notes)


def test_a_job_without_rules_or_loads_says_what_is_not_judged() -> None:
    job = replace(worked_job(), rules=RulesInput(), strength=StrengthInput())
    assert said(RULES, check_notes(job))
    assert said(LOADS, check_notes(job))


def test_a_job_with_rules_and_loads_does_not() -> None:
    job = replace(worked_job(), rules=RulesInput(sets=("us-irc-2021",)), strength=StrengthInput(loads=("irc",)))
    assert not said(RULES, check_notes(job))
    assert not said(LOADS, check_notes(job))


def test_unknown_rule_sets_and_loads_are_told_together() -> None:
    job = replace(worked_job(), rules=RulesInput(sets=("no-set",)), strength=StrengthInput(loads=("no-load",)))
    with pytest.raises(InputError) as caught:
        check_notes(job)
    assert [fault.code for fault in caught.value.faults] == ["unknown-rule-set", "unknown-load"]


def test_a_new_users_job_is_told_what_it_leaves_open(tmp_path: Path) -> None:
    from railgen.job.starter import write_starter

    write_starter(tmp_path / "stair.toml")
    notes = railgen.load(tmp_path / "stair.toml").notes
    assert said(RULES, notes)
    assert said(LOADS, notes)


def test_the_verdict_itself_says_what_is_not_judged() -> None:
    job = replace(worked_job(), rules=RulesInput(), strength=StrengthInput())
    bare = railgen.check(job, railgen.solve(job))
    assert unjudged(bare) == ("building code not judged", "strength not judged")
    assert json.loads(checks_json(bare, ()))["not_judged"] == list(unjudged(bare))
    ruled = replace(job, rules=RulesInput(sets=("us-irc-2021",)), strength=StrengthInput(loads=("irc",)))
    assert unjudged(railgen.check(ruled, railgen.solve(ruled))) == ()


@pytest.mark.parametrize(
    ("grade", "differs"), [("TP316", True), ("TP316L", False), ("1.4404", False), ("1.4301", True)]
)
def test_a_strength_of_another_steel_than_the_one_ordered_is_told(grade: str, *, differs: bool) -> None:
    """EN 10088-1 and ASTM A240: 1.4404 is 316L, and nothing else."""
    job = worked_job()
    material = job.hardware.material.model_copy(update={"id": "1.4404"})
    ordered = replace(job, hardware=replace(job.hardware, material=material))
    named = replace(ordered, strength=StrengthInput(tube=SteelInput(grade=grade)))
    assert said("strength and order must name the same steel", check_notes(named)) is differs


@pytest.mark.parametrize(("name", "asks"), [("us-irc-2021", True), ("us-ada-2010", False)])
def test_open_edges_that_no_rule_here_looks_at_are_told(name: str, *, asks: bool) -> None:
    """IRC R312 asks for guards wherever it is open; the ADA standards ask for none."""
    job = replace(worked_job(), rules=RulesInput(sets=(name,)))
    assert said("look at the edges of floors", check_notes(job)) is asks


@pytest.mark.parametrize(
    ("site", "told"),
    [
        (Surroundings(other_side=OtherSide.RAIL), True),
        (Surroundings(middle_rails=1), True),
        (Surroundings(other_side=OtherSide.NONE), False),
        (Surroundings(), False),
    ],
)
def test_a_handrail_that_is_only_stated_is_not_judged_and_that_is_told(site: Surroundings, *, told: bool) -> None:
    job = replace(worked_job(), rules=RulesInput(sets=("us-ada-2010",), surroundings=site))
    text = "their own height, grip, ends and strength are not judged"
    assert said(text, check_notes(job)) is told
    landing = replace(job.landings[0], surroundings=Nearby(other_side=OtherSide.RAIL))
    assert said(text, check_notes(replace(job, landings=(landing,))))
