"""A witness mark is where the elbow's screw goes: one side of the tube, the same in every paper."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from hypothesis import assume, given

import railgen
from railgen import ImpossibleError, fabricate, solve
from railgen.job.model import Job
from railgen.layout import Layout
from railgen.members import Fabrication
from railgen.members.facts import prepared, witness_mark
from railgen.members.pieces import Purpose, Tube, TubeHole
from railgen.units import degrees
from tests.packs import CONFIGS, GOOD
from tests.strategies import stairs

SHIPPED = [*GOOD, "weak_mezzanine"]


def elbow_ends(layout: Layout, fabrication: Fabrication) -> Iterator[tuple[float, TubeHole, Tube, int]]:
    """For each tube end in an elbow: its witness mark, and the screw hole nearest that end, from the tube's own holes.

    The last value is 0 for the datum end and 1 for the far end.
    """
    mark_of = {place.id: place.mark for place in fabrication.placed}
    for rail in layout.rails:
        tube = fabrication.pieces[mark_of[rail.id]]
        assert isinstance(tube, Tube)
        holes = [hole for hole in tube.holes if hole.purpose is Purpose.ELBOW_SCREW]
        ends = [(0, rail.start_end.node, holes[:1]), (1, rail.far_end.node, holes[-1:])]
        assert len(holes) == sum(node is not None for _, node, _ in ends)
        for side, node, (*hole,) in ends:
            if node is not None:
                yield witness_mark(fabrication, layout.node(node), rail), hole[0], tube, side


def agree(layout: Layout, fabrication: Fabrication) -> int:
    count = 0
    for mark, hole, tube, side in elbow_ends(layout, fabrication):
        assert abs(math.remainder(mark - hole.clock, math.tau)) < 1e-8
        told = prepared(tube)[side].prepared
        assert told.endswith(f"{'tongue' if side else 'fork'} half, witness mark {degrees(hole.clock)}")
        count += 1
    return count


@pytest.mark.parametrize("name", SHIPPED)
def test_marks_of_the_shipped_jobs_are_at_their_screws(name: str) -> None:
    job = railgen.load(CONFIGS / f"{name}.toml")
    layout = solve(job)
    assert agree(layout, fabricate(job, layout)) == 2 * len(layout.nodes)


@given(stairs())
def test_marks_of_any_stair_are_at_their_screws(job: Job) -> None:
    try:
        layout = solve(job)
    except ImpossibleError:
        assume(False)
        raise
    agree(layout, fabricate(job, layout))
