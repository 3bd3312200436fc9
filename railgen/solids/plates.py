"""Base plates, cover plates, and the stair's own slabs."""

from __future__ import annotations

from collections.abc import Sequence

from cadquery import Solid

from railgen.catalogue.models import BasePlate, CoverPlate
from railgen.geometry import ORIGIN, Frame, Vec
from railgen.members.pieces import FaceHole, StairBody
from railgen.solids.drill import drilled
from railgen.solids.shapes import UPRIGHT, cut, cylinder, fuse, prism, refuse, revolve, rounded_rectangle

__all__ = ["base_plate", "cover_plate", "stair_body"]


def base_plate(item: BasePlate, holes: Sequence[FaceHole]) -> Solid:
    """A plate with rounded corners and an upright hollow socket, its floor the plate itself."""
    outer, inner = item.socket_od / 2, item.socket_od / 2 - item.socket_wall
    if item.socket_od >= min(item.length, item.width):
        raise refuse(item.id, "the socket is wider than the plate", "measure socket_od and the plate again")
    if 2 * item.corner_radius >= min(item.length, item.width):
        raise refuse(item.id, "the corners are rounder than the plate is wide", "corner_radius is a radius")
    plate = prism(rounded_rectangle(item.length, item.width, item.corner_radius), UPRIGHT, item.thickness)
    foot, top = item.thickness / 2, item.thickness + item.socket_height  # the foot is within the plate
    if inner <= 0:
        socket = cylinder(UPRIGHT, outer, foot, top)
    else:
        floor = item.thickness
        socket = revolve([(0, foot), (outer, foot), (outer, top), (inner, top), (inner, floor), (0, floor)])
    return drilled(fuse(plate, socket), holes)


def cover_plate(item: CoverPlate) -> Solid:
    """A box of sheet, open below, with a hole for the post."""
    sheet = item.thickness
    if item.bore >= min(item.length, item.width) or 2 * sheet >= min(item.length, item.width) or sheet >= item.height:
        raise refuse(item.id, "nothing of the cover is left beside its hole and its hollow", "measure it again")
    box = prism(rounded_rectangle(item.length, item.width, 0), UPRIGHT, item.height)
    hollow = prism(
        rounded_rectangle(item.length - 2 * sheet, item.width - 2 * sheet, 0), _at(-1.0), item.height - sheet + 1
    )
    return cut(box, [hollow, cylinder(UPRIGHT, item.bore / 2, item.height / 2, item.height + 1)])


def stair_body(body: StairBody) -> Solid:
    """A slab below its outline, with the holes for anchors bored to their depth or right through."""
    return drilled(prism([*body.outline], UPRIGHT, -body.thickness), body.holes, body.thickness)


def _at(z: float) -> Frame:
    return Frame(origin=ORIGIN + Vec(0, 0, z), x=UPRIGHT.x, z=UPRIGHT.z)
