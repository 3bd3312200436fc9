"""The installation of a job: its own pieces and numbers, cautions where they belong, a record to fill in."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, reject

from railgen import fabricate, solve
from railgen.catalogue.models import Anchor, Substrate, TubeSection
from railgen.checks import Verdict
from railgen.checks.job import job_checks
from railgen.errors import ImpossibleError
from railgen.job.model import EndFinish, Job, RailEnd
from railgen.job.order_model import Dimensions, Finish, Stock
from railgen.job.strength_model import Exposure, Ground
from railgen.layout.model import Layout
from railgen.members import Fabrication
from railgen.members.pieces import Fitting, StairBody, Tube
from railgen.schedules.book import make_book
from railgen.schedules.install import (
    HandOver,
    Limit,
    Phase,
    Step,
    hand_over,
    installation,
    installation_table,
    installation_text,
)
from railgen.schedules.nesting import blanks, nest
from railgen.schedules.table import Column, Table
from tests import jobs
from tests.strategies import stairs

CHECKS = Table(name="Checks", columns=(Column(name="verdict"),), rows=(("meets",),))


def steps_of(
    job: Job, finish: Finish | None = None, limits: tuple[Limit, ...] = ()
) -> tuple[tuple[Step, ...], Layout, Fabrication]:
    layout = solve(job)
    fabrication = fabricate(job, layout)
    plan = nest(blanks(fabrication), Stock(), job.hardware.tube.id)
    return installation(job, layout, fabrication, plan, finish or Finish(), limits), layout, fabrication


def named(steps: tuple[Step, ...], word: str) -> Step:
    (found,) = [step for step in steps if word in step.title]
    return found


@given(stairs())
def test_every_piece_is_put_in_by_some_step(job: Job) -> None:
    try:
        steps, _, fabrication = steps_of(job)
    except ImpossibleError:
        reject()
    on_site = Counter[str]()
    for step in steps:
        if step.phase is Phase.SITE and step.title != "Clean":
            on_site.update({piece.mark: piece.quantity for piece in step.pieces})
    quantities = fabrication.quantities()
    made = {mark: n for mark, n in quantities.items() if isinstance(fabrication.pieces[mark], Tube | Fitting)}
    assert on_site == Counter(made)
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))


def test_numbers_are_those_of_the_worked_example() -> None:
    # the half turn of tests/layout/test_worked_example.py, calculated independently
    steps, _, _ = steps_of(jobs.worked_job())
    cuts = {m.where: m for m in named(steps, "Cut the tubes").measures}
    assert [round(cuts[mark].designed, 3) for mark in ("P1", "R1", "R2", "R3")] == [872, 1982.657, 178.003, 1888.232]
    marks = [m for m in named(steps, "Set out").measures if m.what == "plate middle from nosing"]
    assert [round(m.designed, 3) for m in marks] == [122.05, 127.95, 122.05, -123.202, 123.202, 126.798]
    edges = [m for m in named(steps, "Set out").measures if m.what == "plate middle from edge"]
    assert [round(m.designed, 6) for m in edges] == [60] * 6
    trial = named(steps, "Measure the trial fit")
    heights = {m.where: m for m in trial.measures if m.what.startswith("height")}
    assert round(heights["flight 1, nosing 4"].designed, 3) == 900.183
    assert {m.least for m in heights.values()} == {900}
    marks = named(steps, "Make the witness marks").do
    # around the outside from clock 0: 324.322 / 360 x 48.3 pi = 136.7
    assert (
        "R2, datum end: fork half of N1, witness mark at clock 324.3°, 136.7 mm around the tube from clock 0" in marks
    )
    assert [line[:32] for line in marks if "half of N2" in line] == [
        "R2, far end: tongue half of N2, ",
        "R3, datum end: fork half of N2, ",
    ]
    assert any("tongue half in R1, fork half in R2" in line for line in named(steps, "Trial-fit").do)
    survey = {m.where: m.designed for m in named(steps, "Measure the finished stair").measures if "rise" in m.what}
    assert survey == {"flight 1": 1254, "flight 2": 1074}


def test_a_quick_plan_of_the_saw_says_so_where_the_tubes_are_cut() -> None:
    job = jobs.job([jobs.flight(1, [175.0] * 6, [280.0] * 5)])
    layout = solve(job)
    fabrication = fabricate(job, layout)
    plan = nest(blanks(fabrication), Stock(), job.hardware.tube.id)
    quick = replace(plan, sections=tuple(replace(s, quick=True, bound=s.weight / 2) for s in plan.sections))
    for nesting, says in ((plan, False), (quick, True)):
        steps = installation(job, layout, fabrication, nesting, Finish(), ())
        assert ("only quick plans were tried" in " ".join(named(steps, "Cut the tubes").do)) is says


def test_the_rail_is_drilled_only_after_it_was_measured() -> None:
    steps, _, _ = steps_of(jobs.worked_job())
    order = [step.title for step in steps]
    wanted = ["Measure the finished", "Cut", "Set out", "Drill the anchor", "Stand", "Trial-fit", "Measure the trial"]
    wanted += ["Mark, compare and drill", "Fasten", "Rivet", "Close", "Clean", "Inspect"]
    places = [next(n for n, title in enumerate(order) if title.startswith(start)) for start in wanted]
    assert places == sorted(places)
    for word in ("Measure the finished", "Set out", "Measure the trial", "Inspect"):
        assert named(steps, word).hold


def test_end_posts_are_stood_before_those_between() -> None:
    steps, layout, _ = steps_of(jobs.worked_job())
    order = named(steps, "Stand").pieces[0].where.split(", ")
    assert sorted(order) == sorted(post.id for post in layout.posts)
    assert order.index("F1-P3") < order.index("F1-P2")
    assert order.index("F2-P3") < order.index("F2-P2")


@pytest.mark.parametrize(
    ("substrate", "word"),
    [(Substrate.CONCRETE, "silica"), (Substrate.TIMBER, "splits"), (Substrate.STEEL, "isolate")],
)
def test_drilling_cautions_are_those_of_the_surface(substrate: Substrate, word: str) -> None:
    job = jobs.worked_job()
    job = replace(job, posts=replace(job.posts, substrate=substrate))
    drill = named(steps_of(job)[0], "Drill the anchor holes")
    found = [caution for caution in drill.cautions if word in caution.text]
    assert found
    assert all(caution.source for caution in drill.cautions)
    # 29 CFR 1926.1153(c) Table 1, entry (vii): handheld and stand-mounted drills; (d)(1): 50 micrograms per cubic metre
    assert (found[0].source.startswith("29 CFR 1926.1153(c) Table 1")) == (substrate is Substrate.CONCRETE)
    assert any("cables" in caution.text for caution in drill.cautions)


def test_nobody_leans_on_a_rail_under_trial_fit() -> None:
    steps, _, _ = steps_of(jobs.worked_job())
    for word in ("Trial-fit", "Measure the trial"):
        assert any("Nobody leans" in caution.text for caution in named(steps, word).cautions)


def test_welds_and_open_ends_bring_their_cautions() -> None:
    open_end = RailEnd(finish=EndFinish.OPEN, overhang=100)
    steps, _, _ = steps_of(replace(jobs.worked_job(), rail=replace(jobs.worked_job().rail, top=open_end)))
    assert any("sleeves" in caution.text for caution in named(steps, "Close the ends").cautions)
    assert not [step for step in steps if step.title == "Weld"]
    welded, _, _ = steps_of(jobs.worked_job(), Finish(welds="returns: TIG, ground flush", weep_holes="6 mm, lowest"))
    assert any("chromium" in caution.text for caution in named(welded, "Weld").cautions)
    assert "weep holes: 6 mm, lowest" in named(welded, "Drill the posts").do


def test_every_number_of_holes_is_the_members() -> None:
    steps, _, fabrication = steps_of(jobs.worked_job())
    anchors = sum(len(b.holes) for b in fabrication.pieces.values() if isinstance(b, StairBody))
    assert named(steps, "Drill the anchor").do[0].startswith(f"{anchors} holes, 4 mm, 37 mm deep")
    drilled = named(steps, "Mark, compare").do
    assert "8 holes 5 mm (screw, saddle to rail), tap M6" in drilled
    assert "4 holes 6.4 mm (screw, elbow to rail)" in drilled


def test_an_inch_job_is_told_in_inches_with_the_drill_it_buys() -> None:
    job = jobs.worked_job()
    inch = replace(job, order=replace(job.order, dimensions=Dimensions.SIXTEENTH))
    steps, _, _ = steps_of(inch)
    # 37 mm = 1 7/16 in + 0.5 mm; 22 mm = 0.866 in, a least value: up to 7/8 in; 4 mm = 0.157 in
    assert re.fullmatch(r'24 holes, 0.157 in \(4 mm\), 1[ -]7/16" deep', named(steps, "Drill the anchor").do[0])
    assert 'at least 7/8"' in named(steps, "Set out").hold
    said = " ".join(line for step in steps for line in (*step.do, step.hold))
    assert " mm" not in re.sub(r"in \([\d.]+ mm\)", "", said)


def test_the_plain_forms_say_everything() -> None:
    steps, _, _ = steps_of(jobs.worked_job())
    text = installation_text(steps, Dimensions.MM)
    rows = list(csv.reader(io.StringIO(installation_table(steps, Dimensions.MM).csv())))
    cells = {cell.lstrip("'") for row in rows for cell in row}
    for step in steps:
        for said in (step.title, *step.do, step.hold, *(caution.text for caution in step.cautions)):
            assert said in text
            assert said in cells


def record_of(job: Job, style: Dimensions = Dimensions.MM) -> tuple[HandOver, Layout]:
    layout = solve(job)
    return hand_over(job, layout, fabricate(job, layout), Finish(surface="grit 320"), CHECKS, style), layout


def test_level_ends_are_measured_over_the_floor() -> None:
    """An even flight: their tops are as high as over the nosings, at least the height asked for."""
    top, bottom = (RailEnd(finish=EndFinish.CAP, overhang=100, level=reach) for reach in (305, 300))
    job = jobs.job([jobs.flight(1, [178] * 7, [250] * 6, posts=(0, 4, 7))], top=top, bottom=bottom)
    steps, layout, _ = steps_of(job)
    over = layout.heights[0].height
    told = [m for m in named(steps, "Measure the trial fit").measures if m.what == "height, floor to top of rail"]
    assert [m.where for m in told] == ["R1, level at the bottom", "R3, level at the top"]
    assert [m.designed for m in told] == pytest.approx([over, over], abs=1e-6)
    assert {m.least for m in told} == {900}
    record, _ = record_of(job)
    assert sum(m.what == "height, floor to top of rail" for m in record.as_installed) == 2


def test_the_record_asks_for_everything_that_was_designed() -> None:
    record, layout = record_of(jobs.worked_job())
    count = Counter(measure.what for measure in record.as_installed)
    assert count["plate middle from nosing"] == len(layout.posts)
    assert count["height, nosing to top of rail"] == sum(h.height is not None for h in layout.heights)
    assert count["elbow, turn from straight on"] == len(layout.nodes)
    assert count["span along the rail"] == len(layout.spans)
    names = [table.name for table in record.tables()]
    assert names == ["As installed", "Checks", "Materials", "Maintenance", "Sign-off"]  # timber, nothing stated
    built = record.tables()[0]
    assert all(row[-2:] == (None, None) for row in built.rows)  # to be filled in by hand
    assert any(row.given == "grit 320" for row in record.materials)
    assert "licensed engineer" in record.text()


def test_least_heights_are_never_rounded_down() -> None:
    job = replace(jobs.worked_job(), rail=replace(jobs.worked_job().rail, least_height=864))
    record, _ = record_of(job, Dimensions.SIXTEENTH)
    row = next(row for row in record.tables()[0].rows if row[0] == "height, nosing to top of rail")
    assert row[3] == 'at least 34-1/16"'  # 864 mm = 34.016 in


def test_the_count_at_delivery_is_that_of_the_order() -> None:
    job = jobs.worked_job()
    _, _, fabrication = steps_of(job)
    book = make_book(job, fabrication, job.order, CHECKS, None)
    lines = [line for line in book.lines if line.kind not in {"tube stock", "tube", "consumable"}]
    # 6 plates, 6 covers, 6 post heads (4 pivoting, 2 under elbows), 2 elbows, 2 ends, 24 anchors, 24 rivets, 12 screws
    assert sum(line.quantity for line in lines) == 6 + 6 + 6 + 2 + 2 + 24 + 24 + 12
    said = named(steps_of(job)[0], "Check what was delivered").do[0]
    spare = 3 + 3 + 2  # a tenth of each, rounded up
    assert said.startswith(f"count 82 fittings and fixings of {len(lines)} kinds, and {spare} spare, against the order")


def test_both_tubes_and_the_anchor_are_measured_at_delivery() -> None:
    job = jobs.worked_job()
    post = TubeSection(id="60.3x3.2", od=60.3, wall=3.2)
    stout = replace(job, hardware=replace(job.hardware, post_tube=post))
    said = named(steps_of(stout)[0], "Check what was delivered").do
    assert "measure the rail tube: the fittings want 48.3 mm outside, 2 mm wall" in said
    assert "measure the post tube: the fittings want 60.3 mm outside, 3.2 mm wall" in said
    assert any(line.startswith("measure an anchor, anchor: 6.3 mm thick, 45 mm long") for line in said)


@pytest.mark.parametrize(("more", "accepted"), [(4.0, True), (-4.0, True), (6.0, False)])
def test_what_the_survey_check_accepts_the_step_accepts_too(more: float, accepted: bool) -> None:
    """The total is typed off the sum of the risers, 1254; checks meet within 5 mm, common practice."""
    job = jobs.worked_job()
    first, *rest = job.flights
    job = replace(job, flights=(replace(first, total_rise=1254 + more), *rest))
    steps, layout, _ = steps_of(job)
    (check,) = [c for c in job_checks(job, layout) if c.code == "closure-rise"]
    step = named(steps, "Measure the finished stair")
    rise = next(m for m in step.measures if m.where == "flight 1" and "rise" in m.what)
    low, high = rise.least or 0, rise.most or 0
    assert (low <= 1254 + more <= high) is accepted is (check.verdict is Verdict.MEETS)
    (told,) = [line for line in step.do if line.startswith("flight 1: the rail is built to a rise of 1254 mm")]
    assert f"measured as a whole it was {1254 + more:g} mm" in told


def test_anchor_holes_keep_to_the_edges_the_layout_keeps_to() -> None:
    job = jobs.worked_job()  # posts 60 from the edge, holes 70 apart: 25 from the tread's side; anchors want 22
    assert named(steps_of(job)[0], "Set out").hold.startswith("Every hole at least 22 mm from any edge;")
    wider = replace(job.hardware, anchor=replace_anchor(job, edge_distance=32))
    held = replace(job, hardware=wider, ground=Ground(edge_side=150))
    solve(held)  # the layout takes what bears to 150 mm beside the posts
    hold = named(steps_of(held)[0], "Set out").hold
    assert "at least 32 mm from the nosing" in hold
    assert "states 150 mm from the post axes" in hold
    assert "The tread's own side is 25 mm from them" in hold


def replace_anchor(job: Job, **changes: object) -> Anchor:
    return job.hardware.anchor.model_copy(update=changes)


def test_an_elbow_is_never_marked_through_itself() -> None:
    do = named(steps_of(jobs.worked_job())[0], "Mark, compare and drill").do
    assert not [line for line in do if "through" in line and "elbow" in line]
    words = ("collar", "take the rails down", "drill on the witness mark")
    at = [next(n for n, line in enumerate(do) if word in line) for word in words]
    assert at == sorted(at)
    level = jobs.job([jobs.flight(1, [178] * 7, [250] * 6, posts=(1, 4, 7))])
    steps, layout, _ = steps_of(level)
    assert not layout.nodes
    assert not [line for step in steps for line in step.do if "elbow" in line and "counts as one" not in line]
    assert not [step for step in steps if "witness" in step.title]


@pytest.mark.parametrize(
    ("exposure", "named_holes", "wanted"), [("outdoor", "", 1), ("indoor", "", 0), ("coastal", "6", 0)]
)
def test_an_outdoor_rail_is_asked_where_its_water_leaves(exposure: str, named_holes: str, wanted: int) -> None:
    job = replace(jobs.worked_job(), ground=Ground(exposure=Exposure(exposure)))
    do = named(steps_of(job, Finish(weep_holes=named_holes))[0], "Drill the posts").do
    assert len([line for line in do if line.startswith("weep holes: none are named")]) == wanted
