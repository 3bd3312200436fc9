"""The links of one post from the rail down to its base plate.

Each section has the lever arm it really has: from the rail's axis down to it. Inside the socket the post presses at
its top and at its foot, so it bends most about a sixth of the engaged length below the socket's top.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from railgen.catalogue.models import Cradle, Rivet
from railgen.checks.strength.inputs import LoadCase
from railgen.checks.strength.link import stated
from railgen.checks.strength.links import socket_contact, uplift
from railgen.checks.strength.loads import POINT, RailLoad, post_forces
from railgen.checks.strength.materials import Steel
from railgen.checks.strength.members import bending
from railgen.checks.strength.result import (
    STATICS,
    Demand,
    Measure,
    Resistance,
    StrengthCheck,
    check,
    num,
    show,
    unverified,
)
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.sheet import Sheet, SheetFastener, maker_shear, pull_out, sheet_shear
from railgen.checks.strength.spans import post_moment
from railgen.checks.strength.supports import Support
from railgen.checks.strength.systems import System
from railgen.job.model import Job
from railgen.job.strength_model import DesignSystem
from railgen.members.holes import cradle_holes, head_holes, plate_holes
from railgen.members.pieces import Purpose

__all__ = ["Outcome", "forces", "governing_force", "post_links", "thread_pitch"]

_PITCH = {"M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75, "M16": 2.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One link under one load case."""

    code: str
    check: StrengthCheck
    by: DesignSystem | None = None  # the system that judged it, where that is not the load's own


def thread_pitch(thread: str) -> float | None:
    """Coarse pitch (mm) of an ISO metric thread (ISO 261, from memory); None for any other.

    >>> thread_pitch("M6"), thread_pitch("1/4-20")
    (1.0, None)
    """
    return _PITCH.get(thread)


def forces(load: RailLoad, support: Support, system: System | None) -> tuple[Demand, ...]:
    """The sideways force (N) on a post, one per kind of load; unfactored and in use where ``system`` is None.

    Posts share a point load where the job asks for it. A line load is not shared: its neighbours carry their own.
    """
    alone = post_forces(load, support.reach, system)
    shared = post_forces(load, support.reach, system, shared=support.shared)
    return tuple(part if part.case == POINT else whole for whole, part in zip(alone, shared, strict=True))


def governing_force(support: Support, case: LoadCase) -> Demand:
    """The larger of line and point load on a post: everything below the rail grows with it."""
    return max(forces(case.load, support, case.system), key=lambda force: force.value or 0.0)


def post_links(
    job: Job, support: Support, case: LoadCase, tube: Steel | None, plate: Steel | None
) -> Iterator[Outcome]:
    """Every link from the saddle's screws to the weld of the socket, under one load."""
    base, system, force = job.hardware.base_plate, case.system, governing_force(support, case)
    section = Tube(od=job.hardware.post_tube.od, wall=job.hardware.post_tube.wall)
    above = support.arm
    engaged = base.socket_height
    able = bending(section, tube, system)
    bent = post_moment(force, above - engaged * 5 / 6)
    yield Outcome(code="post", check=check("post in bending at its socket", bent, able))
    riveted = _at_rivet(force, above=above, engaged=engaged, down=engaged - base.rivet_height)
    rivet = job.hardware.rivets[base.rivet]
    net = _with_holes(section, rivet.hole_diameter, tube, system)
    yield Outcome(code="post-rivets", check=check("post in bending at its rivet holes", riveted, net))
    at_plate = post_moment(force, above)
    stub = bending(Tube(od=base.socket_od, wall=min(base.socket_wall, base.socket_od / 2)), plate, system)
    if plate is None:
        stub = replace(
            stub, missing="the strength of the base plate and its socket: standard and grade (strength.plate)"
        )
    yield Outcome(code="socket", check=check("socket in bending at the plate", at_plate, stub))
    contact = socket_contact(at_plate, engaged=engaged)
    welded = replace(at_plate, formula=contact.formula)
    given, document = job.strength.stated, job.strength.stated.document
    held = stated(
        given.socket_moment,
        Measure.MOMENT,
        system,
        document=document,
        what="the moment the base plate's maker states for socket and weld (strength.stated.socket_moment)",
    )
    yield Outcome(code="weld", check=check("weld of the socket, and the post's wall on it", welded, held))
    head = support.post.role.head(job.hardware)
    rivets = job.hardware.rivets
    in_socket = sum(hole.purpose is Purpose.SOCKET_RIVET for hole in plate_holes(base, rivets))
    parts = (base.socket_wall, rivet, "rivets of post and socket")
    yield from _rivets(job, support, case, tube, parts, in_socket, "socket-rivets")
    head_rivet = rivets[head.rivet]
    parts = (head.spigot_wall, head_rivet, "rivets of post and saddle")
    yield from _rivets(job, support, case, tube, parts, len(list(head_holes(head, rivets))), "head-rivets")
    cast = stated(
        given.saddle_force,
        Measure.FORCE,
        system,
        document=document,
        what="the force the saddle's maker states for it (strength.stated.saddle_force)",
    )
    yield Outcome(code="saddle", check=check("saddle and its stem", force, cast))
    if isinstance(head, Cradle):
        yield _screws(job, support, case, tube, head)


def _at_rivet(force: Demand, *, above: float, engaged: float, down: float) -> Demand:
    """Moment (N mm) in the post ``down`` below the socket's top: F (a + x) - C (x - s/6), C = 1.5 F (a + 5/6 s) / s."""
    arm = above - engaged
    pressed = 1.5 * (arm + 5 / 6 * engaged) / engaged
    lever = max(0.0, arm + down - pressed * max(0.0, down - engaged / 6))
    return post_moment(force, lever)


def _with_holes(tube: Tube, hole: float, steel: Steel | None, system: System) -> Resistance:
    """Elastic moment of the tube less two holes at its outermost fibres: (I - 2 d t r^2) / R."""
    gross = bending(tube, steel, system)
    if steel is None or gross.value is None:
        return gross
    part = system.design(tube)
    middle = (part.od - part.wall) / 2
    modulus = (part.inertia - 2 * hole * part.wall * middle**2) / (part.od / 2)
    value = modulus * steel.proof * system.strength.value
    text = f"{num(modulus / 1e3)} cm3 less the holes x {num(steel.proof)} MPa {system.strength}"
    return Resistance(
        value=value,
        measure=Measure.MOMENT,
        basis=system.basis,
        formula=f"MRd = {text} = {show(value, Measure.MOMENT)}",
        sources=(steel.source, STATICS, system.strength.source),
    )


def _rivets(
    job: Job,
    support: Support,
    case: LoadCase,
    tube: Steel | None,
    parts: tuple[float, Rivet, str],
    count: int,
    code: str,
) -> Iterator[Outcome]:
    """The ``count`` rivets that hold the post against a lifting load: the post's wall, and the rivet's own shear."""
    inner, rivet, name = parts
    lift = _lift(support, case, count)
    own = maker_shear(
        SheetFastener.RIVET, job.strength.stated.rivet_shear, case.system, document=job.strength.stated.document
    )
    if own.value is None:
        own = replace(own, missing=f"{own.missing} (strength.stated.rivet_shear)")
    if tube is None:
        yield Outcome(code=code, check=unverified(name, "the strength of the tube (strength.tube)"))
        return
    wall = Sheet(thickness=job.hardware.post_tube.wall, tensile=tube.tensile)
    inside = Sheet(thickness=inner, tensile=tube.tensile)
    sheet = sheet_shear(SheetFastener.RIVET, wall, inside, rivet.diameter, case.system)
    outcomes = (check(name, lift, sheet), check(name, lift, own))
    fails = max(outcomes, key=lambda one: one.utilisation or 0.0)
    yield Outcome(code=code, check=outcomes[1] if own.value is None and (fails.utilisation or 0) <= 1 else fails)


def _lift(support: Support, case: LoadCase, fasteners: int) -> Demand:
    """Force on each fastener under a lifting load; at the tip of an overhang it lifts its post by more than itself."""
    lift = uplift(
        case.load, case.system, tributary=support.reach.tributary * support.reach.upwards, fasteners=fasteners
    )
    share = support.reach.point_share
    if share == 1 or lift.value is None:
        return lift
    value = lift.value * share
    tip = f"; x {num(share)} at the tip of the overhang = {show(value, Measure.FORCE)}"
    return replace(lift, value=value, formula=lift.formula + tip)


def _tipped(support: Support, case: LoadCase, head: Cradle, screws: int) -> Demand:
    """Pull (N) on each screw under a sideways load: the tube rides up the trough's lip, which bears on its radius.

    Without friction the lip at half the embraced angle presses with F / sin, and pushes the tube up with F / tan.
    """
    force = governing_force(support, case)
    if force.value is None:
        return force
    value = force.value / math.tan(head.cradle_angle / 2) / screws
    angle = num(math.degrees(head.cradle_angle / 2))
    text = f"{force.formula}; T = F / tan {angle} degrees / {screws} = {show(value, Measure.FORCE)}"
    return replace(force, value=value, case="rail pushed sideways", formula=text)


def _screws(job: Job, support: Support, case: LoadCase, tube: Steel | None, head: Cradle) -> Outcome:
    """The screws tapped into the rail's wall: pulled out by a load that lifts or tips the rail, pushed along it."""
    name = "saddle screws in the tube's wall"
    screw = job.hardware.screws[head.screw]
    pitch = thread_pitch(screw.thread)
    if tube is None or pitch is None:
        what = "the strength of the tube (strength.tube)" if tube is None else f"the pitch of thread {screw.thread}"
        return Outcome(code="saddle-screws", check=unverified(name, what))
    wall = Sheet(thickness=job.hardware.tube.wall, tensile=tube.tensile)
    screws = len(list(cradle_holes(head, job.hardware.tube.od, job.hardware.screws)))
    lift = _lift(support, case, screws)
    pull = max((lift, _tipped(support, case, head, screws)), key=lambda demand: demand.value or 0.0)
    pulled = check(name, pull, pull_out(SheetFastener.SCREW, wall, screw.diameter, case.system, pitch=pitch))
    trough = Sheet(thickness=head.cradle_thickness, tensile=tube.tensile)
    along = replace(lift, case="load along the rail", formula=lift.formula.replace("T =", "V ="))
    pushed = check(name, along, sheet_shear(SheetFastener.SCREW, trough, wall, screw.diameter, case.system))
    worst = max((pulled, pushed), key=lambda one: one.utilisation or math.inf)
    return Outcome(code="saddle-screws", check=worst)
