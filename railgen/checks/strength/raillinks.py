"""The links of the rail itself: between posts, beyond the last one, at elbows; and how far rail and posts give."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from railgen.checks.strength.deflection import (
    bs_6180_limit,
    e985_post_limit,
    e985_rail_horizontal_limit,
    e985_rail_vertical_limit,
    job_limit,
    overhang_sag,
    post_sway,
    rail_sag,
)
from railgen.checks.strength.inputs import LoadCase
from railgen.checks.strength.interaction import bending_torsion
from railgen.checks.strength.link import stated
from railgen.checks.strength.materials import Steel, secant_modulus
from railgen.checks.strength.members import bending
from railgen.checks.strength.postlinks import Outcome, forces
from railgen.checks.strength.result import Demand, Measure, Resistance, StrengthCheck, check, num, show
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.spans import overhang_moments, rail_moments
from railgen.checks.strength.supports import Bay, Support
from railgen.job.model import Job
from railgen.job.strength_model import DeflectionRule, DesignSystem
from railgen.layout.model import Node

__all__ = ["bay_links", "elbow_links", "overhang_links", "sway", "sway_links"]


_MORE = "the give of plates and fixings comes on top"


def _tube(job: Job) -> Tube:
    return Tube(od=job.hardware.tube.od, wall=job.hardware.tube.wall)


def _mass(job: Job) -> float:
    return _tube(job).mass(job.hardware.material.density)


def _worst(demands: Sequence[Demand]) -> Demand:
    return max(demands, key=lambda demand: demand.value or 0.0)


def bay_links(job: Job, bay: Bay, case: LoadCase, steel: Steel | None, sways: Sequence[Demand]) -> Iterator[Outcome]:
    """A bay in bending, and its give. ``sways``: of the two posts, for limits that count it in."""
    tube = _tube(job)
    moment = _worst(rail_moments(case.load, case.system, span=bay.span.length, mass=_mass(job)))
    yield Outcome(code="rail", check=check("rail in bending between posts", moment, bending(tube, steel, case.system)))
    stress = max((case.load.line or 0.0) * bay.span.length / 8, (case.load.point or 0.0) / 4) * bay.span.length
    modulus = _modulus(case, steel, stress / tube.elastic)
    sag = _worst(rail_sag(case.load, span=bay.span.length, tube=tube, modulus=modulus))
    strength = job.strength
    if strength.deflection_most is not None:
        limit = job_limit(strength.deflection_most)
        yield Outcome(code="sag", check=check("give of the rail between posts", sag, limit))
    elif strength.deflection_rule is DeflectionRule.BS_6180:
        checked = check("give of the rail between posts", _added(sag, sways), bs_6180_limit())
        yield Outcome(code="sag", check=checked)
    elif strength.deflection_rule is DeflectionRule.ASTM_E985:
        level = e985_rail_horizontal_limit(bay.height, bay.span.length)
        found = (
            check("give of the rail between posts", _added(sag, sways), level),
            check("give of the rail between posts", sag, e985_rail_vertical_limit(bay.span.length)),
        )
        yield Outcome(code="sag", check=max(found, key=lambda one: one.utilisation or 0.0))


def _added(sag: Demand, sways: Sequence[Demand]) -> Demand:
    """The rail's own give, and the larger sway of its two posts."""
    sway = max(sways, key=lambda demand: demand.value or 0.0)
    if sag.value is None or sway.value is None:
        return sag
    value = sag.value + sway.value
    return replace(
        sag, value=value, formula=f"{sag.formula}; + sway of its posts {num(sway.value)} mm = {num(value)} mm ({_MORE})"
    )


def _modulus(case: LoadCase, steel: Steel | None, stress: float) -> float:
    """Modulus (MPa) in use: EN 1993-1-4 takes the secant at the ``stress`` there, n 6 for 304 and 7 for 316 kinds.

    EN 1993-1-4:2006, 4.2(5), from memory. The other systems, and steel unknown, have their own modulus.
    """
    if case.system.id is not DesignSystem.EUROCODE or steel is None:
        return case.system.modulus
    molybdenum = any(mark in steel.grade for mark in ("4401", "4404", "316"))
    return secant_modulus(modulus=case.system.modulus, stress=stress, proof=steel.proof, n=7 if molybdenum else 6)


def overhang_links(
    job: Job, support: Support, case: LoadCase, steel: Steel | None, swayed: Demand
) -> Iterator[Outcome]:
    """The rail beyond an end post: bent over its saddle, and the give of its tip with that of the post."""
    if not support.overhang:
        return
    tube = _tube(job)
    moment = _worst(overhang_moments(case.load, case.system, overhang=support.overhang, mass=_mass(job)))
    able = bending(tube, steel, case.system)
    yield Outcome(code="overhang", check=check("rail in bending beyond its end post", moment, able))
    limit = _plain_limit(job)
    if limit is not None:
        span = support.reach.before + support.reach.after
        over = support.overhang
        stress = max((case.load.line or 0.0) * over / 2, case.load.point or 0.0) * over / tube.elastic
        modulus = _modulus(case, steel, stress)
        sags = overhang_sag(case.load, span=span, overhang=over, tube=tube, modulus=modulus)
        found = _added(_worst(sags), [swayed])
        yield Outcome(code="tip", check=check("give of the rail's free end", found, limit))


def _plain_limit(job: Job) -> Resistance | None:
    """A limit that is one number for every part; ASTM E985 names none for a free end."""
    if job.strength.deflection_most is not None:
        return job_limit(job.strength.deflection_most)
    return bs_6180_limit() if job.strength.deflection_rule is DeflectionRule.BS_6180 else None


def sway(job: Job, support: Support, case: LoadCase, steel: Steel | None) -> Demand:
    """How far (mm) a post's top gives under the unfactored load: a cantilever from its plate, with play in its socket.

    Play: the post leans until it touches the socket's spigot at top and foot, (bore - spigot) / engaged x height.
    The give of plate, fixings and what holds them comes on top, and is said to.
    """
    base = job.hardware.base_plate
    height = support.arm
    section = Tube(od=job.hardware.post_tube.od, wall=job.hardware.post_tube.wall)
    loose = max(0.0, section.od - 2 * section.wall - base.socket_od)
    play = loose / base.socket_height * (height - base.socket_height / 2)
    loads = forces(case.load, support, None)
    stress = max(force.value or 0.0 for force in loads) * height / section.elastic
    modulus = _modulus(case, steel, stress)
    bent = _worst([post_sway(force, height=height, tube=section, modulus=modulus) for force in loads])
    if bent.value is None:
        return bent
    value = bent.value + play
    return replace(
        bent,
        value=value,
        formula=f"{bent.formula}; + {num(loose)} mm of play over {num(base.socket_height)} mm of socket: "
        f"{num(play)} mm = {num(value)} mm ({_MORE})",
    )


def sway_links(job: Job, support: Support, found: Demand) -> Iterator[Outcome]:
    """The post's sway against the limit the job names; nothing where it names none."""
    limit = _plain_limit(job)
    if job.strength.deflection_most is None and job.strength.deflection_rule is DeflectionRule.ASTM_E985:
        limit = e985_post_limit(support.arm)
    if limit is not None:
        yield Outcome(code="sway", check=check("sway of the post", found, limit))


def elbow_links(
    job: Job, node: Node, beside: Sequence[Bay], case: LoadCase, steel: Steel | None, over: float
) -> Iterator[Outcome]:
    """An elbow: the tube beside it bent and twisted at once, and the fitting itself.

    The moment taken is the bay's own, M at mid-span of a simple span: never less than what a rail that runs on over
    the post has there; where ``over`` mm of rail stand out beyond the elbow, what they have at it. Turned by the
    deflection d, M arrives as M cos d of bending and M sin d of torsion, or all of it as bending where the load lies in
    the plane of the bend; the worse.
    """
    length = max(bay.span.length for bay in beside)
    if over:
        full = _worst(overhang_moments(case.load, case.system, overhang=over, mass=_mass(job)))
    else:
        full = _worst(rail_moments(case.load, case.system, span=length, mass=_mass(job)))
    if full.value is None:
        return
    turned, twist = full.value * abs(math.cos(node.deflection)), full.value * abs(math.sin(node.deflection))
    text = (
        f"{full.formula}; turned {num(math.degrees(node.deflection))} degrees: bending {show(turned, Measure.MOMENT)}"
    )
    moment = replace(full, value=turned, formula=f"{text}, torsion {show(twist, Measure.MOMENT)}")
    name = "tube bent and twisted at an elbow"
    tube, system = _tube(job), case.system
    found = (
        bending_torsion(name, tube, steel, system, moment=moment, torque=twist),
        bending_torsion(name, tube, steel, system, moment=full, torque=0.0),  # a load in the plane of the bend
    )
    yield Outcome(code="elbow-tube", check=max(found, key=lambda one: one.utilisation or 0.0))
    able = stated(
        job.strength.stated.elbow_moment,
        Measure.MOMENT,
        case.system,
        document=job.strength.stated.document,
        what="the moment the elbow's maker states for it (strength.stated.elbow_moment)",
    )
    outcome: StrengthCheck = check("elbow and its screws", full, able)
    yield Outcome(code="elbow", check=outcome)
