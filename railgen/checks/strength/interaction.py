"""Bending together with torsion, shear or compression: elbows, eccentric saddles, posts under vertical load."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from railgen.checks.model import Certainty
from railgen.checks.strength.materials import Steel
from railgen.checks.strength.members import bending, compression, shear, torsion
from railgen.checks.strength.result import STATICS, Demand, Measure, Source, StrengthCheck, check, num
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.systems import System, SystemId

__all__ = ["Principal", "bending_axial", "bending_shear", "bending_torsion", "principal_stresses"]

_ELASTIC = Source(document="EN 1993-1-1", edition="2005", clause="6.2.1(5), eq. 6.1", certainty=Certainty.MEMORY)
_AISC_H3 = Source(document="AISC 360", edition="2016", clause="H3.2, eq. H3-6", certainty=Certainty.MEMORY)
_LINEAR = Source(document="EN 1993-1-1", edition="2005", clause="6.2.1(7), eq. 6.2", certainty=Certainty.MEMORY)
_HALF_SHEAR = Source(document="EN 1993-1-1", edition="2005", clause="6.2.8", certainty=Certainty.MEMORY)


@dataclass(frozen=True, slots=True)
class Principal:
    """Stresses (MPa) at one point: largest and smallest principal stress, largest shear stress."""

    largest: float
    smallest: float
    shear: float


def principal_stresses(*, normal: float, shear: float) -> Principal:
    """Principal stresses of one normal and one shear stress, MPa: s/2 +- sqrt((s/2)^2 + t^2).

    >>> principal_stresses(normal=6.0, shear=4.0)
    Principal(largest=8.0, smallest=-2.0, shear=5.0)
    """
    radius = math.hypot(normal / 2, shear)
    return Principal(normal / 2 + radius, normal / 2 - radius, radius)


def bending_torsion(
    name: str, tube: Tube, steel: Steel | None, system: System, *, moment: Demand, torque: float
) -> StrengthCheck:
    """A tube bent by ``moment`` and twisted by ``torque`` (N mm, same basis) at one section.

    EN and AS/NZS: elastic, sqrt((M/Wel)^2 + 3 (T/Wt)^2) against the factored yield strength. AISC 360 H3-6:
    M/Mc + (T/Tc)^2.
    """
    sources = (*moment.sources, system.strength.source)
    able, twist = bending(tube, steel, system), torsion(tube, steel, system)
    if steel is None or able.value is None or twist.value is None or moment.value is None:
        return check(name, moment, able)
    if system.id in (SystemId.LRFD, SystemId.ASD):
        bent, twisted = moment.value / able.value, abs(torque) / twist.value
        used, clause = bent + twisted**2, _AISC_H3
        text = f"{num(bent)} + {num(twisted)}^2 = {num(used)}"
    else:
        part, limit = system.design(tube), steel.proof * system.strength.value
        normal, skew = moment.value / part.elastic, torque / part.torsion
        used, clause = math.sqrt(normal**2 + 3 * skew**2) / limit, _ELASTIC
        text = f"sqrt({num(normal)}^2 + 3 x {num(abs(skew))}^2) MPa / {num(limit)} MPa = {num(used)}"
    return StrengthCheck(
        name=name,
        demand=used,
        capacity=1.0,
        measure=Measure.RATIO,
        case=moment.case,
        formula=f"{moment.formula}; {text}",
        sources=(*sources, steel.source, clause),
        missing=moment.missing,
    )


def bending_shear(
    name: str, tube: Tube, steel: Steel | None, system: System, *, moment: Demand, force: Demand
) -> StrengthCheck:
    """A tube bent by ``moment`` where it also takes the shear ``force``: above half the shear resistance bending loses.

    (1 - (2 V/VRd - 1)^2) MRd. EN 1993-1-1:2005, 6.2.8, used for every system.
    """
    able, across = bending(tube, steel, system), shear(tube, steel, system)
    if force.value is None or across.value is None or able.value is None:
        return check(name, moment, replace(able, missing="; ".join(t for t in (able.missing, force.missing) if t)))
    used = force.value / across.value
    if used <= 0.5:
        return check(name, moment, able)
    left = max(0.0, 1 - (2 * used - 1) ** 2) if used < 1 else 0.0
    reduced = replace(
        able,
        value=able.value * left,
        formula=f"{able.formula}, x {num(left)} for shear {num(used)}",
        sources=(*able.sources, _HALF_SHEAR),
    )
    return check(name, moment, reduced)


def bending_axial(
    name: str, tube: Tube, steel: Steel | None, system: System, *, moment: Demand, axial: Demand, length: float
) -> StrengthCheck:
    """A post bent by ``moment`` and pressed by ``axial`` (N): N/Nb + M/M, ``length`` the buckling length (mm)."""
    bent = check(name, moment, bending(tube, steel, system))
    pressed = check(name, axial, compression(tube, steel, system, length=length))
    missing = "; ".join(text for text in (bent.missing, pressed.missing) if text)
    both = None if bent.utilisation is None or pressed.utilisation is None else bent.utilisation + pressed.utilisation
    return StrengthCheck(
        name=name,
        demand=both,
        capacity=1.0,
        measure=Measure.RATIO,
        case=moment.case,
        formula=f"{bent.formula}; {pressed.formula}" + ("" if both is None else f"; together {num(both)}"),
        sources=(*bent.sources, *pressed.sources, _LINEAR, STATICS),
        missing=missing,
    )
