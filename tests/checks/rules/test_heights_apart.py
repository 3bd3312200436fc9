"""What is blamed where one straight rail for each flight is higher over some nosings than a rule lets it be."""

from __future__ import annotations

from railgen.checks import Check, Verdict
from railgen.checks.rules import Kind, rule_checks
from railgen.job.model import CornerJoint, Job, PostLengths, Turn
from railgen.job.rules_model import RulesInput
from railgen.layout.model import Layout
from tests.checks.rules.scenes import bare, even, solved
from tests.jobs import flight, job, landing

RULES = RulesInput(sets=("us-irc-2021",))  # 34 to 38 in, a band of 101.6 mm


def failed(given: Job, layout: Layout) -> list[Check]:
    found = [check for check in rule_checks(given, layout, RULES) if check.code == f"rule-{Kind.HEIGHT.value}"]
    return [check for check in found if check.verdict is Verdict.FAILS]


def test_even_steps_were_blamed_for_a_rail_that_climbs_round_corners() -> None:
    """168 - 2 * 64 * 168 / 272 = 88.9 mm a corner, 177.9 mm in all; each flight's rail is parallel to its steps."""
    flights = [flight(number, [168] * 6, [272] * 5, design_going=272) for number in (1, 2, 3)]
    turns = [landing(number, Turn.QUARTER_LEFT, 900, corner=CornerJoint.CLIMB) for number in (1, 2)]
    given = job(flights, turns, edge_offset=64, largest_span=2500, lengths=PostLengths.CUT)
    checks = failed(given, solved(given))
    assert checks
    for check in checks:
        assert "differ by 177.9 mm from flight to flight, by at most 0 mm within one" in check.advice
        assert "posts.edge_offset" in check.advice
        assert "of which uneven steps make 0 mm" in check.formula
        assert "mend" not in check.advice
        assert "no straight rail" not in check.formula


def test_even_steps_were_blamed_for_a_rail_that_runs_out_of_parallel() -> None:
    given = even(6)
    checks = failed(given, bare(given, [900, 925, 950, 975, 1000, 1025]))
    assert [check.value for check in checks] == [975, 1000, 1025]
    assert all("runs 125 mm out of parallel with its steps" in check.advice for check in checks)
    assert all("mend" not in check.advice for check in checks)


def test_steps_further_off_one_line_than_the_band_are_blamed() -> None:
    """Nosings at 60, 400, 460 and 800: the second lies 140 mm over the line from the first to the third."""
    given = job([flight(1, [60, 340, 60, 340], [280] * 3, posts=(1, 4))], lengths=PostLengths.CUT)
    checks = failed(given, bare(given, [1100, 900, 1100, 900]))
    assert checks
    assert all(check.advice.startswith("the steps of flight 1 are ") for check in checks)
    assert all("mend them, no straight rail meets it" in check.advice for check in checks)
    assert all(check.formula.startswith("no straight rail meets it: ") for check in checks)
