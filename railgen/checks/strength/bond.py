"""Bonded anchors: the bond of a group pulled out of its holes, with neighbours, edges and eccentric pull.

ACI 318-19, 17.6.5, and EN 1992-4, 7.2.1.6. Bond strengths are those of the product's approval, for its drilling,
cleaning and temperature: 5 % fractiles.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from railgen.checks.strength.concrete import (
    APPROVAL_GOVERNS,
    AnchorCategory,
    AnchorGroup,
    aci_source,
    en_source,
    group_factors,
    shell_factor,
    tension_phi,
)
from railgen.checks.strength.result import Basis, Measure, Resistance, num, show

__all__ = ["Bond", "aci_bond", "aci_bond_reach", "basic_bond", "en_bond", "en_bond_reach"]

_PSI = 6.894757293168e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Bond:
    """Characteristic bond strength (MPa): ``used`` where the anchor is, ``uncracked`` for how far it reaches.

    ``diameter`` of the rod and ``embedment`` in mm.
    """

    used: float
    uncracked: float
    diameter: float
    embedment: float


def basic_bond(bond: Bond) -> float:
    """Nba (N) of a lone rod: tau pi da hef. ACI 318-19, 17.6.5.2; EN 1992-4:2018, 7.2.1.6(2).

    >>> round(basic_bond(Bond(used=8.5, uncracked=14, diameter=10, embedment=104)) / 1000, 2)
    27.77
    """
    return bond.used * math.pi * bond.diameter * bond.embedment


def aci_bond_reach(bond: Bond) -> float:
    """Reach cNa (mm) = 10 da sqrt(tau_uncr / 1100 psi). ACI 318-19, 17.6.5.1.2."""
    return 10 * bond.diameter * math.sqrt(bond.uncracked / (1100 * _PSI))


def en_bond_reach(bond: Bond) -> float:
    """Reach ccr,Np (mm): half of 7.3 d sqrt(tau_uncr), at most half of 3 hef. EN 1992-4:2018, 7.2.1.6(3), from memory.

    psi_sus is 1: people leaning on a rail are no lasting load.
    """
    return min(7.3 * bond.diameter * math.sqrt(bond.uncracked), 3 * bond.embedment) / 2


def aci_bond(
    group: AnchorGroup,
    bond: Bond,
    *,
    cracked: bool = True,
    category: AnchorCategory = AnchorCategory.THREE,
    critical_edge: float | None = None,
    phi: float | None = None,
) -> Resistance:
    """Design bond strength (N) of the rods pulled: phi (ANa / ANa0) psi_ec psi_ed psi_cp Nba, ACI 318-19, 17.6.5.

    Uncracked concrete needs the product's ``critical_edge`` (mm). ``phi`` in place of the table's for tension.
    """
    phi = phi or tension_phi(category)
    reach = aci_bond_reach(bond)
    factors, basic = group_factors(group, reach), basic_bond(bond)
    spread, missing = 1.0, ""
    if not cracked and critical_edge is None:
        missing = "the product's critical edge distance in uncracked concrete"
    elif not cracked and critical_edge is not None and group.least_edge < critical_edge:
        spread = min(1.0, max(group.least_edge, reach) / critical_edge)
    value = phi * factors.product * spread * basic
    return Resistance(
        value=None if missing else value,
        measure=Measure.FORCE,
        basis=Basis.LRFD,
        formula=(
            f"phi Nag = {num(phi)} x {factors} x {num(spread)} x {show(basic, Measure.FORCE)} (tau {num(bond.used)} "
            f"MPa, cNa {num(reach)} mm) = {show(value, Measure.FORCE)}"
        ),
        sources=(aci_source("17.6.5"), aci_source("Table 17.5.3, phi")),
        missing=missing,
        caution=APPROVAL_GOVERNS,
    )


def en_bond(
    group: AnchorGroup, bond: Bond, *, installation: float = 1.4, sparse_reinforcement: bool = False
) -> Resistance:
    """Design resistance (N) to pull-out with a cone, EN 1992-4:2018, 7.2.1.6, from memory.

    N0Rk,p (Ap / Ap0) psi_ec psi_s psi_re / (1.5 x ``installation``); psi_g, never below 1, is taken as 1.
    """
    reach = en_bond_reach(bond)
    factors, basic = group_factors(group, reach), basic_bond(bond)
    shell = 1.0 if sparse_reinforcement else shell_factor(bond.embedment)
    partial = 1.5 * installation
    value = basic * factors.product * shell / partial
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=Basis.EUROCODE,
        formula=(
            f"NRd,p = {show(basic, Measure.FORCE)} (tau {num(bond.used)} MPa, ccr {num(reach)} mm) x {factors} x "
            f"{num(shell)} / {num(partial)} = {show(value, Measure.FORCE)}"
        ),
        sources=(en_source("7.2.1.6"),),
        caution=APPROVAL_GOVERNS,
    )
