"""Pieces and occurrences as they are gathered, and the tubes that are drilled last, when all bores are known."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from railgen.catalogue.models import Rivet, Screw, TubeSection
from railgen.geometry import Frame
from railgen.job.model import Job
from railgen.members.pieces import (
    CutEnd,
    FaceHole,
    Fitting,
    FittingItem,
    FittingKind,
    Group,
    Joint,
    Piece,
    Placed,
    Purpose,
    Tube,
    TubeHole,
    TubeRole,
)

__all__ = ["Workshop", "finish_tube"]

_LETTERS = {TubeRole.POST: "P", TubeRole.RAIL: "R"}
_FINE = 6  # decimals of a millimetre kept in pieces: far below any tool, and the same on every machine


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """A hole a fitting makes in a tube: the fitting's hole, its occurrence, and the fastener through both."""

    hole: FaceHole
    fitting: Placed
    diameter: float
    thread: str
    fastener: Rivet | Screw


@dataclass(slots=True)
class Workshop:
    """Pieces gathered so far."""

    job: Job
    pieces: dict[str, Piece] = field(default_factory=dict)
    placed: list[Placed] = field(default_factory=list)
    joints: list[Joint] = field(default_factory=list)
    bores: dict[str, list[Bore]] = field(default_factory=dict)  # by the tube's occurrence id

    def mark(self, piece: Piece) -> str:
        """Mark under which an equal piece is kept; a name already taken by another piece gets a number."""
        wanted, number = piece.mark, 1
        while wanted in self.pieces:
            if self.pieces[wanted] == replace(piece, mark=wanted):
                return wanted
            number += 1
            wanted = f"{piece.mark}-{number}"
        self.pieces[wanted] = replace(piece, mark=wanted)
        return wanted

    def put(self, occurrence: str, piece: Piece, frame: Frame, group: Group) -> Placed:
        place = Placed(id=occurrence, mark=self.mark(piece), frame=frame, group=group)
        self.placed.append(place)
        return place

    def fitting(
        self, occurrence: str, kind: FittingKind, item: FittingItem, frame: Frame, holes: tuple[FaceHole, ...] = ()
    ) -> Placed:
        mark = f"{item.id}-{kind.part}" if kind.part else item.id
        od = self.job.hardware.tube.od
        mate = self.job.hardware.elbow if kind is FittingKind.ELBOW_SADDLE else None
        piece = Fitting(mark=mark, kind=kind, item=item, od=od, holes=holes, mate=mate)
        return self.put(occurrence, piece, frame, Group.FIXINGS if kind.role.fixing else Group.FITTINGS)

    def bore(self, tube: str, fitting: Placed, hole: FaceHole, fastener: Rivet | Screw, *, tapped: bool) -> None:
        """Note that ``hole`` of a placed fitting goes through the wall of ``tube``."""
        if isinstance(fastener, Rivet):
            diameter, thread = fastener.hole_diameter, ""
        else:
            diameter = fastener.tapping_diameter if tapped else fastener.clearance_diameter
            thread = fastener.thread if tapped else ""
        self.bores.setdefault(tube, []).append(
            Bore(hole=hole, fitting=fitting, diameter=diameter, thread=thread, fastener=fastener)
        )


def finish_tube(
    shop: Workshop,
    occurrence: str,
    role: TubeRole,
    section: TubeSection,
    length: float,
    frame: Frame,
    ends: tuple[CutEnd, CutEnd],
) -> None:
    """Cut and drill one tube: every bore becomes a hole at its distance and clock position, with its fastener."""
    found: list[tuple[TubeHole, Bore]] = []
    for bore in shop.bores.pop(occurrence, []):
        point, axis = bore.fitting.frame.point(bore.hole.point), bore.fitting.frame.direction(bore.hole.axis)
        hole = TubeHole(
            id="",
            purpose=bore.hole.purpose,
            diameter=bore.diameter,
            depth=section.wall,
            thread=bore.thread,
            distance=round(frame.local(point).z, _FINE),
            clock=round(frame.clock_of(axis), 9) % math.tau,
        )
        found.append((hole, bore))
    found.sort(key=lambda pair: (pair[0].distance, pair[0].clock))
    holes = tuple(replace(hole, id=f"H{number}") for number, (hole, _) in enumerate(found, start=1))
    piece = Tube(
        mark="", role=role, section=section, length=round(length, _FINE), holes=holes, end_a=ends[0], end_b=ends[1]
    )
    mark = next((m for m, p in shop.pieces.items() if p == replace(piece, mark=m)), None)
    if mark is None:
        number = 1 + sum(isinstance(p, Tube) and p.role is role for p in shop.pieces.values())
        piece = replace(piece, mark=f"{_LETTERS[role]}{number}")
    else:
        piece = replace(piece, mark=mark)
    tube = shop.put(occurrence, piece, frame, Group.POSTS if role is TubeRole.POST else Group.RAIL)
    for hole, (_, bore) in zip(holes, found, strict=True):
        _add_fastener(shop, tube, piece, hole, bore)


def _add_fastener(shop: Workshop, tube: Placed, piece: Tube, hole: TubeHole, bore: Bore) -> None:
    name = f"{tube.id}.{hole.id}"
    if bore.hole.purpose is Purpose.SADDLE_SCREW:  # its head sits under the saddle's trough
        at = bore.fitting.frame.point(bore.hole.point)
        out = bore.fitting.frame.direction(bore.hole.axis)
        spot = Frame.along(at, out, tube.frame.z)
    else:
        spot = piece.hole_frame(hole).placed_in(tube.frame)
    kind = FittingKind.RIVET if isinstance(bore.fastener, Rivet) else FittingKind.SCREW
    fastener = shop.fitting(f"{name}.{kind.value}", kind, bore.fastener, spot)
    shop.joints.append(Joint(a=(tube.id, hole.id), b=(bore.fitting.id, bore.hole.id), fastener=fastener.id))
