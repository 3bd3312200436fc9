"""Tubes built face by face are those that boolean cuts make, and their volume is that of the integral."""

from __future__ import annotations

import math

import pytest
from cadquery import Solid
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from railgen.members.pieces import Tube
from railgen.solids.build import build_solid
from railgen.solids.tube import bores_of, build_tube, cut_tube, seam_clock
from tests.solids.demo import tube, welded

Drilled = tuple[float, float, float, int]
HOLES = st.tuples(
    st.floats(12, 588), st.floats(0, 359.9), st.sampled_from([3.5, 5.0, 6.4, 11.0, 20.0]), st.sampled_from([1, 1, 2])
)
SECTIONS = st.sampled_from([(48.3, 2.0), (48.3, 3.2), (42.4, 2.6), (33.7, 2.0), (60.3, 1.5), (38.1, 1.651)])


def wall_volume(od: float, wall: float, diameter: float) -> float:
    """Volume a radial hole takes out of one wall: the wall's depth over every spot of the drill."""
    outer, inner, r = od / 2, od / 2 - wall, diameter / 2

    def strip(y: float) -> float:
        return 2 * math.sqrt(r * r - y * y) * (math.sqrt(outer**2 - y * y) - math.sqrt(inner**2 - y * y))

    return float(quad(strip, -r, r)[0])


def blank_volume(piece: Tube) -> float:
    outer, inner = piece.section.od / 2, piece.section.od / 2 - piece.section.wall
    return math.pi * (outer**2 - inner**2) * piece.length


def drilled_volume(piece: Tube) -> float:
    """Of a tube whose holes do not meet."""
    taken = sum(wall_volume(piece.section.od, piece.section.wall, hole.diameter) * hole.walls for hole in piece.holes)
    return blank_volume(piece) - taken


def assert_sound(solid: Solid) -> None:
    assert solid.isValid()
    assert solid.ShapeType() == "Solid"
    assert len(solid.Shells()) == 1
    assert welded(solid, 0.35).is_watertight


@settings(max_examples=60)
@given(st.lists(HOLES, max_size=5), SECTIONS)
def test_random_tubes_agree_with_boolean_cuts(holes: list[Drilled], section: tuple[float, float]) -> None:
    piece = tube(*holes, od=section[0], wall=section[1])
    built, cut = build_tube(piece), cut_tube(piece)
    assert_sound(built)
    assert built.Volume() == pytest.approx(cut.Volume(), rel=3e-5)  # mouths are drawn to 1e-3 mm


@pytest.mark.parametrize(
    "holes",
    [
        [],
        [(100, 0, 3.5, 1)],
        [(100, 0, 6.4, 2), (250, 90, 5, 1), (400, 200, 20, 1)],
        [(30, 90, 3.5, 1), (30, 270, 3.5, 1), (570, 90, 3.5, 1), (570, 270, 3.5, 1)],
    ],
)
def test_volume_is_that_of_the_integral(holes: list[Drilled]) -> None:
    piece = tube(*holes)
    assert build_solid(piece).Volume() == pytest.approx(drilled_volume(piece), rel=2e-6)


@pytest.mark.parametrize("clock", [0, 45, 90, 135, 180, 225, 270, 315])
def test_a_hole_may_sit_at_any_clock_position(clock: float) -> None:
    piece = tube((300, clock, 6.4, 1))
    built = build_tube(piece)
    assert_sound(built)
    assert built.Volume() == pytest.approx(drilled_volume(piece), rel=2e-6)
    lost = built.Center() * (built.Volume() / (built.Volume() - blank_volume(piece)))
    turned = math.degrees(math.atan2(lost.y, lost.x)) - clock
    assert (turned + 180) % 360 - 180 == pytest.approx(0, abs=0.5)


def test_a_hole_through_two_walls_is_bored_at_the_opposite_clock_position() -> None:
    near, far = bores_of(tube((300, 30, 6.4, 2)))
    assert (near.distance, near.radius) == (far.distance, far.radius)
    assert math.degrees(far.clock - near.clock) == pytest.approx(180)
    once, twice = build_tube(tube((300, 30, 6.4, 1))), build_tube(tube((300, 30, 6.4, 2)))
    assert once.Volume() - twice.Volume() == pytest.approx(wall_volume(48.3, 2.0, 6.4), rel=1e-2)


@pytest.mark.parametrize(
    "holes",
    [
        [(300, 0, 11, 1), (306, 10, 11, 1)],  # two holes that meet
        [(300, 0, 11, 1), (300, 0, 6, 1)],  # one within the other
        [(4, 0, 11, 1)],  # runs out of the end
        [(5.5, 0, 11, 1)],  # touches the end
        [(100 + 60 * k, 45 * k, 20, 1) for k in range(8)],  # no clock position is free for the seam
        [(300, 0, 42, 1)],  # nearly as wide as the bore
    ],
)
def test_holes_that_leave_no_room_are_cut(holes: list[Drilled]) -> None:
    piece = tube(*holes)
    built = build_solid(piece)
    assert built.isValid()
    assert built.Volume() == pytest.approx(cut_tube(piece).Volume(), rel=1e-9)
    assert built.Volume() < blank_volume(piece)


def test_the_seam_keeps_clear_of_every_hole() -> None:
    inner = 22.15
    for holes in ([(300, 180, 6.4, 1)], [(300, 350, 30, 1)], [(100, 0, 6.4, 2), (200, 90, 5, 1)]):
        bores = bores_of(tube(*holes))
        clock = seam_clock(bores, inner)
        assert clock is not None
        for bore in bores:
            apart = abs((clock - bore.clock + math.pi) % math.tau - math.pi)
            assert apart > math.asin(bore.radius / inner)
    ring = bores_of(tube(*[(100 + 60 * k, 45 * k, 20, 1) for k in range(8)]))
    assert seam_clock(ring, inner) is None
