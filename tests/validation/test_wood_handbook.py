"""Wood Handbook, FPL-GTR-282 (and GTR-190), chapter 8: ultimate withdrawal of wood screws and lag screws.

The examples are worked out; the metric and the inch form of each formula must agree.
"""

from __future__ import annotations

import math

import pytest

from railgen.checks.strength.timber import WoodFixing, WoodFixingKind, handbook_withdrawal
from tests.validation.as_printed import INCH, POUND, as_printed

LAG, SCREW = WoodFixingKind.LAG, WoodFixingKind.WOOD_SCREW


def test_examples() -> None:
    screw = handbook_withdrawal(WoodFixing(kind=SCREW, diameter=4.83), gravity=0.48, length=38)
    assert screw.newtons == as_printed("4578")
    lag = handbook_withdrawal(WoodFixing(kind=LAG, diameter=9.525), gravity=0.48, length=50.8)
    assert lag.newtons == as_printed("11486")
    assert lag.newtons == as_printed("2582", POUND)


@pytest.mark.parametrize("diameter", [0.19, 0.25, 0.375])
@pytest.mark.parametrize("gravity", [0.36, 0.5, 0.67])
def test_inch_form(diameter: float, gravity: float) -> None:
    """8100 G^1.5 D^0.75 L and 15 700 G^2 D L in pounds and inches."""
    lag = handbook_withdrawal(WoodFixing(kind=LAG, diameter=diameter * INCH), gravity=gravity, length=2 * INCH)
    assert lag.newtons / POUND == pytest.approx(8100 * math.pow(gravity, 1.5) * math.pow(diameter, 0.75) * 2, rel=2e-3)
    screw = handbook_withdrawal(WoodFixing(kind=SCREW, diameter=diameter * INCH), gravity=gravity, length=2 * INCH)
    assert screw.newtons / POUND == pytest.approx(15_700 * gravity**2 * diameter * 2, rel=2e-3)
