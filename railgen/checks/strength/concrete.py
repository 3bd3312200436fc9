"""Anchors in concrete: the cone that breaks out, with edges, neighbours and eccentric pull.

ACI 318-19 and EN 1992-4, cracked concrete unless the job says otherwise. The pull-out and the bond of an anchor are
properties of the product: they come from its approval, which governs, or are not verified. Of ACI 318-19, chapter 17,
no copy was read: its clauses are known from design guides that print them, and are marked as secondary.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from enum import IntEnum, StrEnum
from functools import cache

from railgen.checks.model import Certainty
from railgen.checks.strength.result import Basis, Measure, Resistance, Source, num, show

__all__ = [
    "APPROVAL_GOVERNS",
    "INSTALLER_OWES",
    "AnchorCategory",
    "AnchorGroup",
    "AnchorKind",
    "Concrete",
    "GroupFactors",
    "aci_basic_breakout",
    "aci_breakout",
    "aci_source",
    "edge_factor",
    "en_basic_breakout",
    "en_breakout",
    "en_source",
    "group_factors",
    "projected_area",
    "shell_factor",
    "tension_phi",
]

APPROVAL_GOVERNS = "the anchor product's approval governs: least edge and spacing, steel, pull-out and bond are its own"
INSTALLER_OWES = (
    "drill to the diameter and depth of the product's approval",
    "blow and brush the hole clean as its instructions say",
    "observe the cure time before loading an adhesive anchor",
    "tighten to the stated torque with a torque wrench",
    "prove a share of the anchors with a pull test and keep the record",
)

_PSI = 6.894757293168e-3
_POUND = 4.4482216152605


class AnchorKind(StrEnum):
    """How the anchor got into the concrete."""

    POST_INSTALLED = "post-installed"
    CAST_IN = "cast-in"


class AnchorCategory(IntEnum):
    """Reliability class of the product's approval; 3 is the least and the one to take where it is unknown."""

    ONE = 1
    TWO = 2
    THREE = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Concrete:
    """Compressive strength (MPa): f'c cylinder for ACI, fck cylinder for EN; cracked unless said otherwise."""

    strength: float
    cracked: bool = True

    @property
    def counted(self) -> float:
        """What ACI counts for post-installed anchors, at most 8000 psi. ACI 318-19, 17.3.1, from memory."""
        return min(self.strength, 8000 * _PSI)


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorGroup:
    """The anchors pulled, as (x, y) in mm, in a slab that ends at ``x_min`` .. ``y_max``; infinite: no edge near.

    ``eccentricity``: offset (x, y) of the pull from the middle of the pulled anchors. Raises ValueError for an anchor
    outside the slab.
    """

    anchors: tuple[tuple[float, float], ...]
    x_min: float = -math.inf
    x_max: float = math.inf
    y_min: float = -math.inf
    y_max: float = math.inf
    eccentricity: tuple[float, float] = (0.0, 0.0)

    def __post_init__(self) -> None:
        if not self.anchors or self.least_edge < 0:
            raise ValueError("a group has anchors, and all of them lie in the concrete")

    @property
    def least_edge(self) -> float:
        """Distance (mm) of the anchor nearest to an edge."""
        return min(self._edges)

    @property
    def _edges(self) -> tuple[float, float, float, float]:
        xs, ys = zip(*self.anchors, strict=True)
        return min(xs) - self.x_min, self.x_max - max(xs), min(ys) - self.y_min, self.y_max - max(ys)

    def effective(self, embedment: float) -> float:
        """Embedment (mm) that counts: where three or more edges lie within 1.5 hef, max(c / 1.5, s / 3) of the largest.

        ACI 318-19, 17.6.2.1.2; EN 1992-4:2018, 7.2.1.4(8); both from memory. Without it a deeper anchor near three
        edges would count as weaker.

        >>> AnchorGroup(anchors=((0, 0),), x_min=-60, x_max=60, y_min=-90).effective(120)
        60.0
        """
        near = [edge for edge in self._edges if edge < 1.5 * embedment]
        if len(near) < 3:
            return embedment
        spacing = max((math.dist(a, b) for a, b in itertools.combinations(self.anchors, 2)), default=0.0)
        return min(embedment, max(max(near) / 1.5, spacing / 3))


def projected_area(group: AnchorGroup, embedment: float) -> float:
    """Area (mm2) of the union of squares of 3 hef around the anchors, cut off at the edges.

    ACI 318-19, 17.6.2.1 and EN 1992-4:2018, 7.2.1.4(3); never more than 9 hef^2 per anchor.

    >>> projected_area(AnchorGroup(anchors=((0, 0),)), 100)
    90000.0
    """
    reach = 1.5 * embedment
    boxes = [
        (
            max(x - reach, group.x_min),
            min(x + reach, group.x_max),
            max(y - reach, group.y_min),
            min(y + reach, group.y_max),
        )
        for x, y in group.anchors
    ]
    cuts = sorted({side for box in boxes for side in box[:2]})
    area = 0.0
    for left, right in itertools.pairwise(cuts):
        spans = sorted((low, high) for a, b, low, high in boxes if a <= left and right <= b)
        covered, top = 0.0, -math.inf
        for low, high in spans:
            covered += max(0.0, high - max(low, top))
            top = max(top, high)
        area += covered * (right - left)
    return area


def edge_factor(least_edge: float, embedment: float) -> float:
    """0.7 + 0.3 c / (1.5 hef), at most 1. ACI 318-19, 17.6.2.4; EN 1992-4:2018, 7.2.1.4(4).

    >>> round(edge_factor(8.0, 5.75), 3), round(edge_factor(6, 12), 3)
    (0.978, 0.8)
    """
    return min(1.0, 0.7 + 0.3 * least_edge / (1.5 * embedment))


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupFactors:
    """What neighbours, an eccentric pull and an edge leave of a lone anchor's strength."""

    area: float
    off: float
    edge: float

    @property
    def product(self) -> float:
        return self.area * self.off * self.edge

    def __str__(self) -> str:
        return f"{num(self.area)} x {num(self.off)} x {num(self.edge)}"


def group_factors(group: AnchorGroup, reach: float) -> GroupFactors:
    """Areas, eccentricity and edge where each anchor reaches ``reach`` mm to every side: 1.5 hef of a cone.

    ACI 318-19, 17.6.2.1, .3, .4 and 17.6.5.1, .3, .4; EN 1992-4:2018, 7.2.1.4 and 7.2.1.6.
    """
    return GroupFactors(
        area=projected_area(group, reach / 1.5) / (4 * reach**2),
        off=math.prod(1 / (1 + abs(e) / reach) for e in group.eccentricity),
        edge=edge_factor(group.least_edge, reach / 1.5),
    )


def tension_phi(category: AnchorCategory) -> float:
    """Factor phi of breakout, bond and pull-out of post-installed anchors, condition B. ACI 318-19, Table 17.5.3."""
    return {1: 0.65, 2: 0.55, 3: 0.45}[category]


def aci_basic_breakout(*, coefficient: float, strength: float, embedment: float) -> float:
    """Nb (N) = kc sqrt(f'c) hef^1.5, kc in pounds, psi and inches; normal-weight concrete. ACI 318-19, 17.6.2.2.

    >>> round(aci_basic_breakout(coefficient=17, strength=3000 * 6.894757e-3, embedment=4 * 25.4) / 4.4482216)
    7449
    """
    psi, inches = strength / _PSI, embedment / 25.4
    return coefficient * math.sqrt(psi) * math.pow(inches, 1.5) * _POUND


def en_basic_breakout(*, coefficient: float, strength: float, embedment: float) -> float:
    """N0Rk,c (N) = k1 sqrt(fck) hef^1.5. EN 1992-4:2018, 7.2.1.4(2).

    >>> round(en_basic_breakout(coefficient=7.7, strength=20, embedment=60) / 1000, 2)
    16.0
    """
    return coefficient * math.sqrt(strength) * math.pow(embedment, 1.5)


def aci_breakout(
    group: AnchorGroup,
    concrete: Concrete,
    *,
    embedment: float,
    kind: AnchorKind = AnchorKind.POST_INSTALLED,
    category: AnchorCategory = AnchorCategory.THREE,
    coefficient: float | None = None,
    critical_edge: float | None = None,
    phi: float | None = None,
) -> Resistance:
    """Design breakout strength (N) of the anchors pulled, ACI 318-19, 17.6.2.

    phi (ANc / ANc0) psi_ec psi_ed psi_c psi_cp Nb. kc 17 post-installed, 24 cast-in; ``coefficient`` only from the
    product's approval. Uncracked concrete needs the product's ``critical_edge`` (mm) for post-installed anchors.
    ``phi`` in place of the table's for tension, where the cone is pried out.
    """
    cast = kind is AnchorKind.CAST_IN
    k = coefficient if coefficient is not None else (24 if cast else 17)
    phi = phi or (0.70 if cast else tension_phi(category))
    given, embedment = embedment, group.effective(embedment)
    crack, spread, missing = _aci_uncracked(group, concrete, embedment, cast=cast, critical_edge=critical_edge)
    basic = aci_basic_breakout(coefficient=k, strength=concrete.counted, embedment=embedment)
    factors = group_factors(group, 1.5 * embedment)
    value = phi * factors.product * crack * spread * basic
    return Resistance(
        value=None if missing else value,
        measure=Measure.FORCE,
        basis=Basis.LRFD,
        formula=(
            f"phi Ncbg = {num(phi)} x {factors} x {num(crack * spread)} x "
            f"{show(basic, Measure.FORCE)} (kc {num(k)}, hef {_hef(given, embedment)}) = {show(value, Measure.FORCE)}"
        ),
        sources=(aci_source("17.6.2"), aci_source("Table 17.5.3, phi")),
        missing=missing,
        caution=APPROVAL_GOVERNS,
    )


def en_breakout(
    group: AnchorGroup,
    concrete: Concrete,
    *,
    embedment: float,
    installation: float = 1.4,
    coefficient: float | None = None,
    sparse_reinforcement: bool = False,
) -> Resistance:
    """Design cone resistance (N) of the anchors pulled, EN 1992-4:2018, 7.2.1.4, from memory.

    N0 (A / A0) psi_s psi_re psi_ec / (1.5 x ``installation``). k1 7.7 cracked, 11.0 uncracked, post-installed;
    ``installation`` is the product's own factor, 1.4 the worst. Shell spalling 0.5 + hef / 200 applies unless the
    reinforcement is said to be ``sparse_reinforcement`` (bars 150 mm apart or more).
    """
    k = coefficient if coefficient is not None else (7.7 if concrete.cracked else 11.0)
    given, embedment = embedment, group.effective(embedment)
    basic = en_basic_breakout(coefficient=k, strength=concrete.strength, embedment=embedment)
    factors = group_factors(group, 1.5 * embedment)
    shell = 1.0 if sparse_reinforcement else shell_factor(embedment)
    partial = 1.5 * installation
    value = basic * factors.product * shell / partial
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=Basis.EUROCODE,
        formula=(
            f"NRd,c = {show(basic, Measure.FORCE)} (k1 {num(k)}, hef {_hef(given, embedment)}) x {factors} "
            f"x {num(shell)} / {num(partial)} = {show(value, Measure.FORCE)}"
        ),
        sources=(en_source("7.2.1.4"),),
        caution=APPROVAL_GOVERNS,
    )


def _hef(given: float, counted: float) -> str:
    return f"{num(given)} mm" if given == counted else f"{num(counted)} mm of {num(given)} mm, three edges near"


def shell_factor(embedment: float) -> float:
    """Shell spalling, 0.5 + hef / 200, at most 1. EN 1992-4:2018, 7.2.1.4(5), from memory."""
    return min(1.0, 0.5 + embedment / 200)


@cache
def aci_source(clause: str, certainty: Certainty = Certainty.SECONDARY) -> Source:
    """A clause of ACI 318-19, chapter 17, known from design guides that print it, or from memory."""
    return Source(document="ACI 318", edition="2019", clause=clause, certainty=certainty)


@cache
def en_source(clause: str) -> Source:
    """A clause of EN 1992-4:2018, from memory."""
    return Source(document="EN 1992-4", edition="2018", clause=clause, certainty=Certainty.MEMORY)


def _aci_uncracked(
    group: AnchorGroup, concrete: Concrete, embedment: float, *, cast: bool, critical_edge: float | None
) -> tuple[float, float, str]:
    """psi_c and psi_cp (17.6.2.5, 17.6.2.6), and what is missing to say them."""
    if concrete.cracked:
        return 1.0, 1.0, ""
    if cast:
        return 1.25, 1.0, ""
    if critical_edge is None:
        return 1.4, 1.0, "the product's critical edge distance in uncracked concrete"
    if group.least_edge >= critical_edge:
        return 1.4, 1.0, ""
    return 1.4, min(1.0, max(group.least_edge, 1.5 * embedment) / critical_edge), ""
