"""Pulls on fixings and bending of the plate, against hand sums and equilibrium."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from railgen.checks.model import Certainty, Verdict
from railgen.checks.strength.baseplate import Plate, _every_way, pulls, worst_pull, worst_pulls
from railgen.checks.strength.materials import certified
from railgen.checks.strength.platebending import plate_bending
from railgen.checks.strength.result import Basis, Demand, Measure, Source
from railgen.checks.strength.systems import system
from railgen.job.strength_model import DesignSystem

SOURCE = Source(document="test", certainty=Certainty.MECHANICS)
EN = system(DesignSystem.EUROCODE)
STEEL = certified("plate", proof=220, tensile=520, certificate="test")
SQUARE = Plate(
    length=100,
    width=100,
    thickness=8,
    socket=40,
    fixings=((35.0, 35.0), (35.0, -35.0), (-35.0, 35.0), (-35.0, -35.0)),
)
MOMENT = Demand(
    value=1e6, measure=Measure.MOMENT, basis=Basis.EUROCODE, case="point load", formula="M", sources=(SOURCE,)
)


def test_two_rows() -> None:
    """1 kNm over rows 70 mm apart: 1e6 / 70 / 2 on each of the far two, nothing on the near two."""
    found = pulls(SQUARE, 1e6, 0.0)
    assert found is not None
    assert found.tensions == pytest.approx((0, 0, 1e6 / 140, 1e6 / 140))
    assert found.compression == pytest.approx(1e6 / 70)
    assert found.resultant(SQUARE) == pytest.approx((-35, 0))


def test_over_a_corner() -> None:
    """Levers 0, a, a, 2a with a = 35 sqrt 2: the far one takes M 2a / 6 a^2."""
    found = pulls(SQUARE, 1e6, math.pi / 4)
    assert found is not None
    a = 35 * math.sqrt(2)
    assert sorted(found.tensions) == pytest.approx([0, 1e6 / (6 * a), 1e6 / (6 * a), 1e6 / (3 * a)])


def test_over_the_plate_edge_on_hard_ground() -> None:
    """Ground that bears anything: the line lies at the edge, 50 mm out: levers 15, 15, 85, 85."""
    found = pulls(SQUARE, 1e6, 0.0, bearing=1e6)
    assert found is not None
    assert found.line == pytest.approx(50, abs=0.01)
    assert found.largest == pytest.approx(1e6 * 85 / (2 * 15**2 + 2 * 85**2), rel=1e-4)


@settings(max_examples=30)
@given(st.floats(0, math.tau), st.floats(1e5, 1e6), st.floats(15, 60))
def test_the_block_carries_the_compression_and_balances_the_moment(
    toward: float, moment: float, bearing: float
) -> None:
    plate = replace(SQUARE, corner=8.0)
    found = pulls(plate, moment, toward, bearing=bearing)
    if found is None:
        return
    u = (math.cos(toward), math.sin(toward))
    about = math.fsum(
        t * (found.line - x * u[0] - y * u[1]) for t, (x, y) in zip(found.tensions, plate.fixings, strict=True)
    )
    assert about == pytest.approx(moment, rel=1e-9)
    # The block counted on a raster: its area bears the compression, its middle lies at the line.
    step = 0.5
    cells = [
        (i * step + step / 2) * u[0] + (j * step + step / 2) * u[1]
        for i in range(-100, 100)
        for j in range(-100, 100)
        if math.hypot(max(0.0, abs(i * step + step / 2) - 42), max(0.0, abs(j * step + step / 2) - 42)) <= 8
    ]
    area = found.compression / bearing
    pressed = sorted(cells, reverse=True)[: round(area / step**2)]
    assert found.line == pytest.approx(math.fsum(pressed) / len(pressed), abs=0.6)


def test_soft_ground_pulls_harder_and_may_hold_nothing() -> None:
    hard, soft = (worst_pulls(SQUARE, 1e6, bearing=bearing) for bearing in (200.0, 12.0))
    assert hard is not None
    assert soft is not None
    assert soft.largest > hard.largest
    asked = worst_pull(SQUARE, MOMENT, bearing=0.5)
    assert asked.value is None
    assert asked.missing


def test_fixings_in_one_row_hold_only_one_way() -> None:
    row = replace(SQUARE, fixings=((0.0, 35.0), (0.0, -35.0)))
    assert pulls(row, 1e6, math.pi / 2) is not None
    assert pulls(row, 1e6, 0.0) is None
    assert worst_pull(row, MOMENT).value is None
    assert plate_bending("plate", row, STEEL, EN, moment=MOMENT).verdict is Verdict.CANNOT_SAY


def test_the_worst_direction_is_no_less_than_any_tried() -> None:
    odd = replace(SQUARE, fixings=((38.0, 20.0), (30.0, -35.0), (-35.0, 32.0), (-20.0, -38.0)))
    worst = worst_pulls(odd, 1e6)
    assert worst is not None
    for degree in range(0, 3600, 7):
        found = pulls(odd, 1e6, math.radians(degree / 10))
        assert found is not None
        assert found.largest <= worst.largest * 1.001


def test_the_worst_direction_on_soft_ground() -> None:
    """Soft ground is worst neither along nor across nor over a corner: every direction has to be tried."""
    fixings = tuple((x, y) for x in (35.0, -35.0) for y in (25.0, -25.0))
    oblong = replace(SQUARE, width=80, corner=8, fixings=fixings)
    worst = worst_pulls(oblong, 9e5, bearing=5.0)
    assert worst is not None
    quarter = [pulls(oblong, 9e5, math.radians(7 * k / 10), bearing=5.0) for k in range(129)]  # the rest by symmetry
    assert max(one.largest for one in quarter if one) == pytest.approx(worst.largest, rel=1e-3)
    plain = [pulls(oblong, 9e5, angle, bearing=5.0) for angle in (0.0, math.pi / 2)]
    assert max(one.largest for one in plain if one) < 0.99 * worst.largest


def test_no_moment_no_pull() -> None:
    for bearing in (None, 5.0):
        found = worst_pulls(SQUARE, 0.0, bearing=bearing)
        assert found is not None
        assert found.largest == 0.0


def test_plates_that_differ_in_thickness_or_load_alone_share_their_work() -> None:
    """Pulls depend on the outline, the fixings and the ground's stress for each unit of moment, on nothing else."""
    before = _every_way.cache_info().misses
    for thickness, moment in product((8.0, 12.0, 20.0), (9e5, 1.35e6, 1.8e6)):
        plate = replace(SQUARE, thickness=thickness)
        found = worst_pulls(plate, moment, bearing=moment / 1.7e5)
        direct = pulls(plate, moment, found.direction if found else 0.0, bearing=moment / 1.7e5)
        assert found is not None
        assert direct is not None
        assert found.tensions == pytest.approx(direct.tensions, rel=1e-6)
    assert _every_way.cache_info().misses == before + 1


def test_plate_bending_by_hand() -> None:
    """Straight on: both far fixings 35 - 0.4 x 40 = 19 mm from the bending line, breadth 4 x 19 = 76 mm of 100.

    m = M / 70 x 19; W = 76 x 8^2 / 6. Over a corner: the far fixing 49.5 - 16 mm out, breadth twice that; on the
    pressed side all pulls, M (1 + 1 + 2) / 6 a, 49.5 - 16 mm out, breadth of the corner there 2 (70.7 - 16).
    """
    found = plate_bending("plate", SQUARE, STEEL, EN, moment=MOMENT)
    straight = (1e6 / 70 * 19) / (76 * 64 / 6 * 220 / 1.1)
    lever = 35 * math.sqrt(2) - 16
    corner = (1e6 / (3 * 35 * math.sqrt(2)) * lever) / (2 * lever * 64 / 6 * 220 / 1.1)
    pressed = (1e6 / 70 * 19) / (100 * 64 / 6 * 220 / 1.1)
    breadth = 2 * (50 * math.sqrt(2) - 16)
    tip = (1e6 * 4 / (6 * 35 * math.sqrt(2)) * lever) / (breadth * 64 / 6 * 220 / 1.1)
    assert found.utilisation is not None
    assert found.utilisation == pytest.approx(max(straight, corner, pressed, tip))
    assert "pressed side" in found.formula
    thicker = plate_bending("plate", replace(SQUARE, thickness=16), STEEL, EN, moment=MOMENT)
    assert thicker.utilisation == pytest.approx(found.utilisation / 4)


def test_pulled_side_of_a_wide_plate() -> None:
    """200 mm plate, fixings 100 mm apart: 50 - 16 = 34 mm out, breadth 4 x 34 = 136 mm of 200."""
    wide = replace(SQUARE, length=200, width=200, fixings=tuple((x, y) for x in (50.0, -50.0) for y in (50.0, -50.0)))
    found = plate_bending("plate", wide, STEEL, EN, moment=MOMENT)
    assert found.utilisation == pytest.approx((1e6 / 100 * 34) / (136 * 64 / 6 * 220 / 1.1))
    assert "pulled side" in found.formula


def test_unknown_plate_steel_cannot_be_said() -> None:
    assert plate_bending("plate", SQUARE, None, EN, moment=MOMENT).verdict is Verdict.CANNOT_SAY


def test_a_plate_must_hold_its_fixings() -> None:
    with pytest.raises(ValueError, match="inside its outline"):
        replace(SQUARE, fixings=((60.0, 0.0),))
    with pytest.raises(ValueError, match="inside its outline"):
        replace(SQUARE, fixings=())
