"""Blind rivets and screws in the wall of a tube: the sheet gives before the fastener does, or the fastener is unknown.

AISI S100 for the US, EN 1993-1-3 for Europe; the shear of the fastener itself is its maker's value. AS/NZS 4600 follows
AISI with its own factor.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from railgen.checks.model import Certainty
from railgen.checks.strength.result import Measure, Resistance, Source, num, show
from railgen.checks.strength.systems import System
from railgen.job.strength_model import DesignSystem

__all__ = [
    "Sheet",
    "SheetFastener",
    "aisi_pull_out",
    "aisi_pull_over",
    "aisi_shear_nominal",
    "en_bearing_factor",
    "maker_shear",
    "pull_out",
    "sheet_shear",
]


class SheetFastener(StrEnum):
    """What joins the sheets."""

    RIVET = "blind rivet"
    SCREW = "screw"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A wall of ``thickness`` (mm) and tensile strength ``tensile`` (MPa)."""

    thickness: float
    tensile: float


def aisi_shear_nominal(near: Sheet, far: Sheet, diameter: float) -> float:
    """Nominal shear (N) of one screw: tilting 4.2 sqrt(t2^3 d) Fu2 and bearing 2.7 t d Fu; ``near`` is at the head.

    Tilting counts while t2 <= t1, fades out linearly to t2 = 2.5 t1. AISI S100, J4.3.1.

    >>> inch, ksi, pound = 25.4, 6.894757, 4.4482216
    >>> wall = Sheet(thickness=0.057 * inch, tensile=45 * ksi)
    >>> round(aisi_shear_nominal(wall, wall, 0.190 * inch) / pound)
    1121
    """
    tilting = 4.2 * math.sqrt(far.thickness**3 * diameter) * far.tensile
    bearing = 2.7 * diameter * min(near.thickness * near.tensile, far.thickness * far.tensile)
    ratio = far.thickness / near.thickness
    if ratio >= 2.5:
        return bearing
    tilted = min(tilting, bearing)
    return tilted if ratio <= 1 else tilted + (bearing - tilted) * (ratio - 1) / 1.5


def en_bearing_factor(fastener: SheetFastener, thickness: float, diameter: float) -> float:
    """Alpha of EN 1993-1-3:2006, Tables 8.1 and 8.2 for equal sheets, from memory: 3.6 or 3.2 sqrt(t/d), at most 2.1.

    >>> round(en_bearing_factor(SheetFastener.RIVET, 1.5, 4.8), 3)
    2.012
    """
    return min(2.1, (3.6 if fastener is SheetFastener.RIVET else 3.2) * math.sqrt(thickness / diameter))


def sheet_shear(fastener: SheetFastener, near: Sheet, far: Sheet, diameter: float, system: System) -> Resistance:
    """Shear (N) that the sheets let one fastener take. EN: alpha fu d t / 1.25 on the thinner sheet."""
    if system.id is DesignSystem.EUROCODE:
        thin = min((near, far), key=lambda sheet: sheet.thickness * sheet.tensile)
        alpha = en_bearing_factor(fastener, min(near.thickness, far.thickness), diameter)
        nominal = alpha * thin.tensile * diameter * thin.thickness
        text = f"{num(alpha)} x {num(thin.tensile)} MPa x {num(diameter)} mm x {num(thin.thickness)} mm"
        clause = _en("Table 8.1" if fastener is SheetFastener.RIVET else "Table 8.2")
    else:
        nominal = aisi_shear_nominal(near, far, diameter)
        text = f"min(4.2 sqrt(t2^3 d) Fu2, 2.7 t d Fu) = {show(nominal, Measure.FORCE)}"
        clause = _aisi(system, "J4.3.1")
    return _force(f"Fb = {text}", nominal, system, clause)


def pull_out(fastener: SheetFastener, wall: Sheet, diameter: float, system: System, *, pitch: float) -> Resistance:
    """Pull-out (N) of a screw threaded into ``wall``: AISI 0.85 t d Fu, EN 0.65 t d fu (0.45 where t < thread pitch).

    A rivet is not threaded: "cannot say" without its maker's value.
    """
    nominal = aisi_pull_out(wall, diameter)
    factor, clause = 0.85, _aisi(system, "J4.4.1")
    if system.id is DesignSystem.EUROCODE:
        factor, clause = (0.65 if wall.thickness >= pitch else 0.45), _en("Table 8.2, pull-out")
        nominal = factor * wall.thickness * diameter * wall.tensile
    if fastener is SheetFastener.RIVET:
        return Resistance(
            value=None,
            measure=Measure.FORCE,
            basis=system.basis,
            formula="rivet in tension",
            sources=(clause,),
            missing="the tension the rivet's maker allows",
        )
    text = f"{num(factor)} x {num(wall.thickness)} mm x {num(diameter)} mm x {num(wall.tensile)} MPa"
    return _force(f"pull-out {text}", nominal, system, clause)


def aisi_pull_out(wall: Sheet, diameter: float) -> float:
    """Nominal pull-out (N): 0.85 t d Fu. AISI S100, J4.4.1."""
    return 0.85 * wall.thickness * diameter * wall.tensile


def aisi_pull_over(wall: Sheet, head: float) -> float:
    """Nominal pull-over (N): 1.5 t dw Fu, dw at most 1/2 in. AISI S100, J4.4.2."""
    return 1.5 * wall.thickness * min(head, 12.7) * wall.tensile


def maker_shear(fastener: SheetFastener, value: float | None, system: System, *, document: str = "") -> Resistance:
    """Shear (N) of the fastener itself: its maker's characteristic value, factored; "cannot say" without one."""
    source = Source(document=document or f"maker of the {fastener}", certainty=Certainty.JOB)
    if value is None:
        return Resistance(
            value=None,
            measure=Measure.FORCE,
            basis=system.basis,
            formula=f"shear of the {fastener}",
            sources=(source,),
            missing=f"the shear strength the {fastener}'s maker states",
        )
    return _force(f"stated shear {num(value)} N", value, system, source)


def _force(text: str, nominal: float, system: System, clause: Source) -> Resistance:
    value = nominal * system.sheet.value
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=system.basis,
        formula=f"{text} {system.sheet} = {show(value, Measure.FORCE)}",
        sources=(clause, system.sheet.source),
    )


@cache
def _en(clause: str) -> Source:
    return Source(document="EN 1993-1-3", edition="2006", clause=clause, certainty=Certainty.MEMORY)


def _aisi(system: System, clause: str) -> Source:
    note = "taken for AS/NZS 4600 too, from memory" if system.id is DesignSystem.AS_NZS else ""
    sure = Certainty.MEMORY if system.id is DesignSystem.AS_NZS else Certainty.SECONDARY
    return Source(document="AISI S100", clause=clause, certainty=sure, note=note)
