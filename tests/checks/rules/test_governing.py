"""The strictest of several documents governs, and is never weaker than any of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from railgen.checks import Certainty, Check, Verdict
from railgen.checks.rules import governing, rule_checks, shipped_rule_sets
from railgen.checks.table import overall
from railgen.errors import ImpossibleError
from railgen.job.model import Job
from railgen.job.rules_model import Beside, Guarding, OtherSide, RulesInput, Surroundings
from railgen.layout import solve
from railgen.survey import survey_job
from tests import jobs
from tests.strategies import stairs

_some = st.none() | st.integers(0, 1200).map(float)
_reach = st.none() | st.integers(0, 1000).map(float)
_sites = st.builds(
    Surroundings,
    beside=st.none() | st.sampled_from(Beside),
    wall_distance=_reach,
    ground_level=st.none() | st.integers(-3000, 500).map(float),
    guarding=st.none() | st.sampled_from(Guarding),
    guard_opening=st.none() | st.integers(80, 130).map(float),
    guard_height=st.none() | st.integers(840, 1150).map(float),
    other_side=st.none() | st.sampled_from(OtherSide),
    other_projection=_reach,
    headroom=st.none() | st.integers(1950, 2100).map(float),
    tread_gap=st.none() | st.sampled_from([0.0, 99.0, 101.0, 130.0]),
    nosing_radius=st.none() | st.integers(5, 20).map(float),
    floor_bottom=_some,
    floor_top=_some,
    ends_returned=st.none() | st.booleans(),
)
_rules = st.builds(
    RulesInput,
    sets=st.lists(st.sampled_from(shipped_rule_sets()), min_size=2, max_size=5, unique=True).map(tuple),
    uniform_within=st.none() | st.sampled_from([3.0, 12.0]),
    surroundings=_sites,
)


def _governed(checks: Sequence[Check]) -> list[Check]:
    return [check for check in checks if check.governs]


@settings(max_examples=60, deadline=None)
@given(job=stairs(most_flights=2), rules=_rules)
def test_what_governs_is_as_strict_as_each(job: Job, rules: RulesInput) -> None:
    try:
        layout = solve(job, survey_job(job))
    except ImpossibleError:
        return
    together = rule_checks(job, layout, rules)
    alone = [check for name in rules.sets for check in rule_checks(job, layout, replace(rules, sets=(name,)))]
    # no document is left out, and none is judged differently for the others' company
    assert sorted(map(str, (replace(c, governs=False) for c in together))) == sorted(map(str, alone))
    groups: dict[tuple[str, str], list[Check]] = {}
    for check in together:
        groups.setdefault((check.code, check.where), []).append(check)
    for group in groups.values():
        strict = _governed(group)
        if len({check.rule_set for check in group}) == 1:
            assert not strict
            continue
        assert bool(strict) is any(check.least is not None or check.most is not None for check in group)
        if overall(group) is Verdict.FAILS:
            assert overall(strict) is Verdict.FAILS
        for check in group:
            if check.least is not None:
                assert max(c.least for c in strict if c.least is not None) >= check.least - 1e-6
            if check.most is not None:
                assert min(c.most for c in strict if c.most is not None) <= check.most + 1e-6


def test_each_end_of_the_band_is_governed_by_its_own_document() -> None:
    # IRC R311.7.8.1 (secondary): 864 to 965 mm; Approved Document K 1.36 (secondary): 900 to 1000 mm; ABCB HP 11.3.5
    # (read): from 865 mm
    job = jobs.worked_job()
    layout = solve(job, survey_job(job))
    checks = rule_checks(job, layout, RulesInput(sets=("au-hp-2022", "us-irc-2021", "uk-adk-2013-private")))
    marked = {c.rule: c.governs for c in checks if c.code == "rule-handrail-height" and c.where == "flight 1, nosing 2"}
    assert marked == {
        "au-hp-2022/handrail-height": False,
        "us-irc-2021/handrail-height": True,
        "uk-adk-2013-private/handrail-height": True,
    }


ASKED = Check(code="c", title="t", where="w", value=5.0, unit="mm", least=4.0, rule="a/x", certainty=Certainty.READ)


def test_of_bounds_that_are_known_the_strictest_governs_though_the_value_is_missing() -> None:
    stricter = replace(ASKED, value=None, least=6.0, rule="b/x", missing="surroundings.beside")
    looser = replace(stricter, least=3.0)
    assert [check.governs for check in governing([ASKED, stricter])] == [False, True]
    assert [check.governs for check in governing([ASKED, looser])] == [True, False]
    assert [check.governs for check in governing([replace(ASKED, value=None), looser])] == [True, False]


def test_a_document_without_a_bound_is_not_called_the_strictest() -> None:
    unsaid = replace(ASKED, value=None, least=None, rule="b/x", missing="surroundings.beside")
    assert [check.governs for check in governing([ASKED, unsaid])] == [True, False]
    assert [check.governs for check in governing([unsaid, replace(unsaid, rule="a/x")])] == [False, False]


def test_where_one_document_asks_alone_nothing_is_marked() -> None:
    other = replace(ASKED, least=None, most=7.0)
    elsewhere = replace(ASKED, where="v", rule="b/x", value=None, missing="surroundings.beside")
    assert not any(check.governs for check in governing([ASKED, other, elsewhere]))


def test_a_looser_bound_does_not_govern() -> None:
    # goings: ABCB HP Table 11.2.2a (read) 240 to 355; Approved Document K Table 1.1 (read) 220 to 300
    job = jobs.worked_job()
    layout = solve(job, survey_job(job))
    checks = rule_checks(job, layout, RulesInput(sets=("au-hp-2022", "uk-adk-2013-private")))
    marked = [c for c in checks if c.code == "rule-going" and c.where == "flight 1" and c.governs]
    assert [(c.rule, c.least, c.most) for c in marked] == [
        ("au-hp-2022/going", 240.0, None),
        ("uk-adk-2013-private/going", None, 300.0),
    ]
