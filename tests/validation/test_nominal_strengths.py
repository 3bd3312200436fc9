"""EN 10088-2, ASTM A554 and ISO 3506-1: nominal strengths as tabulated; EN 10296-2 / EN 10217-7 minima from memory."""

from __future__ import annotations

import pytest

from railgen.checks.model import Certainty
from railgen.checks.strength.materials import bolt_steel, secant_modulus, steel
from railgen.job.strength_model import FastenerClass, TubeStandard
from tests.validation.as_printed import KSI

STRIP = [
    ("1.4301", TubeStandard.COLD_STRIP, 230, 540),
    ("1.4301", TubeStandard.HOT_STRIP, 210, 520),
    ("1.4307", TubeStandard.COLD_STRIP, 220, 520),
    ("1.4307", TubeStandard.HOT_STRIP, 200, 500),
    ("1.4401", TubeStandard.COLD_STRIP, 240, 530),
    ("1.4404", TubeStandard.HOT_STRIP, 220, 520),
    ("1.4462", TubeStandard.COLD_STRIP, 480, 660),
]
A554 = [("MT-304", 30, 75), ("MT-316", 30, 75), ("MT-304L", 25, 70), ("MT-316L", 25, 70)]


@pytest.mark.parametrize(("grade", "standard", "proof", "tensile"), STRIP)
def test_strip(grade: str, standard: TubeStandard, proof: float, tensile: float) -> None:
    found = steel(grade, standard)
    assert found is not None
    assert (found.proof, found.tensile, found.source.certainty) == (proof, tensile, Certainty.READ)


@pytest.mark.parametrize(("grade", "proof", "tensile"), A554)
def test_ornamental_tube(grade: str, proof: float, tensile: float) -> None:
    found = steel(grade, TubeStandard.A554)
    assert found is not None
    assert found.proof == pytest.approx(proof * KSI, abs=0.5)
    assert found.tensile == pytest.approx(tensile * KSI, abs=0.5)


@pytest.mark.parametrize(("grade", "proof"), [("1.4301", 195), ("1.4404", 190)])
def test_welded_tube_is_weaker_than_the_strip_it_is_made_of(grade: str, proof: float) -> None:
    tube, strip = steel(grade, TubeStandard.EN_WELDED_TUBE), steel(grade, TubeStandard.COLD_STRIP)
    assert tube is not None
    assert strip is not None
    assert tube.proof == proof < strip.proof
    assert tube.source.certainty is Certainty.MEMORY


def test_bolts() -> None:
    found = {name: (bolt_steel(name).proof, bolt_steel(name).tensile) for name in FastenerClass}
    assert found == {FastenerClass.C50: (210, 500), FastenerClass.C70: (450, 700), FastenerClass.C80: (600, 800)}


def test_secant_modulus() -> None:
    """EN 1993-1-4, 4.2(5), from memory: 150 MPa, fy 230, n 6 gives 165.9 GPa (worked out)."""
    assert secant_modulus(modulus=200e3, stress=150, proof=230, n=6) == pytest.approx(165.9e3, abs=50)
