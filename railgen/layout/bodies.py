"""What a solved rail takes up in space, piece by piece, as simple bodies."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from railgen.catalogue.models import EndScroll
from railgen.geometry import UP, Vec
from railgen.geometry.bodies import Block, Body, Round
from railgen.job.model import EndFinish, Job
from railgen.layout.model import JointKind, Node, Post, RailTube

__all__ = ["curl", "node_bodies", "post_bodies", "rail_bodies"]

_DOME = 0.4  # of the bar's radius: how far a scroll's free end stands out
_SLICES = 12  # of that dome

Named = tuple[str, Body]


def rail_bodies(job: Job, rail: RailTube) -> Iterator[Named]:
    """A tube and what closes its free ends."""
    yield f"rail {rail.id}", Round(start=rail.start, end=rail.end, radius=job.hardware.tube.radius)
    ends = (
        (rail.start_end, job.rail.bottom, rail.start, -rail.direction),
        (rail.far_end, job.rail.top, rail.end, rail.direction),
    )
    for joint, free, tip, out in ends:
        if joint.kind is not JointKind.FREE:
            continue
        if free.finish is EndFinish.CAP:
            cap = tip + out * job.hardware.end_cap.thickness
            yield "the end cap", Round(start=tip, end=cap, radius=job.hardware.tube.radius)
        elif free.finish is EndFinish.SCROLL:
            under = rail.left.cross(rail.direction)
            yield from (
                ("the scroll", part)
                for part in _scroll(job.hardware.end_scroll, tip, out, under, job.hardware.tube.radius)
            )


def curl(scroll: EndScroll, tip: Vec, out: Vec, under: Vec, steps: int) -> Iterator[Vec]:
    """Points of a scroll's centreline from the tube's cut end on, evenly turned."""
    for k in range(steps + 1):
        a = scroll.turn * k / steps
        yield tip + out * (scroll.bend_radius * math.sin(a)) + under * (scroll.bend_radius * (1 - math.cos(a)))


def _scroll(scroll: EndScroll, tip: Vec, out: Vec, under: Vec, radius: float) -> Iterator[Round]:
    """The curl degree by degree, and the dome on its free end in slices."""
    points = list(curl(scroll, tip, out, under, max(1, round(math.degrees(scroll.turn)))))
    for near, far in pairwise(points):
        yield Round(start=near, end=far, radius=radius)
    way = out * math.cos(scroll.turn) + under * math.sin(scroll.turn)
    high = _DOME * radius
    ball = (radius**2 + high**2) / (2 * high)
    for k in range(_SLICES):
        low, top = high * k / _SLICES, high * (k + 1) / _SLICES
        width = math.sqrt(max(0.0, ball**2 - (ball - high + low) ** 2))
        yield Round(start=points[-1] + way * low, end=points[-1] + way * top, radius=width)


def node_bodies(job: Job, node: Node) -> Iterator[Named]:
    """An elbow's hub, which is a ball, and its necks."""
    elbow, name = job.hardware.elbow, f"the elbow at {node.id}"
    yield name, Round(start=node.at, end=node.at, radius=elbow.hub_diameter / 2)
    for way in (-node.incoming, node.outgoing):
        yield name, Round(start=node.at, end=node.at + way * elbow.take_off, radius=elbow.neck_diameter / 2)


def post_bodies(job: Job, post: Post) -> Iterator[Named]:
    """A post, its plate and its cover."""
    plate, cover, across = job.hardware.base_plate, job.hardware.cover_plate, UP.cross(post.ahead)
    yield f"post {post.id}", Round(start=post.foot_at, end=post.top_at, radius=job.hardware.post_tube.radius)
    parts = [("plate", plate.length, plate.width, plate.thickness)]
    parts += [("cover", cover.length, cover.width, cover.height)] if cover else []
    for name, length, width, height in parts:
        yield (
            f"the {name} of post {post.id}",
            Block(
                middle=post.base + UP * (height / 2),
                halves=(post.ahead * (length / 2), across * (width / 2), UP * (height / 2)),
            ),
        )
