"""Misprints and habits that documents, lists and forums hand on: the right value, and why the printed one differs."""

from __future__ import annotations

from dataclasses import replace

import pytest

from railgen.checks import Verdict
from railgen.checks.rules import Kind, load_rule_sets, rule_checks
from railgen.job.model import EndFinish, Job, RailEnd
from railgen.job.rules_model import Beside, Flank, OtherSide, RulesInput, Surroundings
from tests.checks.rules.scenes import COMPLETE, bare, even, solved


def verdict(job: Job, kind: Kind, rule_set: str, site: Surroundings = COMPLETE) -> set[Verdict]:
    checks = rule_checks(job, bare(job), RulesInput(sets=(rule_set,), surroundings=site))
    return {check.verdict for check in checks if check.code == f"rule-{kind.value}"}


def test_two_open_sides_want_two_handrails_and_not_a_second_stair_rail_alone() -> None:
    """29 CFR 1910.28, Table D-2, prints no handrail for stairs under 44 in with two open sides.

    The agency reads that column as "with handrail on each open side" (its answers, secondary); 43 in here.
    """
    site = Surroundings(beside=Beside.OPEN, other=Flank(beside=Beside.OPEN), other_side=OtherSide.NONE)
    assert verdict(even(4, width=43 * 25.4), Kind.SIDES, "us-osha-1910", site) == {Verdict.FAILS}
    railed = site.model_copy(update={"other_side": OtherSide.RAIL})
    assert verdict(even(4, width=43 * 25.4), Kind.SIDES, "us-osha-1910", railed) == {Verdict.MEETS}


@pytest.mark.parametrize("risers", [1, 2])
def test_english_dwellings_have_no_stair_too_short_for_a_handrail(risers: int) -> None:
    """Printed elsewhere: "from three risers" and "not on the bottom two steps".

    Those are of older texts and of 1.37, a stepped change within an entrance storey. Approved Document K 2013, 1.34,
    read: no number of risers is named.
    """
    (sides,) = (
        check
        for check in rule_checks(even(risers), bare(even(risers)), RulesInput(sets=("uk-adk-2013-private",)))
        if check.code == "rule-handrail-sides"
    )
    assert sides.least == 2  # 1500 mm wide
    (rule_set,) = load_rule_sets(RulesInput(sets=("uk-adk-2013-private",)))
    (continuity,) = (rule for rule in rule_set.rule if rule.kind is Kind.CONTINUITY)
    assert continuity.when.risers is None


def test_a_narrow_stair_outside_a_dwelling_wants_both_handrails() -> None:
    """Printed of every stair: "one side if under 1000 mm". 1.34: both from 1000 mm; 1.35: each side at any width."""
    site = COMPLETE.model_copy(update={"other_side": OtherSide.NONE})
    narrow = even(width=900.0)
    assert verdict(narrow, Kind.SIDES, "uk-adk-2013-private", site) == {Verdict.MEETS}
    for rule_set in ("uk-adk-2013-other", "uk-adk-2013-flats", "uk-adm2-2015-external"):
        assert verdict(narrow, Kind.SIDES, rule_set, site) == {Verdict.FAILS}


@pytest.mark.parametrize("gap", [0.0, 95.0])
def test_open_risers_are_no_matter_of_small_children(gap: float) -> None:
    """Printed as "100 mm where under-fives are likely", which is of guards (3.3).

    Approved Document K 2013, 1.9, read: so in every dwelling; 1.6 and 1.10, read: elsewhere risers are not open.
    """
    site = COMPLETE.model_copy(update={"tread_gap": gap})
    assert verdict(even(), Kind.TREAD_GAP, "uk-adk-2013-private", site) == {Verdict.MEETS}
    closed = {Verdict.FAILS if gap else Verdict.MEETS}
    for rule_set in ("uk-adk-2013-other", "uk-adk-2013-flats", "uk-adk-2013-utility", "us-ibc-2021"):
        assert verdict(even(), Kind.TREAD_GAP, rule_set, site) == closed
    # IBC 1011.5.5.3, secondary: lists print "4 in sphere" as the rule, which is an exception of solid risers


@pytest.mark.parametrize(
    ("least", "meets"),
    [
        (930.0, {"uk-adk-2013-other"}),  # 930 + 170 = 1100: the most that 900 to 1100 mm leaves room for
        (931.0, set()),
        (900.0, {"uk-adk-2013-other"}),  # 1070 is neither 1000 (flats) nor 850 to 1000 mm
    ],
)
def test_a_level_rail_from_the_first_riser_stands_one_riser_higher_over_the_floor(
    least: float, meets: set[str]
) -> None:
    """A rail parallel to nosings that turns level over the first nosing is h + R over the lower floor.

    Approved Document K 2013, Diagrams 1.11 (1000 mm) and 1.12 (900 to 1100 mm), read. Diagram 1.12 is drawn so.
    """
    going, riser = 280.0, 170.0
    job = even(6, riser=riser, going=going)
    end = RailEnd(finish=EndFinish.CAP, overhang=300.0, level=300.0)
    job = replace(job, rail=replace(job.rail, bottom=end, least_height=least))
    layout = solved(job)
    level = layout.rails[0]
    # railgen bends one going out, where the rail has come down by one riser: so its top is h over the floor there
    assert level.level_end
    over = level.start.z + job.hardware.tube.radius
    assert over == pytest.approx(layout.heights[0].height, abs=0.6)
    nodes = tuple(replace(node, at=replace(node.at, z=node.at.z + riser)) for node in layout.nodes[:1])
    lifted = replace(level, start=replace(level.start, z=level.start.z + least + riser - over))
    drawn = replace(layout, rails=(lifted, *layout.rails[1:]), nodes=(*nodes, *layout.nodes[1:]))
    found = set()
    for rule_set in ("uk-adk-2013-other", "uk-adk-2013-flats"):
        checks = rule_checks(job, drawn, RulesInput(sets=(rule_set,), surroundings=COMPLETE))
        (floor,) = (
            c
            for c in checks
            if c.code == "rule-handrail-height-landing" and c.where == "floor at the bottom" and c.most is not None
        )
        assert floor.value == pytest.approx(least + riser)
        if floor.verdict is Verdict.MEETS:
            found.add(rule_set)
    assert found == meets


def test_dwellings_are_900_to_1000_over_landings_too_and_others_up_to_1100() -> None:
    """Printed for all: "900 to 1100 on landings". 1.34, read, says pitch line or floor for dwellings."""
    bounds = {}
    for name in ("private", "flats", "other", "utility"):
        (rule_set,) = load_rule_sets(RulesInput(sets=(f"uk-adk-2013-{name}",)))
        rule = rule_set.first(Kind.LANDING_HEIGHT)
        assert rule is not None
        bounds[name] = rule.least, rule.most
    assert bounds == {
        "private": (900.0, 1000.0),
        "flats": (1000.0, 1000.0),
        "other": (900.0, 1100.0),
        "utility": (900.0, 1100.0),
    }


@pytest.mark.parametrize(
    ("risers", "adjacent", "spread"),
    [
        ((178.0, 180.0, 183.0, 185.0), Verdict.MEETS, Verdict.MEETS),  # 3 and 7
        ((178.0, 180.0, 185.0, 189.0), Verdict.MEETS, Verdict.FAILS),  # 5 and 11
        ((178.0, 184.0, 180.0, 182.0), Verdict.FAILS, Verdict.MEETS),  # 6 and 6
    ],
)
def test_neighbours_may_be_alike_and_the_flight_not(
    risers: tuple[float, ...], adjacent: Verdict, spread: Verdict
) -> None:
    """National Building Code - 2023 Alberta Edition, 9.8.4.4, read: 5 mm from step to step and 10 mm in the flight."""
    job = even(4)
    job = replace(job, flights=(replace(job.flights[0], risers=risers),))
    assert verdict(job, Kind.RISER_ADJACENT, "ca-nbcae-2023-dwelling") == {adjacent}
    assert verdict(job, Kind.RISER_SPREAD, "ca-nbcae-2023-dwelling") == {spread}
