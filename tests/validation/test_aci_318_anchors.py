"""ACI 318-19, chapter 17: bond, pull-out and pry-out of anchors, through published examples (lb, psi, in).

"Design guide for considering concrete breakout in shear using ACI 318 anchoring-to-concrete provisions", October 2025,
pp. 81-90; "North American anchoring to concrete design guide, ACI 318-14 provisions", summer 2021, p. 36, whose rod of
3/4 in at 2220 psi is worked back from its reach.
"""

from __future__ import annotations

import math

import pytest

from railgen.checks.strength.anchors import hold_factor
from railgen.checks.strength.bond import Bond, aci_bond, aci_bond_reach, basic_bond
from railgen.checks.strength.concrete import AnchorCategory, AnchorGroup, Concrete, aci_breakout
from railgen.checks.strength.concrete_shear import PRY_PHI, pry_out
from railgen.checks.strength.systems import system
from railgen.job.strength_model import DesignSystem
from tests.validation.as_printed import INCH, POUND, PSI, as_printed

ROD = Bond(used=1260 * PSI, uncracked=2220 * PSI, diameter=0.75 * INCH, embedment=12 * INCH)


def test_how_far_a_bond_reaches() -> None:
    assert aci_bond_reach(ROD) == pytest.approx(10.65 * INCH, abs=0.006 * INCH)


def test_a_pull_off_the_middle_of_bonded_rods() -> None:
    """1 / (1 + 1.67 / 10.65) = 0.864."""
    far = AnchorGroup(anchors=((0.0, 0.0),))
    off = AnchorGroup(anchors=((0.0, 0.0),), eccentricity=(0.0, 1.67 * INCH))
    lone, less = (aci_bond(group, ROD, category=AnchorCategory.ONE).value for group in (far, off))
    assert lone is not None
    assert less is not None
    assert less / lone == as_printed("0.864")


def test_strength_reduction_of_bond_and_pull_out() -> None:
    """Page 82: bond 128 489 lb gives 83 518; page 90: pull-out 14 939 lb gives 9710."""
    alone = aci_bond(AnchorGroup(anchors=((0.0, 0.0),)), ROD, category=AnchorCategory.ONE)
    assert alone.value is not None
    assert 128_489 * alone.value / basic_bond(ROD) == as_printed("83518")
    assert 14_939 * hold_factor(AnchorCategory.ONE, system(DesignSystem.LRFD)).value == as_printed("9710")


def test_pry_out_by_the_cone() -> None:
    """Page 90: sixteen anchors, hef 5.75 in: 2 x 92 221 = 184 442 lb, phi 0.70: 129 109 lb."""
    spots = tuple((x * INCH, y * INCH) for x in (0, 9, 18, 27) for y in (8, 14, 20, 26))
    cone = aci_breakout(
        AnchorGroup(anchors=spots, y_min=0.0),
        Concrete(strength=4000 * PSI),
        embedment=5.75 * INCH,
        coefficient=21,
        phi=PRY_PHI,
    )
    found = pry_out(cone, None, embedment=5.75 * INCH, american=True)
    assert found.value == pytest.approx(129_109 * POUND, rel=5e-4)  # the guide rounds its factors to 3 digits


def test_pry_out_by_the_lesser_of_cone_and_bond() -> None:
    """Page 81: of 88 489 and 128 489 lb the cone governs at hef 12 in; below 2.5 in it counts once."""
    alone = AnchorGroup(anchors=((0.0, 0.0),))
    cone = aci_breakout(alone, Concrete(strength=4500 * PSI), embedment=12 * INCH, phi=PRY_PHI)
    strong, weak = (
        aci_bond(alone, Bond(used=used, uncracked=15, diameter=20, embedment=300), phi=PRY_PHI) for used in (15, 5)
    )
    for bond, least in ((strong, 47_405 * POUND), (weak, 5 * math.pi * 20 * 300)):
        for embedment, times in ((64.9, 1), (65.0, 2)):
            found = pry_out(cone, bond, embedment=embedment, american=True)
            assert found.value == pytest.approx(times * 0.70 * least, rel=1e-4)
