"""Bolts through a timber tread in a whole job: pushed sideways too, with the distances of bolts and not of screws."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import railgen
from railgen.checks import Verdict
from railgen.checks.strength.supports import supports
from railgen.checks.strength.timber import Timber, WoodFixing, WoodFixingKind
from railgen.checks.strength.timber_lateral import nds_lateral
from railgen.job.model import Job
from railgen.job.strength_model import Fixing
from tests.checks.strength.scenes import links, load, of, text

PLATE_TENSILE = 520.0  # hot-rolled strip of 1.4301


def bolted(folder: Path, **changes: object) -> Job:
    """The scene with bolts M8 in place of its screws."""
    job = load(folder, text(loads='["irc"]'))
    anchor = job.hardware.anchor.model_copy(update={"diameter": 8.0, "hole_diameter": 8.5, "length": 110.0})
    ground = job.ground.model_copy(
        update={"fixing": Fixing.THROUGH_BOLT, "washer": 50.0, "fixing_root": None, **changes}
    )  # type: ignore[arg-type]
    return replace(job, hardware=replace(job.hardware, anchor=anchor), ground=ground)


def test_a_bolt_is_pushed_sideways_on_its_core(tmp_path: Path) -> None:
    """A quarter of 890 N, unfactored (ASD), against the NDS yield limit on 8 - 1.2269 x 1.25 mm."""
    job = bolted(tmp_path)
    inner = supports(job, railgen.solve(job))[1]
    bolt = WoodFixing(kind=WoodFixingKind.LAG, diameter=8.0, root=8 - 1.2269 * 1.25)
    able = nds_lateral(
        bolt,
        Timber(gravity=0.67),
        embedded=60,
        plate=job.hardware.base_plate.thickness,
        plate_tensile=PLATE_TENSILE,
    )
    found = next(link for link in of(links(job), "fixings") if link.where == f"post {inner.post.id}")
    assert able.value is not None
    assert found.outcome.utilisation == pytest.approx(890 / 4 / able.value, rel=1e-6)
    assert found.outcome.name == "bolts pushed sideways in the timber"


def test_bolts_in_timber_of_unknown_kind_cannot_be_said(tmp_path: Path) -> None:
    found = links(bolted(tmp_path, gravity=None))
    assert {link.outcome.verdict for link in of(found, "fixings")} == {Verdict.CANNOT_SAY}


@pytest.mark.parametrize(("end", "meets"), [(7 * 8.0 + 0.1, True), (7 * 8.0 - 0.1, False)])
def test_a_bolt_wants_seven_diameters_to_the_end_of_the_tread(tmp_path: Path, end: float, meets: bool) -> None:
    """NDS 2018, Table 12.5.1A, from memory: 7 D where the load may pull towards the end; a wood screw wants 10 D."""
    job = bolted(tmp_path)
    side = end + job.hardware.base_plate.hole_spacing_width / 2
    placed = replace(job, ground=job.ground.model_copy(update={"edge_side": side}))
    found = of(links(placed, railgen.solve(job)), "splitting")
    assert {link.outcome.verdict for link in found} == {Verdict.MEETS if meets else Verdict.FAILS}
