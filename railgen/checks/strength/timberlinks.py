"""Fixings in timber: always by allowable stress, against unfactored loads, whatever system the steel is judged by.

The pull is the worse of two: the plate tipping over its outermost fixings, and over a block of timber pressed to its
allowable stress. Without that stress the first alone can refuse a fixing, never pass it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from railgen.checks.model import Certainty
from railgen.checks.strength.baseplate import fixing_shear, worst_pull
from railgen.checks.strength.bolts import bolt_tension
from railgen.checks.strength.footing import WET_BEARING, Footing, moment_on, timber_bearing
from railgen.checks.strength.inputs import LoadCase, fastener_steel
from railgen.checks.strength.link import together
from railgen.checks.strength.materials import Steel
from railgen.checks.strength.postlinks import Outcome, governing_force, thread_pitch
from railgen.checks.strength.result import (
    STATICS,
    Basis,
    Demand,
    Measure,
    Resistance,
    Source,
    StrengthCheck,
    check,
    num,
    show,
    unverified,
)
from railgen.checks.strength.supports import Support
from railgen.checks.strength.timber import Timber, WoodFixing, WoodFixingKind, fixing_tension, nds_withdrawal
from railgen.checks.strength.timber_lateral import nds_lateral, withdrawal_and_lateral
from railgen.checks.strength.timber_rules import distances, lead_hole, penetration
from railgen.job.model import Job
from railgen.job.strength_model import DesignSystem, Fixing, GroundKind

__all__ = ["timber_links"]

_WOOD_THREAD = 2 / 3  # of a wood screw's length is threaded (ASME B18.6.1, from memory)
_LAG_THREAD = 0.6  # of a coach screw's (DIN 571, from memory)
_MINOR = 1.2269  # of the pitch between a metric bolt's diameter and that under its thread (ISO 68-1, from memory)
_WASHER = Source(document="statics", clause="washer pressed on timber", certainty=Certainty.MECHANICS)
_BEARING = "the allowable bearing stress of the timber (ground.timber_bearing)"


def timber_links(job: Job, foot: Footing, support: Support, case: LoadCase, plate: Steel | None) -> Iterator[Outcome]:
    """Screws or bolts in a timber tread: pulled and pushed, how deep they bear, splitting, their own steel."""
    case = case.under(DesignSystem.ASD)
    pull = _pull(job, foot, support, case)
    push = fixing_shear(foot.plate, governing_force(support, case))
    if job.ground.fixing is Fixing.THROUGH_BOLT:
        yield from _bolted(job, case, pull, push, plate)
    else:
        yield from _screwed(job, foot, pull, push, plate)
    yield from _splitting(job, foot)


def _pull(job: Job, foot: Footing, support: Support, case: LoadCase) -> Demand:
    moment = moment_on(support, case)
    plain = worst_pull(foot.plate, moment)
    stress = timber_bearing(job)
    if stress is None:
        return plain
    block = worst_pull(foot.plate, moment, bearing=stress)
    if block.value is None:
        missing = f"timber that bears the plate's edge: {num(stress)} MPa is not enough"
        return replace(block, value=math.inf, missing="", formula=f"{block.formula}; {missing}")
    return max((plain, block), key=lambda one: one.value or 0.0)


def _screw(job: Job) -> WoodFixing:
    """The fixing as the NDS sees it: bolts have the distances of lag screws (NDS 2018, 12.5.1, from memory)."""
    kind = WoodFixingKind.WOOD_SCREW if job.ground.fixing is Fixing.WOOD_SCREW else WoodFixingKind.LAG
    return WoodFixing(kind=kind, diameter=job.hardware.anchor.diameter, root=job.ground.fixing_root)


def _threaded(kind: WoodFixingKind, length: float) -> float:
    """Length (mm) of thread on a screw: a lag's is half its length and 1/2 in, at most 6 in (ASME B18.2.1-2012).

    >>> [round(_threaded(WoodFixingKind.LAG, length), 1) for length in (110, 200, 300)]
    [66.0, 112.7, 152.4]
    >>> round(_threaded(WoodFixingKind.WOOD_SCREW, 70.0), 1)
    46.7
    """
    if kind is WoodFixingKind.LAG:
        return min(length / 2 + 12.7, _LAG_THREAD * length, 152.4)
    return _WOOD_THREAD * length


def _timber(job: Job) -> Timber:
    return Timber(gravity=job.ground.gravity, wet=job.ground.wet is not False)


def _screwed(job: Job, foot: Footing, pull: Demand, push: Demand, plate: Steel | None) -> Iterator[Outcome]:
    screw, timber = _screw(job), _timber(job)
    tip = screw.diameter
    thread = max(0.0, min(foot.embedded, _threaded(screw.kind, job.hardware.anchor.length)) - tip)
    held = nds_withdrawal(screw, timber, thread=thread, duration=job.ground.duration)
    held = replace(held, formula=f"{held.formula} (thread in the timber, less a tip of one diameter)")
    pulled = check("fixings pulled out of the timber", pull, held)
    if job.ground.timber_bearing is None and (pulled.utilisation or 0.0) <= 1:
        pulled = replace(pulled, missing="; ".join(text for text in (pulled.missing, _BEARING) if text))
    yield Outcome(code="withdrawal", check=pulled)
    if screw.root is None or plate is None:
        what = [] if screw.root is not None else ["the diameter under the thread (ground.fixing_root)"]
        what += [] if plate is not None else ["the strength of the base plate (strength.plate)"]
        missing = "; ".join([*what, *([pulled.missing] if pulled.missing else [])])
        yield Outcome(code="fixings", check=replace(pulled, name=_BOTH, missing=missing, demand=None))
    else:
        lateral = nds_lateral(
            screw, timber, embedded=max(foot.embedded, 1e-3), plate=foot.plate.thickness, plate_tensile=plate.tensile
        )
        both = withdrawal_and_lateral(_BOTH, tension=pull, sideways=push, withdrawal=held, lateral=lateral)
        if pulled.missing and (both.utilisation or 0.0) <= 1:
            both = replace(both, missing=pulled.missing)
        yield Outcome(code="fixings", check=both)
    own = check("steel of the fixings", pull, fixing_tension(screw, fastener_steel(job.strength)))
    if job.ground.timber_bearing is None and (own.utilisation or 0.0) <= 1:
        own = replace(own, missing="; ".join(text for text in (own.missing, _BEARING) if text))
    yield Outcome(code="fixing-steel", check=own)
    bearing = foot.embedded - (tip if screw.kind is WoodFixingKind.LAG else 0.0)
    yield Outcome(code="penetration", check=penetration(screw, max(0.0, bearing)))


_BOTH = "fixings pulled and pushed together"


def _bolted(job: Job, case: LoadCase, pull: Demand, push: Demand, plate: Steel | None) -> Iterator[Outcome]:
    """Bolts through the timber: pushed sideways in it, their own steel, and the washer under the nut pressed on it."""
    anchor, ground = job.hardware.anchor, job.ground
    bolt, pitch = fastener_steel(job.strength), thread_pitch(f"M{anchor.diameter:g}")
    lacking = Resistance(
        value=None,
        measure=Measure.FORCE,
        basis=Basis.ASD,
        formula="bolt",
        sources=(STATICS,),
        missing="the property class of the bolts (strength.fastener_class)"
        if bolt is None
        else f"a bolt of metric thread: the anchor of {num(anchor.diameter)} mm is none",
    )
    yield Outcome(code="fixings", check=_bolt_pushed(job, push, plate, pitch))
    able = (
        lacking
        if bolt is None or pitch is None
        else bolt_tension(bolt, case.system, diameter=anchor.diameter, pitch=pitch)
    )
    yield Outcome(code="fixing-steel", check=check("steel of the fixings", pull, able))
    if ground.washer is None or ground.timber_bearing is None:
        missing = " and ".join(
            text
            for text, gone in (
                ("the washer's diameter (ground.washer)", ground.washer is None),
                (_BEARING, ground.timber_bearing is None),
            )
            if gone
        )
        pressed = replace(lacking, formula="washer", missing=missing)
    else:
        area = math.pi / 4 * (ground.washer**2 - anchor.hole_diameter**2)
        wet = WET_BEARING if ground.wet is not False else 1.0
        value = max(0.0, area) * ground.timber_bearing * wet
        tail = f" x {num(wet)} wet in service" if wet != 1 else ""
        pressed = Resistance(
            value=value,
            measure=Measure.FORCE,
            basis=Basis.ASD,
            formula=f"{num(area)} mm2 x {num(ground.timber_bearing)} MPa{tail} = {show(value, Measure.FORCE)}",
            sources=(_WASHER, Source(document="the job", certainty=Certainty.JOB)),
        )
    yield Outcome(code="washer", check=check("washers pressed on the timber", pull, pressed))


def _bolt_pushed(job: Job, push: Demand, plate: Steel | None, pitch: float | None) -> StrengthCheck:
    """A bolt bearing sideways on the timber it goes through, on its diameter under the thread."""
    name, ground, diameter = "bolts pushed sideways in the timber", job.ground, job.hardware.anchor.diameter
    root = ground.fixing_root
    if root is None and pitch is not None:
        root = diameter - _MINOR * pitch
    if plate is None:
        return unverified(name, "the strength of the base plate (strength.plate)")
    bolt = WoodFixing(kind=WoodFixingKind.LAG, diameter=diameter, root=root)
    through = math.fsum(layer.thickness for layer in ground.layers if layer.kind is GroundKind.TIMBER)
    base = job.hardware.base_plate
    able = nds_lateral(bolt, _timber(job), embedded=through, plate=base.thickness, plate_tensile=plate.tensile)
    return check(name, push, able)


def _splitting(job: Job, foot: Footing) -> Iterator[Outcome]:
    """Distances from edge, end and neighbour, and the lead hole. The grain of a tread runs across the stair."""
    screw, item, around = _screw(job), job.hardware.base_plate, foot.edges
    along, across = item.hole_spacing_length / 2, item.hole_spacing_width / 2
    edge = min(around.front, around.back) - along
    end = min(around.side, around.other_side) - across
    spacing = min(item.hole_spacing_length, item.hole_spacing_width)
    known = (edge if math.isfinite(edge) else 1e4, end if math.isfinite(end) else 1e4)
    rows = list(distances(screw, edge=max(0.0, known[0]), end=max(0.0, known[1]), spacing=spacing))
    if job.ground.fixing is not Fixing.THROUGH_BOLT:
        rows += lead_hole(screw, _timber(job), job.hardware.anchor.hole_diameter)
    yield Outcome(code="splitting", check=together("splitting: edge, end, spacing, lead hole", rows))
