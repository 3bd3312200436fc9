"""The links between rail, post and plate: what pulls on rivets and saddle screws, what a post bears on its socket."""

from __future__ import annotations

from railgen.checks.strength.loads import RailLoad
from railgen.checks.strength.result import STATICS, Demand, Measure, num, show
from railgen.checks.strength.systems import System

__all__ = ["socket_contact", "uplift"]


def uplift(load: RailLoad, system: System, *, tributary: float, fasteners: int) -> Demand:
    """Force (N) on each of ``fasteners`` where the load lifts the rail: the larger of line and point, shared equally.

    The load may act in any direction, upwards too; the weight of the rail is not counted against it.

    >>> from railgen.checks.strength.loads import rail_load
    >>> from railgen.checks.strength.systems import system
    >>> from railgen.job.strength_model import DesignSystem
    >>> uplift(rail_load("irc"), system(DesignSystem.LRFD), tributary=1000, fasteners=2).formula
    'T = 1.6 x 890 N / 2 = 0.712 kN'
    """
    force = max((load.line or 0.0) * tributary, load.point or 0.0)
    value = system.imposed * force / fasteners
    return Demand(
        value=value,
        measure=Measure.FORCE,
        basis=system.basis,
        case="rail lifted",
        formula=f"T = {num(system.imposed)} x {num(force)} N / {fasteners} = {show(value, Measure.FORCE)}",
        sources=(load.source, system.load_source, STATICS),
    )


def socket_contact(moment: Demand, *, engaged: float) -> Demand:
    """Force (N) with which a post bears on each end of the socket inside it: M / (2/3 s), triangles of half s each.

    ``moment`` at the plate; ``engaged`` (mm): how far post and socket overlap. What the post's wall bears there is for
    the maker of the socket to say. Raises ValueError where nothing overlaps.
    """
    if engaged <= 0:
        raise ValueError("a post bears on its socket only where they overlap")
    value = None if moment.value is None else 1.5 * moment.value / engaged
    text = "" if value is None else f"; C = 1.5 M / {num(engaged)} mm = {show(value, Measure.FORCE)}"
    return Demand(
        value=value,
        measure=Measure.FORCE,
        basis=moment.basis,
        case=moment.case,
        formula=moment.formula + text,
        sources=(*moment.sources, STATICS),
        missing=moment.missing,
    )
