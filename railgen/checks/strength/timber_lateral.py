"""Screws in timber pushed sideways by a steel plate: the yield limits of the NDS, all from memory."""

from __future__ import annotations

import math
from dataclasses import dataclass

from railgen.checks.model import Certainty
from railgen.checks.strength.result import (
    STATICS,
    Basis,
    Demand,
    Measure,
    Resistance,
    Source,
    StrengthCheck,
    combined,
    num,
    show,
)
from railgen.checks.strength.timber import Timber, WoodFixing

__all__ = ["YieldInput", "nds_lateral", "withdrawal_and_lateral", "yield_limits"]

_PSI = 6.894757293168e-3  # MPa
_QUARTER = 6.35
_YIELD = Source(document="NDS", edition="2018", clause="12.3.1, Table 12.3.1A", certainty=Certainty.MEMORY)
_COMBINED = Source(document="NDS", edition="2018", clause="12.4.1", certainty=Certainty.MEMORY)


@dataclass(frozen=True, slots=True, kw_only=True)
class YieldInput:
    """Diameter and the lengths in main and side member (mm), their bearing and the fixing's bending strength (MPa)."""

    diameter: float
    main: float
    side: float
    main_bearing: float
    side_bearing: float
    bending: float


def yield_limits(given: YieldInput, reductions: tuple[float, float, float]) -> tuple[float, ...]:
    """The six yield limits (N) of a single-shear connection: Im, Is, II, IIIm, IIIs, IV.

    ``reductions``: Rd of modes I, of II, of III and IV. NDS 2018, Table 12.3.1A.

    >>> bolt = YieldInput(diameter=12.7, main=38.1, side=38.1, main_bearing=38.61, side_bearing=38.61, bending=310.3)
    >>> round(min(yield_limits(bolt, (4.0, 3.6, 3.2))) / 4.448)
    483
    """
    d, lm, ls, fem, fes, fyb = (
        given.diameter,
        given.main,
        given.side,
        given.main_bearing,
        given.side_bearing,
        given.bending,
    )
    one, two, three = reductions
    re, rt = fem / fes, lm / ls
    k1 = (math.sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)) / (1 + re)
    k2 = -1 + math.sqrt(2 * (1 + re) + 2 * fyb * (1 + 2 * re) * d**2 / (3 * fem * lm**2))
    k3 = -1 + math.sqrt(2 * (1 + re) / re + 2 * fyb * (2 + re) * d**2 / (3 * fem * ls**2))
    return (
        d * lm * fem / one,
        d * ls * fes / one,
        k1 * d * ls * fes / two,
        k2 * d * lm * fem / ((1 + 2 * re) * three),
        k3 * d * ls * fem / ((2 + re) * three),
        d**2 / three * math.sqrt(2 * fem * fyb / (3 * (1 + re))),
    )


def nds_lateral(
    fixing: WoodFixing,
    timber: Timber,
    *,
    embedded: float,
    plate: float,
    plate_tensile: float,
    bending: float = 310.0,
) -> Resistance:
    """Allowable sideways force (N) of one screw through a steel plate ``plate`` mm thick, load across the grain.

    On the root diameter; bearing of timber 6100 G^1.45 / sqrt D psi (16 600 G^1.84 below 1/4 in), of the plate 1.5 fu;
    ``bending``: yield strength of the screw, 310 MPa (45 ksi), the least of the table, where unknown.
    """
    if timber.gravity is None or fixing.root is None:
        return Resistance(
            value=None,
            measure=Measure.FORCE,
            basis=Basis.ASD,
            formula="yield limits",
            sources=(_YIELD,),
            missing="the specific gravity of the timber" if timber.gravity is None else "the root diameter",
        )
    inch, root = fixing.diameter / 25.4, fixing.root / 25.4
    slim = fixing.diameter < _QUARTER
    psi = 16_600 * math.pow(timber.gravity, 1.84) if slim else 6100 * math.pow(timber.gravity, 1.45) / math.sqrt(inch)
    soft = 2.2 if root <= 0.17 else 10 * root + 0.5
    across = 1.0 if slim else 1.25
    if fixing.root < _QUARTER:
        reductions = (soft * across, soft * across, soft * across)
    else:
        reductions = (4 * across, 3.6 * across, 3.2 * across)
    limits = yield_limits(
        YieldInput(
            diameter=fixing.root,
            main=embedded,
            side=plate,
            main_bearing=psi * _PSI,
            side_bearing=1.5 * plate_tensile,
            bending=bending,
        ),
        reductions,
    )
    value = min(limits)
    mode = ("Im", "Is", "II", "IIIm", "IIIs", "IV")[limits.index(value)]
    wet = 0.7 if timber.wet else 1.0
    tail = " x 0.7 wet in service" if timber.wet else ""
    return Resistance(
        value=value * wet,
        measure=Measure.FORCE,
        basis=Basis.ASD,
        formula=f"yield mode {mode}: Z = {num(value)} N{tail} = {show(value * wet, Measure.FORCE)}",
        sources=(_YIELD,),
    )


def withdrawal_and_lateral(
    name: str, *, tension: Demand, sideways: Demand, withdrawal: Resistance, lateral: Resistance
) -> StrengthCheck:
    """One screw pulled out and pushed sideways together: T/W + V/Z, the NDS 12.4.1 form written as a sum."""
    parts = (tension, withdrawal, sideways, lateral)
    bases = {part.basis for part in parts}
    if bases != {Basis.ASD}:
        raise ValueError(f"{name}: allowable values stand against unfactored loads, not {sorted(bases)}")
    used = None
    if tension.value is not None and sideways.value is not None and withdrawal.value and lateral.value:
        used = tension.value / withdrawal.value + sideways.value / lateral.value
    elif all(part.value is not None for part in parts):
        used = math.inf
    text = "; ".join(part.formula for part in parts) + ("" if used is None else f"; T/W + V/Z = {num(used)}")
    return combined(name, used, text, parts, _COMBINED, STATICS)
