"""Tubes in bending, shear, torsion and compression, each after its own standard.

Every function returns a :class:`Resistance` in the basis of the system it was given; the tube is counted with that
system's design wall. A section too slender for the clause gives "cannot say", never a number.
"""

from __future__ import annotations

import math

from railgen.checks.model import Certainty
from railgen.checks.strength.materials import Steel
from railgen.checks.strength.result import Measure, Resistance, Source, num, show
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.systems import System
from railgen.job.strength_model import DesignSystem

__all__ = ["bending", "compression", "en_class", "en_epsilon", "shear", "torsion"]

_EN_SLENDER = "EN 1993-1-4"
_EN_CLASS_1 = Source(document=_EN_SLENDER, edition="2006", clause="Table 5.2, class 1", certainty=Certainty.READ)
_EN_CLASS_2_3 = Source(
    document=_EN_SLENDER, edition="2006", clause="Table 5.2, classes 2 and 3", certainty=Certainty.MEMORY
)
_AISC_F8 = Source(document="AISC 360", edition="2016", clause="Table B4.1b and F8", certainty=Certainty.MEMORY)
_AS_NZS_TUBE = Source(
    document="AS/NZS 4673", edition="2001", clause="cylindrical tube in bending", certainty=Certainty.MEMORY
)
_MISES = Source(
    document="EN 1993-1-1",
    edition="2005",
    clause="6.2.6 and 6.2.7: shear yield fy / sqrt 3",
    certainty=Certainty.MEMORY,
)
_BUCKLING = Source(
    document=_EN_SLENDER,
    edition="2006",
    clause="5.4.2, Table 5.3, hollow sections: 0.49 and 0.40",
    certainty=Certainty.SECONDARY,
    note="reproduces the buckling curve of the design manual's example",
)


def en_epsilon(proof: float, modulus: float) -> float:
    """sqrt((235 / fy)(E / 210 000)). EN 1993-1-4:2006, Table 5.2.

    >>> round(en_epsilon(220, 200_000), 2)
    1.01
    """
    return math.sqrt(235 / proof * modulus / 210_000)


def en_class(tube: Tube, proof: float, modulus: float) -> int:
    """Section class of a tube in bending: d/t up to 50, 70, 280 epsilon^2 is class 1, 2, 3; more is class 4.

    EN 1993-1-4:2006, Table 5.2 (50: read; 70 and 280: from memory).

    >>> en_class(Tube(od=159, wall=4), 220, 200_000)
    1
    """
    square = en_epsilon(proof, modulus) ** 2
    limits = (50 * square, 70 * square, 280 * square)
    return 1 + sum(tube.slenderness > limit for limit in limits)


def bending(tube: Tube, steel: Steel | None, system: System) -> Resistance:
    """Moment (N mm) the tube can bear, plastic where its class allows, else elastic; "cannot say" beyond.

    EN 1993-1-4: Wpl fy / 1.1 in class 1 and 2, Wel fy / 1.1 in class 3. AISC 360 F8: Z Fy where D/t <= 0.07 E/Fy,
    (0.021 E / (D/t) + Fy) S to 0.31 E/Fy. AS/NZS 4673: Wel fy where D/t <= 0.112 E/fy.

    >>> from railgen.checks.strength.materials import steel
    >>> from railgen.job.strength_model import TubeStandard
    >>> from railgen.checks.strength.systems import system
    >>> able = bending(Tube(od=48.3, wall=2.0), steel("1.4301", TubeStandard.COLD_STRIP), system(DesignSystem.EUROCODE))
    >>> able.formula
    'class 1: MRd = 4.29 cm3 x 230 MPa / 1.1 = 0.897 kNm'
    """
    if steel is None:
        return _no_steel(Measure.MOMENT, system)
    part = system.design(tube)
    ratio = system.modulus / steel.proof
    if system.id is DesignSystem.EUROCODE:
        kind = en_class(part, steel.proof, system.modulus)
        modulus = (part.plastic, part.plastic, part.elastic, None)[kind - 1]
        return _moment(f"class {kind}", modulus, steel, system, _EN_CLASS_1 if kind == 1 else _EN_CLASS_2_3)
    if system.id is DesignSystem.AS_NZS:
        within = part.slenderness <= 0.112 * ratio
        return _moment("elastic", part.elastic if within else None, steel, system, _AS_NZS_TUBE)
    if part.slenderness <= 0.07 * ratio:
        return _moment("compact", part.plastic, steel, system, _AISC_F8)
    if part.slenderness <= 0.31 * ratio:
        modulus = min(part.plastic, part.elastic * (0.021 * ratio / part.slenderness + 1))
        return _moment("non-compact", modulus, steel, system, _AISC_F8)
    return _moment("slender", None, steel, system, _AISC_F8)


def shear(tube: Tube, steel: Steel | None, system: System) -> Resistance:
    """Shear force (N) the tube can bear: (2 A / pi) fy / sqrt 3, factored; for AISC the same as 0.577 Fy x 0.637 A.

    AISC 360 G5 allows 0.6 Fy A / 2, less than 0.637 A x 0.577 Fy: the smaller is taken. Local buckling in shear does
    not govern for tubes within the class limits of bending.
    """
    if steel is None:
        return _no_steel(Measure.FORCE, system)
    part = system.design(tube)
    if system.id in (DesignSystem.LRFD, DesignSystem.ASD):
        nominal, text = 0.3 * steel.proof * part.area, f"0.6 x {num(steel.proof)} MPa x {num(part.area)} mm2 / 2"
        clause = Source(document="AISC 360", edition="2016", clause="G5", certainty=Certainty.MEMORY)
    else:
        nominal = part.shear_area * steel.proof / math.sqrt(3)
        text, clause = f"{num(part.shear_area)} mm2 x {num(steel.proof)} MPa / sqrt 3", _MISES
    value = nominal * system.strength.value
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=system.basis,
        formula=f"VRd = {text} {system.strength} = {show(value, Measure.FORCE)}",
        sources=(steel.source, clause, system.strength.source),
    )


def torsion(tube: Tube, steel: Steel | None, system: System) -> Resistance:
    """Torque (N mm) the tube can bear, elastic: Wt fy / sqrt 3, factored."""
    if steel is None:
        return _no_steel(Measure.MOMENT, system)
    part = system.design(tube)
    value = part.torsion * steel.proof / math.sqrt(3) * system.strength.value
    text = f"{num(part.torsion / 1e3)} cm3 x {num(steel.proof)} MPa / sqrt 3 {system.strength}"
    return Resistance(
        value=value,
        measure=Measure.MOMENT,
        basis=system.basis,
        formula=f"TRd = {text} = {show(value, Measure.MOMENT)}",
        sources=(steel.source, _MISES, system.strength.source),
    )


def compression(tube: Tube, steel: Steel | None, system: System, *, length: float) -> Resistance:
    """Axial force (N) a tube of buckling length ``length`` (mm) can bear in flexural buckling.

    EN 1993-1-4:2006, 5.4.2: chi A fy / 1.1 with imperfection 0.49 and plateau 0.40; used for every system, its own
    factor on strength. A post fixed at its foot and free at its top has twice its height as buckling length.
    Beyond class 3 (90 epsilon^2 in compression) it cannot be told.
    """
    if steel is None:
        return _no_steel(Measure.FORCE, system)
    part = system.design(tube)
    sources = (steel.source, _BUCKLING, system.strength.source)
    if part.slenderness > 90 * en_epsilon(steel.proof, system.modulus) ** 2:
        return Resistance(
            value=None,
            measure=Measure.FORCE,
            basis=system.basis,
            formula=f"D/t = {num(part.slenderness)}",
            sources=(*sources, _EN_CLASS_2_3),
            missing="a rule for walls so thin in compression",
        )
    critical = math.pi**2 * system.modulus * part.inertia / length**2
    bar = math.sqrt(part.area * steel.proof / critical)
    phi = 0.5 * (1 + 0.49 * (bar - 0.40) + bar**2)
    chi = min(1.0, 1 / (phi + math.sqrt(phi**2 - bar**2))) if bar > 0.40 else 1.0
    value = chi * part.area * steel.proof * system.strength.value
    text = f"{num(chi)} x {num(part.area)} mm2 x {num(steel.proof)} MPa {system.strength}"
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=system.basis,
        formula=f"slenderness {num(bar)}: NRd = {text} = {show(value, Measure.FORCE)}",
        sources=sources,
    )


def _moment(kind: str, modulus: float | None, steel: Steel, system: System, clause: Source) -> Resistance:
    wall_source = () if system.wall_share == 1 else (system.wall_source,)
    sources = (steel.source, clause, system.strength.source, *wall_source)
    if modulus is None:
        return Resistance(
            value=None,
            measure=Measure.MOMENT,
            basis=system.basis,
            formula=kind,
            sources=sources,
            missing="a rule for walls so thin in bending",
        )
    value = modulus * steel.proof * system.strength.value
    wall = "" if system.wall_share == 1 else f", wall {num(system.wall_share)} t"
    text = f"{num(modulus / 1e3)} cm3 x {num(steel.proof)} MPa {system.strength}"
    return Resistance(
        value=value,
        measure=Measure.MOMENT,
        basis=system.basis,
        formula=f"{kind}{wall}: MRd = {text} = {show(value, Measure.MOMENT)}",
        sources=sources,
    )


def _no_steel(measure: Measure, system: System) -> Resistance:
    return Resistance(
        value=None,
        measure=measure,
        basis=system.basis,
        formula="strength unknown",
        sources=(system.strength.source,),
        missing="the strength of the tube: its standard and grade, or a certificate",
    )
