"""Rail tubes with their elbow halves and end finishes."""

from __future__ import annotations

from railgen.geometry import Frame
from railgen.job.model import EndFinish, RailEnd
from railgen.layout.model import JointKind, Layout, Node, RailTube
from railgen.members.holes import elbow_holes
from railgen.members.pieces import CutEnd, FittingKind, TubeRole
from railgen.members.workshop import Workshop, finish_tube

__all__ = ["add_rail", "elbow_half"]

_SIDEWAYS = 0.05  # hinge axes flatter than this have their screws on the rail's outer side, others below


def add_rail(shop: Workshop, layout: Layout, rail: RailTube) -> None:
    """Add a rail tube, what closes or joins its two ends, and all its holes."""
    hardware = shop.job.hardware
    under = rail.left.cross(rail.direction)
    frame = Frame(origin=rail.start, x=under, z=rail.direction)
    ends = []
    for end, free, at, out, name in (
        (rail.start_end, shop.job.rail.bottom, rail.start, -rail.direction, "a"),
        (rail.far_end, shop.job.rail.top, rail.end, rail.direction, "b"),
    ):
        if end.kind is JointKind.ELBOW and end.node is not None:
            node = layout.node(end.node)
            _add_leg(shop, rail, node)
            ends.append(CutEnd(prepared=f"elbow {hardware.elbow.id}", elbow=True))
        else:
            ends.append(CutEnd(prepared=_add_finish(shop, rail, free, Frame(origin=at, x=under, z=out), name)))
    finish_tube(shop, rail.id, TubeRole.RAIL, hardware.tube, rail.length, frame, (ends[0], ends[1]))


def _add_finish(shop: Workshop, rail: RailTube, free: RailEnd, frame: Frame, name: str) -> str:
    hardware = shop.job.hardware
    if free.finish is EndFinish.CAP:
        shop.fitting(f"{rail.id}.cap-{name}", FittingKind.END_CAP, hardware.end_cap, frame)
        return f"cap {hardware.end_cap.id}"
    if free.finish is EndFinish.SCROLL:
        shop.fitting(f"{rail.id}.scroll-{name}", FittingKind.END_SCROLL, hardware.end_scroll, frame)
        return f"scroll {hardware.end_scroll.id}"
    return "open"


def elbow_half(node: Node, rail: RailTube) -> str:
    """Which half of an elbow goes on a rail's end: the tongue on the rail that comes up to it, the fork on the next."""
    return "tongue" if rail.far_end.node == node.id else "fork"


def _add_leg(shop: Workshop, rail: RailTube, node: Node) -> None:
    """One half of an elbow, the first with the pin; screws sit on the lower, else outer side of the hinge axis."""
    hardware = shop.job.hardware
    outer = shop.job.rail.side.outwards(rail.left)
    flip = node.normal.z > _SIDEWAYS or (abs(node.normal.z) <= _SIDEWAYS and node.normal.dot(outer) < 0)
    hinge = -node.normal if flip else node.normal
    half = elbow_half(node, rail)
    incoming = half == "tongue"
    kind = FittingKind.ELBOW_TONGUE if incoming else FittingKind.ELBOW_FORK
    frame = Frame.along(node.at, -rail.direction if incoming else rail.direction, hinge)
    holes = tuple(elbow_holes(hardware.elbow, hardware.tube.wall, hardware.screws))
    leg = shop.fitting(f"{node.id}.{half}", kind, hardware.elbow, frame, holes)
    if incoming:
        pin = Frame.along(node.at, hinge, rail.direction)
        shop.fitting(f"{node.id}.pin", FittingKind.ELBOW_PIN, hardware.elbow, pin)
    for hole in holes:
        shop.bore(rail.id, leg, hole, hardware.screws[hardware.elbow.screw], tapped=False)
