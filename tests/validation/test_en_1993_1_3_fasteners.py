"""EN 1993-1-3:2006, Tables 8.1 and 8.2 (alpha from memory): rivets and screws in bearing, worked out.

fu 530 MPa, both sheets 1.5 mm, gamma M2 1.25.
"""

from __future__ import annotations

import pytest

from railgen.checks.model import Certainty
from railgen.checks.strength.sheet import Sheet, SheetFastener, en_bearing_factor, pull_out, sheet_shear
from railgen.checks.strength.systems import system
from railgen.job.strength_model import DesignSystem
from tests.validation.as_printed import as_printed

WALL = Sheet(thickness=1.5, tensile=530)
EN = system(DesignSystem.EUROCODE)


@pytest.mark.parametrize(
    ("fastener", "diameter", "alpha", "bearing"),
    [
        (SheetFastener.RIVET, 3.2, "2.1", "4.27"),
        (SheetFastener.RIVET, 4.8, "2.012", "6.14"),
        (SheetFastener.SCREW, 5.5, "1.671", "5.85"),
    ],
)
def test_bearing(fastener: SheetFastener, diameter: float, alpha: str, bearing: str) -> None:
    assert en_bearing_factor(fastener, 1.5, diameter) == as_printed(alpha)
    found = sheet_shear(fastener, WALL, WALL, diameter, EN)
    assert found.value == as_printed(bearing, 1e3)
    assert Certainty.MEMORY in {source.certainty for source in found.sources}


def test_pull_out_of_a_screw() -> None:
    """0.65 d t fu / 1.25; 0.45 where the wall is thinner than the pitch (from memory)."""
    coarse = pull_out(SheetFastener.SCREW, WALL, 5.5, EN, pitch=1.8).value
    fine = pull_out(SheetFastener.SCREW, WALL, 5.5, EN, pitch=1.0).value
    assert fine == pytest.approx(0.65 * 5.5 * 1.5 * 530 / 1.25)
    assert coarse == pytest.approx(0.45 * 5.5 * 1.5 * 530 / 1.25)
