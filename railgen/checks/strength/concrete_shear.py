"""Anchors in concrete pushed towards an edge or prying it out, and pull and push together: ACI 318-19, EN 1992-4."""

from __future__ import annotations

import math
from dataclasses import dataclass

from railgen.checks.model import Certainty
from railgen.checks.strength.concrete import APPROVAL_GOVERNS, AnchorCategory, Concrete, aci_source, en_source
from railgen.checks.strength.result import Basis, Measure, Resistance, StrengthCheck, combined, num, show

__all__ = [
    "PRY_PHI",
    "EdgeRow",
    "aci_basic_edge",
    "aci_edge_breakout",
    "en_edge_breakout",
    "pry_out",
    "pull_and_push",
    "steel_pull_and_push",
]

PRY_PHI = 0.70
"""phi of pry-out, whatever the anchor's category. ACI 318-19, Table 17.5.3."""

_PSI = 6.894757293168e-3
_POUND = 4.4482216152605


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeRow:
    """The row of anchors nearest to the edge it is pushed towards, mm.

    ``edge``: distance to that edge; ``width``: first to last anchor along it; ``side_a``, ``side_b``: from the outer
    anchors to the edges beside, infinite where there is none; ``slab``: thickness of the concrete.
    """

    edge: float
    width: float
    slab: float
    side_a: float = math.inf
    side_b: float = math.inf
    eccentricity: float = 0.0

    @property
    def area_ratio(self) -> float:
        """AVc / AVc0: (c + width + c)(min(1.5 c1, slab)) over 4.5 c1^2, the sides at most 1.5 c1."""
        reach = 1.5 * self.edge
        across = min(reach, self.side_a) + self.width + min(reach, self.side_b)
        return across * min(reach, self.slab) / (4.5 * self.edge**2)

    @property
    def side_factor(self) -> float:
        return min(1.0, 0.7 + 0.3 * min(self.side_a, self.side_b) / (1.5 * self.edge))

    @property
    def slab_factor(self) -> float:
        return max(1.0, math.sqrt(1.5 * self.edge / self.slab))

    @property
    def off_factor(self) -> float:
        return 1 / (1 + self.eccentricity / (1.5 * self.edge))


def aci_basic_edge(*, strength: float, edge: float, diameter: float, embedment: float) -> float:
    """Vb (N): the lesser of 7 (le/da)^0.2 sqrt(da) and 9, times sqrt(f'c) ca1^1.5. ACI 318-19, 17.7.2.2.

    ``strength`` in MPa, lengths in mm; le = hef, at most 8 da.
    """
    psi, c, d, h = strength / _PSI, edge / 25.4, diameter / 25.4, embedment / 25.4
    lever = 7 * math.pow(min(h, 8 * d) / d, 0.2) * math.sqrt(d)
    return min(lever, 9.0) * math.sqrt(psi) * math.pow(c, 1.5) * _POUND


def aci_edge_breakout(
    row: EdgeRow, concrete: Concrete, *, diameter: float, embedment: float, category: AnchorCategory
) -> Resistance:
    """Design breakout (N) of a row pushed towards its edge, cracked, no edge bars: phi Vcbg, ACI 318-19, 17.7.2.

    ``diameter``: outside diameter of the anchor, of its sleeve where it has one, never of its hole. The table's phi of
    0.70 is lowered for the lesser categories, as for pulls.
    """
    basic = aci_basic_edge(strength=concrete.counted, edge=row.edge, diameter=diameter, embedment=embedment)
    phi = {1: 0.70, 2: 0.60, 3: 0.50}[category]
    value = phi * row.area_ratio * row.off_factor * row.side_factor * row.slab_factor * basic
    factors = f"{num(row.area_ratio)} x {num(row.off_factor)} x {num(row.side_factor)} x {num(row.slab_factor)}"
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=Basis.LRFD,
        formula=f"phi Vcbg = {num(phi)} x {factors} x {show(basic, Measure.FORCE)} = {show(value, Measure.FORCE)}",
        sources=(aci_source("17.7.2"), aci_source("Table 17.5.3, phi", Certainty.MEMORY)),
        caution=APPROVAL_GOVERNS,
    )


def en_edge_breakout(
    row: EdgeRow, concrete: Concrete, *, diameter: float, embedment: float, installation: float = 1.4
) -> Resistance:
    """Design edge resistance (N), EN 1992-4:2018, 7.2.2.5, from memory.

    k9 d^alpha lf^beta sqrt(fck) c1^1.5 and the factors of the row; k9 1.7 cracked, 2.4 uncracked; alpha
    0.1 sqrt(lf/c1), beta 0.1 (d/c1)^0.2; lf = hef, at most 12 d.
    """
    lever = min(embedment, 12 * diameter)
    alpha = 0.1 * math.sqrt(lever / row.edge)
    beta = 0.1 * math.pow(diameter / row.edge, 0.2)
    k = 1.7 if concrete.cracked else 2.4
    reach = math.pow(diameter, alpha) * math.pow(lever, beta)
    basic = k * reach * math.sqrt(concrete.strength) * math.pow(row.edge, 1.5)
    partial = 1.5 * installation
    factors = row.area_ratio * row.side_factor * row.slab_factor * row.off_factor
    value = basic * factors / partial
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=Basis.EUROCODE,
        formula=f"VRd,c = {num(basic)} N x {num(factors)} / {num(partial)} = {show(value, Measure.FORCE)}",
        sources=(en_source("7.2.2.5"),),
        caution=APPROVAL_GOVERNS,
    )


def pry_out(cone: Resistance, bond: Resistance | None, *, embedment: float, american: bool) -> Resistance:
    """Design strength (N) against anchors that are pushed and pry the concrete out behind them.

    k times what all of them hold when pulled, of ``cone`` and ``bond`` the lesser (both with the factors of a push);
    k 1 below an effective depth of 65 mm, 2 from there. ACI 318-19, 17.7.3 (2.5 in); EN 1992-4:2018, 7.2.2.4.
    """
    parts = [part for part in (cone, bond) if part is not None]
    missing = "; ".join(dict.fromkeys(part.missing for part in parts if part.missing))
    least = min(parts, key=lambda part: math.inf if part.value is None else part.value)
    k = 1 if embedment < 65 else 2
    value = None if missing or least.value is None else k * least.value
    told = "" if value is None else f" = {show(value, Measure.FORCE)}"
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=cone.basis,
        formula=f"k {k} x ({least.formula}){told}",
        sources=(*least.sources, aci_source("17.7.3") if american else en_source("7.2.2.4")),
        missing=missing,
        caution=APPROVAL_GOVERNS,
    )


def pull_and_push(name: str, *, pull: StrengthCheck, push: StrengthCheck) -> StrengthCheck:
    """Tension and shear on concrete together: N + V at most 1.2, and each at most 1.

    ACI 318-19, 17.8.3; EN 1992-4:2018, Table 7.3 allows the same sum (from memory). At most 0.2 counts as nothing.
    """
    n, v = pull.utilisation, push.utilisation
    used, text = None, "N and V"
    if n is not None and v is not None:
        used = max(n, v) if min(n, v) <= 0.2 else max(n, v, (n + v) / 1.2)
        text = f"N {num(n)}, V {num(v)}: {num(used)}"
    return combined(name, used, text, (pull, push), aci_source("17.8"), caution=APPROVAL_GOVERNS)


def steel_pull_and_push(name: str, *, pull: StrengthCheck, push: StrengthCheck) -> StrengthCheck:
    """Tension and shear on one anchor's steel: sqrt(N^2 + V^2) at most 1. EN 1992-4:2018, 7.2.3.1, from memory."""
    n, v = pull.utilisation, push.utilisation
    used, text = None, "N and V"
    if n is not None and v is not None:
        used = math.hypot(n, v)
        text = f"steel: N {num(n)}, V {num(v)}: {num(used)}"
    return combined(name, used, text, (pull, push), en_source("7.2.3.1"), caution=APPROVAL_GOVERNS)
