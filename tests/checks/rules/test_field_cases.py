"""Stairs that people measured and asked about, with the answers worked out by hand from the numbers they gave.

Limits: IRC 2021 R311.7 (secondary): riser at most 7-3/4 in, spread 3/8 in, tread at least 10 in, nosing 3/4 to 1-1/4
in, rail 34 to 38 in above the nosings, round grip 1-1/4 to 2 in, 31-1/2 in clear with one rail, 27 in with two.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from railgen.checks import Check, Verdict
from railgen.checks.rules import rule_checks
from railgen.job.model import Job, Side
from railgen.job.rules_model import Beside, Guarding, OtherSide, RulesInput, Surroundings
from railgen.layout import solve
from railgen.layout.model import Layout
from railgen.survey import survey_job
from railgen.units import Unit
from tests import jobs
from tests.checks.rules.scenes import bare, even

INCH = 25.4
IRC = RulesInput(sets=("us-irc-2021",))


def _inches(values: list[float]) -> list[float]:
    return [value * INCH for value in values]


def _stair(risers: list[float], goings: list[float], *, width: float = 36) -> Job:
    made = jobs.job(
        [jobs.flight(1, _inches(risers), _inches(goings), width=width * INCH, design_going=goings[0] * INCH)]
    )
    return replace(made, output_unit=Unit.INCH)


def _named(job: Job, layout: Layout, code: str, rules: RulesInput = IRC) -> list[Check]:
    return [check for check in rule_checks(job, layout, rules) if check.code == f"rule-{code}"]


@pytest.mark.parametrize(("top", "spread", "high"), [(6.5, 1.25, 36.75), (7.0, 0.75, 37.25)])
def test_a_short_top_riser_leaves_a_narrow_band_for_the_rail(top: float, spread: float, high: float) -> None:
    """The bottom riser 7-1/2, seven of 7-3/4, the top one 6-1/2 on one side and 7 on the other."""
    job = _stair([7.5, *[7.75] * 7, top], [10.0] * 8)
    at = 35.0  # over the steps of 7-3/4 the rail is parallel to them; over the top nosing it stands higher
    layout = bare(job, _inches([at] * 8 + [at + spread]))
    (uniform,) = _named(job, layout, "riser-spread")
    assert uniform.verdict is Verdict.FAILS
    assert uniform.value == pytest.approx(1.25 * INCH if top == 6.5 else 0.75 * INCH)
    heights = _named(job, layout, "handrail-height")
    assert {check.verdict for check in heights} == {Verdict.MEETS}
    assert {check.formula for check in heights} == {f"every nosing meets it with the lowest from 34 in to {high:g} in"}
    too_high = bare(job, _inches([high + 0.01] * 8 + [high + 0.01 + spread]))
    verdicts = [check.verdict for check in _named(job, too_high, "handrail-height")]
    assert verdicts == [Verdict.MEETS] * 8 + [Verdict.FAILS]


def test_eight_different_heights_in_fifteen_risers() -> None:
    """Fifteen values are taken as they are; count of sizes, largest, smallest and spread are told."""
    heights = [7.0, 7.25, 7.5, 7.75, 8.0, 8.25, 6.75, 6.5, 7.0, 7.25, 7.5, 7.75, 8.0, 8.25, 7.0]
    job = _stair(heights, [10.0] * 14)
    (uniform,) = _named(job, bare(job), "riser-spread")
    assert uniform.value == pytest.approx((8.25 - 6.5) * INCH)
    assert uniform.formula == "8.25 in less 6.5 in, 8 sizes in 15"
    assert "mend the stair before cutting a rail" in uniform.advice
    (riser,) = _named(job, bare(job), "riser")
    assert riser.verdict is Verdict.FAILS
    assert re.findall(r"riser (\d+) ", riser.advice) == ["5", "6", "13", "14"]


def test_a_first_riser_of_ten_inches_fails_twice() -> None:
    """A settled walk leaves 10 in to the first step."""
    job = _stair([10.0, 7.0, 7.0, 7.0], [11.0] * 3)
    (riser,) = _named(job, bare(job), "riser")
    (uniform,) = _named(job, bare(job), "riser-spread")
    assert (riser.verdict, uniform.verdict) == (Verdict.FAILS, Verdict.FAILS)
    assert riser.formula == "largest of 4: riser 1"
    assert [riser.value, uniform.value] == pytest.approx([10 * INCH, 3 * INCH])
    assert "4 equal risers of 7.75 in" in riser.advice  # 31 in divided by four just meets 7-3/4


@pytest.mark.parametrize("side", Side)
def test_one_rail_on_a_chosen_side_is_legal(side: Side) -> None:
    """9 in first, then 7 in; one rail on purpose. Approved Document K wants two from 1000 mm (1.34, read)."""
    job = _stair([9.0, 7.0, 7.0, 7.0], [11.0] * 3)
    job = replace(job, rail=replace(job.rail, side=side))
    assert [c.verdict for c in _named(job, bare(job), "riser")] == [Verdict.FAILS]
    assert [c.value for c in _named(job, bare(job), "riser-spread")] == [pytest.approx(2 * INCH)]
    (sides,) = _named(job, bare(job), "handrail-sides")
    assert (sides.verdict, sides.value, sides.least) == (Verdict.MEETS, 1, 1)


def test_a_basement_stair_fails_three_ways() -> None:
    """103.5 in up in 13 risers, 115 in along in 12 goings, nosings of 1/2 in: riser, tread and nosing."""
    job = _stair([103.5 / 13] * 13, [115 / 12] * 12)
    job = replace(job, flights=(replace(job.flights[0], overhang=0.5 * INCH),))
    solid = RulesInput(sets=IRC.sets, surroundings=Surroundings(tread_gap=0.0))
    steps = {
        code: _named(job, bare(job), code, solid)[0]
        for code in ("riser", "going", "nosing", "riser-spread", "going-spread", "flight-rise")
    }
    assert {code for code, check in steps.items() if check.verdict is Verdict.FAILS} == {"riser", "going", "nosing"}
    assert steps["riser"].value == pytest.approx(7.96 * INCH, abs=0.005 * INCH)
    assert steps["going"].value == pytest.approx(9.58 * INCH, abs=0.005 * INCH)  # the nosing does not help
    assert "14 equal risers of 7.393 in" in steps["riser"].advice
    assert "need a run of 120 in, this one is 115 in" in steps["going"].advice
    pitch = _named(job, bare(job), "pitch", RulesInput(sets=("us-osha-1910",)))[0]
    assert pitch.value == pytest.approx(39.72, abs=0.005)


def test_a_forty_inch_stair_with_posts_keeps_enough_room() -> None:
    """33-3/4 left between posts and wall; with a second rail 30-3/4; the plates take more, and are told."""
    offset = (40 - 33.75) * INCH - 48.3 / 2
    job = _stair([7.0] * 6, [11.0] * 5, width=40)
    job = replace(job, posts=replace(job.posts, edge_offset=offset))
    one = RulesInput(sets=IRC.sets, surroundings=Surroundings(other_side=OtherSide.NONE))
    rail, plates = _named(job, bare(job), "clear-width", one)
    assert (rail.where, plates.where) == ("at the rail", "at the base plates")
    assert [rail.value, rail.least] == pytest.approx([33.75 * INCH, 31.5 * INCH])
    assert plates.value == pytest.approx(33.75 * INCH - (108 - 48.3) / 2)  # cover 108 wide under a 48.3 post
    assert (rail.verdict, plates.verdict) == (Verdict.MEETS, Verdict.MEETS)
    second = Surroundings(other_side=OtherSide.RAIL, other_projection=3.0 * INCH)
    rail, _ = _named(job, bare(job), "clear-width", RulesInput(sets=IRC.sets, surroundings=second))
    assert [rail.value, rail.least] == pytest.approx([30.75 * INCH, 27 * INCH])
    assert rail.verdict is Verdict.MEETS


@pytest.mark.parametrize(
    ("od", "verdict"), [(1.66 * INCH, Verdict.MEETS), (42.2, Verdict.MEETS), (60.3, Verdict.FAILS)]
)
def test_the_grip_is_the_pipe_as_measured(od: float, verdict: Verdict) -> None:
    """Pipe called 1-1/4 is 1.66 in outside (42.2 mm), inside 1-1/4 to 2; pipe called 2 is 60.3 mm: too thick."""
    job = even()
    tube = job.hardware.tube.model_copy(update={"id": "nominal", "od": od})
    job = replace(job, hardware=replace(job.hardware, tube=tube))
    (check,) = _named(job, bare(job), "grip")
    assert check.value == od
    assert check.verdict is verdict


def test_the_worked_stair_is_told_where_its_landing_is_too_low_for_a_barrier() -> None:
    """On a half turn the level rail stands about h + R/2 over the landing: 987.5 for 900 and 175, by common practice.

    ABCB Housing Provisions 2022, 11.3.4(2), read: 1000 mm. Following the advice meets it.
    """
    job = jobs.worked_job()
    site = Surroundings(beside=Beside.OPEN, ground_level=0.0, guarding=Guarding.INFILL, guard_opening=100.0)
    rules = RulesInput(sets=("au-hp-2022",), surroundings=site)
    (low,) = _named(job, solve(job, survey_job(job)), "guard-height-landing", rules)
    assert low.verdict is Verdict.FAILS
    found = re.search(r"raise rail.least_height by .*, to ([\d.]+) mm", low.advice)
    assert found
    mended = replace(job, rail=replace(job.rail, least_height=float(found[1])))
    (enough,) = _named(mended, solve(mended, survey_job(mended)), "guard-height-landing", rules)
    assert enough.verdict is Verdict.MEETS
    almost = replace(job, rail=replace(job.rail, least_height=float(found[1]) - 1))
    (short,) = _named(almost, solve(almost, survey_job(almost)), "guard-height-landing", rules)
    assert short.verdict is Verdict.FAILS
