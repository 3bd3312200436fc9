"""What a solved rail asks of each support: the real height of the rail over it, its bays, the edges around it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from railgen.checks.strength.continuous import run_factors
from railgen.checks.strength.loads import PostReach, Sharing, sharing
from railgen.geometry import UP, Vec
from railgen.job.model import Job
from railgen.layout.measure import free_ends
from railgen.layout.model import Layout, Node, Post, Span
from railgen.members.stair import landing_outline
from railgen.survey import SurfaceKind

__all__ = ["Bay", "Edges", "Support", "bays", "beyond", "edges", "supports"]

_WALLS = 1.6  # the thickest wall over the thinnest of the tubes in use: 3.2 and 2.0 mm
_STRAIGHT = math.radians(1.0)
_EQUAL = 0.10  # spans that differ by no more count as equal where posts share a load (common practice)


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """A post as its load sees it. ``axis``: height (mm) of the rail's axis over the surface, at the post's axis."""

    post: Post
    axis: float
    reach: PostReach
    shared: Sharing | None

    @property
    def arm(self) -> float:
        """Height of the rail's axis over the post's foot."""
        return self.axis - self.post.foot

    @property
    def overhang(self) -> float:
        return self.reach.overhang


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """A bay of rail between two supports; ``height`` of the rail over the ground, the lower of the two (mm)."""

    span: Span
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Edges:
    """Distance (mm) from a post's axis to where what bears ends; infinite where a floor goes on.

    ``front``: down the stair; ``back``: up it; ``side``: the rail's own side, outwards.
    """

    front: float
    back: float
    side: float
    other_side: float


def supports(job: Job, layout: Layout) -> tuple[Support, ...]:
    """Every post that carries rail, in walking order."""
    spans = layout.spans
    names = [spans[0].from_post, *(span.to_post for span in spans)] if spans else []
    bottom, top = free_ends(layout.rails, layout.nodes)
    axes = {name: _axis(job, layout, layout.post(name)) for name in names}
    sideways = _running_on(layout, names, (bottom, top), {name: _give(job, axis) for name, axis in axes.items()})
    upwards = _running_on(layout, names, (bottom, top), dict.fromkeys(names, 0.0))
    found = []
    for at, name in enumerate(names):
        before = spans[at - 1].length if at else 0.0
        after = spans[at].length if at < len(spans) else 0.0
        over = bottom if at == 0 else top if at == len(spans) else 0.0
        post = layout.post(name)
        found.append(
            Support(
                post=post,
                axis=axes[name],
                reach=PostReach(
                    before=before, after=after, overhang=over, sideways=sideways[name], upwards=upwards[name]
                ),
                shared=_shared(layout, name) if job.strength.share_between_posts else None,
            )
        )
    return tuple(found)


def _give(job: Job, height: float) -> float:
    """E I of the rail over the stiffness of a post (mm3), h^3 / 3 for posts of the rail's own tube.

    Walls are left out, so that a thinner one never helps: posts count as stiff as walls of 3.2 and 2.0 mm make them.
    """
    stout = _WALLS * (job.hardware.post_tube.od / job.hardware.tube.od) ** 3
    return height**3 / (3 * stout)


def _running_on(
    layout: Layout, names: list[str], free: tuple[float, float], give: dict[str, float]
) -> dict[str, float]:
    """How much more of a line load each post takes than half of its bays, as the rail runs on from turn to turn."""
    turns = {node.post for node in layout.nodes if node.post and _turned(node)}
    places = [free[0]]
    for span in layout.spans:
        places.append(places[-1] + span.length)
    taken = dict.fromkeys(names, 0.0)
    hinged = dict.fromkeys(names, 0.0)
    cuts = [0, *(at for at, name in enumerate(names) if name in turns and 0 < at < len(names) - 1), len(names) - 1]
    for first, last in pairwise(cuts):
        run = names[first : last + 1]
        if len(run) < 2:
            continue
        start = 0.0 if first == 0 else places[first]
        end = places[-1] + free[1] if last == len(names) - 1 else places[last]
        found = run_factors(tuple(places[first : last + 1]), (start, end), tuple(give[name] for name in run))
        for name, (one, other) in zip(run, found, strict=True):
            taken[name] += one
            hinged[name] += other
    return {name: max(1.0, taken[name] / hinged[name]) if hinged[name] else 1.0 for name in names}


def _turned(node: Node) -> bool:
    """Whether the rail turns in plan there."""
    one, other = (math.atan2(way.y, way.x) for way in (node.incoming, node.outgoing))
    return abs(math.remainder(other - one, math.tau)) > _STRAIGHT


def bays(layout: Layout, found: tuple[Support, ...]) -> tuple[Bay, ...]:
    """Every bay of the rail with its height."""
    axis = {support.post.id: support.axis for support in found}
    return tuple(Bay(span=span, height=min(axis[span.from_post], axis[span.to_post])) for span in layout.spans)


def beyond(layout: Layout, node: Node) -> float:
    """Rail (mm) beyond an elbow that no post holds further out: a level end that stands free; 0 at other elbows."""
    first, last = layout.rails[0], layout.rails[-1]
    for rail, tip, joint in ((first, first.start, first.far_end), (last, last.end, last.start_end)):
        if rail.level_end and not rail.feet and joint.node == node.id:
            return (tip - node.at).length
    return 0.0


def edges(job: Job, layout: Layout, post: Post) -> Edges:
    """Where the tread, landing or floor under a post ends. The job's own distances come before what the stair shows.

    A tread ends at its nosing, at the riser behind it and at both sides; a landing where its outline does, which runs
    under the first nosing above it. Only a floor is taken to go on: behind a post at the top, and all around in front
    of the first riser.
    """
    ground = job.ground
    found = (
        _landing_edges(job, layout, post)
        if post.surface.kind is SurfaceKind.LANDING
        else _tread_edges(job, layout, post)
    )
    return replace(
        found,
        front=found.front if ground.edge_front is None else ground.edge_front,
        side=found.side if ground.edge_side is None else ground.edge_side,
    )


def _tread_edges(job: Job, layout: Layout, post: Post) -> Edges:
    flight, tread = layout.survey.flights[post.surface.flight - 1], post.surface.number
    offset, width = job.posts.edge_offset, flight.flight.width
    front = back = math.inf
    if tread and post.setback is not None:
        front = post.setback.distance
        if tread < flight.last:
            back = flight.going_of(tread) + flight.flight.overhang - front
    return Edges(front=front, back=back, side=offset, other_side=max(width - offset, offset))


def _landing_edges(job: Job, layout: Layout, post: Post) -> Edges:
    """From the post's axis square to the outline, over the breadth of its fixings."""
    number, plate = post.surface.number, job.hardware.base_plate
    lower, upper = layout.survey.flights[number - 1 : number + 1]
    start = lower.at(lower.xs[-1], 0.0, post.base.z)
    outline = landing_outline(layout.survey.landings[number - 1], lower, upper)
    corners = [start + lower.ahead * x + lower.left * y - post.base for x, y in outline]
    side = job.rail.side.outwards(UP.cross(post.ahead))
    along, across = plate.hole_spacing_length / 2, plate.hole_spacing_width / 2
    return Edges(
        front=_to_edge(corners, -post.ahead, across),
        back=_to_edge(corners, post.ahead, across),
        side=_to_edge(corners, side, along),
        other_side=_to_edge(corners, -side, along),
    )


def _to_edge(corners: Sequence[Vec], towards: Vec, half: float) -> float:
    """Distance (mm) to the nearest edge of an outline faced within ``half`` to either hand; corners from the axis."""
    across, found = UP.cross(towards), math.inf
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        out = (b - a).unit().cross(UP)  # the outline runs anticlockwise
        low, high = sorted((a.dot(across), b.dot(across)))
        if out.dot(towards) > 0.5 and a.dot(out) >= 0 and low < half and high > -half:
            found = min(found, a.dot(out))
    return found


def _axis(job: Job, layout: Layout, post: Post) -> float:
    rail = layout.rail_on(post)
    return post.foot + post.length + post.role.head(job.hardware).rise(rail.pitch if rail else 0.0)


def _shared(layout: Layout, name: str) -> Sharing | None:
    """The published share, for a post of one straight tube whose bays are equal; none at elbows."""
    rail = layout.rail_on(layout.post(name))
    lengths = [b.distance - a.distance for a, b in pairwise(rail.feet)] if rail else []
    return sharing(len(lengths)) if lengths and max(lengths) <= (1 + _EQUAL) * min(lengths) else None
