"""Wood screws and lag screws pulled out of timber.

Two kinds of number exist and differ by 4.5 to 5.5 times: the ultimate withdrawal of tests (Wood Handbook), and the
allowable value of design (NDS). They are two types here: an :class:`UltimateWithdrawal` cannot be set against a load.
Allowable values stand against unfactored loads.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from railgen.checks.model import Certainty
from railgen.checks.strength.materials import BoltSteel
from railgen.checks.strength.result import Basis, DataFile, Measure, Resistance, Source, num, read_data, show
from railgen.fields import Table
from railgen.job.strength_model import LoadDuration

__all__ = [
    "FixingSize",
    "Grain",
    "Timber",
    "UltimateWithdrawal",
    "WoodFixing",
    "WoodFixingKind",
    "fixing_size",
    "fixing_tension",
    "handbook_withdrawal",
    "nds_unit_withdrawal",
    "nds_withdrawal",
]

_N_PER_MM = 4.4482216152605 / 25.4  # of one pound per inch


class WoodFixingKind(StrEnum):
    """Which rule of the NDS a screw follows."""

    LAG = "lag screw"
    WOOD_SCREW = "wood screw"


class Grain(StrEnum):
    """Which face of the timber the fixing enters."""

    SIDE = "side grain"
    END = "end grain"


_DURATION = {
    LoadDuration.PERMANENT: 0.9,
    LoadDuration.TEN_YEARS: 1.0,
    LoadDuration.TWO_MONTHS: 1.15,
    LoadDuration.SEVEN_DAYS: 1.25,
    LoadDuration.TEN_MINUTES: 1.6,
}  # factor on allowable values by how long the load stays (NDS 2018, Table 2.3.2, from memory)


@dataclass(frozen=True, slots=True, kw_only=True)
class Timber:
    """What the fixing goes into: specific gravity (oven dry; None where unknown), face, and whether it stays wet."""

    gravity: float | None
    grain: Grain = Grain.SIDE
    wet: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodFixing:
    """A screw in timber: ``diameter`` of shank or thread, ``root`` under the thread (None where unknown), mm."""

    kind: WoodFixingKind
    diameter: float
    root: float | None = None


class FixingSize(Table):
    """Shank and root diameter (mm) of a US size."""

    size: str
    shank: float
    root: float
    source: Source


class _FixingFile(DataFile):
    lag: tuple[FixingSize, ...]
    wood_screw: tuple[FixingSize, ...]


@cache
def _tables() -> _FixingFile:
    return read_data("fixings.toml", _FixingFile)


def fixing_size(kind: WoodFixingKind, size: str) -> WoodFixing:
    """A US size of lag or wood screw. Raises ValueError where the table has no such size.

    >>> fixing_size(WoodFixingKind.LAG, "3/8")
    WoodFixing(kind=<WoodFixingKind.LAG: 'lag screw'>, diameter=9.525, root=6.731)
    """
    rows = _tables().lag if kind is WoodFixingKind.LAG else _tables().wood_screw
    for row in rows:
        if row.size == size:
            return WoodFixing(kind=kind, diameter=row.shank, root=row.root)
    raise ValueError(f"no {kind} of size {size!r}; there are {', '.join(row.size for row in rows)}")


@dataclass(frozen=True, slots=True, kw_only=True)
class UltimateWithdrawal:
    """Force (N) at which tests pulled the fixing out. Not a design value."""

    newtons: float
    formula: str
    source: Source


def handbook_withdrawal(fixing: WoodFixing, *, gravity: float, length: float) -> UltimateWithdrawal:
    """Ultimate withdrawal (N) from side grain, ``length`` (mm) of thread in the timber.

    Lag: 125.4 G^1.5 D^0.75 L. Wood screw: 108.25 G^2 D L (constant from memory). Wood Handbook, chapter 8.

    >>> lag = WoodFixing(kind=WoodFixingKind.LAG, diameter=9.525)
    >>> round(handbook_withdrawal(lag, gravity=0.48, length=50.8).newtons)
    11486
    """
    if fixing.kind is WoodFixingKind.LAG:
        value = 125.4 * math.pow(gravity, 1.5) * math.pow(fixing.diameter, 0.75) * length
        text, sure = "125.4 G^1.5 D^0.75 L", Certainty.READ
    else:
        value = 108.25 * gravity**2 * fixing.diameter * length
        text, sure = "108.25 G^2 D L", Certainty.MEMORY
    clause = "fastenings, withdrawal resistance"
    origin = Source(document="Wood Handbook FPL-GTR-282", edition="2021", clause=f"chapter 8, {clause}", certainty=sure)
    numbers = f"G {num(gravity)}, D {num(fixing.diameter)} mm, L {num(length)} mm"
    return UltimateWithdrawal(
        newtons=value, formula=f"ultimate {text} ({numbers}) = {show(value, Measure.FORCE)}", source=origin
    )


def nds_unit_withdrawal(fixing: WoodFixing, *, gravity: float) -> float:
    """Reference withdrawal (N per mm of thread) from side grain: lag 1800 G^1.5 D^0.75, wood screw 2850 G^2 D lb/in.

    NDS 2018, 12.2.1 and 12.2.2, D in inches.

    >>> lag = WoodFixing(kind=WoodFixingKind.LAG, diameter=9.525)
    >>> round(nds_unit_withdrawal(lag, gravity=0.50) / 4.4482216 * 25.4)
    305
    """
    inches = fixing.diameter / 25.4
    if fixing.kind is WoodFixingKind.LAG:
        pounds = 1800 * math.pow(gravity, 1.5) * math.pow(inches, 0.75)
    else:
        pounds = 2850 * gravity**2 * inches
    return pounds * _N_PER_MM


def nds_withdrawal(
    fixing: WoodFixing, timber: Timber, *, thread: float, duration: LoadDuration = LoadDuration.TEN_YEARS
) -> Resistance:
    """Allowable withdrawal (N) of one fixing with ``thread`` (mm) in the bearing timber, tapered tip excluded.

    Unit value x thread x duration x wet service (0.7, from memory) x end grain (lag 0.75; a wood screw counts
    nothing in end grain). "Cannot say" where the specific gravity is unknown.
    """
    clause = "12.2.1, eq. 12.2-1" if fixing.kind is WoodFixingKind.LAG else "12.2.2, eq. 12.2-2"
    source = Source(document="NDS", edition="2018", clause=clause, certainty=Certainty.SECONDARY)
    sources: tuple[Source, ...] = (source,)
    if timber.gravity is None:
        return Resistance(
            value=None,
            measure=Measure.FORCE,
            basis=Basis.ASD,
            formula="specific gravity unknown",
            sources=sources,
            missing="the species or specific gravity of the timber",
        )
    factors = []
    if duration is not LoadDuration.TEN_YEARS:
        factors.append((_DURATION[duration], f"for {duration.replace('-', ' ')}"))
        sources += (Source(document="NDS", edition="2018", clause="Table 2.3.2", certainty=Certainty.MEMORY),)
    if timber.wet:
        factors.append((0.7, "wet in service"))
        sources += (Source(document="NDS", edition="2018", clause="Table 11.3.3", certainty=Certainty.MEMORY),)
    if timber.grain is Grain.END:
        factors.append((0.75 if fixing.kind is WoodFixingKind.LAG else 0.0, "end grain"))
    unit = nds_unit_withdrawal(fixing, gravity=timber.gravity)
    value = unit * thread * math.prod(factor for factor, _ in factors)
    tail = "".join(f" x {num(factor)} {why}" for factor, why in factors)
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=Basis.ASD,
        formula=f"G {num(timber.gravity)}: {num(unit)} N/mm x {num(thread)} mm{tail} = {show(value, Measure.FORCE)}",
        sources=sources,
        caution="allowable value, against the unfactored load",
    )


def fixing_tension(fixing: WoodFixing, steel: BoltSteel | None) -> Resistance:
    """Allowable tension (N) of the fixing's own steel, on its root and never on its shank: fu x pi/4 root^2 / 2.0."""
    clause = Source(document="AISC 360", edition="2016", clause="J3.6, on the net area", certainty=Certainty.MEMORY)
    if fixing.root is None or steel is None:
        lacking = " and ".join(
            text for text, gone in (("root diameter", fixing.root is None), ("steel strength", steel is None)) if gone
        )
        return Resistance(
            value=None,
            measure=Measure.FORCE,
            basis=Basis.ASD,
            formula="steel of the fixing",
            sources=(clause,),
            missing=f"the {lacking} of the {fixing.kind}",
        )
    value = steel.tensile * math.pi / 4 * fixing.root**2 / 2.0
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=Basis.ASD,
        formula=f"{num(steel.tensile)} MPa x pi/4 x ({num(fixing.root)} mm)^2 / 2 = {show(value, Measure.FORCE)}",
        sources=(steel.source, clause),
    )
