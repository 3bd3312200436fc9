"""Anchors in concrete: holes cleaned, resin cured, torque and pull test noted; and what the job only states."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

import railgen
from railgen import fabricate, solve
from railgen.catalogue.models import AnchorHold, Substrate
from railgen.job.model import Job
from railgen.job.order_model import Dimensions, Finish, Stock
from railgen.job.rules_model import Beside, Guarding, RulesInput, Surroundings
from railgen.job.strength_model import Exposure, Fixing, Ground, GroundKind, GroundLayer, Stated, StrengthInput
from railgen.schedules.consumables import consumables
from railgen.schedules.install import HandOver, Step, hand_over, installation, stated_by_the_job
from railgen.schedules.nesting import blanks, nest
from railgen.schedules.table import Column, Table
from tests import jobs
from tests.packs import CONFIGS, copy_catalogues

CHECKS = Table(name="Checks", columns=(Column(name="verdict"),), rows=(("meets",),))


def on_concrete(hold: AnchorHold | None) -> Job:
    job = jobs.worked_job()
    anchor = job.hardware.anchor.model_copy(update={"hold": hold, "hole_diameter": 8.0, "hole_depth": 36.0})
    posts = replace(job.posts, substrate=Substrate.CONCRETE)
    return replace(job, hardware=replace(job.hardware, anchor=anchor), posts=posts)


def worked(job: Job) -> tuple[dict[str, Step], HandOver, dict[str, float]]:
    layout = solve(job)
    fabrication = fabricate(job, layout)
    plan = nest(blanks(fabrication), Stock(), job.hardware.tube.id)
    steps = installation(job, layout, fabrication, plan, Finish())
    record = hand_over(job, layout, fabrication, Finish(), CHECKS, job.order.dimensions)
    return (
        {step.title: step for step in steps},
        record,
        {c.item: c.quantity for c in consumables(job, fabrication, plan)},
    )


def test_resin_anchors_bring_resin_cleaning_cure_and_torque() -> None:
    steps, record, order = worked(on_concrete(AnchorHold.BONDED))
    # 24 holes of 8 mm, 36 deep, around 6.3 mm: twice the gaps
    gap = 24 * math.pi / 4 * (8**2 - 6.3**2) * 36 / 1000
    assert order["anchor-resin"] == pytest.approx(2 * gap, abs=0.1)
    assert order["anchor-resin"] >= 2 * gap
    assert {order["mixing-nozzle"], order["hole-brush-8"], order["hole-pump"]} == {3, 1}
    drill, fix = steps["Drill the anchor holes"], steps["Fix the base plates"]
    assert {"hole brush", "hole pump", "HEPA vacuum cleaner"} <= set(drill.tools)
    assert any("blow, brush, blow" in line for line in drill.do)
    said = " ".join(fix.do)
    assert "cure time, as its maker says, written down here: ____" in said
    assert "torque as its maker says: ____" in said
    assert "pull test" in said
    assert "cure time over" in fix.hold
    assert [row.what for row in record.anchors].count("cure time") == 1
    assert [row.what for row in record.anchors].count("pull test") == 1
    assert "Anchors in concrete" in [table.name for table in record.tables()]


def test_the_caution_on_dust_never_forbids_what_the_step_asks_for() -> None:
    """1926.1153 (f)(2): compressed air may clean where the dust it raises is captured (from memory)."""
    steps, _, _ = worked(on_concrete(AnchorHold.BONDED))
    step = steps["Drill the anchor holes"]
    (dust,) = [caution.text for caution in step.cautions if "silica" in caution.text]
    assert "never blow" not in dust
    assert "vacuum at each hole whenever it is cleaned, by brush or by air" in dust
    assert any("nozzle at the mouth of the hole" in line for line in step.do)


@pytest.mark.parametrize("hold", [AnchorHold.MECHANICAL, None])
def test_other_anchors_in_concrete_are_tightened_and_pulled_but_need_no_resin(hold: AnchorHold | None) -> None:
    steps, record, order = worked(on_concrete(hold))
    assert not [item for item in order if item.startswith(("anchor-resin", "hole-", "mixing"))]
    fix = " ".join(steps["Fix the base plates"].do)
    assert "torque as its maker says: ____" in fix
    assert "pull test" in fix
    assert "cure" not in fix
    assert [row.what for row in record.anchors if "test" in row.what] == ["pull test", "pull test, result"]
    assert not [row for row in record.anchors if row.what in ("resin", "cure time")]


def test_anchors_in_timber_have_no_pull_test() -> None:
    steps, record, order = worked(jobs.worked_job())
    assert record.anchors == ()
    assert "pull" not in " ".join(steps["Fix the base plates"].do)
    assert "anchor-resin" not in order


def test_everything_the_job_states_is_listed_in_its_own_unit() -> None:
    job = jobs.worked_job()
    around = Surroundings(beside=Beside.OPEN, guarding=Guarding.INFILL, guard_opening=95.25, ends_returned=True)
    layers = (GroundLayer(kind=GroundKind.FINISH, thickness=20), GroundLayer(kind=GroundKind.TIMBER, thickness=80))
    job = replace(
        job,
        rules=RulesInput(surroundings=around),
        ground=Ground(layers=layers, edge_side=254, timber_bearing=5.5, exposure=Exposure.OUTDOOR),
        strength=StrengthInput(stated=Stated(document="sheet 12", rivet_shear=3800, socket_moment=2600)),
        order=replace(job.order, dimensions=Dimensions.INCH),
    )
    given = {row.what.rpartition("(")[2][:-1]: row.given for row in stated_by_the_job(job)}
    assert given == {
        "surroundings.beside": "open",
        "surroundings.guarding": "infill",
        "surroundings.guard_opening": "3.75 in",
        "surroundings.ends_returned": "yes",
        "ground.layers": "finish 0.787 in, timber 3.15 in",
        "ground.edge_side": "10 in",
        "ground.timber_bearing": "5.5 MPa",
        "ground.exposure": "outdoor",
        "strength.stated.document": "sheet 12",
        "strength.stated.rivet_shear": "3800 N",
        "strength.stated.socket_moment": "2600 Nm",
    }
    assert all(row.blank for row in stated_by_the_job(job))


@pytest.mark.parametrize("table", [Surroundings, Ground, Stated])
def test_whatever_a_job_can_state_has_words_of_its_own(table: type[Surroundings | Ground | Stated]) -> None:
    for field in table.model_fields.values():
        assert len(field.description or "") > 10


@pytest.mark.parametrize("name", ["mill_half_turn", "mill_quarter_turn", "mill_weir_steps_inch"])
def test_the_record_of_a_shipped_job_lists_what_its_file_states(name: str) -> None:
    text = (CONFIGS / f"{name}.toml").read_text(encoding="utf-8")
    job = railgen.load(CONFIGS / f"{name}.toml")
    rows = {row.what.rpartition("(")[2][:-1] for row in stated_by_the_job(job)}
    table = text.partition("[surroundings]")[2].partition("\n[")[0]
    typed = {line.split(" = ")[0] for line in table.splitlines() if " = " in line and not line.startswith("#")}
    assert typed
    assert {f"surroundings.{key}" for key in typed} <= rows


def test_dimensions_of_the_stair_that_nobody_typed_are_listed_as_guesses(tmp_path: Path) -> None:
    text = (CONFIGS / "mill_half_turn.toml").read_text(encoding="utf-8")
    assert "nosing_overhang = 22\n" in text
    copy_catalogues(tmp_path)
    (tmp_path / "job.toml").write_text(text.replace("nosing_overhang = 22\n", ""), encoding="utf-8")
    before = {row.what for row in stated_by_the_job(railgen.load(CONFIGS / "mill_half_turn.toml"))}
    now = [row for row in stated_by_the_job(railgen.load(tmp_path / "job.toml")) if row.what not in before]
    assert [row.what.rpartition("(")[2] for row in now] == ["stair[0].nosing_overhang)", "stair[2].nosing_overhang)"]
    assert {row.given for row in now} == {"20 mm, a guess: the job does not say"}


def test_bolts_through_a_tread_get_their_nuts_from_below() -> None:
    job = jobs.worked_job()
    bolt = job.hardware.anchor.model_copy(update={"length": 70.0})
    bolted = replace(job, hardware=replace(job.hardware, anchor=bolt), ground=Ground(fixing=Fixing.THROUGH_BOLT))
    steps, _, order = worked(bolted)
    assert order["nut-and-washer"] == 24
    assert "nut-and-washer" not in worked(job)[2]
    assert any("right through" in line for line in steps["Drill the anchor holes"].do)
    assert any("locking nut" in line for line in steps["Fix the base plates"].do)
    assert not any("nut" in line for line in worked(job)[0]["Fix the base plates"].do)
