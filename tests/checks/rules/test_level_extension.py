"""Jobs whose rail ends level over the floor, solved and held to the documents that ask for it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from railgen.checks import Check, Verdict
from railgen.checks.rules import Kind, rule_checks
from railgen.job.model import EndFinish, Job, Origin, RailEnd, Side
from railgen.job.rules_model import RulesInput
from tests import jobs
from tests.checks.rules.scenes import even, solved

INCH = 25.4


def ends(job: Job, *, top: float | None = None, bottom: float | None = None) -> Job:
    """The same stair with level ends; without one the rail runs on 400 mm at its pitch."""
    made = [RailEnd(finish=EndFinish.CAP, overhang=400, level=reach) for reach in (bottom, top)]
    return replace(job, rail=replace(job.rail, bottom=made[0], top=made[1]))


def named(job: Job, kind: Kind, rule_set: str) -> list[Check]:
    checks = rule_checks(job, solved(job), RulesInput(sets=(rule_set,)))
    return [check for check in checks if check.code == f"rule-{kind.value}"]


UNEVEN = jobs.job([jobs.flight(1, (171, 178, 176, 177, 174, 176), (281, 284, 283, 280, 279), width=1500)])

# least level, and how far behind the top nosing it is measured from: the riser lies an overhang (20 mm here) behind.
# ADA 2010, 505.10.2, read: 12 in from over the nosing; IBC 2021, 1014.6, secondary: 12 in beyond the riser.
# Approved Document K 2013, Diagrams 1.11 and 1.12, read: 300 mm level from over the riser.
# Approved Document M, volume 2, 2015, 1.37, read: 300 mm level; volume 1, 1.8, read: 300 mm; both beyond the nosing.
OVERHANG = 20.0
ASKED = [
    ("us-ada-2010", Kind.EXTENSION_TOP_LEVEL, 12 * INCH, 0.0),
    ("us-ibc-2021", Kind.EXTENSION_TOP_LEVEL, 12 * INCH, OVERHANG),
    ("uk-adk-2013-other", Kind.EXTENSION_TOP_LEVEL, 300.0, OVERHANG),
    ("uk-adk-2013-flats", Kind.EXTENSION_TOP_LEVEL, 300.0, OVERHANG),
    ("uk-adk-2013-utility", Kind.EXTENSION_TOP_LEVEL, 300.0, OVERHANG),
    ("uk-adm2-2015-external", Kind.EXTENSION_TOP_LEVEL, 300.0, 0.0),
    ("uk-adm1-2015-visitable-external", Kind.EXTENSION_TOP, 300.0, 0.0),
]


@pytest.mark.parametrize("side", list(Side))
@pytest.mark.parametrize("stair", [even(), UNEVEN], ids=["even", "uneven"])
@pytest.mark.parametrize(("rule_set", "kind", "least", "behind"), ASKED)
def test_a_level_end_as_long_as_asked_meets_and_one_a_millimetre_short_does_not(
    rule_set: str, kind: Kind, least: float, behind: float, stair: Job, side: Side
) -> None:
    assert {flight.overhang for flight in stair.flights} == {OVERHANG}
    stair = replace(stair, rail=replace(stair.rail, side=side))
    (check,) = named(ends(stair, top=least + behind), kind, rule_set)
    assert check.verdict is Verdict.MEETS
    assert check.value == pytest.approx(least, abs=1e-6)
    (check,) = named(ends(stair, top=least + behind - 1), kind, rule_set)
    assert check.verdict is Verdict.FAILS
    assert check.value == pytest.approx(least - 1, abs=1e-6)
    told = re.search(r"rail\.top\.level_extension (?:= |of )([\d.]+) mm", check.advice)
    assert told is not None
    (mended,) = named(ends(stair, top=float(told[1])), kind, rule_set)
    assert mended.verdict is Verdict.MEETS


@pytest.mark.parametrize(
    ("rule_set", "least", "behind"),
    [
        ("uk-adk-2013-other", 300.0, OVERHANG),
        ("uk-adk-2013-flats", 300.0, OVERHANG),
        ("uk-adm2-2015-external", 300.0, 0.0),
    ],
)
def test_a_level_end_at_the_bottom_counts_from_its_bend_and_as_far_as_asked(
    rule_set: str, least: float, behind: float
) -> None:
    """Measured from the riser the same rail is an overhang longer at the bottom, of which what slopes is left out."""
    job = ends(even(), bottom=least)  # the bend stands one going in front of the nosing, the level part beyond it
    (check,) = named(job, Kind.EXTENSION_BOTTOM_LEVEL, rule_set)
    assert check.verdict is Verdict.MEETS
    assert check.value == pytest.approx(least, abs=1e-6)
    (check,) = named(ends(even(), bottom=least - 1), Kind.EXTENSION_BOTTOM_LEVEL, rule_set)
    assert (check.verdict, check.value) == (Verdict.FAILS, pytest.approx(least - 1, abs=1e-6))
    assert check.advice == f"a rail.bottom.level_extension of {least:g} mm meets it"
    (check,) = named(ends(even()), Kind.EXTENSION_BOTTOM_LEVEL, rule_set)
    assert (check.verdict, check.value) == (Verdict.FAILS, 0.0)
    assert f"from {280 + behind:g} mm to" in named(job, Kind.EXTENSION_BOTTOM_LEVEL, rule_set)[0].formula


@pytest.mark.parametrize("overhang", [0.0, 12.5, 32.0])
@pytest.mark.parametrize("kind", [Kind.EXTENSION_TOP_LEVEL, Kind.EXTENSION_BOTTOM])
def test_ends_short_of_the_riser_are_told_from_the_riser(kind: Kind, overhang: float) -> None:
    """The riser lies an overhang behind its nosing: one document counts so much less at the top, more at the bottom."""
    stair = replace(even(), flights=(replace(even().flights[0], overhang=overhang),))
    job = ends(stair, top=340.0, bottom=150.0)
    (nosing,) = named(job, kind, "us-ada-2010")
    (riser,) = named(job, kind, "us-ibc-2021")
    assert nosing.value is not None
    more = -overhang if kind is Kind.EXTENSION_TOP_LEVEL else overhang
    assert riser.value == pytest.approx(nosing.value + more, abs=1e-6)


def test_an_overhang_nobody_measured_leaves_the_riser_unknown() -> None:
    job = replace(ends(even(), top=340.0), origins={"stair[0].nosing_overhang": Origin.DEFAULT})
    (check,) = named(job, Kind.EXTENSION_TOP_LEVEL, "us-ibc-2021")
    assert (check.verdict, check.missing) == (Verdict.CANNOT_SAY, "stair[0].nosing_overhang")
    (check,) = named(job, Kind.EXTENSION_TOP_LEVEL, "us-ada-2010")
    assert check.verdict is Verdict.MEETS


@pytest.mark.parametrize(("rule_set", "least"), [("us-ada-2010", 304.8), ("us-ibc-2021", 304.8 + OVERHANG)])
def test_a_rail_carried_on_at_its_pitch_is_no_level_extension_and_is_told_the_key(rule_set: str, least: float) -> None:
    (check,) = named(ends(even()), Kind.EXTENSION_TOP_LEVEL, rule_set)
    assert (check.value, check.verdict) == (0.0, Verdict.FAILS)
    assert check.advice.startswith(f"rail.top.level_extension = {least:g} mm: ")


def test_a_rail_carried_on_at_its_pitch_may_be_told_either_key() -> None:
    short = replace(even(), rail=replace(even().rail, top=RailEnd(finish=EndFinish.CAP, overhang=150)))
    (check,) = named(short, Kind.EXTENSION_TOP, "uk-adm1-2015-visitable-external")
    assert check.verdict is Verdict.FAILS
    found = re.search(r"rail\.top\.overhang of ([\d.]+) mm meets it; level, a rail\.top\.level_extension", check.advice)
    assert found is not None
    longer = replace(short, rail=replace(short.rail, top=RailEnd(finish=EndFinish.CAP, overhang=float(found[1]))))
    assert [c.verdict for c in named(longer, Kind.EXTENSION_TOP, "uk-adm1-2015-visitable-external")] == [Verdict.MEETS]


def test_the_last_nosing_has_rail_above_it_and_its_height_is_that_over_the_floor() -> None:
    """ADA 2010, 505.4, read: 34 to 38 in, at the steps and along the level part."""
    job = ends(UNEVEN, top=305.0)
    assert [c.value for c in named(job, Kind.CONTINUITY, "us-ada-2010")] == [0.0]
    heights = named(job, Kind.HEIGHT, "us-ada-2010")
    (over,) = [c for c in named(job, Kind.LANDING_HEIGHT, "us-ada-2010") if c.where == "floor at the top"]
    assert [c.where for c in heights] == [f"flight 1, nosing {n}" for n in range(1, 7)]
    assert over.value == pytest.approx(heights[-1].value, abs=1e-6)
    assert over.formula == "level part R2"


@pytest.mark.parametrize(("least", "verdict"), [(864.0, Verdict.MEETS), (966.0, Verdict.FAILS)])
def test_the_height_of_a_level_part_is_judged_over_both_floors(least: float, verdict: Verdict) -> None:
    job = ends(even(), top=305.0, bottom=300.0)
    job = replace(job, rail=replace(job.rail, least_height=least))
    checks = named(job, Kind.LANDING_HEIGHT, "us-ada-2010")
    assert [(c.where, c.verdict) for c in checks] == [("floor at the bottom", verdict), ("floor at the top", verdict)]
    if verdict is Verdict.FAILS:  # 38 in, and a rail 966 to 967 mm high: 1 or 2 mm to lower
        assert all(c.advice in {f"lower rail.least_height by {n} mm, to {966 - n} mm" for n in (1, 2)} for c in checks)


@pytest.mark.parametrize(("rule_set", "behind"), [("us-ada-2010", 0.0), ("us-ibc-2021", OVERHANG)])
def test_at_the_bottom_only_what_slopes_counts_as_a_tread_depth(rule_set: str, behind: float) -> None:
    """ADA 2010, 505.10.3, read: one tread depth at the slope. The bend stands one design_going out."""
    deep = max(UNEVEN.flights[0].goings)

    def bent(design: float) -> Check:
        job = replace(UNEVEN, flights=(replace(UNEVEN.flights[0], design_going=design),))
        (check,) = named(ends(job, bottom=300.0), Kind.EXTENSION_BOTTOM, rule_set)
        assert check.value == pytest.approx(design + behind, abs=1e-6)
        return check

    assert bent(deep - behind).verdict is Verdict.MEETS
    short = bent(deep - behind - 1)
    assert short.verdict is Verdict.FAILS
    assert short.advice == f"a design_going of {284 - behind:g} mm for flight 1 bends it that far out"


def test_a_length_at_the_bottom_counts_the_level_part_too() -> None:
    """Approved Document M, volume 1, 2015, 1.8, read: 300 mm beyond the bottom nosing, whether it slopes or not."""
    job = even()  # goings of 280
    (check,) = named(ends(job, bottom=150.0), Kind.EXTENSION_BOTTOM, "uk-adm1-2015-visitable-external")
    assert check.value == pytest.approx(280.0 + 150.0, abs=1e-6)
    assert check.verdict is Verdict.MEETS
    assert check.formula == "280 mm of it at the pitch, then level"
