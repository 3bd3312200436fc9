"""Bonded and mechanical anchors by hand: bond of groups and near edges, own steel, factors by class and category."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from railgen.catalogue.entries import entry_faults
from railgen.catalogue.load import load_catalogue
from railgen.checks.model import Verdict
from railgen.checks.strength.anchors import shear_factor, steel_pull
from railgen.checks.strength.bond import Bond, aci_bond, aci_bond_reach, en_bond, en_bond_reach
from railgen.checks.strength.concrete import AnchorCategory, AnchorGroup, Concrete, aci_breakout
from railgen.checks.strength.concrete_shear import EdgeRow, aci_edge_breakout, steel_pull_and_push
from railgen.checks.strength.materials import bolt_steel
from railgen.checks.strength.result import STATICS, Measure, StrengthCheck
from railgen.checks.strength.systems import system
from railgen.job.strength_model import DesignSystem, FastenerClass

LRFD, EN = system(DesignSystem.LRFD), system(DesignSystem.EUROCODE)
ROD = Bond(used=8.5, uncracked=14, diameter=10, embedment=104)
BASIC = 8.5 * math.pi * 10 * 104  # 27.77 kN


def test_a_bonded_group_by_hand() -> None:
    """ACI 318-19, 17.6.5: cNa 100 sqrt(14 / 7.584) = 135.9; two rods 80 apart, 60 from an edge, worst category."""
    reach = 100 * math.sqrt(14 / 7.584233)
    assert aci_bond_reach(ROD) == pytest.approx(reach, rel=1e-6)
    group = AnchorGroup(anchors=((0.0, 0.0), (0.0, 80.0)), x_min=-60.0)
    area = (60 + reach) * (80 + 2 * reach) / (2 * reach) ** 2
    expected = 0.45 * area * (0.7 + 0.3 * 60 / reach) * BASIC
    assert aci_bond(group, ROD).value == pytest.approx(expected, rel=1e-6)


def test_a_bonded_group_by_hand_in_europe() -> None:
    """EN 1992-4, 7.2.1.6: ccr 7.3 x 10 sqrt(14) / 2 = 136.6; a short rod reaches 1.5 hef, shell 0.5 + hef / 200."""
    reach = 7.3 * 10 * math.sqrt(14) / 2
    group = AnchorGroup(anchors=((0.0, 0.0), (0.0, 80.0)), x_min=-60.0, eccentricity=(0.0, 20.0))
    area = (60 + reach) * (80 + 2 * reach) / (2 * reach) ** 2
    expected = BASIC * area * (0.7 + 0.3 * 60 / reach) / (1 + 20 / reach) / (1.5 * 1.2)
    assert en_bond(group, ROD, installation=1.2).value == pytest.approx(expected, rel=1e-6)
    short = Bond(used=8.5, uncracked=14, diameter=10, embedment=60)
    assert en_bond_reach(short) == 90
    lone = en_bond(AnchorGroup(anchors=((0.0, 0.0),)), short)
    assert lone.value == pytest.approx(8.5 * math.pi * 10 * 60 * 0.8 / 2.1)


def test_uncracked_bond_wants_the_products_critical_edge() -> None:
    """17.6.5.5: max(c, cNa) / cac where an edge is nearer than cac."""
    group = AnchorGroup(anchors=((100.0, 0.0),), x_min=0.0)
    assert "critical edge" in aci_bond(group, ROD, cracked=False).missing
    near = aci_bond(group, ROD, cracked=False, critical_edge=200).value
    far = aci_bond(group, ROD, cracked=False, critical_edge=90).value
    assert near is not None
    assert near == pytest.approx((far or 0.0) * aci_bond_reach(ROD) / 200)


@given(apart=st.floats(1, 400), edge=st.floats(40, 400), more=st.floats(1.01, 2))
def test_neighbours_and_edges_never_strengthen_a_bond(apart: float, edge: float, more: float) -> None:
    def both(apart: float, edge: float) -> list[float]:
        group = AnchorGroup(anchors=((0.0, 0.0), (0.0, apart)), x_min=-edge)
        return [one.value or 0.0 for one in (aci_bond(group, ROD, category=AnchorCategory.ONE), en_bond(group, ROD))]

    lone = both(1e5, 1e5)
    for tight, wide in ((both(apart, edge), both(apart * more, edge)), (both(apart, edge), both(apart, edge * more))):
        assert all(a <= b * (1 + 1e-9) for a, b in zip(tight, wide, strict=True))
        assert all(b <= whole * (1 + 1e-9) for b, whole in zip(wide, lone, strict=True))


@pytest.mark.parametrize(
    ("grade", "american", "european"),
    [
        (FastenerClass.C50, 20.1 * 1.9 * 210 * 0.65, 20.1 * 500 / (1.2 * 500 / 210)),  # ACI: at most 1.9 fy
        (FastenerClass.C70, 20.1 * 700 * 0.65, 20.1 * 700 / 1.87),
        (FastenerClass.C80, 20.1 * 800 * 0.65, 20.1 * 800 / 1.6),
    ],
)
def test_the_thread_of_an_m6_by_hand(grade: FastenerClass, american: float, european: float) -> None:
    """20.1 mm2 (ISO 898-1); of class 70 14.07 kN, less 0.65 as brittle steel, or 1.87."""
    steel = bolt_steel(grade)
    assert steel_pull(steel, LRFD, diameter=6, pitch=1).value == pytest.approx(american, rel=2e-3)
    assert steel_pull(steel, EN, diameter=6, pitch=1).value == pytest.approx(european, rel=3e-3)
    if grade is FastenerClass.C70:
        assert "20.12 mm2 x 700 MPa" in steel_pull(steel, LRFD, diameter=6, pitch=1).formula


def test_a_thread_of_unknown_class_is_sheared_by_the_worst() -> None:
    """EN 1992-4, Table 4.1: fuk / fyk, of class 50 500 / 210 = 2.38, of 70 1.56, of 80 1.33."""
    found = [shear_factor(steel, EN).divisor for steel in (None, *(bolt_steel(one) for one in FastenerClass))]
    assert found == pytest.approx([2.38, 2.38, 1.556, 1.333], abs=2e-3)
    assert shear_factor(None, LRFD).value == 0.60


def test_steel_pulled_and_pushed_together_in_europe() -> None:
    """EN 1992-4, 7.2.3.1: (N / NRd)^2 + (V / VRd)^2 at most 1."""

    def part(used: float | None) -> StrengthCheck:
        missing = "" if used is not None else "class"
        return StrengthCheck(
            name="",
            demand=used,
            capacity=1.0,
            measure=Measure.FORCE,
            case="",
            formula="",
            sources=(STATICS,),
            missing=missing,
        )

    assert steel_pull_and_push("anchor", pull=part(0.6), push=part(0.8)).utilisation == pytest.approx(1)
    assert steel_pull_and_push("anchor", pull=part(1.0), push=part(0.19)).verdict is Verdict.FAILS
    assert steel_pull_and_push("anchor", pull=part(None), push=part(0.8)).missing == "class"


def test_strong_concrete_counts_to_8000_psi() -> None:
    """ACI 318-19, 17.3.1: sqrt(8000 / 4000) stronger than at 4000 psi, no more, in pull as in push."""
    alone, row = AnchorGroup(anchors=((0.0, 0.0),)), EdgeRow(edge=100, width=0, slab=300)
    weak, strong = (Concrete(strength=psi * 6.894757e-3) for psi in (4000, 12000))
    pull = [aci_breakout(alone, concrete, embedment=60).value or 0.0 for concrete in (weak, strong)]
    push = [
        aci_edge_breakout(row, concrete, diameter=10, embedment=60, category=AnchorCategory.ONE).value or 0.0
        for concrete in (weak, strong)
    ]
    assert [pull[1] / pull[0], push[1] / push[0]] == pytest.approx([math.sqrt(2)] * 2, rel=1e-6)


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("sleeve_diameter", 9.0),  # wider than the hole
        ("sleeve_diameter", 5.0),  # narrower than the screw
        ("effective_depth", 61.0),  # deeper than the hole
        ("member_thickness", 60.0),  # as thick as the hole is deep
        ("bond_cracked", 20.0),  # more than uncracked
    ],
)
def test_an_approval_that_cannot_be_is_told(key: str, value: float) -> None:
    anchor = load_catalogue().anchor["concrete-sleeve-8x60"].model_copy(update={"bond_uncracked": 14.0})
    assert list(entry_faults(anchor)) == []
    assert [wrong.key for wrong in entry_faults(anchor.model_copy(update={key: value}))] == [key]
