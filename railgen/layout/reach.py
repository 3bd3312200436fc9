"""Whether the fittings reach: pivots and hinges within range, tubes long enough, holes clear of tube ends."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from railgen.catalogue.models import AdjustableSaddle, Elbow, ElbowSaddle, FixedSaddle
from railgen.errors import Fault
from railgen.geometry import Vec
from railgen.job.model import EndFinish, Hardware, Job, RailEnd
from railgen.layout.bodies import curl
from railgen.layout.joins import least_node_distance
from railgen.layout.model import LEVEL, JointKind, Node, Post, PostRole, RailTube, TubeEnd
from railgen.layout.wording import by_default, instead, least, said
from railgen.units import Rounding

__all__ = ["finish_spigot", "reach_faults", "saddle_room"]

_GAP = 1.0  # mm kept between a screw and the end of a spigot inside the tube
_SCROLL_GAP = 5.0  # mm kept between a scroll and a post
_STEPS = 64  # points of a scroll looked at


def reach_faults(job: Job, posts: Sequence[Post], nodes: Sequence[Node], rails: Sequence[RailTube]) -> Iterator[Fault]:
    """Every fitting out of its range and every tube or hole that cannot be made, with the number."""
    for node in nodes:
        yield from _elbow_faults(job, node)
    by_id = {post.id: post for post in posts}
    for rail in rails:
        yield from _tube_faults(job, rail, by_id)
    yield from _scroll_faults(job, rails[0], job.rail.bottom, by_id)
    yield from _scroll_faults(job, rails[-1], job.rail.top, by_id)


def finish_spigot(hardware: Hardware, free: RailEnd) -> float:
    """Length of what sits inside a free end (mm)."""
    if free.finish is EndFinish.CAP:
        return hardware.end_cap.spigot_length
    return hardware.end_scroll.spigot_length if free.finish is EndFinish.SCROLL else 0.0


def saddle_room(hardware: Hardware, saddle: AdjustableSaddle | FixedSaddle, inside: float) -> float:
    """Least distance (mm) of a saddle's middle from a tube's end with ``inside`` mm of spigot in it."""
    screw = hardware.screws[saddle.screw]
    hole = max(screw.edge_distance, inside + screw.diameter / 2 + _GAP if inside else 0.0)
    return max(saddle.hole_spacing / 2 + hole, saddle.cradle_length / 2)


def _spigot(job: Job, end: TubeEnd, free: RailEnd) -> float:
    """Length of what sits inside a tube's end (mm)."""
    return job.hardware.elbow.spigot_length if end.kind is JointKind.ELBOW else finish_spigot(job.hardware, free)


def _elbow_faults(job: Job, node: Node) -> Iterator[Fault]:
    elbow, saddle, where = job.hardware.elbow, job.hardware.elbow_saddle, f"elbow at node {node.id}"
    if not elbow.hinge_min <= node.deflection <= elbow.hinge_max:
        yield _out_of_range(
            "elbow-range",
            where,
            f"elbow {elbow.id} would be set to",
            node.deflection,
            elbow.hinge_min,
            elbow.hinge_max,
            "a rail that turns less there, or "
            + instead(job, "elbow", Elbow, lambda one: one.hinge_min <= node.deflection <= one.hinge_max),
        )
    if node.post is None:
        return
    rising = math.asin(max(-1.0, min(1.0, node.incoming.z)))
    if rising > saddle.pitch_max:
        yield _out_of_range(
            "elbow-saddle-range",
            where,
            f"the rail reaches elbow saddle {saddle.id} at",
            rising,
            0.0,
            saddle.pitch_max,
            instead(job, "elbow_saddle", ElbowSaddle, lambda one: rising <= one.pitch_max),
        )
    level = min(abs(node.incoming.z), abs(node.outgoing.z)) < LEVEL
    if saddle.stem_offset > 0 and not level:
        yield Fault(
            code="elbow-saddle-level",
            where=where,
            message=f"elbow saddle {saddle.id} stands beside the node and needs a level rail there",
            hint=instead(job, "elbow_saddle", ElbowSaddle, lambda one: one.stem_offset == 0),
        )


def _out_of_range(code: str, where: str, what: str, angle: float, low: float, high: float, hint: str) -> Fault:
    return Fault(
        code=code,
        where=where,
        message=f"{what} {math.degrees(angle):.2f} degrees",
        allowed=f"{math.degrees(low):.1f} to {math.degrees(high):.1f} degrees",
        hint=hint,
    )


def _tube_faults(job: Job, rail: RailTube, posts: dict[str, Post]) -> Iterator[Fault]:
    hardware, where = job.hardware, f"rail {rail.id}"
    if rail.level_end or (rail.flight is None and abs(rail.direction.z) > LEVEL):
        return  # told as the end's own length, or as the rise piece's
    spigots = _spigot(job, rail.start_end, job.rail.bottom), _spigot(job, rail.far_end, job.rail.top)
    if rail.length < sum(spigots) + 2.0:
        hint = "posts further apart (the flight's posts, posts.setback) would help"
        if rail.flight is None:
            apart = rail.length + 2 * hardware.elbow.take_off
            hint = (
                f"the nodes must be {least(job, least_node_distance(hardware.elbow))} apart, and are "
                f"{said(job, apart)}; a wider well, a longer landing, another posts.edge_offset would help, or "
                + instead(job, "elbow", Elbow, lambda one: least_node_distance(one) <= apart)
            )
        yield Fault(
            code="tube-too-short",
            where=where,
            message=f"its cut length comes out at {said(job, rail.length)}",
            allowed=f"{least(job, sum(spigots) + 2.0)}, for what sits inside its ends",
            hint=hint,
        )
    for foot in rail.feet:
        pitched = posts[foot.post].role is PostRole.PITCHED
        saddle = hardware.adjustable_saddle if pitched else hardware.fixed_saddle
        if pitched and not hardware.adjustable_saddle.pitch_min <= rail.pitch <= hardware.adjustable_saddle.pitch_max:
            yield _out_of_range(
                "saddle-range",
                f"post {foot.post}",
                f"saddle {saddle.id} would be set to",
                rail.pitch,
                hardware.adjustable_saddle.pitch_min,
                hardware.adjustable_saddle.pitch_max,
                "posts on other treads (the flight's posts), or "
                + instead(
                    job, "adjustable_saddle", AdjustableSaddle, lambda one: one.pitch_min <= rail.pitch <= one.pitch_max
                ),
            )
        ends = (rail.start_end, foot.distance, "bottom"), (rail.far_end, rail.length - foot.distance, "top")
        for inside, (end, to_end, side) in zip(spigots, ends, strict=True):
            room = saddle_room(hardware, saddle, inside)
            if to_end < room:
                yield Fault(
                    code="hole-near-end",
                    where=f"{where} at post {foot.post}",
                    message=f"a saddle hole comes {said(job, to_end - saddle.hole_spacing / 2)} from the tube's end",
                    allowed=least(job, room - saddle.hole_spacing / 2),
                    hint=_further(job, end, side, room - to_end),
                )


def _further(job: Job, end: TubeEnd, side: str, short: float) -> str:
    """What brings a hole ``short`` mm further from a tube's end."""
    if end.kind is JointKind.ELBOW:
        return f"a post {said(job, short, Rounding.UP)} further from the elbow (posts.setback) would help"
    key, free = f"rail.{side}.overhang", job.rail.bottom if side == "bottom" else job.rail.top
    return f"a {key} of {least(job, free.overhang + short)} would help{by_default(job, key)}"


def _scroll_faults(job: Job, rail: RailTube, end: RailEnd, posts: dict[str, Post]) -> Iterator[Fault]:
    """A scroll curls back under the rail: it must pass the end post."""
    if end.finish is not EndFinish.SCROLL or not rail.feet:
        return
    scroll = job.hardware.end_scroll
    bottom = end is job.rail.bottom
    foot = rail.feet[0] if bottom else rail.feet[-1]
    post = posts[foot.post]
    tip, out = (rail.start, -rail.direction) if bottom else (rail.end, rail.direction)
    under = rail.left.cross(rail.direction)
    clear = job.hardware.tube.radius + job.hardware.post_tube.radius + _SCROLL_GAP
    nearest = min(
        (
            _plan_distance(point, post.base)
            for point in curl(scroll, tip, out, under, _STEPS)
            if point.z - job.hardware.tube.radius < post.top_at.z
        ),
        default=clear,
    )
    if nearest < clear - 1e-9:
        key = f"rail.{'bottom' if bottom else 'top'}.{'overhang' if end.level is None else 'level_extension'}"
        yield Fault(
            code="scroll-post",
            where=f"rail {rail.id}, {'bottom' if bottom else 'top'} end",
            message=f"the scroll's centreline comes {said(job, nearest)} from the axis of post {post.id}",
            allowed=least(job, clear),
            hint=f"a longer {key} would help{by_default(job, key)}",
        )


def _plan_distance(a: Vec, b: Vec) -> float:
    return math.hypot(a.x - b.x, a.y - b.y)
