"""ACI 318-19, chapter 17: breakout of anchors, through published examples (lb, psi, in).

"Design guide for considering concrete breakout in shear using ACI 318 anchoring-to-concrete provisions", October 2025,
pp. 72-157.
"""

from __future__ import annotations

import math

import pytest

from railgen.checks.strength.concrete import (
    AnchorCategory,
    AnchorGroup,
    AnchorKind,
    Concrete,
    aci_basic_breakout,
    aci_breakout,
    edge_factor,
    projected_area,
)
from railgen.checks.strength.concrete_shear import EdgeRow, aci_basic_edge, pull_and_push
from railgen.checks.strength.result import STATICS, Measure, StrengthCheck
from tests.validation.as_printed import INCH, POUND, PSI, as_printed


def grid(xs: tuple[float, ...], ys: tuple[float, ...]) -> tuple[tuple[float, float], ...]:
    return tuple((x * INCH, y * INCH) for x in xs for y in ys)


@pytest.mark.parametrize(
    ("kc", "strength", "embedment", "printed"),
    [(17, 3000, 4.0, "7449"), (21, 4000, 5.75, "18313"), (17, 4500, 12.0, "47405"), (17, 3500, 14.0, "52684")],
)
def test_basic_breakout(kc: float, strength: float, embedment: float, printed: str) -> None:
    found = aci_basic_breakout(coefficient=kc, strength=strength * PSI, embedment=embedment * INCH)
    assert found == as_printed(printed, POUND)


@pytest.mark.parametrize(
    ("edge", "embedment", "printed"), [(8.0, 5.75, "0.978"), (6.0, 12.0, "0.80"), (6.0, 14.0, "0.786")]
)
def test_edge_factor(edge: float, embedment: float, printed: str) -> None:
    assert edge_factor(edge, embedment) == as_printed(printed)


def test_basic_area() -> None:
    alone = AnchorGroup(anchors=((0.0, 0.0),))
    assert projected_area(alone, 5.75 * INCH) == as_printed("297.56", INCH**2)


def test_group_near_one_edge() -> None:
    """Page 86: sixteen anchors 9 and 6 in apart, 8 in from one edge, kc 21 from the product: 92 221 lb."""
    group = AnchorGroup(anchors=grid((0, 9, 18, 27), (8, 14, 20, 26)), y_min=0.0)
    assert projected_area(group, 5.75 * INCH) == as_printed("1532.16", INCH**2)
    found = aci_breakout(
        group,
        Concrete(strength=4000 * PSI),
        embedment=5.75 * INCH,
        category=AnchorCategory.ONE,
        coefficient=21,
    )
    assert found.value == pytest.approx(0.65 * 92_221 * POUND, rel=5e-4)  # the guide rounds its factors to 3 digits
    assert found.value == pytest.approx(59_943 * POUND, rel=5e-4)


def test_group_pulled_off_its_middle() -> None:
    """Page 106: 60 877 lb with eccentricities of 3 and 1 in; phi 0.65 gives 39 570 lb (page 113)."""
    group = AnchorGroup(anchors=grid((0, 4, 8, 24), (6, 10, 18, 26)), y_min=0.0, eccentricity=(3 * INCH, 1 * INCH))
    assert projected_area(group, 14 * INCH) == as_printed("3102", INCH**2)
    found = aci_breakout(group, Concrete(strength=3500 * PSI), embedment=14 * INCH, category=AnchorCategory.ONE)
    assert found.value == pytest.approx(39_570 * POUND, rel=2e-3)  # the guide rounds each factor to 3 digits


def test_strength_reduction() -> None:
    """Page 82: phi 0.65 turns 88 489 lb into 57 518 lb."""
    assert as_printed("57518") == 0.65 * 88_489
    alone, concrete = AnchorGroup(anchors=((0.0, 0.0),)), Concrete(strength=3000 * PSI)
    found = aci_breakout(alone, concrete, embedment=4 * INCH, category=AnchorCategory.ONE)
    assert found.value == pytest.approx(0.65 * 7449 * POUND, rel=1e-4)


def test_cast_in_counts_24_for_17() -> None:
    alone, concrete = AnchorGroup(anchors=((0.0, 0.0),)), Concrete(strength=3000 * PSI)
    cast = aci_breakout(alone, concrete, embedment=100, kind=AnchorKind.CAST_IN).value
    drilled = aci_breakout(alone, concrete, embedment=100, category=AnchorCategory.ONE).value
    assert cast is not None
    assert drilled is not None
    assert cast / 0.70 / (drilled / 0.65) == pytest.approx(24 / 17)


def test_basic_edge_breakout() -> None:
    """Page 157: 7 (le/da)^0.2 sqrt(da) ... = 4407 lb governs over 9 ... = 5511 lb."""
    found = aci_basic_edge(strength=3000 * PSI, edge=5 * INCH, diameter=0.5 * INCH, embedment=3.25 * INCH)
    assert found == as_printed("4407", POUND)
    thick = aci_basic_edge(strength=3000 * PSI, edge=5 * INCH, diameter=1.25 * INCH, embedment=8 * INCH)
    assert thick == as_printed("5511", POUND)


def test_row_towards_an_edge() -> None:
    """Page 149: two anchors 7.8 in apart, 6 in from the edge, slab 6 in: 154.8 in2 of 162 in2, thin slab 1.22.

    Page 157: 112.2 of 112.5 in2, 0.976, 0.98, 1.118: 4700 lb; side edge and spacing worked back from the factors.
    """
    row = EdgeRow(edge=6 * INCH, width=7.8 * INCH, slab=6 * INCH, eccentricity=0.171 * INCH)
    assert row.area_ratio * 162 == as_printed("154.8")
    assert row.slab_factor == pytest.approx(math.sqrt(1.5))
    assert row.off_factor == as_printed("0.981")
    other = EdgeRow(edge=5 * INCH, width=4.2 * INCH, slab=6 * INCH, side_a=7 * INCH, eccentricity=0.184 * INCH)
    assert other.area_ratio * 112.5 == as_printed("112.2")
    assert (other.off_factor, other.side_factor) == (as_printed("0.976"), as_printed("0.98"))
    assert other.slab_factor == as_printed("1.118")
    chain = other.area_ratio * other.off_factor * other.side_factor * other.slab_factor * 4407
    assert chain == pytest.approx(4700, rel=1e-3)


def test_pull_and_push() -> None:
    """Page 90: 0.167 + 0.854 = 1.02 < 1.2; a pull of at most 0.2 leaves the push to govern (17.8)."""

    def part(used: float) -> StrengthCheck:
        return StrengthCheck(
            name="", demand=used, capacity=1.0, measure=Measure.FORCE, case="", formula="", sources=(STATICS,)
        )

    assert pull_and_push("anchor", pull=part(0.167), push=part(0.854)).utilisation == pytest.approx(0.854)
    assert pull_and_push("anchor", pull=part(0.6), push=part(0.7)).utilisation == pytest.approx(1.3 / 1.2)
    assert pull_and_push("anchor", pull=part(0.3), push=part(1.0)).utilisation == pytest.approx(1.3 / 1.2)
