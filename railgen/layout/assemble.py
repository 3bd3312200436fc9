"""Posts, nodes and tubes in space: one polyline of centrelines, walked from the bottom of the stair to the top."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import pairwise

from railgen.geometry import UP, Vec, angle_between
from railgen.job.model import Job
from railgen.layout.joins import Join, JoinMode
from railgen.layout.level import FlightLine
from railgen.layout.model import Foot, JointKind, Node, Post, PostRole, RailTube, TubeEnd

__all__ = ["Assembled", "assemble"]

_IN_LINE = 1e-9  # radians: tubes this straight have no elbow plane


@dataclass(frozen=True, slots=True, kw_only=True)
class _Corner:
    """A point of the polyline between two tubes, and the post under it, if any."""

    at: Vec
    post: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """A straight piece of the polyline: ``flight`` is None for a level or upright piece."""

    flight: FlightLine | None
    left: Vec
    posts: tuple[Post, ...] = ()  # level posts on it


@dataclass(slots=True)
class _Path:
    """The polyline under construction: corner i lies between run i and run i + 1."""

    runs: list[_Run] = field(default_factory=list)
    corners: list[_Corner] = field(default_factory=list)
    posts: list[Post] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled:
    """The rail in space, everything in walking order."""

    posts: tuple[Post, ...]
    nodes: tuple[Node, ...]
    rails: tuple[RailTube, ...]


def assemble(job: Job, lines: tuple[FlightLine, ...], joins: tuple[Join, ...]) -> Assembled:
    """The rail in space from its flights' centrelines, which already carry the length of the posts."""
    path = _Path()
    for index, flight in enumerate(lines):
        shared = index > 0 and joins[index - 1].mode is JoinMode.SHARED
        path.posts += _flight_posts(job, flight, index, last=index == len(lines) - 1, skip_first=shared)
        path.runs.append(_Run(flight=flight, left=flight.flight.left))
        if index < len(joins):
            _cross_landing(job, path, flight, lines[index + 1], joins[index], index + 1)
    nodes = _nodes(path)
    return Assembled(posts=tuple(path.posts), nodes=nodes, rails=_tubes(job, path, nodes))


def _flight_posts(job: Job, solved: FlightLine, index: int, *, last: bool, skip_first: bool) -> list[Post]:
    flight, number = solved.flight, solved.flight.flight.number
    across = flight.across(job.rail.side, job.posts.edge_offset)
    posts = []
    for k, station in enumerate(solved.stations):
        if skip_first and k == 0:
            continue  # the post of the corner node below carries it
        x, setback = solved.x(k), solved.line.setbacks[k]
        landing = index if station.tread == 0 and index else number if station.tread == flight.last and not last else 0
        pitched = station.node_height is None
        rise = _pitched_rise(job, solved.line.pitch) if pitched else job.hardware.elbow_saddle.node_height
        posts.append(
            Post(
                id=f"F{number}-P{k + 1}",
                role=PostRole.PITCHED if pitched else PostRole.NODE,
                flight=number,
                tread=station.tread,
                landing=landing or None,
                setback=setback,
                move=setback - station.nominal,
                base=flight.at(x, across, station.level),
                ahead=flight.ahead,
                length=solved.line.z(x) - rise - job.hardware.base_plate.thickness - station.level,
                surface=_surface(number, station.tread, flight.last, landing),
            )
        )
    return posts


def _pitched_rise(job: Job, pitch: float) -> float:
    saddle = job.hardware.adjustable_saddle
    return saddle.pivot_height + saddle.pivot_to_centre / math.cos(pitch)


def _surface(number: int, tread: int, last: int, landing: int) -> str:
    if landing:
        return f"LANDING-{landing}"
    return "FLOOR-BOTTOM" if tread == 0 else "FLOOR-TOP" if tread == last else f"F{number}-T{tread}"


def _cross_landing(job: Job, path: _Path, lower: FlightLine, upper: FlightLine, join: Join, number: int) -> None:
    """Add what lies between two flights: their nodes, corner posts, level or upright pieces of rail."""
    side, offset = job.rail.side, job.posts.edge_offset
    height = job.hardware.elbow_saddle.node_height
    top_x = lower.x(-1) if join.mode is JoinMode.PAIR else join.lower_x
    node = lower.flight.at(top_x, lower.flight.across(side, offset), lower.line.z(top_x))
    if join.mode is JoinMode.RISE:
        post = _landing_post(job, lower, node, lower.flight.ahead, height, PostRole.NODE, f"L{number}-C1", number)
        path.posts.append(post)
        path.runs.append(_Run(flight=None, left=lower.flight.left))
        above = Vec(node.x, node.y, upper.line.z(join.upper_x))
        path.corners += [_Corner(at=node, post=post.id), _Corner(at=above, post=None)]
        return
    top_post = path.posts[-1].id
    if join.mode is JoinMode.SHARED:
        path.corners.append(_Corner(at=node, post=top_post))
        return
    foot_x = upper.x(0)
    beyond = upper.flight.at(foot_x, upper.flight.across(side, offset), upper.line.z(foot_x))
    points = [node, *(Vec(c.x, c.y, node.z) for c in join.corners), beyond]
    path.corners.append(_Corner(at=node, post=top_post))
    for leg, (a, b) in enumerate(pairwise(points), start=1):
        ahead = Vec(b.x - a.x, b.y - a.y, 0.0).unit()
        level_posts = _level_posts(job, lower, a, b, ahead, f"L{number}-S{leg}", number)
        path.posts += level_posts
        path.runs.append(_Run(flight=None, left=UP.cross(ahead), posts=tuple(level_posts)))
        if leg < len(points) - 1:
            post = _landing_post(job, lower, b, ahead, height, PostRole.NODE, f"L{number}-C{leg}", number)
            path.posts.append(post)
            path.corners.append(_Corner(at=b, post=post.id))
    path.corners.append(_Corner(at=beyond, post=f"F{upper.flight.flight.number}-P1"))


def _level_posts(job: Job, lower: FlightLine, a: Vec, b: Vec, ahead: Vec, name: str, number: int) -> list[Post]:
    """Evenly spaced posts under a level rail longer than the largest span."""
    count = math.ceil((b - a).length / job.posts.largest_span - 1e-9) - 1
    height = job.hardware.fixed_saddle.centre_height
    return [
        _landing_post(job, lower, a + (b - a) * (k / (count + 1)), ahead, height, PostRole.LEVEL, f"{name}-{k}", number)
        for k in range(1, count + 1)
    ]


def _landing_post(
    job: Job, lower: FlightLine, centre: Vec, ahead: Vec, height: float, role: PostRole, name: str, number: int
) -> Post:
    level = lower.flight.top_level
    return Post(
        id=name,
        role=role,
        flight=None,
        tread=None,
        landing=number,
        setback=None,
        move=0.0,
        base=Vec(centre.x, centre.y, level),
        ahead=ahead,
        length=centre.z - height - job.hardware.base_plate.thickness - level,
        surface=f"LANDING-{number}",
    )


def _direction(path: _Path, index: int) -> Vec:
    run = path.runs[index]
    if run.flight is not None:
        pitch = run.flight.line.pitch
        return run.flight.flight.ahead * math.cos(pitch) + UP * math.sin(pitch)
    way = path.corners[index].at - path.corners[index - 1].at
    level = math.hypot(way.x, way.y) > abs(way.z)  # else upright: a rise piece
    return Vec(way.x, way.y, 0.0).unit() if level else way.unit()


def _nodes(path: _Path) -> tuple[Node, ...]:
    nodes = []
    for index, corner in enumerate(path.corners):
        u, v = _direction(path, index), _direction(path, index + 1)
        angle = angle_between(u, v)
        normal = u.cross(v).unit() if angle > _IN_LINE else path.runs[index].left
        nodes.append(
            Node(
                id=f"N{index + 1}",
                at=corner.at,
                incoming=u,
                outgoing=v,
                deflection=angle,
                normal=normal,
                post=corner.post,
            )
        )
    return tuple(nodes)


def _tubes(job: Job, path: _Path, nodes: tuple[Node, ...]) -> tuple[RailTube, ...]:
    take_off = job.hardware.elbow.take_off
    tubes = []
    for index, run in enumerate(path.runs):
        u = _direction(path, index)
        before = nodes[index - 1] if index else None
        after = nodes[index] if index < len(nodes) else None
        feet: list[tuple[str, Vec]] = [
            (post.id, Vec(post.base.x, post.base.y, before.at.z)) for post in run.posts if before
        ]
        if run.flight is not None:
            feet = _saddle_feet(job, run.flight)
        start = feet[0][1] - u * job.rail.bottom.overhang if before is None else before.at + u * take_off
        end = feet[-1][1] + u * job.rail.top.overhang if after is None else after.at - u * take_off
        tubes.append(
            RailTube(
                id=f"R{index + 1}",
                flight=run.flight.flight.flight.number if run.flight else None,
                start=start,
                direction=u,
                left=run.left,
                length=(end - start).dot(u),
                pitch=math.asin(max(-1.0, min(1.0, u.z))),
                start_end=_tube_end(before),
                far_end=_tube_end(after),
                feet=tuple(Foot(post=name, distance=(at - start).dot(u)) for name, at in feet),
            )
        )
    return tuple(tubes)


def _tube_end(node: Node | None) -> TubeEnd:
    return TubeEnd(kind=JointKind.FREE) if node is None else TubeEnd(kind=JointKind.ELBOW, node=node.id)


def _saddle_feet(job: Job, solved: FlightLine) -> list[tuple[str, Vec]]:
    """Pivots of the flight's adjustable saddles, projected square onto the tube's centreline."""
    lean = job.hardware.adjustable_saddle.pivot_to_centre * math.sin(solved.line.pitch)
    across = solved.flight.across(job.rail.side, job.posts.edge_offset)
    number = solved.flight.flight.number
    feet = []
    for k, station in enumerate(solved.stations):
        if station.node_height is None:
            x = solved.x(k) - lean
            feet.append((f"F{number}-P{k + 1}", solved.flight.at(x, across, solved.line.z(x))))
    return feet
