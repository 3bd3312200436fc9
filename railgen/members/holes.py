"""The holes of bought fittings, each defined once, in the fitting's own frame (see :mod:`railgen.members.pieces`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product

from railgen.catalogue.models import BasePlate, Cradle, Elbow, PostHead, Rivet, Screw
from railgen.geometry import DOWN, UP, Vec
from railgen.members.pieces import FaceHole, Purpose

__all__ = ["cradle_holes", "elbow_holes", "head_holes", "plate_holes", "plate_spots"]

_THREAD_RUN_OUT = 2.0  # mm a tapped blind hole is deeper than its screw reaches


def plate_holes(plate: BasePlate, rivets: Mapping[str, Rivet]) -> Iterator[FaceHole]:
    """Fixing holes, nearest the lower step first, then the socket's rivet holes."""
    spots = product((1, -1), (1, -1))
    for number, (along, across) in enumerate(spots, start=1):
        yield FaceHole(
            id=f"H{number}",
            purpose=Purpose.ANCHOR,
            diameter=plate.hole_diameter,
            depth=plate.thickness,
            countersink=plate.countersink_diameter,
            point=Vec(along * plate.hole_spacing_length / 2, across * plate.hole_spacing_width / 2, plate.thickness),
            axis=UP,
        )
    yield from _rivet_holes(
        plate.socket_od,
        plate.foot + plate.rivet_height,
        plate.socket_wall,
        rivets[plate.rivet],
        Purpose.SOCKET_RIVET,
    )


def plate_spots(plate: BasePlate, rivets: Mapping[str, Rivet]) -> tuple[tuple[float, float], ...]:
    """Where a plate's fixings stand (x, y from its centre, mm)."""
    return tuple((h.point.x, h.point.y) for h in plate_holes(plate, rivets) if h.purpose is Purpose.ANCHOR)


def head_holes(head: PostHead, rivets: Mapping[str, Rivet]) -> Iterator[FaceHole]:
    """Rivet holes of the spigot inside the post."""
    yield from _rivet_holes(head.spigot_od, -head.rivet_depth, head.spigot_wall, rivets[head.rivet], Purpose.HEAD_RIVET)


def _rivet_holes(od: float, z: float, wall: float, rivet: Rivet, purpose: Purpose) -> Iterator[FaceHole]:
    for number, side in enumerate((1, -1), start=1):
        yield FaceHole(
            id=f"V{number}",
            purpose=purpose,
            diameter=rivet.hole_diameter,
            depth=wall,
            point=Vec(0.0, side * od / 2, z),
            axis=Vec(0.0, float(side), 0.0),
        )


def cradle_holes(cradle: Cradle, od: float, screws: Mapping[str, Screw]) -> Iterator[FaceHole]:
    """Screw holes of a trough under a tube of diameter ``od``."""
    for number, side in enumerate((-1, 1), start=1):
        yield FaceHole(
            id=f"S{number}",
            purpose=Purpose.SADDLE_SCREW,
            diameter=screws[cradle.screw].clearance_diameter,
            depth=cradle.cradle_thickness,
            point=Vec(side * cradle.hole_spacing / 2, 0.0, cradle.under(od)),
            axis=DOWN,
        )


def elbow_holes(elbow: Elbow, wall: float, screws: Mapping[str, Screw]) -> Iterator[FaceHole]:
    """The tapped hole in a leg's spigot, on the hinge axis side; ``wall`` is the tube's."""
    screw = screws[elbow.screw]
    yield FaceHole(
        id="S1",
        purpose=Purpose.ELBOW_SCREW,
        diameter=screw.tapping_diameter,
        depth=min(screw.length - wall + _THREAD_RUN_OUT, elbow.spigot_od / 2),
        thread=screw.thread,
        point=Vec(elbow.spigot_od / 2, 0.0, elbow.take_off + elbow.screw_distance),
        axis=Vec(1.0, 0.0, 0.0),
    )
