"""The fixings of one plate as a group in concrete: which of them are pulled, and what the cone and the bond hold."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from railgen.catalogue.models import Anchor
from railgen.checks.strength.anchors import INSTALLATION
from railgen.checks.strength.baseplate import PULL_MODEL, Plate, Pulls, pulls
from railgen.checks.strength.bond import Bond, aci_bond, en_bond
from railgen.checks.strength.concrete import AnchorCategory, AnchorGroup, Concrete, aci_breakout, en_breakout
from railgen.checks.strength.concrete_shear import PRY_PHI, pry_out
from railgen.checks.strength.footing import Footing
from railgen.checks.strength.result import Demand, Measure, Resistance, StrengthCheck, check, num, show, unverified
from railgen.checks.strength.supports import Edges

__all__ = ["Anchored", "bonded_bond", "group_pull", "pried_out"]

_UNIT = 1e6  # N mm: pulls grow with the moment, so one moment finds the worst direction
_TURNS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Anchored:
    """What anchors are set in, and how: ``depth`` is the effective one (mm); ``bond`` None: the cone is asked for."""

    american: bool
    concrete: Concrete
    depth: float
    category: int
    critical_edge: float | None
    bond: Bond | None


def bonded_bond(anchor: Anchor, *, cracked: bool, depth: float) -> Bond | str:
    """The bond of an anchor's approval, or what is missing of it."""
    used = anchor.bond_cracked if cracked else anchor.bond_uncracked
    if used is None or anchor.bond_uncracked is None:
        keys = "bond_cracked and bond_uncracked" if cracked else "bond_uncracked"
        return f"the characteristic bond strength, by the anchor's approval ({keys} of catalogue entry {anchor.id})"
    return Bond(used=used, uncracked=anchor.bond_uncracked, diameter=anchor.diameter, embedment=depth)


def group_pull(name: str, known: Anchored, foot: Footing, moment: Demand) -> StrengthCheck:
    """All pulls of the direction that uses the cone, or the bond, most, against it."""
    direction = _worst_direction(foot.plate, foot.edges, known)
    found = pulls(foot.plate, moment.value or 0.0, direction)
    if found is None:
        return unverified(name, "a hole pattern that can hold this plate in every direction")
    group = _pulled(foot.plate, found, foot.edges)
    total = found.compression
    text = (
        f"; tipping towards {num(math.degrees(direction))} degrees pulls {len(group.anchors)} fixings with "
        f"{show(total, Measure.FORCE)}"
    )
    demand = replace(
        moment,
        value=total,
        measure=Measure.FORCE,
        formula=moment.formula + text,
        sources=(*moment.sources, PULL_MODEL),
    )
    return check(name, demand, _able(group, known))


def pried_out(known: Anchored, foot: Footing) -> Resistance:
    """What all fixings of the plate, pushed as one, pry out: by the cone and, where ``known`` has one, the bond."""
    group = _in_concrete(foot.plate.fixings, foot.edges)
    cone = _able(group, replace(known, bond=None), phi=PRY_PHI)
    bond = None if known.bond is None else _able(group, known, phi=PRY_PHI)
    return pry_out(cone, bond, embedment=known.depth, american=known.american)


@lru_cache(maxsize=256)
def _worst_direction(plate: Plate, around: Edges, known: Anchored) -> float:
    """Direction (radians) in which the plate tips and its cone or bond is used most; cracked or not, it is the same."""
    known = replace(known, concrete=replace(known.concrete, cracked=True))
    worst = (-1.0, 0.0)
    for turn in range(_TURNS):
        direction = math.tau * turn / _TURNS
        found = pulls(plate, _UNIT, direction)
        if found is None:
            continue
        able = _able(_pulled(plate, found, around), known)
        if able.value:
            worst = max(worst, (round(found.compression / able.value, 9), -direction))
    return -worst[1]


def _pulled(plate: Plate, found: Pulls, around: Edges) -> AnchorGroup:
    """The pulled fixings in the concrete around them."""
    pulled = tuple(spot for spot, pull in zip(plate.fixings, found.tensions, strict=True) if pull > 1e-6)
    middle = [sum(axis) / len(pulled) for axis in zip(*pulled, strict=True)]
    at = found.resultant(plate)
    return replace(_in_concrete(pulled, around), eccentricity=(at[0] - middle[0], at[1] - middle[1]))


def _in_concrete(anchors: tuple[tuple[float, float], ...], around: Edges) -> AnchorGroup:
    """Anchors with the edges around them; x runs down the flight, towards the nosing."""
    return AnchorGroup(
        anchors=anchors,
        x_min=-around.back,
        x_max=around.front,
        y_min=-around.other_side,
        y_max=around.side,
    )


def _able(group: AnchorGroup, known: Anchored, *, phi: float | None = None) -> Resistance:
    """What the group holds, by its cone or, where ``known`` has one, by its bond; ``phi`` is of ACI only."""
    category, bond, cracked = AnchorCategory(known.category), known.bond, known.concrete.cracked
    installation = INSTALLATION[known.category]
    if bond is None:
        if known.american:
            return aci_breakout(
                group,
                known.concrete,
                embedment=known.depth,
                category=category,
                critical_edge=known.critical_edge,
                phi=phi,
            )
        return en_breakout(group, known.concrete, embedment=known.depth, installation=installation)
    if known.american:
        return aci_bond(group, bond, cracked=cracked, category=category, critical_edge=known.critical_edge, phi=phi)
    return en_bond(group, bond, installation=installation)
