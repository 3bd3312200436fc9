"""Design Manual for Structural Stainless Steel, 3rd edition, Design Example 1: CHS 159 x 4, 1.4401, axial load.

The continuation (critical load, buckling and bending resistance) is worked out by hand from EN 1993-1-4:2006.
"""

from __future__ import annotations

import pytest

from railgen.checks.model import Certainty
from railgen.checks.strength.materials import Steel, steel
from railgen.checks.strength.members import bending, compression, en_class, en_epsilon
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.systems import system
from railgen.job.strength_model import DesignSystem, TubeStandard
from tests.validation.as_printed import as_printed

TUBE = Tube(od=159, wall=4)
EN = system(DesignSystem.EUROCODE)


@pytest.fixture
def grade() -> Steel:
    found = steel("1.4401", TubeStandard.HOT_STRIP)
    assert found is not None
    return found


def test_section() -> None:
    assert TUBE.area == as_printed("19.5", 1e2)
    assert TUBE.inertia == as_printed("585.3", 1e4)
    assert TUBE.elastic == as_printed("73.6", 1e3)
    assert TUBE.plastic == as_printed("96.1", 1e3)


def test_class(grade: Steel) -> None:
    assert (grade.proof, EN.modulus) == (220, 200_000)
    assert en_epsilon(grade.proof, EN.modulus) == as_printed("1.01")
    assert TUBE.slenderness == pytest.approx(39.8, abs=0.051)
    assert en_class(TUBE, grade.proof, EN.modulus) == 1


def test_compression(grade: Steel) -> None:
    short = compression(TUBE, grade, EN, length=1.0)
    assert short.value == as_printed("390", 1e3)
    buckled = compression(TUBE, grade, EN, length=3500)
    assert buckled.value == as_printed("321", 1e3)
    assert buckled.value is not None
    assert buckled.value > 250e3
    assert "slenderness 0.674" in buckled.formula
    assert "0.823" in buckled.formula


def test_bending(grade: Steel) -> None:
    able = bending(TUBE, grade, EN)
    assert able.value == as_printed("19.22", 1e6)
    assert grade.proof * TUBE.elastic / 1.1 == as_printed("14.73", 1e6)


@pytest.mark.parametrize(
    ("wall", "standard", "resistance", "holds"),
    [
        (2.0, TubeStandard.COLD_STRIP, "0.897", False),
        (2.6, TubeStandard.COLD_STRIP, "1.137", True),
        (2.6, TubeStandard.EN_WELDED_TUBE, "0.964", False),
    ],
)
def test_a_post_takes_the_strength_of_its_own_standard(
    *, wall: float, standard: TubeStandard, resistance: str, holds: bool
) -> None:
    """48.3 mm post, 0.9 m high, 0.74 kN, 1.5: 0.999 kNm. Strip strength would pass a welded tube that fails."""
    able = bending(Tube(od=48.3, wall=wall), steel("1.4301", standard), EN)
    assert able.value == as_printed(resistance, 1e6)
    assert able.value is not None
    assert (able.value >= 1.5 * 740 * 900) is holds
    if standard is TubeStandard.EN_WELDED_TUBE:
        assert Certainty.MEMORY in {source.certainty for source in able.sources}
