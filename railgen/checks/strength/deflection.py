"""Deflections of posts and rails under the unfactored load, and the limits a job may name for them.

Only the tube's own bending is worked out: the give of plate, socket and timber comes on top and is measured on site.
"""

from __future__ import annotations

from railgen.checks.model import Certainty
from railgen.checks.strength.loads import RailLoad
from railgen.checks.strength.result import STATICS, Basis, Demand, Measure, Resistance, Source, num
from railgen.checks.strength.sections import Tube

__all__ = [
    "bs_6180_limit",
    "e985_post_limit",
    "e985_rail_horizontal_limit",
    "e985_rail_vertical_limit",
    "job_limit",
    "overhang_sag",
    "post_sway",
    "rail_sag",
]


def post_sway(force: Demand, *, height: float, tube: Tube, modulus: float) -> Demand:
    """Sway (mm) of a post's top from its own bending: F h^3 / (3 E I); give of the base is not in it.

    ``force`` must be unfactored: ValueError otherwise.
    """
    _in_use(force)
    value = None if force.value is None else force.value * height**3 / (3 * modulus * tube.inertia)
    return _deflection(force, value, f"F ({num(height)} mm)^3 / (3 x {num(modulus)} MPa x {_cm4(tube)})")


def rail_sag(load: RailLoad, *, span: float, tube: Tube, modulus: float) -> tuple[Demand, ...]:
    """Deflection (mm) of a simple span under the unfactored load: 5 w L^4 / 384 E I, P L^3 / 48 E I."""
    found = []
    stiffness = modulus * tube.inertia
    tail = f"{num(modulus)} MPa x {_cm4(tube)}"
    if load.line is not None:
        force = _service(load, "line load", f"w = {num(load.line)} N/mm")
        value = 5 * load.line * span**4 / (384 * stiffness)
        found.append(_deflection(force, value, f"5 w ({num(span)} mm)^4 / (384 x {tail})"))
    if load.point is not None:
        force = _service(load, "point load", f"P = {num(load.point)} N")
        value = load.point * span**3 / (48 * stiffness)
        found.append(_deflection(force, value, f"P ({num(span)} mm)^3 / (48 x {tail})"))
    return tuple(found)


def overhang_sag(load: RailLoad, *, span: float, overhang: float, tube: Tube, modulus: float) -> tuple[Demand, ...]:
    """Deflection (mm) of the tip of an overhang a beyond a simple span L.

    P a^2 (L + a) / 3 E I and w a^3 (4 L + 3 a) / 24 E I.
    """
    found = []
    stiffness = modulus * tube.inertia
    tail = f"{num(modulus)} MPa x {_cm4(tube)}"
    size = f"a = {num(overhang)} mm, L = {num(span)} mm"
    if load.line is not None:
        force = _service(load, "line load", f"w = {num(load.line)} N/mm, {size}")
        value = load.line * overhang**3 * (4 * span + 3 * overhang) / (24 * stiffness)
        found.append(_deflection(force, value, f"w a^3 (4 L + 3 a) / (24 x {tail})"))
    if load.point is not None:
        force = _service(load, "point load", f"P = {num(load.point)} N, {size}")
        value = load.point * overhang**2 * (span + overhang) / (3 * stiffness)
        found.append(_deflection(force, value, f"P a^2 (L + a) / (3 x {tail})"))
    return tuple(found)


def bs_6180_limit() -> Resistance:
    """25 mm at the top of a barrier (BS 6180:1999, section 6), or the material code's limit where that is smaller."""
    return _limit(25.0, "25 mm", Source(document="BS 6180", edition="1999", clause="6", certainty=Certainty.READ))


def e985_post_limit(height: float) -> Resistance:
    """Limit h / 12 at a post's top.

    >>> round(e985_post_limit(36 * 25.4).value / 25.4, 3)
    3.0
    """
    return _limit(height / 12, f"{num(height)} mm / 12", _e985("post"))


def e985_rail_horizontal_limit(height: float, span: float) -> Resistance:
    """Limit h / 24 + L / 96 at mid-span under a horizontal load, the posts' sway included."""
    text = f"{num(height)} mm / 24 + {num(span)} mm / 96"
    return _limit(height / 24 + span / 96, text, _e985("rail, horizontal load"))


def e985_rail_vertical_limit(span: float) -> Resistance:
    """Limit L / 96 at mid-span under a vertical load."""
    return _limit(span / 96, f"{num(span)} mm / 96", _e985("rail, vertical load"))


def job_limit(value: float) -> Resistance:
    """A deflection limit (mm) that the job names."""
    return _limit(value, f"{num(value)} mm", Source(document="the job", certainty=Certainty.JOB))


def _e985(part: str) -> Source:
    note = "withdrawn in 2015"
    return Source(document="ASTM E985", edition="2000", clause=f"7, {part}", certainty=Certainty.SECONDARY, note=note)


def _limit(value: float, text: str, source: Source) -> Resistance:
    formula = f"limit {text}" if text == f"{num(value)} mm" else f"limit {text} = {num(value)} mm"
    return Resistance(
        value=value,
        measure=Measure.LENGTH,
        basis=Basis.SERVICE,
        formula=formula,
        sources=(source,),
        caution=source.note,
    )


def _cm4(tube: Tube) -> str:
    return f"{num(tube.inertia / 1e4)} cm4"


def _in_use(force: Demand) -> None:
    if force.basis is not Basis.SERVICE:
        raise ValueError(f"a deflection in use is of the unfactored load, not {force.basis}")


def _service(load: RailLoad, case: str, formula: str) -> Demand:
    return Demand(
        value=None,
        measure=Measure.FORCE,
        basis=Basis.SERVICE,
        case=case,
        formula=formula,
        sources=(load.source, STATICS),
    )


def _deflection(force: Demand, value: float | None, text: str) -> Demand:
    return Demand(
        value=value,
        measure=Measure.LENGTH,
        basis=Basis.SERVICE,
        case=force.case,
        formula=f"{force.formula}; {text}" + ("" if value is None else f" = {num(value)} mm"),
        sources=force.sources,
        missing=force.missing,
    )
