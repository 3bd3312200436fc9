"""What the sheets say about a piece besides its shape: mates, mass, where it goes, names in order."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from railgen.catalogue.models import BasePlate
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import Hole, StairBody, Tube

__all__ = ["mates", "places", "plate_volume", "short_list", "tube_volume"]


def mates(fabrication: Fabrication, mark: str) -> dict[str, str]:
    """For each hole of the piece: mark and hole of what it mates with, every one where occurrences differ."""
    mark_of = {place.id: place.mark for place in fabrication.placed}
    found: dict[str, set[str]] = {}
    for joint in fabrication.joints:
        for (here, hole), (there, other) in ((joint.a, joint.b), (joint.b, joint.a)):
            if mark_of[here] == mark:
                theirs = fabrication.pieces[mark_of[there]]
                text = theirs.mark if isinstance(theirs, StairBody) else f"{theirs.mark}:{other}"
                found.setdefault(hole, set()).add(text)
    return {hole: short_list(sorted(texts)) for hole, texts in found.items()}


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


def short_list(names: Iterable[str]) -> str:
    """Names in one line, runs of numbers drawn together.

    >>> short_list(["H1", "H2", "H3", "H7", "a:S1"])
    'H1 to H3, H7, a:S1'
    """
    runs: list[list[str]] = []
    for name in names:
        if runs and _follows(runs[-1][-1], name):
            runs[-1].append(name)
        else:
            runs.append([name])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _follows(name: str, later: str) -> bool:
    one, two = (re.fullmatch(r"(.*?)(\d+)", text) for text in (name, later))
    return bool(one and two and one[1] == two[1] and int(two[2]) == int(one[2]) + 1)
