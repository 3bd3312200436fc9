"""Strength where the rail ends level over the floor: what stands free is an overhang, round its elbow."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

import railgen
from railgen.checks.model import Verdict
from railgen.checks.strength.supports import supports
from railgen.job.model import Job
from tests.checks.strength.scenes import STATED, links, load, of, text, verdict

PITCH = math.atan(170 / 270)
RUN = 10 * 270.0


def job(folder: Path, ends: str, posts: str, *, stated: str = STATED) -> Job:
    content = text(loads='["irc"]', stated=stated)
    content = content.replace("least_height = 900", f"least_height = 900\n{ends}")
    return load(folder, content.replace("riser_count = 11", f"riser_count = 11\nposts = {posts}"))


def further(made: Job) -> float:
    return made.hardware.tube.radius * math.tan(PITCH / 2)


def lean(made: Job) -> float:
    return made.hardware.adjustable_saddle.pivot_to_centre * math.sin(PITCH)


def own(made: Job) -> float:
    """Weight of the rail, N/mm."""
    tube = made.hardware.tube
    area = math.pi / 4 * (tube.od**2 - tube.bore**2)
    return area * made.hardware.material.density * 1e-9 * 9.81


def test_a_free_level_end_is_an_overhang_of_the_last_pitched_post(tmp_path: Path) -> None:
    """Along the tubes from the saddle's foot to the node, and on to the cut end."""
    made = job(tmp_path, "top = { level_extension = 305 }", "[1, 4, 7, 10]")
    last = supports(made, railgen.solve(made))[-1]
    foot, node = 9 * 270 + 125 - lean(made), RUN + further(made)
    expected = (node - foot) / math.cos(PITCH) + RUN + 305 - node
    assert last.post.setback is not None
    assert last.post.setback.tread == 10
    assert last.overhang == pytest.approx(expected, abs=1e-6)
    (link,) = of(links(made), "overhang")[-1:]
    moment = 1.6 * 890 * expected + 1.2 * own(made) * expected**2 / 2  # ASCE/SEI 7, LRFD
    assert link.outcome.demand == pytest.approx(moment, rel=1e-6)


def test_its_elbow_is_asked_for_the_moment_of_what_stands_out_beyond_it(tmp_path: Path) -> None:
    made = job(tmp_path, "top = { level_extension = 305 }", "[1, 4, 7, 10]")
    (elbow,) = of(links(made), "elbow")
    arm = 305 - further(made)
    assert elbow.outcome.demand == pytest.approx(1.6 * 890 * arm + 1.2 * own(made) * arm**2 / 2, rel=1e-6)
    longer = job(tmp_path, "top = { level_extension = 405 }", "[1, 4, 7, 10]")
    assert (of(links(longer), "elbow")[0].outcome.utilisation or 0) > (elbow.outcome.utilisation or math.inf)


def test_an_elbow_whose_maker_states_nothing_is_not_verified(tmp_path: Path) -> None:
    made = job(tmp_path, "top = { level_extension = 305 }", "[1, 4, 7, 10]", stated="")
    assert verdict(links(made), "elbow") == {Verdict.CANNOT_SAY}


def test_a_post_under_the_level_part_carries_it_at_its_own_height(tmp_path: Path) -> None:
    made = job(tmp_path, "top = { level_extension = 305 }", "[1, 4, 7, 10, 11]")
    layout = railgen.solve(made)
    last, before = supports(made, layout)[-1], supports(made, layout)[-2]
    hardware = made.hardware
    assert last.overhang == pytest.approx(305 - 125, abs=1e-6)
    assert last.axis == pytest.approx(
        hardware.base_plate.thickness + last.post.length + hardware.fixed_saddle.centre_height
    )
    assert before.overhang == 0.0
    foot, node = 9 * 270 + 125 - lean(made), RUN + further(made)
    bay = (node - foot) / math.cos(PITCH) + RUN + 125 - node
    assert last.reach.before == pytest.approx(bay, abs=1e-6)
    (elbow,) = of(links(made), "elbow")  # within a bay: the longest there is
    longest = max(span.length for span in layout.spans)
    assert elbow.outcome.demand == pytest.approx(1.6 * 890 * longest / 4 + 1.2 * own(made) * longest**2 / 8, rel=1e-6)


def test_a_level_end_at_the_bottom_hangs_on_the_first_post(tmp_path: Path) -> None:
    made = job(tmp_path, "bottom = { level_extension = 300 }", "[0, 4, 7, 11]")
    first = supports(made, railgen.solve(made))[0]
    foot, node = -270 + 125 - lean(made), -270 + further(made)
    assert first.overhang == pytest.approx((foot - node) / math.cos(PITCH) + 300 + further(made), abs=1e-6)
    assert len(of(links(made), "elbow")) == 1
