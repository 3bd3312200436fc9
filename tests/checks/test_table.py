"""What a short report shows of many checks: one of those that are alike, and every one that is not."""

from __future__ import annotations

from dataclasses import replace

from railgen.checks.model import Certainty, Check
from railgen.checks.table import count_line, tightest

LOW = Check(
    code="rule-handrail-height",
    title="height of the rail above the nosing",
    where="flight 1, nosing 1",
    value=880.0,
    unit="mm",
    least=900.0,
    most=1000.0,
    certainty=Certainty.READ,
    rule="a/height",
    advice="raise rail.least_height by 7/8 in, to 35-1/2 in",
)
LOWER = replace(LOW, where="flight 1, nosing 2", value=870.0, advice="raise rail.least_height by 1 in, to 35 in")


def shown(*checks: Check) -> list[tuple[str, int]]:
    return [(check.where, count) for check, count in tightest(checks)]


def test_one_rule_not_met_at_many_nosings_is_told_once_at_the_worst() -> None:
    met = replace(LOW, where="flight 1, nosing 3", value=900.0, advice="")
    assert shown(LOW, LOWER, met) == [("flight 1, nosing 2", 2), ("flight 1, nosing 3", 1)]


def test_other_rules_other_advice_and_other_inputs_missing_are_told_apart() -> None:
    other = replace(LOWER, rule="b/height")
    high = replace(LOWER, where="flight 2", value=1010.0, advice="lower rail.least_height by 1/2 in, to 34 in")
    assert shown(LOW, other, high) == [("flight 1, nosing 1", 1), ("flight 1, nosing 2", 1), ("flight 2", 1)]
    open_1 = replace(LOW, value=None, advice="", missing="stair[1].nosing_overhang")
    open_3 = replace(open_1, where="flight 2", missing="stair[3].nosing_overhang")
    assert shown(open_1, open_3) == [("flight 1, nosing 1", 1), ("flight 2", 1)]
    assert shown(open_1, replace(open_1, where="flight 2")) == [("flight 1, nosing 1", 2)]


def test_what_the_job_asks_for_and_does_not_get_is_told_place_by_place() -> None:
    own = replace(LOW, rule="")
    assert shown(own, replace(own, where="flight 1, nosing 2")) == [
        ("flight 1, nosing 1", 1),
        ("flight 1, nosing 2", 1),
    ]


def test_the_verdicts_are_counted_in_words_that_fit_the_number() -> None:
    met, unsaid = replace(LOW, value=950.0), replace(LOW, value=None)
    assert count_line([met, met, LOW, unsaid, unsaid, unsaid]) == "6 checks: 2 met, 1 not met, 3 cannot say"
    assert count_line([met]) == "1 check: 1 met"
    assert count_line([]) == "No checks were made"
