"""Stainless bolts: through a tread, into steel, or holding a plate from below."""

from __future__ import annotations

import math

from railgen.checks.model import Certainty
from railgen.checks.strength.materials import BoltSteel
from railgen.checks.strength.result import Demand, Measure, Resistance, Source, StrengthCheck, combined, num, show
from railgen.checks.strength.systems import System
from railgen.job.strength_model import DesignSystem

__all__ = ["bolt_pull_and_push", "bolt_shear", "bolt_tension", "stress_area"]

_EN_BOLTS = Source(document="EN 1993-1-8", edition="2005", clause="Table 3.4", certainty=Certainty.MEMORY)
_AISC_BOLTS = Source(document="AISC 360", edition="2016", clause="J3.6, Table J3.2", certainty=Certainty.MEMORY)


def stress_area(diameter: float, pitch: float) -> float:
    """Stress area (mm2) of an ISO metric thread: pi/4 (d - 0.9382 p)^2. ISO 898-1, from memory.

    >>> round(stress_area(8, 1.25), 1), round(stress_area(10, 1.5), 1)
    (36.6, 58.0)
    """
    return math.pi / 4 * (diameter - 0.9382 * pitch) ** 2


def bolt_tension(steel: BoltSteel, system: System, *, diameter: float, pitch: float) -> Resistance:
    """Tension (N) one bolt can bear: EN and AS/NZS 0.9 fub As, AISC fub As (0.75 Fu Ab); factored for rupture."""
    factor = 1.0 if system.id in (DesignSystem.LRFD, DesignSystem.ASD) else 0.9
    return _bolt("FtRd", factor, steel, system, stress_area(diameter, pitch))


def bolt_shear(steel: BoltSteel, system: System, *, diameter: float, pitch: float) -> Resistance:
    """Shear (N) of one bolt across its thread: 0.5 fub As, factored for rupture.

    EN 1993-1-8 0.5 or 0.6 by class; AISC 0.45 Fu Ab, about 0.6 Fu As: the lower is taken for all.
    """
    return _bolt("FvRd", 0.5, steel, system, stress_area(diameter, pitch))


def bolt_pull_and_push(name: str, *, pull: StrengthCheck, push: Demand, shear: Resistance) -> StrengthCheck:
    """Tension and shear together: V/VRd + T/(1.4 TRd) at most 1, and T/TRd at most 1. EN 1993-1-8, Table 3.4."""
    t = pull.utilisation
    v = None if push.value is None or not shear.value else push.value / shear.value
    if push.basis is not shear.basis:
        raise ValueError(f"{name}: demand is {push.basis}, resistance {shear.basis}")
    used = None if t is None or v is None else max(t, v + t / 1.4)
    text = f"{pull.formula}; {push.formula}; {shear.formula}" + ("" if used is None else f"; {num(used)}")
    return combined(name, used, text, (pull, push, shear), _EN_BOLTS)


def _bolt(symbol: str, factor: float, steel: BoltSteel, system: System, area: float) -> Resistance:
    clause = _AISC_BOLTS if system.id in (DesignSystem.LRFD, DesignSystem.ASD) else _EN_BOLTS
    value = factor * steel.tensile * area * system.rupture.value
    text = f"{num(factor)} x {num(steel.tensile)} MPa x {num(area)} mm2 {system.rupture}"
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=system.basis,
        formula=f"{symbol} = {text} = {show(value, Measure.FORCE)}",
        sources=(steel.source, clause, system.rupture.source),
    )
