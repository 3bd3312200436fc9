"""Cases from the field, common practice, stated as jobs; numbers are closed forms worked out beside them."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

import railgen
from railgen.checks.model import Verdict
from tests.checks.strength.scenes import CONCRETE, TIMBER, links, load, of, spans_of, text, verdict, worst

CERTIFIED = 'tube = { proof = 210, tensile = 520 }\nplate = { standard = "en-hot-strip" }\n'


@pytest.mark.parametrize(("span", "sag"), [(3000, 50), (2500, 29), (2000, 15), (1500, 6), (1200, 3)])
def test_a_person_at_midspan_bends_the_rail_as_much_as_it_is_told(tmp_path: Path, span: float, sag: float) -> None:
    """42.4 x 2.0, 0.89 kN, E 193 GPa: P L^3 / 48 E I, told in whole millimetres."""
    job = load(tmp_path, text(loads='["irc"]', strength="deflection_most = 10\n"))
    found = links(job, spans_of(railgen.solve(job), span))
    assert worst(found, "sag") * 10 == pytest.approx(sag, abs=0.5)


def test_a_long_bay_needs_more_posts_by_strength_too(tmp_path: Path) -> None:
    """EN, 1.5 Q, 210 / 1.1: 0.89 kN allows 1.87 m by P L / 4 alone; the rail's own weight takes a few centimetres."""
    job = load(tmp_path, text(loads='["irc"]', strength='system = "eurocode"\n' + CERTIFIED))
    layout = railgen.solve(job)
    assert verdict(links(job, spans_of(layout, 1820)), "rail") == {Verdict.MEETS}
    assert verdict(links(job, spans_of(layout, 1880)), "rail") == {Verdict.FAILS}


@pytest.mark.parametrize(("system", "least"), [("eurocode", 1.16), ("asd", 1.19), ("lrfd", 1.27)])
def test_a_stout_tube_of_common_steel_fails_as_a_post_of_900(tmp_path: Path, system: str, least: float) -> None:
    """48.3 x 2.6 at 207 to 210 MPa under 0.89 kN, 900 mm high, nominal wall; a design wall makes it worse."""
    proof = 210 if system == "eurocode" else 207
    content = text(
        loads='["irc"]',
        fitting_set="wide-48.3",
        strength=f'system = "{system}"\ntube = {{ proof = {proof}, tensile = 517 }}\n',
    )
    job = load(tmp_path, content)
    stout = job.hardware.post_tube.model_copy(update={"id": "48.3x2.6", "wall": 2.6})
    job = replace(job, hardware=replace(job.hardware, post_tube=stout))
    inner = of(links(job), "post")[1]
    assert inner.outcome.demand is not None
    assert inner.outcome.utilisation is not None
    factor = {"eurocode": 1.5, "asd": 1.0, "lrfd": 1.6}[system]
    arm = inner.outcome.demand / (factor * 890)
    at_900 = inner.outcome.utilisation * 900 / arm
    if system == "eurocode":
        assert at_900 == pytest.approx(least, abs=0.005)
    else:  # 0.93 of the wall
        assert least - 0.005 < at_900 < least * 1.08


def test_a_thin_post_is_refused_at_any_usual_height(tmp_path: Path) -> None:
    job = load(tmp_path, text(loads='["irc"]', strength='system = "asd"\n' + CERTIFIED))
    assert verdict(links(job), "post") == {Verdict.FAILS}


def test_anchors_half_an_inch_from_the_edge_are_refused(tmp_path: Path) -> None:
    """Holes on 3 in centres, the post 2 in and 3 in from the faces: axes 0.5 in and 1.5 in from the edges."""
    ground = CONCRETE.replace("[ground]\n", '[ground]\nedge_front = "2 in"\nedge_side = "3 in"\n')
    job = load(tmp_path, text(ground=ground, substrate="concrete"))
    plate = job.hardware.base_plate.model_copy(
        update={"length": 101.6, "width": 101.6, "hole_spacing_length": 76.2, "hole_spacing_width": 76.2}
    )
    job = replace(job, hardware=replace(job.hardware, base_plate=plate))
    for link in of(links(job), "edge"):
        assert link.outcome.verdict is Verdict.FAILS
        assert link.outcome.capacity == pytest.approx(12.7)


def test_a_hole_that_stops_in_the_cap_holds_nothing(tmp_path: Path) -> None:
    """A cap of 2 in over mortar and brick: an anchor of 60 mm ends in the mortar."""
    ground = """
[ground]
[[ground.layers]]
kind = "cap"
thickness = "2 in"
[[ground.layers]]
kind = "mortar"
thickness = 10
[[ground.layers]]
kind = "brick"
thickness = 200
"""
    job = load(tmp_path, text(ground=ground, substrate="concrete"))
    found = links(job)
    for link in of(found, "embedment"):
        assert link.outcome.verdict is Verdict.FAILS
        assert link.outcome.utilisation == math.inf
        assert "cap 50.8 mm over mortar 10 mm over brick 200 mm" in link.outcome.formula
    record = next(check for check in railgen.check(job, railgen.solve(job)) if check.code == "strength-embedment")
    assert "structure itself" in record.advice


def test_two_screws_three_inches_back_hold_no_post_on_a_thin_tread(tmp_path: Path) -> None:
    """M / (2 x 3 in) on each of two screws, as 8400 lb in gives 1400 lb; a tread of 1 in cannot hold it."""
    ground = TIMBER.replace("thickness = 60", 'thickness = "1 in"').replace("timber_bearing = 5\n", "")
    job = load(tmp_path, text(ground=ground, loads='["irc"]'))
    plate = job.hardware.base_plate.model_copy(update={"hole_spacing_length": 76.2, "hole_spacing_width": 76.2})
    job = replace(job, hardware=replace(job.hardware, base_plate=plate))
    found = of(links(job), "withdrawal")
    inner = found[1].outcome
    axis = next(link.outcome for link in of(links(job), "tread") if link.where == found[1].where)
    assert inner.demand is not None
    assert axis.demand is not None
    assert inner.demand == pytest.approx(axis.demand / 1.6 / (2 * 76.2), rel=1e-6)  # unfactored: timber is asd
    assert inner.demand * 949_000 / (axis.demand / 1.6) == pytest.approx(6227, rel=1e-3)
    assert {link.outcome.verdict for link in found} == {Verdict.FAILS}
    record = next(check for check in railgen.check(job, railgen.solve(job)) if check.code == "strength-withdrawal")
    assert "bolts through the tread" in record.advice
