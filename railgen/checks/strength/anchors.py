"""One anchor in concrete: what its own steel bears, and the factors on what its approval states.

ACI 318-19, Table 17.5.3, and EN 1992-4:2018, Table 4.1. A property class does not say how far a bolt stretches before
it breaks: for ACI it counts as brittle.
"""

from __future__ import annotations

from railgen.checks.model import Certainty
from railgen.checks.strength.bolts import stress_area
from railgen.checks.strength.concrete import AnchorCategory, aci_source, en_source, tension_phi
from railgen.checks.strength.materials import BoltSteel, bolt_steel
from railgen.checks.strength.result import Measure, Resistance, num, show
from railgen.checks.strength.systems import Factor, System
from railgen.job.strength_model import DesignSystem, FastenerClass

__all__ = ["INSTALLATION", "hold_factor", "shear_factor", "steel_pull"]

INSTALLATION = {1: 1.0, 2: 1.2, 3: 1.4}
"""Installation factor by the anchor's category: high, normal, low safety. EN 1992-4:2018, 4.4.2.1, from memory."""
_BRITTLE_PULL, _BRITTLE_PUSH = 0.65, 0.60
_MOST = 862.0  # MPa, 125 ksi (ACI 318-19, 17.6.1.2, from memory)


def steel_pull(steel: BoltSteel, system: System, *, diameter: float, pitch: float) -> Resistance:
    """Tension (N) one anchor's thread bears: As fu, factored.

    ACI 318-19, 17.6.1: fu at most 1.9 fy and 125 ksi. EN 1992-4:2018, 7.2.1.3: gamma 1.2 / (fyk / fuk), at least 1.4.
    """
    area, strength = stress_area(diameter, pitch), steel.tensile
    if system.id is DesignSystem.LRFD:
        strength = min(strength, 1.9 * steel.proof, _MOST)
        factor = Factor(phi=_BRITTLE_PULL, symbol="phi", source=aci_source("Table 17.5.3, phi"))
        clause = aci_source("17.6.1", Certainty.MEMORY)
    else:
        partial = max(1.4, 1.2 * steel.tensile / steel.proof)
        factor = Factor(divisor=partial, symbol="gamma Ms", source=en_source("Table 4.1"))
        clause = en_source("7.2.1.3")
    value = area * strength * factor.value
    return Resistance(
        value=value,
        measure=Measure.FORCE,
        basis=system.basis,
        formula=f"{num(area)} mm2 x {num(strength)} MPa {factor} = {show(value, Measure.FORCE)}",
        sources=(steel.source, clause, factor.source),
    )


def hold_factor(category: AnchorCategory, system: System) -> Factor:
    """Factor on the pull-out that an approval states: 0.65, 0.55, 0.45, or 1 / (1.5 x installation factor)."""
    if system.id is DesignSystem.LRFD:
        return Factor(phi=tension_phi(category), symbol="phi", source=aci_source("Table 17.5.3, phi"))
    return Factor(divisor=1.5 * INSTALLATION[category], symbol="gamma Mp", source=en_source("Table 4.1"))


def shear_factor(steel: BoltSteel | None, system: System) -> Factor:
    """Factor on the shear of an anchor's steel as its approval states it; of an unknown class the worst of all.

    EN 1992-4:2018, Table 4.1: 1.0 / (fyk / fuk), at least 1.25, where fuk is at most 800 MPa, as of all classes here.
    """
    if system.id is DesignSystem.LRFD:
        return Factor(phi=_BRITTLE_PUSH, symbol="phi", source=aci_source("Table 17.5.3, phi"))
    known = [steel] if steel is not None else [bolt_steel(one) for one in FastenerClass]
    partial = max(1.25, *(one.tensile / one.proof for one in known))
    return Factor(divisor=partial, symbol="gamma Ms,V", source=en_source("Table 4.1"))
