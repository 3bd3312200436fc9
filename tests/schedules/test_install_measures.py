"""What is accepted on site: inside every limit, wide enough for the tape it is measured with, with its margin told."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import railgen
from railgen import solve
from railgen.job.model import EndFinish, Job, RailEnd
from railgen.job.rules_model import Beside, Nearby, RulesInput, Surroundings
from railgen.layout.margin import margin_note
from railgen.report.content import Content, Worked
from railgen.schedules.install import Asked, HandOver, Limit, Measure
from railgen.units import Dimensions, Unit, parse_length
from tests import jobs
from tests.packs import CONFIGS, GOOD
from tests.schedules.test_install import named, record_of, steps_of

TAPE = 25.4 / 16
HEIGHT = "height, nosing to top of rail"


def bounds(text: str) -> list[float]:
    """Lengths (mm) in what is printed."""
    return [parse_length(part, Unit.MM) for part in text.removeprefix("at least ").split(" to ")]


@given(st.floats(30, 5000), st.sampled_from([0.5, 2.0, 3.0, 5.0]))
def test_a_tolerance_holds_the_printed_target_and_a_graduation_of_the_tape_each_way(at: float, off: float) -> None:
    measure = Measure(what="", where="", designed=at, least=at - off, most=at + off)
    target = parse_length(measure.target(Dimensions.SIXTEENTH), Unit.MM)
    low, high = bounds(measure.accepted(Dimensions.SIXTEENTH))
    assert abs(target - at) <= TAPE / 2 + 1e-6
    assert low <= target - TAPE + 1e-6
    assert high >= target + TAPE - 1e-6
    # no wider than the tolerance wherever the tape can show it
    assert low >= min(at - off, target - TAPE) - 1e-6
    assert high <= max(at + off, target + TAPE) + 1e-6


@given(st.floats(850, 1000), st.floats(0, 40), st.floats(5, 120))
def test_a_limit_is_never_given_away_and_the_printed_target_keeps_it(least: float, over: float, band: float) -> None:
    measure = Measure(what="", where="", designed=least + over, least=least, most=least + over + band, strict=True)
    for style in (Dimensions.SIXTEENTH, Dimensions.INCH, Dimensions.MM):
        low, high = bounds(measure.accepted(style))
        assert low >= least - 1e-5
        assert high <= least + over + band + 1e-5
        assert low - 1e-6 <= parse_length(measure.target(style), Unit.MM) <= high + 1e-6


def test_both_units_are_each_rounded_on_their_own_tape() -> None:
    # 1536.2 to 1537.2 mm is 60.48 to 60.52 in: too narrow for sixteenths, so one to each side of 60-1/2
    measure = Measure(what="", where="", designed=1536.7, least=1536.2, most=1537.2)
    assert measure.accepted(Dimensions.BOTH_SIXTEENTH) == '1536.2 mm [60-7/16"] to 1537.2 mm [60-9/16"]'
    assert measure.target(Dimensions.BOTH_SIXTEENTH) == '1536.7 mm [60-1/2"]'


def heights(record: HandOver) -> list[Measure]:
    return [m for m in record.as_installed if m.what == HEIGHT]


@pytest.mark.parametrize("name", GOOD)
def test_the_record_of_a_shipped_job_holds_heights_to_its_codes(name: str) -> None:
    job = railgen.load(CONFIGS / f"{name}.toml")
    layout = solve(job)
    checks = railgen.check(job, layout)
    made = Worked(Content(job=job, layout=layout, fabrication=railgen.fabricate(job, layout), checks=checks))
    asked = [check for check in checks if check.code == Asked.HEIGHT]
    assert asked
    for measure in heights(made.record):
        here = [check for check in asked if check.where == measure.where]
        tops = [check.most for check in here if check.most is not None]
        lows = [check.least for check in here if check.least is not None]
        assert measure.most == min(tops, default=None)
        assert measure.least is not None
        assert measure.least >= max(lows, default=0)
        assert measure.least <= measure.designed + 1e-6


def with_limit(job: Job, least: float | None, most: float | None) -> tuple[Limit, ...]:
    return tuple(
        Limit(asked=Asked.HEIGHT, where=f"flight {at.flight}, nosing {at.nosing}", least=least, most=most)
        for at in solve(job).heights
    )


def test_the_margin_is_what_accepted_errors_take_from_the_height() -> None:
    """Worked example: 900.183 over nosing 4 of a pitch of 35.677 degrees: 2 tan(35.677) + 0.5 = 1.936 may be lost."""
    job = jobs.worked_job()
    note = margin_note(job, solve(job), 900, 1000)
    assert "1.8 mm below the 900 mm asked for" in note  # 900 - (900.183 - 1.936) = 1.753, rounded up
    assert "rail.least_height = 902 mm" in note  # 901.936
    mended = replace(job, rail=replace(job.rail, least_height=902))
    assert margin_note(mended, solve(mended), 900, 1000) == ""
    assert "1.8 mm below rail.least_height" in margin_note(job, solve(job), None, None)


def test_errors_upward_are_held_to_the_upper_limit() -> None:
    job = jobs.worked_job()
    layout = solve(job)
    top = max(at.height for at in layout.heights if at.height is not None)
    assert "allowed" in margin_note(job, layout, 890, top + 1)
    assert margin_note(job, layout, 890, top + 3) == ""
    assert "set the plates out more closely" in margin_note(job, layout, 900, top + 3)
    assert margin_note(job, layout, top + 50, None) == ""  # the checks say that the design does not do


def test_the_margin_stands_in_the_steps_before_cutting_and_before_drilling() -> None:
    job = jobs.worked_job()
    steps, _, _ = steps_of(job)
    for step in ("Measure the finished", "Set out"):
        assert any("rail.least_height" in line for line in named(steps, step).do)


def test_a_code_is_a_hard_bound_and_the_jobs_own_number_an_aim_above_it() -> None:
    job = jobs.worked_job()
    higher = replace(job, rail=replace(job.rail, least_height=902))
    layout, (first, *_) = solve(higher), heights(record_of(higher)[0])
    assert first.least == 902
    steps, _, _ = steps_of(higher, limits=with_limit(higher, 900, 1000))
    held = [m for m in named(steps, "Measure the trial fit").measures if m.what == HEIGHT]
    pitches = {rail.flight: rail.pitch for rail in layout.rails}
    for m, at in zip(held, (at for at in layout.heights if at.height is not None), strict=True):
        assert m.most == 1000
        assert m.least == pytest.approx(max(900, 902 - 2 * math.tan(pitches[at.flight]) - 0.5))
    assert not [line for line in named(steps, "Set out").do if "rail.least_height" in line]


def test_extensions_and_clearances_are_measured_as_installed() -> None:
    top, bottom = (RailEnd(finish=EndFinish.CAP, overhang=100, level=reach) for reach in (305, 300))
    job = jobs.job([jobs.flight(1, [178] * 7, [250] * 6, posts=(0, 4, 7))], top=top, bottom=bottom)
    job = replace(job, rules=RulesInput(surroundings=Surroundings(beside=Beside.WALL, wall_distance=40)))
    record, _ = record_of(job)
    steps, _, _ = steps_of(job)
    found = {m.what: m for m in record.as_installed}
    assert found["level rail past the last nosing, measured level"].designed == pytest.approx(305)
    # level from over the projected nosing 0, one going in front of the first nosing, 300 further
    assert found["rail in front of the first nosing, level part included"].designed == pytest.approx(250 + 300)
    # the tops of both tubes meet over the projected nosing: the elbow's middle is r tan(pitch / 2) nearer the stair
    bend = 250 - 48.3 / 2 * math.tan(math.atan2(178, 250) / 2)
    assert found["sloping rail in front of the first nosing, to the elbow's middle"].designed == pytest.approx(bend)
    assert found["clearance between rail and wall or barrier"].designed == pytest.approx(40 + 60 - 48.3 / 2)
    assert found["reach of the rail into the stair, from its edge"].designed == pytest.approx(60 + 48.3 / 2)
    for step in ("Measure the trial fit", "Inspect"):
        assert set(found) - {m.what for m in named(steps, step).measures} <= {
            "plate middle from nosing",
            "plate middle from edge",
            "span along the rail",
            "pitch of the rail",
            "elbow, turn from straight on",
        }


def test_an_extension_that_a_code_asks_for_may_not_come_out_shorter() -> None:
    end = RailEnd(finish=EndFinish.CAP, overhang=100, level=305)
    job = jobs.job([jobs.flight(1, [178] * 7, [250] * 6, posts=(0, 4, 7))], top=end, bottom=end)
    asked = (Limit(asked=Asked.TOP_LEVEL, where="flight 1, top", least=304.8, most=None),)
    steps, _, _ = steps_of(job, limits=asked)
    (top,) = [m for m in named(steps, "Inspect").measures if m.what.startswith("level rail past")]
    assert top.least == 304.8
    assert top.accepted(Dimensions.SIXTEENTH).startswith('12"')


def test_an_end_that_a_code_measures_from_the_riser_is_that_much_longer_from_the_nosing() -> None:
    """IBC 1014.6, secondary: 12 in beyond the top riser, 20 mm behind its nosing here, from which the site measures."""
    end = RailEnd(finish=EndFinish.CAP, overhang=100, level=326)
    job = jobs.job([jobs.flight(1, [178] * 7, [250] * 6, posts=(0, 4, 7))], top=end, bottom=end)
    assert job.flights[0].overhang == 20
    checks = railgen.check(replace(job, rules=RulesInput(sets=("us-ibc-2021",))), solve(job))
    asked = tuple(
        Limit(asked=Asked.TOP_LEVEL, where=check.where, least=check.least, most=check.most, value=check.value)
        for check in checks
        if check.code == Asked.TOP_LEVEL
    )
    (top,) = [m for m in named(steps_of(job, limits=asked)[0], "Inspect").measures if m.what.startswith("level rail")]
    assert (top.designed, top.least) == pytest.approx((326, 304.8 + 20))


def test_each_wall_along_the_rail_is_measured_to() -> None:
    job = jobs.worked_job()
    far = tuple(
        replace(flight, surroundings=Nearby(beside=Beside.WALL, wall_distance=distance))
        for flight, distance in zip(job.flights, (40.0, 55.0), strict=True)
    )
    record, _ = record_of(replace(job, flights=far))
    found = {m.where: m.designed for m in record.as_installed if m.what.startswith("clearance between rail and wall")}
    inner = job.posts.edge_offset - 48.3 / 2
    assert found == {"flight 1": pytest.approx(40 + inner), "flight 2": pytest.approx(55 + inner)}


@pytest.mark.parametrize("name", GOOD)
def test_a_job_on_the_limit_of_its_code_is_told_what_to_type(name: str) -> None:
    job = railgen.load(CONFIGS / f"{name}.toml")
    layout = solve(job)
    told = [note for note in layout.notes if "rail.least_height = " in note]
    checks = [c for c in railgen.check(job, layout) if c.code == Asked.HEIGHT and c.least is not None]
    tightest = max(c.least or 0 for c in checks)
    lost = 2 * max(math.tan(rail.pitch) for rail in layout.rails) + 0.5
    if min(c.value or 0 for c in checks) >= tightest + lost:
        assert not told
        return
    (note,) = told
    typed = parse_length(note.split("rail.least_height = ")[1].split(" keeps")[0], Unit.MM)
    assert tightest + lost - 1e-6 <= typed <= tightest + lost + TAPE
    mended = replace(job, rail=replace(job.rail, least_height=typed))
    assert not [note for note in solve(mended).notes if "rail.least_height = " in note]
