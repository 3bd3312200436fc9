"""Posts with their plates, covers, anchors and saddles."""

from __future__ import annotations

import math

from railgen.catalogue.models import ElbowSaddle
from railgen.geometry import UP, Frame, Vec
from railgen.job.model import Side
from railgen.layout.model import LEVEL, Layout, Node, Post, PostRole, RailTube
from railgen.members.holes import cradle_holes, head_holes, plate_holes
from railgen.members.pieces import CutEnd, FaceHole, FittingKind, Joint, Placed, Purpose, SurfaceHole, TubeRole
from railgen.members.stair import body_of
from railgen.members.workshop import Workshop, finish_tube
from railgen.survey import SurfaceId

__all__ = ["SurfaceHoles", "add_post"]

SurfaceHoles = dict[SurfaceId, list[tuple[SurfaceHole, Frame]]]
"""For each tread, landing or floor: its anchor holes in the frame of their plate, and that frame."""


def add_post(shop: Workshop, layout: Layout, post: Post, surfaces: SurfaceHoles) -> None:
    """Add a post with everything under and on top of it; note its anchor holes in ``surfaces``."""
    hardware = shop.job.hardware
    plate, cover = hardware.base_plate, hardware.cover_plate
    ground = Frame(origin=post.base, x=-post.ahead, z=UP)
    foot = Frame(origin=post.foot_at, x=ground.x, z=UP)
    holes = tuple(plate_holes(plate, hardware.rivets))
    placed = shop.fitting(f"{post.id}.plate", FittingKind.BASE_PLATE, plate, ground, holes)
    if cover is not None:
        shop.fitting(f"{post.id}.cover", FittingKind.COVER_PLATE, cover, ground)
    for hole in holes:
        if hole.purpose is Purpose.ANCHOR:
            _add_anchor(shop, layout, post, placed, hole, surfaces)
        else:
            shop.bore(post.id, placed, hole, hardware.rivets[plate.rivet], tapped=False)
    _add_head(shop, layout, post)
    ends = CutEnd(prepared="base plate"), CutEnd(prepared="saddle")
    finish_tube(shop, post.id, TubeRole.POST, hardware.post_tube, post.length, foot, ends)


def _add_anchor(
    shop: Workshop, layout: Layout, post: Post, plate: Placed, hole: FaceHole, surfaces: SurfaceHoles
) -> None:
    anchor = shop.job.hardware.anchor
    spot = plate.frame.shifted(hole.point)
    name = f"{post.id}.{hole.id}"
    fastener = shop.fitting(f"{post.id}.anchor-{hole.id}", FittingKind.ANCHOR, anchor, spot)
    along, inwards, told = _marked_out(shop.job.rail.side, layout, post, spot.origin)
    drilled = SurfaceHole(
        id=name,
        purpose=Purpose.ANCHOR,
        diameter=anchor.hole_diameter,
        depth=math.inf if shop.job.bolted_through else anchor.hole_depth,  # ended by what it goes through
        point=Vec(hole.point.x, hole.point.y, 0.0),
        axis=UP,
        post=post.id,
        from_nosing=along,
        from_edge=inwards,
        measured_from=told,
    )
    surfaces.setdefault(post.surface, []).append((drilled, plate.frame))
    shop.joints.append(Joint(a=(plate.id, hole.id), b=(body_of(post.surface), name), fastener=fastener.id))


def _marked_out(side: Side, layout: Layout, post: Post, at: Vec) -> tuple[float, float, str]:
    """Distances of a point from the nosing and side edge it is marked out from, and their names.

    A post of a flight is measured from its tread's nosing, in front of the first riser from nosing 1; a corner or
    level post of a landing from the landing nosing of the flight below.
    """
    number = post.surface.flight if post.setback is None else post.setback.flight
    flight = layout.survey.flights[number - 1]
    nosing = flight.last if post.setback is None else max(post.setback.tread, 1)
    told = f"flight {number}: nosing {nosing}, {side.value} edge"
    return flight.along(at) - flight.xs[nosing - 1], flight.inside(side, at), told


def _add_head(shop: Workshop, layout: Layout, post: Post) -> None:
    """The saddle on a post, with its rivets in the post and its screws in the rail."""
    hardware = shop.job.hardware
    if post.role is PostRole.NODE:
        node = next(n for n in layout.nodes if n.post == post.id)
        rivets = tuple(head_holes(hardware.elbow_saddle, hardware.rivets))
        frame = Frame(origin=post.top_at, x=_stem_side(hardware.elbow_saddle, node, post), z=UP)
        head = shop.fitting(f"{post.id}.saddle", FittingKind.ELBOW_SADDLE, hardware.elbow_saddle, frame, rivets)
        return _rivet(shop, post, head, hardware.elbow_saddle.rivet, rivets)
    rail = layout.rail_on(post)
    if rail is None:
        raise LookupError(post.id)
    if post.role is PostRole.LEVEL:
        return _add_fixed(shop, post, rail)
    return _add_adjustable(shop, post, rail)


def _rivet(shop: Workshop, post: Post, head: Placed, rivet: str, holes: tuple[FaceHole, ...]) -> None:
    for hole in holes:
        shop.bore(post.id, head, hole, shop.job.hardware.rivets[rivet], tapped=False)


def _add_fixed(shop: Workshop, post: Post, rail: RailTube) -> None:
    hardware, item = shop.job.hardware, shop.job.hardware.fixed_saddle
    frame = Frame(origin=post.top_at, x=rail.direction, z=UP)
    rivets = tuple(head_holes(item, hardware.rivets))
    screws = tuple(cradle_holes(item, hardware.tube.od, hardware.screws))
    head = shop.fitting(f"{post.id}.saddle", FittingKind.FIXED_SADDLE, item, frame, rivets + screws)
    for hole in screws:
        shop.bore(rail.id, head, hole, hardware.screws[item.screw], tapped=True)
    _rivet(shop, post, head, item.rivet, rivets)


def _add_adjustable(shop: Workshop, post: Post, rail: RailTube) -> None:
    hardware, item = shop.job.hardware, shop.job.hardware.adjustable_saddle
    frame = Frame(origin=post.top_at, x=post.ahead, z=UP)
    rivets = tuple(head_holes(item, hardware.rivets))
    head = shop.fitting(f"{post.id}.saddle", FittingKind.SADDLE_STEM, item, frame, rivets)
    pivot = frame.point(Vec(0.0, 0.0, item.pivot_height))
    tilted = Frame(origin=pivot, x=rail.direction, z=rail.direction.cross(rail.left))
    screws = tuple(cradle_holes(item, hardware.tube.od, hardware.screws))
    cradle = shop.fitting(f"{post.id}.cradle", FittingKind.SADDLE_CRADLE, item, tilted, screws)
    for hole in screws:
        shop.bore(rail.id, cradle, hole, hardware.screws[item.screw], tapped=True)
    _rivet(shop, post, head, item.rivet, rivets)


def _stem_side(saddle: ElbowSaddle, node: Node, post: Post) -> Vec:
    """Which way an elbow saddle faces: along the level tube where its stem stands aside, else as the post does."""
    if saddle.stem_offset == 0:
        return post.ahead
    return node.outgoing if abs(node.outgoing.z) < LEVEL else -node.incoming
