"""Every limit of every shipped rule set, just inside and just outside; the numbers are typed in ``limits.py``."""

from __future__ import annotations

from dataclasses import replace

import pytest

from railgen.checks import Verdict
from railgen.checks.rules import Kind, load_rule_sets, rule_checks, shipped_rule_sets
from railgen.job.rules_model import Beside, Flank, Guarding, Occupancy, OtherSide, RulesInput, Surroundings
from tests.checks.rules.limits import FALLS, LIMITS, Limit
from tests.checks.rules.scenes import bare, even, scene_with, two_flights

_WHOLE = {Kind.GRIP_LENGTH, Kind.RISER_COUNT, Kind.RISERS_IN_LINE, Kind.CONTINUITY, Kind.LOADS}


def _bounds() -> list[tuple[Limit, str]]:
    return [(limit, name) for limit in LIMITS for name in ("least", "most") if getattr(limit, name) is not None]


def _verdicts(limit: Limit, value: float, *, least: bool) -> tuple[list[Verdict], list[float | None]]:
    job, layout, rules = scene_with(limit.kind, value, least=least)
    told: dict[str, object] = {}
    if limit.rule_set == "us-ibc-2021-dwelling":  # whose guards and loads go by the kind of building
        flat = limit.kind is Kind.LOADS and limit.clause == "1607.9.1"
        told = {"occupancy": Occupancy.FLAT if flat else Occupancy.ONE_FAMILY, "storeys": 2}
    site = rules.surroundings.model_copy(update=told)
    checks = rule_checks(job, layout, replace(rules, sets=(limit.rule_set,), surroundings=site))
    mine = [check for check in checks if check.code == f"rule-{limit.kind.value}"]
    mine = [check for check in mine if (check.least if least else check.most) is not None]
    return [check.verdict for check in mine], [check.value for check in mine]


@pytest.mark.parametrize(
    ("limit", "name"), _bounds(), ids=lambda v: v if isinstance(v, str) else f"{v.rule_set}-{v.kind.value}"
)
def test_a_hair_inside_meets_and_a_hair_outside_does_not(limit: Limit, name: str) -> None:
    bound, least = getattr(limit, name), name == "least"
    step = 1.0 if limit.kind in _WHOLE else 0.05
    inside, outside = (bound, bound - step) if least else (bound, bound + step)
    verdicts, values = _verdicts(limit, inside, least=least)
    assert verdicts
    assert set(verdicts) == {Verdict.MEETS}
    assert any(value == pytest.approx(inside, abs=1e-6) for value in values)
    verdicts, values = _verdicts(limit, outside, least=least)
    assert Verdict.FAILS in verdicts
    assert any(value == pytest.approx(outside, abs=1e-6) for value in values)


@pytest.mark.parametrize("name", shipped_rule_sets())
def test_every_number_of_a_rule_file_is_in_the_table_and_the_other_way_round(name: str) -> None:
    counted_elsewhere = {
        Kind.SIDES,
        Kind.LANDING_SIDES,
        Kind.GUARD_FLIGHT,
        Kind.GUARD_LANDING,
        Kind.END_RETURN,
        Kind.END_FINISH,
    }
    (rule_set,) = load_rule_sets(RulesInput(sets=(name,)))
    told = {
        (rule.kind, rule.clause, rule.certainty)
        for rule in rule_set.rule
        if rule.kind not in counted_elsewhere
        and (rule.least is not None or rule.most is not None or getattr(rule, "as_wide_as", None))
    }
    assert told == {(x.kind, x.clause, x.certainty) for x in LIMITS if x.rule_set == name}


@pytest.mark.parametrize(
    ("name", "code"),
    [(name, Kind.GUARD_LANDING) for name in FALLS]
    + [(name, Kind.GUARD_FLIGHT) for name in FALLS if name != "us-osha-1910"],  # which goes by the number of steps
)
def test_the_fall_that_asks_for_a_barrier(name: str, code: Kind) -> None:
    trigger, included = FALLS[name]
    level = 175.0 * (6 if code is Kind.GUARD_LANDING else 5)  # of the landing, and of the highest tread below it

    def asked(fall: float) -> float | None:
        site = Surroundings(beside=Beside.OPEN, ground_level=level - fall, guarding=Guarding.NONE)
        job = two_flights()
        checks = rule_checks(job, bare(job), RulesInput(sets=(name,), surroundings=site))
        (check,) = (c for c in checks if c.code == f"rule-{code.value}" and c.where.endswith(" 1"))
        assert (check.verdict is Verdict.FAILS) == (check.least == 1)
        assert check.verdict is Verdict.MEETS or "without infill is not a barrier" in check.advice
        return check.least

    assert asked(trigger) == float(included)
    assert asked(trigger - 0.1) == 0
    assert asked(trigger + 0.1) == 1


# number of handrails asked for: (rule set, risers, stair width mm) -> sides
# IRC R311.7.8 secondary; IBC 1011.11 secondary; ADA 505.2 read; Approved Document K 1.34, 1.35 and
# M 1.8, 1.33, 1.37, 2.11 read; National Building Code - 2023 Alberta Edition 9.8.7.1 read;
# 29 CFR 1910.28(b)(11) read, widths of its Table D-2 from memory; NCC Volume One D3D22 from memory
_SIDES = [
    ("us-irc-2021", 3, 1500, 0),
    ("us-irc-2021", 4, 1500, 1),
    ("us-ibc-2021", 2, 1500, 2),
    ("us-ibc-2021-dwelling", 2, 1500, 1),
    ("us-ada-2010", 2, 1500, 2),
    ("uk-adk-2013-private", 2, 900, 1),
    ("uk-adk-2013-private", 3, 999.9, 1),
    ("uk-adk-2013-private", 3, 1000, 2),
    ("uk-adk-2013-flats", 2, 900, 2),
    ("uk-adk-2013-other", 2, 999.9, 2),
    ("uk-adk-2013-utility", 2, 900, 2),
    ("uk-adm2-2015-external", 2, 1200, 2),
    ("uk-adm1-2015-visitable-external", 2, 1200, 0),
    ("uk-adm1-2015-visitable-external", 3, 1200, 1),
    ("uk-adm1-2015-accessible-external", 3, 1000, 1),
    ("uk-adm1-2015-accessible-external", 3, 1000.2, 2),
    ("ca-nbcae-2023", 2, 1200, 0),
    ("ca-nbcae-2023", 3, 1099.9, 1),
    ("ca-nbcae-2023", 3, 1100, 2),
    ("ca-nbcae-2023-dwelling", 2, 1500, 0),
    ("ca-nbcae-2023-dwelling", 3, 1500, 1),
    ("us-osha-1910", 3, 1500, 0),
    ("us-osha-1910", 4, 1117.5, 1),
    ("us-osha-1910", 4, 1117.6, 2),
    ("au-ncc1-2022", 2, 1999.9, 1),
    ("au-ncc1-2022", 2, 2000, 2),
]


@pytest.mark.parametrize(("name", "risers", "width", "sides"), _SIDES)
def test_how_many_handrails_a_flight_wants(name: str, risers: int, width: float, sides: int) -> None:
    job = even(risers, width=width)
    site = Surroundings(other=Flank(beside=Beside.WALL))
    rules = RulesInput(sets=(name,), surroundings=site)
    (check,) = (c for c in rule_checks(job, bare(job), rules) if c.code == f"rule-{Kind.SIDES.value}")
    assert check.least == sides
    assert check.verdict is (Verdict.CANNOT_SAY if sides == 2 else Verdict.MEETS)
    assert check.missing == ("surroundings.other_side" if sides == 2 else "")


@pytest.mark.parametrize(("rise", "sides"), [(999.9, 0), (1000.0, 1)])
@pytest.mark.parametrize("name", ["au-hp-2022", "au-hp-2022-service"])
def test_a_metre_of_rise_wants_a_handrail_in_australian_houses(name: str, rise: float, sides: int) -> None:
    # ABCB Housing Provisions 2022, 11.3.5, read
    job = even(6, riser=rise / 6)
    checks = rule_checks(job, bare(job, [None] * 6), RulesInput(sets=(name,)))
    (check,) = (c for c in checks if c.code == f"rule-{Kind.SIDES.value}")
    assert check.least == sides
    broken = [c.verdict for c in checks if c.code == f"rule-{Kind.CONTINUITY.value}"]
    assert broken == [Verdict.FAILS] * sides


@pytest.mark.parametrize("name", ["us-ibc-2021", "us-ada-2010"])
@pytest.mark.parametrize(("reach", "verdict"), [(280.0, Verdict.MEETS), (279.9, Verdict.FAILS)])
def test_one_tread_depth_of_sloping_rail_at_the_bottom(name: str, reach: float, verdict: Verdict) -> None:
    # IBC 1014.6 secondary; ADA 505.10.3 read
    job, layout, rules = scene_with(Kind.EXTENSION_BOTTOM, reach, least=True)
    checks = rule_checks(job, layout, replace(rules, sets=(name,)))
    (check,) = (c for c in checks if c.code == f"rule-{Kind.EXTENSION_BOTTOM.value}")
    assert check.value == pytest.approx(reach, abs=1e-6)
    assert check.verdict is verdict


@pytest.mark.parametrize("name", ["us-ibc-2021", "us-ibc-2021-dwelling"])
def test_a_landing_is_as_long_as_the_stair_is_wide_up_to_its_cap(name: str) -> None:
    # IBC 2021, 1011.6, from memory
    job = two_flights(1000.0, width=1000.0)
    rules = RulesInput(sets=(name,), surroundings=Surroundings(floor_bottom=999.9, floor_top=1000.0))
    checks = [c for c in rule_checks(job, bare(job), rules) if c.code == f"rule-{Kind.LANDING_LENGTH.value}"]
    assert [c.verdict for c in checks] == [Verdict.MEETS, Verdict.FAILS, Verdict.MEETS]
    assert {c.least for c in checks} == {1000.0}


def test_two_rails_leave_27_inches_under_the_residential_code() -> None:
    # IRC 2021, R311.7.1, secondary
    job, layout, rules = scene_with(Kind.CLEAR_WIDTH, 27 * 25.4, least=True)
    site = rules.surroundings.model_copy(update={"other_side": OtherSide.RAIL, "other_projection": 0.0})
    checks = rule_checks(job, layout, RulesInput(sets=("us-irc-2021",), surroundings=site))
    widths = [c for c in checks if c.code == f"rule-{Kind.CLEAR_WIDTH.value}"]
    assert {c.verdict for c in widths} == {Verdict.MEETS}
    assert {round(c.least or 0, 6) for c in widths} == {685.8}


def test_none_asks_nothing() -> None:
    job = even()
    assert rule_checks(job, bare(job), RulesInput(sets=("none",))) == ()
    assert rule_checks(job, bare(job), RulesInput()) == ()
