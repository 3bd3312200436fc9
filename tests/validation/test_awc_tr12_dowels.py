"""AWC Technical Report 12, general dowel equations (from memory): yield limits from equilibrium of the bent dowel.

The six limits of NDS 2018, Table 12.3.1A must come out of the quadratics A P^2 + B P + C = 0, without their reductions.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from railgen.checks.strength.timber import Timber, WoodFixing, WoodFixingKind, fixing_size
from railgen.checks.strength.timber_lateral import YieldInput, nds_lateral, yield_limits
from tests.validation.as_printed import PSI


def dowel(d: float, lm: float, ls: float, fem: float, fes: float, fyb: float) -> tuple[float, ...]:
    qm, qs, bent = fem * d, fes * d, fyb * d**3 / 6

    def root(a: float, b: float, c: float) -> float:
        return (-b + math.sqrt(b * b - 4 * a * c)) / (2 * a)

    return (
        qm * lm,
        qs * ls,
        root(1 / (4 * qs) + 1 / (4 * qm), ls / 2 + lm / 2, -qs * ls**2 / 4 - qm * lm**2 / 4),
        root(1 / (2 * qs) + 1 / (4 * qm), lm / 2, -bent - qm * lm**2 / 4),
        root(1 / (4 * qs) + 1 / (2 * qm), ls / 2, -qs * ls**2 / 4 - bent),
        root(1 / (2 * qs) + 1 / (2 * qm), 0.0, -2 * bent),
    )


@given(
    st.floats(3, 16), st.floats(15, 150), st.floats(2, 60), st.floats(10, 60), st.floats(10, 900), st.floats(250, 700)
)
def test_yield_limits(d: float, lm: float, ls: float, fem: float, fes: float, fyb: float) -> None:
    one = YieldInput(diameter=d, main=lm, side=ls, main_bearing=fem, side_bearing=fes, bending=fyb)
    assert yield_limits(one, (1.0, 1.0, 1.0)) == pytest.approx(dowel(d, lm, ls, fem, fes, fyb), rel=1e-6)


@pytest.mark.parametrize(
    ("kind", "size", "bearing", "reduction"),
    [
        (WoodFixingKind.LAG, "3/8", 6100 * 0.5**1.45 / math.sqrt(0.375), (5.0, 4.5, 4.0)),
        (WoodFixingKind.LAG, "1/4", 6100 * 0.5**1.45 / math.sqrt(0.25), (1.25 * 2.23,) * 3),
        (WoodFixingKind.WOOD_SCREW, "10", 16_600 * 0.5**1.84, (2.2,) * 3),
    ],
)
def test_screw_through_a_steel_plate(
    kind: WoodFixingKind, size: str, bearing: float, reduction: tuple[float, float, float]
) -> None:
    """G 0.50, 60 mm in the timber, plate 6 mm of fu 500, screw 310 MPa, across the grain."""
    screw: WoodFixing = fixing_size(kind, size)
    assert screw.root is not None
    limits = dowel(screw.root, 60, 6, bearing * PSI, 750, 310)
    one, two, three = reduction
    expected = min(p / r for p, r in zip(limits, (one, one, two, three, three, three), strict=True))
    found = nds_lateral(screw, Timber(gravity=0.5), embedded=60, plate=6, plate_tensile=500)
    assert found.value == pytest.approx(expected, rel=1e-6)
