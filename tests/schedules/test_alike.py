"""Tubes that may be made as one: within 0.5 mm and 0.1 degrees, whichever way they lie, hands apart."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from railgen import fabricate, solve
from railgen.catalogue.models import TubeSection
from railgen.geometry import Frame, Vec
from railgen.members import Fabrication
from railgen.members.pieces import CutEnd, Group, Placed, Purpose, Tube, TubeHole, TubeRole
from railgen.schedules.alike import Likeness, alike_table, compare, find_alike
from tests import jobs

SECTION = TubeSection(id="48.3x2.0", od=48.3, wall=2.0)


def tube(mark: str, length: float, *holes: tuple[float, float], ends: tuple[str, str] = ("cap", "cap")) -> Tube:
    """A tube with holes at (mm, degrees)."""
    return Tube(
        mark=mark,
        section=SECTION,
        length=length,
        holes=tuple(
            TubeHole(
                id=f"H{n}",
                purpose=Purpose.SADDLE_SCREW,
                diameter=5,
                depth=2,
                distance=distance,
                clock=math.radians(clock),
            )
            for n, (distance, clock) in enumerate(holes, start=1)
        ),
        role=TubeRole.RAIL,
        end_a=CutEnd(prepared=ends[0]),
        end_b=CutEnd(prepared=ends[1]),
    )


def shop(*tubes: Tube) -> Fabrication:
    at = Frame(origin=Vec(0, 0, 0), x=Vec(1, 0, 0), z=Vec(0, 0, 1))
    placed = tuple(Placed(id=t.mark.lower(), mark=t.mark, frame=at, group=Group.RAIL) for t in tubes)
    return Fabrication(pieces={t.mark: t for t in tubes}, placed=placed, joints=())


def marks(*tubes: Tube) -> list[tuple[str, ...]]:
    return [group.marks for group in find_alike(shop(*tubes))[0]]


HOLES = ((100.0, 0.0), (150.0, 40.0), (700.0, 0.0))
PLAIN = tube("R1", 1000, *HOLES)


@pytest.mark.parametrize(
    ("other", "same"),
    [
        (tube("R2", 1000.5, *HOLES), True),
        (tube("R2", 1000.6, *HOLES), False),
        (tube("R2", 1000, (100.4, 0), (150, 40), (699.6, 0)), True),
        (tube("R2", 1000, (100, 0), (150.6, 40), (700, 0)), False),
        (tube("R2", 1000, (100, 0), (150, 40.15), (700, 0)), True),  # turned by half of it, 0.075 either way
        (tube("R2", 1000, (100, 0), (150, 40.25), (700, 0)), False),
        (tube("R2", 1000, (100, 0), (150, 40)), False),
        (tube("R2", 1000, *HOLES, ends=("cap", "open")), False),
        (replace(PLAIN, mark="R2", section=TubeSection(id="48.3x2.6", od=48.3, wall=2.6)), False),
    ],
)
def test_limits_are_half_a_millimetre_and_a_tenth_of_a_degree(other: Tube, *, same: bool) -> None:
    assert marks(PLAIN, other) == ([("R1", "R2")] if same else [("R1",), ("R2",)])


def test_agreement_does_not_creep_along_a_chain() -> None:
    assert marks(tube("A", 1000), tube("B", 1000.4), tube("C", 1000.8)) == [("A", "B"), ("C",)]


def test_a_tube_turned_end_for_end_is_the_same_piece() -> None:
    turned = tube("R2", 1000, (900, 0), (850, -40), (300, 0))
    assert marks(PLAIN, turned) == [("R1", "R2")]


def test_hands_are_kept_apart_and_named() -> None:
    hand = tube("R2", 1000, (100, 0), (150, -40), (700, 0))
    groups, pairs = find_alike(shop(PLAIN, hand))
    assert [group.marks for group in groups] == [("R1",), ("R2",)]
    assert [(pair.a, pair.b, pair.likeness) for pair in pairs] == [("R1", "R2", Likeness.HAND)]


def test_near_misses_are_shown_with_their_difference() -> None:
    groups, pairs = find_alike(shop(PLAIN, tube("R2", 1003, *HOLES), tube("R3", 1100, *HOLES)))
    assert len(groups) == 3
    assert [(p.a, p.b, p.likeness, round(p.difference.length, 6)) for p in pairs] == [("R1", "R2", Likeness.NEAR, 3.0)]


holes = st.lists(
    st.tuples(st.integers(20, 980), st.integers(0, 359)), min_size=1, max_size=5, unique_by=lambda hole: hole[0] // 40
)


@given(holes, st.floats(0, 360), st.booleans())
def test_no_turn_makes_another_piece(spots: list[tuple[int, int]], turn: float, flipped: bool) -> None:
    one = tube("A", 1000, *spots)
    sign = -1 if flipped else 1
    moved = [(1000 - d if flipped else d, sign * c + turn) for d, c in spots]
    difference = compare(one, tube("B", 1000, *moved))
    assert difference is not None
    assert difference.within(1e-9, 1e-9)
    mirrored = compare(one, tube("C", 1000, *[(d, -c) for d, c in moved]), mirrored=True)
    assert mirrored is not None
    assert mirrored.within(1e-9, 1e-9)


def test_the_groups_of_a_job_hold_every_tube_once() -> None:
    job = jobs.worked_job()
    fabrication = fabricate(job, solve(job))
    groups, _ = find_alike(fabrication)
    tubes = {mark for mark, piece in fabrication.pieces.items() if isinstance(piece, Tube)}
    assert Counter(mark for group in groups for mark in group.marks) == Counter(tubes)
    assert sum(group.quantity for group in groups) == sum(fabrication.quantities()[mark] for mark in tubes)
    assert alike_table(fabrication).text().startswith("Like pieces")


def test_a_piece_is_never_called_the_same_as_nothing() -> None:
    one, twin, other = tube("R1", 500, *HOLES), tube("R2", 500.2, *HOLES), tube("R3", 900)
    again = shop(other).placed[0]
    made = shop(one, twin, other)
    told = {row[0]: row[2] for row in alike_table(made).rows}
    assert told == {"R1 R2": "same", "R3": "a single piece"}
    told = {row[0]: row[2] for row in alike_table(replace(made, placed=(*made.placed, again))).rows}
    assert told["R3"] == "pieces of one mark"
