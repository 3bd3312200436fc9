"""Bending together with torsion, at elbows; and the principal stresses of the two at one point."""

from __future__ import annotations

import math
from dataclasses import dataclass

from railgen.checks.model import Certainty
from railgen.checks.strength.materials import Steel
from railgen.checks.strength.members import bending, torsion
from railgen.checks.strength.result import Demand, Source, StrengthCheck, check, combined, num
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.systems import System
from railgen.job.strength_model import DesignSystem

__all__ = ["Principal", "bending_torsion", "principal_stresses"]

_ELASTIC = Source(document="EN 1993-1-1", edition="2005", clause="6.2.1(5), eq. 6.1", certainty=Certainty.MEMORY)
_AISC_H3 = Source(document="AISC 360", edition="2016", clause="H3.2, eq. H3-6", certainty=Certainty.MEMORY)


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
    able, twist = bending(tube, steel, system), torsion(tube, steel, system)
    if steel is None or able.value is None or twist.value is None or moment.value is None:
        return check(name, moment, able)
    if system.id in (DesignSystem.LRFD, DesignSystem.ASD):
        bent, twisted = moment.value / able.value, abs(torque) / twist.value
        used, clause = bent + twisted**2, _AISC_H3
        text = f"{num(bent)} + {num(twisted)}^2 = {num(used)}"
    else:
        part, limit = system.design(tube), steel.proof * system.strength.value
        normal, skew = moment.value / part.elastic, torque / part.torsion
        used, clause = math.sqrt(normal**2 + 3 * skew**2) / limit, _ELASTIC
        text = f"sqrt({num(normal)}^2 + 3 x {num(abs(skew))}^2) MPa / {num(limit)} MPa = {num(used)}"
    return combined(name, used, f"{moment.formula}; {text}", (moment,), system.strength.source, steel.source, clause)
