"""Warnings that no number settles: what lies in the ground, what the air does to steel, what two metals do together."""

from __future__ import annotations

from collections.abc import Iterator

from railgen.catalogue.models import AnchorHold
from railgen.checks.strength.concrete import INSTALLER_OWES
from railgen.job.model import Job
from railgen.job.strength_model import Contact, Exposure, GroundKind
from railgen.units import format_length

__all__ = ["STRENGTH_CAUTION", "strength_notes"]

STRENGTH_CAUTION = (
    "Strength is worked out link by link for the loads named, on nominal sizes and strengths; a link that is not "
    "verified is an open question, not a pass. A licensed engineer answers for the rail and for what it is fixed to."
)
_SAME = 1.0  # mm
_KINDRED = (("1.4301", "304"), ("1.4307", "304L"), ("1.4401", "316"), ("1.4404", "316L"))  # EN 10088-1, ASTM A240
_ASBESTOS, _LEAD = 2000, 1980  # years of building before which each is common (common practice; countries differ)


def strength_notes(job: Job) -> tuple[str, ...]:
    """What is not judged for want of input, and the warnings that apply to what the job says of ground and air."""
    return tuple(_notes(job))


def _notes(job: Job) -> Iterator[str]:
    ground, strength = job.ground, job.strength
    concrete = any(layer.kind is GroundKind.CONCRETE for layer in ground.layers)
    if not strength.loads:
        yield "no load is named: whether the rail holds people is not judged (strength.loads)"
    elif strength.deflection_most is None and strength.deflection_rule is None:
        yield "no deflection limit is named: how far posts and rail give is not judged (strength.deflection_rule)"
    if concrete and ground.post_tensioned is not False:
        told = "the slab is post-tensioned" if ground.post_tensioned else "not said whether the slab is post-tensioned"
        yield f"{told}: a cut tendon can kill; have tendons located and the drilling agreed before any hole is made"
    if ground.heated is not False and ground.layers:
        told = "heating or services lie" if ground.heated else "not said whether heating or services lie"
        yield f"{told} under the plates: locate pipes and cables before drilling"
    if ground.built is not None and ground.built < _ASBESTOS:
        also = " and lead paint" if ground.built < _LEAD else ""
        yield f"built in {ground.built}: treads, tiles, glue may hold asbestos{also}; have them tested before drilling"
    if concrete:
        yield "whoever sets the anchors has to: " + "; ".join(INSTALLER_OWES)
    if job.hardware.anchor.hold is AnchorHold.BONDED and strength.stated.anchor_tension is not None:
        yield "the anchors are bonded: strength.stated.anchor_tension is not used, their approval's bond strength is"
    yield from _layers(job)
    if concrete and not ground.cracked:
        yield "the concrete is taken as uncracked because the job says so: someone must answer for that"
    yield from _exposure(job)
    yield from _grades(job)
    yield from _fit(job)


def _grades(job: Job) -> Iterator[str]:
    """A strength that is not that of the material ordered."""
    ordered = next((kin for kin in _KINDRED if any(mark in job.hardware.material.id for mark in kin)), None)
    for part, given in (("tube", job.strength.tube.grade), ("plate", job.strength.plate.grade)):
        if given and ordered and not any(given.removeprefix("MT-").removeprefix("TP") == mark for mark in ordered):
            yield (
                f"strength.{part}.grade {given} is not hardware.material {job.hardware.material.id} "
                f"({' or '.join(ordered)}): strength and order must name the same steel"
            )


def _layers(job: Job) -> Iterator[str]:
    """Layers under the plates that do not add up to what the stair itself is said to be thick."""
    total = sum(layer.thickness for layer in job.ground.layers)
    parts = [(f"flight {flight.number}: tread_thickness", flight.tread_thickness) for flight in job.flights]
    parts += [(f"landing {landing.number}: thickness", landing.thickness) for landing in job.landings]
    other = [
        f"{name} {format_length(thickness, job.output_unit)}"
        for name, thickness in parts
        if abs(thickness - total) > _SAME
    ]
    if job.ground.layers and other:
        told = format_length(total, job.output_unit)
        yield f"ground.layers add up to {told}, the stair says otherwise ({', '.join(other)}): give both as built"


def _exposure(job: Job) -> Iterator[str]:
    ground = job.ground
    grade = job.strength.tube.grade or job.hardware.material.id
    plain = any(mark in grade for mark in ("4301", "4307", "304"))
    if ground.exposure is Exposure.POOL:
        yield (
            f"pool air attacks stainless steel under load: {grade} needs a corrosion engineer's word, and regular "
            "cleaning, before it carries people there"
        )
    elif ground.exposure is Exposure.COASTAL and plain:
        yield f"{grade} stains and pits near the sea: 1.4404 (316L), smooth and cleaned, is the usual choice"
    elif ground.exposure is Exposure.OUTDOOR and plain:
        yield f"{grade} outdoors: sound in clean air; 1.4404 (316L) where roads are salted or air is dirty"
    wet = ground.exposure is not Exposure.INDOOR or ground.wet is True
    for metal in ground.contact:
        if metal is Contact.COPPER:
            yield "copper beside stainless steel: where wet, keep them apart, as either can be eaten"
        elif wet:
            yield f"{metal.value} touches stainless steel: where wet, isolate them or the {metal.value} is eaten"


def _fit(job: Job) -> Iterator[str]:
    """Bores within the tolerance of tube; D3 and T3 of EN ISO 1127, from memory, which inch tube need not keep."""
    tubes = {job.hardware.tube.id: job.hardware.tube, job.hardware.post_tube.id: job.hardware.post_tube}

    def shown(value: float) -> str:
        return format_length(value, job.output_unit)

    for tube in tubes.values():
        outside, wall = max(0.3, 0.0075 * tube.od), max(0.2, 0.10 * tube.wall)
        low, high = tube.od - outside - 2 * (tube.wall + wall), tube.od + outside - 2 * (tube.wall - wall)
        spigot = job.hardware.base_plate.socket_od if tube is job.hardware.post_tube else job.hardware.elbow.spigot_od
        if low < spigot:
            yield (
                f"tube {tube.id}: within {_tolerance(tube.source)} its bore may be {shown(low)} to {shown(high)}, and "
                f"the fittings are {shown(spigot)}: try them in the tube delivered before it is cut"
            )


def _tolerance(source: str) -> str:
    told = "EN ISO 1127 D3 and T3 (from memory)"
    return told if "ASTM" not in source else f"a tolerance as wide as {told}; its own standard may differ"
