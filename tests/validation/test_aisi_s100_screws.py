"""AISI S100, J4 (E4 before): screws in sheet; formulas as used in a public permit calculation, example worked out.

#10 screw, 0.190 in, both sheets 0.057 in, Fu 45 ksi, head 1/2 in.
"""

from __future__ import annotations

import math

import pytest

from railgen.checks.strength.sheet import (
    Sheet,
    SheetFastener,
    aisi_pull_out,
    aisi_pull_over,
    aisi_shear_nominal,
    pull_out,
    sheet_shear,
)
from railgen.checks.strength.systems import system
from railgen.job.strength_model import DesignSystem
from tests.validation.as_printed import INCH, KSI, POUND, as_printed

WALL = Sheet(thickness=0.057 * INCH, tensile=45 * KSI)
NUMBER_10 = 0.190 * INCH
ASD = system(DesignSystem.ASD)


def test_shear() -> None:
    assert aisi_shear_nominal(WALL, WALL, NUMBER_10) == as_printed("1121", POUND)
    allowed = sheet_shear(SheetFastener.SCREW, WALL, WALL, NUMBER_10, ASD)
    assert allowed.value == as_printed("374", POUND)


def test_bearing_alone_where_the_far_sheet_is_thick() -> None:
    far = Sheet(thickness=2.5 * WALL.thickness, tensile=WALL.tensile)
    assert aisi_shear_nominal(WALL, far, NUMBER_10) == as_printed("1316", POUND)


def test_tilting_fades_out_between_equal_and_two_and_a_half_times() -> None:
    middle = Sheet(thickness=1.75 * WALL.thickness, tensile=WALL.tensile)
    thin = Sheet(thickness=0.8 * WALL.thickness, tensile=WALL.tensile)
    assert aisi_shear_nominal(WALL, middle, NUMBER_10) == as_printed("1316", POUND)  # tilting no longer governs
    near = Sheet(thickness=0.03 * INCH, tensile=60 * KSI)
    far = Sheet(thickness=1.75 * near.thickness, tensile=20 * KSI)
    tilting = 4.2 * math.sqrt((1.75 * 0.03) ** 3 * 0.190) * 20e3
    bearing = 2.7 * 0.190 * min(0.03 * 60e3, 1.75 * 0.03 * 20e3)
    assert aisi_shear_nominal(near, far, NUMBER_10) / POUND == pytest.approx((min(tilting, bearing) + bearing) / 2)
    assert tilting < bearing
    assert aisi_shear_nominal(WALL, thin, NUMBER_10) < 1121 * POUND


def test_pull_out_and_pull_over() -> None:
    assert aisi_pull_out(WALL, NUMBER_10) == as_printed("414", POUND)
    assert aisi_pull_over(WALL, 0.5 * INCH) == as_printed("1924", POUND)
    assert aisi_pull_over(WALL, 0.75 * INCH) == as_printed("1924", POUND)  # a head counts to 1/2 in
    allowed = pull_out(SheetFastener.SCREW, WALL, NUMBER_10, ASD, pitch=1.0)
    assert allowed.value == as_printed("138", POUND)
