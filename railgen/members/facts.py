"""What follows from the members and more than one paper tells: what holes mate with, volumes, witness marks."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace

from railgen.catalogue.models import BasePlate
from railgen.layout.model import Node, RailTube
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import CutEnd, Hole, Purpose, StairBody, Tube
from railgen.members.rails import elbow_half
from railgen.units import degrees

__all__ = ["mates", "places", "plate_volume", "prepared", "tube_volume", "witness_mark"]


def mates(fabrication: Fabrication) -> Mapping[tuple[str, str], tuple[str, ...]]:
    """For each mark and hole: marks and holes it mates with, one for each that differs between occurrences.

    Of a part of the stair the mark alone.
    """
    found: dict[tuple[str, str], set[str]] = {}
    for joint in fabrication.joints:
        for (here, hole), (there, other) in ((joint.a, joint.b), (joint.b, joint.a)):
            theirs = fabrication.piece(there)
            text = theirs.mark if isinstance(theirs, StairBody) else f"{theirs.mark}:{other}"
            found.setdefault((fabrication.mark(here), hole), set()).add(text)
    return {key: tuple(sorted(texts)) for key, texts in found.items()}


def places(fabrication: Fabrication, mark: str) -> list[str]:
    """Names of the piece's occurrences."""
    return [place.id for place in fabrication.placed if place.mark == mark]


def tube_volume(tube: Tube) -> float:
    """Volume (mm3): ring times length, less a disc of the wall's thickness for each wall drilled."""
    section = tube.section
    ring = math.pi * (section.od - section.wall) * section.wall
    return ring * tube.length - math.fsum(_disc(hole) * section.wall * hole.walls for hole in tube.holes)


def plate_volume(plate: BasePlate, holes: Iterable[Hole]) -> float:
    """Volume (mm3) of a plate with rounded corners and its upright socket, less holes and countersinks."""
    area = plate.length * plate.width - (4 - math.pi) * plate.corner_radius**2
    wall = min(plate.socket_wall, plate.socket_od / 2)
    socket = math.pi * (plate.socket_od - wall) * wall * plate.socket_height
    return area * plate.thickness + socket - math.fsum(_disc(h) * h.depth + _countersink(h) for h in holes)


def _disc(hole: Hole) -> float:
    return math.pi / 4 * hole.diameter**2


def _countersink(hole: Hole) -> float:
    """What a 90 degree countersink takes beyond the hole itself."""
    if hole.countersink <= hole.diameter:
        return 0.0
    wide, narrow = hole.countersink / 2, hole.diameter / 2
    deep = wide - narrow
    return math.pi / 3 * deep * (wide**2 + wide * narrow + narrow**2) - _disc(hole) * deep


def witness_mark(fabrication: Fabrication, node: Node, rail: RailTube) -> float:
    """Clock position (radians) on a rail's end of its elbow's screw: the side of the hinge axis that is drilled."""
    hinge = fabrication.place(f"{node.id}.{elbow_half(node, rail)}").frame.x
    return fabrication.place(rail.id).frame.clock_of(hinge)


def prepared(tube: Tube) -> tuple[CutEnd, CutEnd]:
    """A tube's datum end and its other end; of what goes in an elbow, with its half and its witness mark."""
    clocks = [hole.clock for hole in tube.holes if hole.purpose is Purpose.ELBOW_SCREW]

    def told(end: CutEnd, half: str, at: int) -> CutEnd:
        if not end.elbow:
            return end
        return replace(end, prepared=f"{end.prepared}, {half} half, witness mark {degrees(clocks[at])}")

    return told(tube.end_a, "fork", 0), told(tube.end_b, "tongue", -1)
