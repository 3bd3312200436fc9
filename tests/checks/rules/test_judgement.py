"""What is said where a rule is not met, cannot be judged, or asks nothing."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from railgen.checks import Check, Verdict
from railgen.checks.rules import RULES_CAUTION, Kind, rule_checks, shipped_rule_sets
from railgen.job.model import EndFinish, Job, RailEnd, Turn
from railgen.job.rules_model import Beside, Flank, Guarding, OtherSide, RulesInput, Surroundings
from railgen.job.strength_model import StrengthInput
from railgen.layout import solve
from railgen.layout.model import Layout
from railgen.survey import survey_job
from tests import jobs
from tests.checks.rules.scenes import COMPLETE, bare, even, railed, solved, two_flights

EVERY = tuple(name for name in shipped_rule_sets() if name != "none")
ASKS_NOTHING_OF_THE_SITE = {  # of steps no wider than 1000 mm, from which one of them wants a second handrail
    "uk-adm1-2015-accessible-external",
    "uk-adm1-2015-visitable-external",
}


def _named(job: Job, layout: Layout, kind: Kind, rules: RulesInput) -> list[Check]:
    return [check for check in rule_checks(job, layout, rules) if check.code == f"rule-{kind.value}"]


@pytest.mark.parametrize("name", EVERY)
def test_what_is_not_known_cannot_be_said_and_is_named(name: str) -> None:
    job = jobs.worked_job()
    layout = solve(job, survey_job(job))
    known = {f"surroundings.{key}" for key in Surroundings.model_fields} | {
        "rules.uniform_within",
        "strength.loads",
        *(f"surroundings.other.{key}" for key in Flank.model_fields),
    }
    open_questions = [c for c in rule_checks(job, layout, RulesInput(sets=(name,))) if c.verdict is Verdict.CANNOT_SAY]
    assert bool(open_questions) is (name not in ASKS_NOTHING_OF_THE_SITE)
    named = {re.sub(r"^stair\[\d\]\.", "", re.split(r":|,", check.missing)[0]) for check in open_questions}
    assert named <= known
    told = RulesInput(
        sets=(name,), uniform_within=10.0, surroundings=COMPLETE.model_copy(update={"wall_distance": 0.0})
    )
    job = replace(job, strength=StrengthInput(loads=("asce-7",)))
    assert not [c for c in rule_checks(job, layout, told) if c.verdict is Verdict.CANNOT_SAY]


def test_a_good_stair_can_meet_everything_in_a_house_in_three_countries() -> None:
    job = even(10, riser=175.0, going=280.0, width=950.0)
    rules = RulesInput(
        sets=("au-hp-2022", "us-irc-2021", "uk-adk-2013-private"),
        surroundings=COMPLETE.model_copy(update={"beside": Beside.WALL, "wall_distance": 20.0, "tread_gap": 0.0}),
    )
    job = replace(job, strength=StrengthInput(loads=("irc",)))
    ends = [RailEnd(finish=EndFinish.SCROLL, overhang=300, level=level) for level in (None, 200.0)]
    job = replace(job, rail=replace(job.rail, bottom=ends[0], top=ends[1]))
    checks = rule_checks(job, solved(job), rules)
    assert {check.verdict for check in checks} == {Verdict.MEETS}, [c for c in checks if c.verdict is not Verdict.MEETS]
    assert not [check for check in checks if check.advice]


@pytest.mark.parametrize("name", EVERY)
def test_every_failure_says_what_would_mend_it_and_every_check_where_it_comes_from(name: str) -> None:
    job = jobs.worked_job()
    layout = solve(job, survey_job(job))
    site = Surroundings(
        beside=Beside.OPEN, ground_level=-9000, guarding=Guarding.NONE, other_side=OtherSide.NONE, headroom=1800,
        tread_gap=400, nosing_radius=40, floor_bottom=300, floor_top=300, ends_returned=False,
    )  # fmt: skip
    checks = rule_checks(job, layout, RulesInput(sets=(name,), surroundings=site))
    failed = [check for check in checks if check.verdict is Verdict.FAILS]
    assert failed
    assert all(check.advice for check in failed), [c for c in failed if not c.advice]
    assert not [check for check in checks if check.advice and check.verdict is not Verdict.FAILS]
    assert all(check.source and check.clause and check.says and check.rule.startswith(name) for check in checks)


def test_a_nosing_without_rail_breaks_continuity_and_the_advice_reaches_it() -> None:
    job = even(6)
    short = RailEnd(finish=EndFinish.CAP, overhang=60)
    job = replace(job, rail=replace(job.rail, bottom=short))
    rules = RulesInput(sets=("us-irc-2021",))
    (check,) = _named(job, solved(job), Kind.CONTINUITY, rules)
    assert check.verdict is Verdict.FAILS
    assert check.formula == "no rail over nosing 1"
    assert not [c for c in _named(job, solved(job), Kind.HEIGHT, rules) if c.where.endswith("nosing 1")]
    found = re.search(r"rail.bottom.overhang of ([\d.]+) mm", check.advice)
    assert found

    def verdict(overhang: float) -> Verdict:
        longer = replace(job, rail=replace(job.rail, bottom=replace(short, overhang=overhang)))
        return _named(longer, solved(longer), Kind.CONTINUITY, rules)[0].verdict

    assert verdict(float(found[1])) is Verdict.MEETS
    assert verdict(float(found[1]) - 0.2) is Verdict.FAILS


@pytest.mark.parametrize(("past", "verdict"), [(19.9, Verdict.FAILS), (20.0, Verdict.MEETS)])
def test_a_rail_from_riser_to_riser_reaches_over_the_top_riser_behind_its_nosing(past: float, verdict: Verdict) -> None:
    # IRC 2021, R311.7.8.4, and IBC 2021, 1014.4, secondary: from above the top riser; ADA 505.3, read: the flight
    job = even()  # nosings stand 20 mm in front of their risers
    layout = railed(job, 400, past)
    for name in ("us-irc-2021", "us-ibc-2021-dwelling"):
        (check,) = _named(job, layout, Kind.CONTINUITY, RulesInput(sets=(name,)))
        assert check.verdict is verdict
        assert ("not the top riser, 20 mm behind its nosing" in check.formula) is (verdict is Verdict.FAILS)
    (check,) = _named(job, layout, Kind.CONTINUITY, RulesInput(sets=("us-ada-2010",)))
    assert check.verdict is Verdict.MEETS


@pytest.mark.parametrize(("start", "verdict"), [(0.0, Verdict.MEETS), (0.9, Verdict.MEETS), (1.1, Verdict.FAILS)])
def test_a_level_extension_starts_over_the_nosing(start: float, verdict: Verdict) -> None:
    # ADA 2010, 505.10.2, read: directly above the first riser nosing
    job = even()
    rules = RulesInput(sets=("us-ada-2010",))
    (check,) = _named(job, railed(job, 400, 0, level=400, start=start), Kind.EXTENSION_TOP_LEVEL, rules)
    assert check.verdict is verdict


def test_the_level_extension_is_solved_for_where_the_rail_has_none() -> None:
    """Tops of equal height meet over the nosing, the centrelines r tan(pitch/2) further on."""
    job = even()
    layout = solved(job)
    (check,) = _named(job, layout, Kind.EXTENSION_TOP_LEVEL, RulesInput(sets=("us-ibc-2021",)))
    assert (check.value, check.verdict) == (0.0, Verdict.FAILS)
    radius = job.hardware.tube.radius
    node = radius * math.tan(math.atan2(175, 280) / 2)
    height = layout.heights[-1].height
    assert height is not None
    past, up = re.findall(r"node is ([\d.]+) mm past it, ([\d.]+) mm above", check.advice)[0]
    assert float(past) == pytest.approx(node, abs=0.05)
    assert float(up) == pytest.approx(height - radius, abs=0.05)


@pytest.mark.parametrize(
    ("turn", "name", "places"),
    [
        (Turn.HALF_LEFT, "us-ada-2010", ["flight 2, top"]),  # the inside of the turn: rails run on
        (Turn.HALF_RIGHT, "us-ada-2010", ["flight 1, top", "flight 2, top"]),
        (Turn.STRAIGHT, "us-ada-2010", ["flight 1, top", "flight 2, top"]),
        (Turn.STRAIGHT, "us-ibc-2021", ["flight 2, top"]),
        (Turn.HALF_RIGHT, "us-ibc-2021", ["flight 2, top"]),
    ],
)
def test_where_a_rail_that_runs_on_needs_no_extension(turn: Turn, name: str, places: list[str]) -> None:
    # ADA 2010, 505.10 exception (inside turn), from memory; IBC 1014.6: where not continuous to the next flight
    job = jobs.worked_job(turn)
    checks = _named(job, solve(job, survey_job(job)), Kind.EXTENSION_TOP_LEVEL, RulesInput(sets=(name,)))
    assert [check.where for check in checks] == places


_CANNOT, _FAILS, _MEETS = Verdict.CANNOT_SAY, Verdict.FAILS, Verdict.MEETS


@pytest.mark.parametrize(
    ("name", "kind", "finish", "returned", "verdict"),
    [
        ("us-irc-2021", Kind.END_RETURN, EndFinish.CAP, None, _FAILS),
        ("us-irc-2021", Kind.END_RETURN, EndFinish.OPEN, None, _FAILS),
        ("us-irc-2021", Kind.END_RETURN, EndFinish.SCROLL, None, _CANNOT),
        ("us-irc-2021", Kind.END_RETURN, EndFinish.SCROLL, False, _FAILS),
        ("us-irc-2021", Kind.END_RETURN, EndFinish.CAP, True, _MEETS),
        ("us-osha-1910", Kind.END_FINISH, EndFinish.CAP, None, _CANNOT),
        ("us-osha-1910", Kind.END_FINISH, EndFinish.CAP, False, _FAILS),
        ("us-osha-1910", Kind.END_FINISH, EndFinish.OPEN, None, _FAILS),
        ("us-osha-1910", Kind.END_FINISH, EndFinish.SCROLL, None, _MEETS),
        ("us-osha-1910", Kind.END_FINISH, EndFinish.OPEN, True, _MEETS),
    ],
)
def test_ends(name: str, kind: Kind, finish: EndFinish, returned: bool | None, verdict: Verdict) -> None:
    job = even()
    end = RailEnd(finish=finish, overhang=140)
    job = replace(job, rail=replace(job.rail, bottom=end, top=end))
    rules = RulesInput(sets=(name,), surroundings=Surroundings(ends_returned=returned))
    assert [check.verdict for check in _named(job, bare(job), kind, rules)] == [verdict] * 2


@pytest.mark.parametrize("kind", [Kind.RISER_SPREAD, Kind.GOING_SPREAD])
@pytest.mark.parametrize(
    ("spread", "within", "verdict"),
    [(0.0, None, _MEETS), (2.0, None, _CANNOT), (2.0, 2.0, _MEETS), (2.1, 2.0, _FAILS)],
)
def test_uniform_without_a_number(kind: Kind, spread: float, within: float | None, verdict: Verdict) -> None:
    # ADA 2010, 504.2, read: uniform, no tolerance
    steps = (spread if kind is Kind.RISER_SPREAD else 0, spread if kind is Kind.GOING_SPREAD else 0)
    job = jobs.job([jobs.flight(1, [170, 170 + steps[0], 170], [280, 280 + steps[1]], width=1500)])
    (check,) = _named(job, bare(job), kind, RulesInput(sets=("us-ada-2010",), uniform_within=within))
    assert check.verdict is verdict


def test_no_wall_and_no_drop_ask_nothing() -> None:
    job = even()
    rules = RulesInput(sets=("us-irc-2021",), surroundings=COMPLETE.model_copy(update={"beside": Beside.OPEN}))
    alone = replace(rules, surroundings=rules.surroundings.model_copy(update={"guarding": Guarding.NONE}))
    assert not _named(job, bare(job), Kind.WALL_CLEARANCE, alone)
    walled = replace(rules, surroundings=COMPLETE.model_copy(update={"beside": Beside.WALL, "wall_distance": 0.0}))
    told = _named(job, bare(job), Kind.GUARD_FLIGHT, walled) + _named(job, bare(job), Kind.GUARD_HEIGHT_FLIGHT, walled)
    assert told
    assert all("other side" in check.where for check in told)
    enclosed = COMPLETE.model_copy(
        update={"beside": Beside.WALL, "wall_distance": 0.0, "other": Flank(beside=Beside.WALL)}
    )
    walled = replace(rules, surroundings=enclosed)
    assert not _named(job, bare(job), Kind.GUARD_FLIGHT, walled)
    assert not _named(job, bare(job), Kind.GUARD_HEIGHT_FLIGHT, walled)


def test_a_separate_barrier_is_kept_clear_of_as_a_wall_is() -> None:
    job = even()
    site = COMPLETE.model_copy(update={"beside": Beside.OPEN, "guarding": Guarding.SEPARATE})
    for distance, verdict in ((None, Verdict.CANNOT_SAY), (0.0, Verdict.FAILS), (1.0, Verdict.MEETS)):
        # IRC R311.7.8.3, secondary: 1-1/2 in; 62 + 1 - 24.15 = 38.85 mm
        job = replace(job, posts=replace(job.posts, edge_offset=62.0))
        rules = RulesInput(sets=("us-irc-2021",), surroundings=site.model_copy(update={"wall_distance": distance}))
        (check,) = _named(job, bare(job), Kind.WALL_CLEARANCE, rules)
        assert check.verdict is verdict
        assert ("wall_distance" in check.missing) is (distance is None)


def test_advice_to_move_posts_keeps_their_plates_on_the_stair() -> None:
    """IRC R311.7.8.2, secondary: 4-1/2 in; plates of 90 mm cannot stand 20 mm from the edge."""
    job = even()
    plate = job.hardware.base_plate.width / 2
    stout = replace(
        job, hardware=replace(job.hardware, post_tube=job.hardware.post_tube.model_copy(update={"od": 190.0}))
    )
    for subject, narrower in ((job, False), (stout, True)):
        far = replace(subject, posts=replace(subject.posts, edge_offset=120.0))
        (check,) = _named(far, bare(far), Kind.PROJECTION, RulesInput(sets=("us-irc-2021",)))
        assert check.verdict is Verdict.FAILS
        allowed = 114.3 - max(subject.hardware.tube.radius, subject.hardware.post_tube.radius)
        assert (allowed < plate) is narrower
        assert ("base plate at most" in check.advice) is narrower
        assert f"{allowed:.1f}" in check.advice


@pytest.mark.parametrize(("length", "verdict"), [(1199.9, Verdict.FAILS), (1200.0, Verdict.MEETS)])
@pytest.mark.parametrize("name", ["uk-adk-2013-other", "uk-adk-2013-flats", "uk-adk-2013-utility"])
def test_landings_outside_dwellings_are_1200_long_however_narrow(name: str, length: float, verdict: Verdict) -> None:
    # Approved Document K 2013, landings of buildings other than dwellings, secondary
    job = two_flights(length, width=900.0)
    rules = RulesInput(
        sets=(name,), surroundings=COMPLETE.model_copy(update={"floor_bottom": 1200.0, "floor_top": 1200.0})
    )
    checks = _named(job, bare(job), Kind.LANDING_LENGTH, rules)
    assert [check.verdict for check in checks] == [verdict, Verdict.MEETS, Verdict.MEETS]


def test_a_load_lighter_than_the_documents_own_does_not_stand_for_it() -> None:
    job = even()
    for loads, verdict in (((), Verdict.CANNOT_SAY), (("bs-gangway",), Verdict.FAILS), (("irc",), Verdict.MEETS)):
        loaded = replace(job, strength=StrengthInput(loads=loads))
        (check,) = _named(loaded, bare(loaded), Kind.LOADS, RulesInput(sets=("us-irc-2021",)))
        assert check.verdict is verdict
        if verdict is Verdict.FAILS:
            assert "irc" in check.advice


def test_barrier_heights_only_where_the_fall_asks_for_one() -> None:
    # IRC 2021, R312.1.1 and R312.1.2: more than 30 in (762 mm) down; treads here lie 175 apart, so from tread 5
    job = two_flights()
    site = Surroundings(beside=Beside.OPEN, ground_level=0.0, guarding=Guarding.INFILL, guard_opening=90.0)
    layout = solved(job)
    checks = _named(job, layout, Kind.GUARD_HEIGHT_FLIGHT, RulesInput(sets=("us-irc-2021",), surroundings=site))
    places = ["flight 1, nosing 5", *(f"flight 2, nosing {i}" for i in range(1, 6))]
    assert [check.where for check in checks] == places
    above = {(h.flight, h.nosing): h.height for h in layout.heights}
    assert [check.value for check in checks] == [above[1, 5], *(above[2, i] for i in range(1, 6))]


def test_a_barrier_that_is_asked_for_and_not_described_is_an_open_question() -> None:
    job = two_flights()
    site = Surroundings(beside=Beside.OPEN, ground_level=0.0, other=Flank(beside=Beside.OPEN, ground_level=0.0))
    checks = _named(job, bare(job), Kind.GUARD_FLIGHT, RulesInput(sets=("us-irc-2021",), surroundings=site))
    assert [(check.verdict, check.missing) for check in checks] == [
        (_CANNOT, f"stair[{place}].surroundings.{side}guarding") for place in (0, 2) for side in ("", "other.")
    ]


def test_the_lowest_rail_over_a_landing_is_the_height_of_its_barrier() -> None:
    # the level tube's top lies r (1 / cos(pitch) - 1) below the pitched tube's at their common node
    job = two_flights(2000)
    layout = solved(job)
    site = COMPLETE.model_copy(update={"guarding": Guarding.INFILL})
    check, other = _named(job, layout, Kind.GUARD_HEIGHT_LANDING, RulesInput(sets=("us-irc-2021",), surroundings=site))
    assert (other.where, other.value) == ("landing 1, other side", 1100.0)
    assert check.value == pytest.approx(layout.nodes[0].at.z + 48.3 / 2 - 6 * 175.0)


@pytest.mark.parametrize(("going", "asked"), [(279.3, 1), (279.4, 0)])
def test_deep_treads_need_no_nosing(going: float, asked: int) -> None:
    # IRC 2021, R311.7.5.3, secondary: solid risers, and not where treads are at least 11 in deep
    job = even(going=going)
    job = replace(job, flights=(replace(job.flights[0], overhang=0.0),))
    for gap, verdict in ((0.0, _FAILS), (None, _CANNOT)):
        rules = RulesInput(sets=("us-irc-2021",), surroundings=Surroundings(tread_gap=gap))
        checks = _named(job, bare(job), Kind.NOSING, rules)
        assert [check.verdict for check in checks] == [verdict] * asked
    rules = RulesInput(sets=("us-irc-2021",), surroundings=Surroundings(tread_gap=90.0))
    assert not _named(job, bare(job), Kind.NOSING, rules)


def test_one_rail_cannot_be_handrail_and_tall_barrier_at_once() -> None:
    # 29 CFR 1910.29(f)(1), read: handrail 30 to 38 in, stair rail at least 42 in
    job = even()
    site = COMPLETE.model_copy(update={"guarding": Guarding.INFILL, "other": Flank(beside=Beside.WALL)})
    checks = _named(job, solved(job), Kind.GUARD_HEIGHT_FLIGHT, RulesInput(sets=("us-osha-1910",), surroundings=site))
    assert {check.verdict for check in checks} == {Verdict.FAILS}
    assert all(check.advice.startswith("set a barrier of its own") for check in checks)


def test_landings_at_turns_are_judged_along_both_flights() -> None:
    # the upper flight's first riser stands 130 into a half turn's landing: 900 one way, 770 the other
    job = jobs.worked_job()
    landing = replace(job.landings[0], upper_offset=130.0)
    checks = _named(
        replace(job, landings=(landing,)),
        bare(replace(job, landings=(landing,))),
        Kind.LANDING_LENGTH,
        RulesInput(sets=("us-osha-1910",)),
    )
    assert checks[0].value == pytest.approx(770.0)


def test_the_caution_defers_to_code_and_practice() -> None:
    assert "local code" in RULES_CAUTION
    assert "licensed" in RULES_CAUTION
