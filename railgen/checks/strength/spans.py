"""Moments in posts and rails.

A post is a cantilever from the section checked; its lever arm is the real height of the rail's axis above that
section. A rail is a simple span between saddles, which is never less than a continuous one, with an overhang at an end.
"""

from __future__ import annotations

from collections.abc import Sequence

from railgen.checks.strength.loads import RailLoad
from railgen.checks.strength.result import STATICS, Demand, Measure, num, show
from railgen.checks.strength.systems import System

__all__ = ["overhang_moments", "post_moment", "rail_moments"]

_GRAVITY = 9.81


def post_moment(force: Demand, arm: float) -> Demand:
    """Moment (N mm) of ``force`` on the rail ``arm`` (mm) above the section checked: F x arm."""
    value = None if force.value is None else force.value * arm
    text = "" if value is None else f"; M = {num(arm)} mm x F = {show(value, Measure.MOMENT)}"
    return Demand(
        value=value,
        measure=Measure.MOMENT,
        basis=force.basis,
        case=force.case,
        formula=force.formula + text,
        sources=force.sources,
        missing=force.missing,
    )


def rail_moments(load: RailLoad, system: System, *, span: float, mass: float) -> tuple[Demand, ...]:
    """Moment (N mm) in a rail of ``span`` (mm) between saddles, downwards: with its own ``mass`` (kg/m).

    w L^2 / 8 and P L / 4, plus the factored weight g L^2 / 8.

    >>> from railgen.checks.strength.loads import rail_load
    >>> from railgen.checks.strength.systems import system
    >>> from railgen.job.strength_model import DesignSystem
    >>> for moment in rail_moments(rail_load("asce-7"), system(DesignSystem.ASD), span=1200, mass=0.0):
    ...     print(moment.case, moment.formula)
    line load M = 0.73 N/mm x (1200 mm)^2 / 8 = 0.1314 kNm
    point load M = 890 N x 1200 mm / 4 = 0.267 kNm
    """
    own = system.permanent * _weight(mass)
    line = None if load.line is None else (load.line * span**2 / 8, f"N/mm x ({num(span)} mm)^2 / 8")
    point = None if load.point is None else (load.point * span / 4, f"N x {num(span)} mm / 4")
    return _rail(load, system, line, point, own * span**2 / 8)


def overhang_moments(load: RailLoad, system: System, *, overhang: float, mass: float) -> tuple[Demand, ...]:
    """Moment (N mm) over the last saddle of a rail that reaches ``overhang`` (mm) beyond it: w a^2 / 2, P a."""
    own = system.permanent * _weight(mass)
    line = None if load.line is None else (load.line * overhang**2 / 2, f"N/mm x ({num(overhang)} mm)^2 / 2")
    point = None if load.point is None else (load.point * overhang, f"N x {num(overhang)} mm")
    return _rail(load, system, line, point, own * overhang**2 / 2)


def _rail(
    load: RailLoad,
    system: System,
    line: tuple[float, str] | None,
    point: tuple[float, str] | None,
    own: float,
) -> tuple[Demand, ...]:
    cases: Sequence[tuple[str, float | None, tuple[float, str] | None]] = (
        ("line load", load.line, line),
        ("point load", load.point, point),
    )
    found = []
    for case, size, part in cases:
        if size is None or part is None:
            continue
        value = system.imposed * part[0] + own
        lead = "" if system.imposed == 1 else f"{num(system.imposed)} x "
        weight = f" + {show(own, Measure.MOMENT)} own weight" if own else ""
        found.append(
            Demand(
                value=value,
                measure=Measure.MOMENT,
                basis=system.basis,
                case=case,
                formula=f"M = {lead}{num(size)} {part[1]}{weight} = {show(value, Measure.MOMENT)}",
                sources=(load.source, system.load_source, STATICS),
            )
        )
    return tuple(found)


def _weight(mass: float) -> float:
    return mass * _GRAVITY / 1000
