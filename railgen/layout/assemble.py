"""Posts, nodes and tubes in space: one polyline of centrelines, walked from the bottom of the stair to the top."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from railgen.geometry import UP, Vec
from railgen.job.model import Job
from railgen.layout.ends import LevelEnd, bottom_end, top_end
from railgen.layout.joins import Join, JoinMode
from railgen.layout.level import FlightLine
from railgen.layout.model import Node, Post, PostRole, RailTube
from railgen.layout.path import Corner, Path, Run, path_nodes, path_tubes

__all__ = ["Assembled", "assemble"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled:
    """The rail in space, everything in walking order."""

    posts: tuple[Post, ...]
    nodes: tuple[Node, ...]
    rails: tuple[RailTube, ...]


def assemble(job: Job, lines: tuple[FlightLine, ...], joins: tuple[Join, ...]) -> Assembled:
    """The rail in space from its flights' centrelines, which already carry the length of the posts."""
    path = Path()
    _add_bottom(job, path, lines[0])
    for index, flight in enumerate(lines):
        shared = index > 0 and joins[index - 1].mode is JoinMode.SHARED
        path.posts += _flight_posts(job, flight, index, last=index == len(lines) - 1, skip_first=shared)
        path.runs.append(Run(flight=flight, left=flight.flight.left))
        if index < len(joins):
            _cross_landing(job, path, flight, lines[index + 1], joins[index], index + 1)
    _add_top(job, path, lines[-1])
    nodes = path_nodes(path)
    return Assembled(posts=tuple(path.posts), nodes=nodes, rails=path_tubes(job, path, nodes))


def _add_bottom(job: Job, path: Path, solved: FlightLine) -> None:
    """A level end over the floor in front of the stair."""
    end = bottom_end(job, solved)
    if end is not None:
        node, tip = _end_points(job, solved, end)
        path.runs.append(Run(flight=None, left=solved.flight.left, tip=tip))
        path.corners.append(Corner(at=node, post=None))


def _add_top(job: Job, path: Path, solved: FlightLine) -> None:
    """A level end over the floor at the top, and the post under it, which is cut to suit."""
    end = top_end(job, solved)
    if end is None:
        return
    flight, number = solved.flight, solved.flight.flight.number
    node, tip = _end_points(job, solved, end)
    posts: tuple[Post, ...] = ()
    if end.post is not None and end.setback is not None:
        base = flight.at(end.post, flight.across(job.rail.side, job.posts.edge_offset), flight.top_level)
        posts = (
            Post(
                id=f"F{number}-P{len(solved.stations) + 1}",
                role=PostRole.LEVEL,
                flight=number,
                tread=flight.last,
                landing=None,
                setback=end.setback,
                move=end.setback - job.posts.setback,
                base=base,
                ahead=flight.ahead,
                foot=job.hardware.base_plate.foot,
                length=_length(job, PostRole.LEVEL, base, node.z),
                surface=_surface(number, flight.last, flight.last, 0),
            ),
        )
    path.posts += posts
    path.corners.append(Corner(at=node, post=None))
    path.runs.append(Run(flight=None, left=flight.left, posts=posts, tip=tip))


def _end_points(job: Job, solved: FlightLine, end: LevelEnd) -> tuple[Vec, Vec]:
    """Node and cut end of a level end in space."""
    across, z = solved.flight.across(job.rail.side, job.posts.edge_offset), solved.line.z(end.node)
    return solved.flight.at(end.node, across, z), solved.flight.at(end.tip, across, z)


def _flight_posts(job: Job, solved: FlightLine, index: int, *, last: bool, skip_first: bool) -> list[Post]:
    flight, number = solved.flight, solved.flight.flight.number
    across = flight.across(job.rail.side, job.posts.edge_offset)
    posts = []
    for k, station in enumerate(solved.stations):
        if skip_first and k == 0:
            continue  # the post of the corner node below carries it
        x, setback = solved.x(k), solved.line.setbacks[k]
        landing = index if station.tread == 0 and index else number if station.tread == flight.last and not last else 0
        base = flight.at(x, across, station.level)
        posts.append(
            Post(
                id=f"F{number}-P{k + 1}",
                role=station.role,
                flight=number,
                tread=station.tread,
                landing=landing or None,
                setback=setback,
                move=setback - station.nominal,
                base=base,
                ahead=flight.ahead,
                foot=job.hardware.base_plate.foot,
                length=_length(job, station.role, base, solved.line.z(x), solved.line.pitch),
                surface=_surface(number, station.tread, flight.last, landing),
            )
        )
    return posts


def _length(job: Job, role: PostRole, base: Vec, axis: float, pitch: float = 0.0) -> float:
    """Length of a post under a rail whose centreline is at level ``axis`` over it."""
    return axis - role.head(job.hardware).rise(pitch) - job.hardware.base_plate.foot - base.z


def _surface(number: int, tread: int, last: int, landing: int) -> str:
    if landing:
        return f"LANDING-{landing}"
    return "FLOOR-BOTTOM" if tread == 0 else "FLOOR-TOP" if tread == last else f"F{number}-T{tread}"


def _cross_landing(job: Job, path: Path, lower: FlightLine, upper: FlightLine, join: Join, number: int) -> None:
    """Add what lies between two flights: their nodes, corner posts, level or upright pieces of rail."""
    side, offset = job.rail.side, job.posts.edge_offset
    top_x = lower.x(-1) if join.mode is JoinMode.PAIR else join.lower_x
    node = lower.flight.at(top_x, lower.flight.across(side, offset), lower.line.z(top_x))
    if join.mode is JoinMode.RISE:
        post = _landing_post(job, lower, node, lower.flight.ahead, PostRole.NODE, f"L{number}-C1", number)
        path.posts.append(post)
        path.runs.append(Run(flight=None, left=lower.flight.left))
        above = Vec(node.x, node.y, upper.line.z(join.upper_x))
        path.corners += [Corner(at=node, post=post.id), Corner(at=above, post=None)]
        return
    top_post = path.posts[-1].id
    if join.mode is JoinMode.SHARED:
        path.corners.append(Corner(at=node, post=top_post))
        return
    foot_x = upper.x(0)
    beyond = upper.flight.at(foot_x, upper.flight.across(side, offset), upper.line.z(foot_x))
    points = [node, *(Vec(c.x, c.y, node.z) for c in join.corners), beyond]
    path.corners.append(Corner(at=node, post=top_post))
    for leg, (a, b) in enumerate(pairwise(points), start=1):
        ahead = Vec(b.x - a.x, b.y - a.y, 0.0).unit()
        level_posts = _level_posts(job, lower, a, b, ahead, f"L{number}-S{leg}", number)
        path.posts += level_posts
        path.runs.append(Run(flight=None, left=UP.cross(ahead), posts=tuple(level_posts)))
        if leg < len(points) - 1:
            post = _landing_post(job, lower, b, ahead, PostRole.NODE, f"L{number}-C{leg}", number)
            path.posts.append(post)
            path.corners.append(Corner(at=b, post=post.id))
    path.corners.append(Corner(at=beyond, post=f"F{upper.flight.flight.number}-P1"))


def _level_posts(job: Job, lower: FlightLine, a: Vec, b: Vec, ahead: Vec, name: str, number: int) -> list[Post]:
    """Evenly spaced posts under a level rail longer than the largest span."""
    count = math.ceil((b - a).length / job.posts.largest_span - 1e-9) - 1
    return [
        _landing_post(job, lower, a + (b - a) * (k / (count + 1)), ahead, PostRole.LEVEL, f"{name}-{k}", number)
        for k in range(1, count + 1)
    ]


def _landing_post(job: Job, lower: FlightLine, centre: Vec, ahead: Vec, role: PostRole, name: str, number: int) -> Post:
    base = Vec(centre.x, centre.y, lower.flight.top_level)
    return Post(
        id=name,
        role=role,
        flight=None,
        tread=None,
        landing=number,
        setback=None,
        move=0.0,
        base=base,
        ahead=ahead,
        foot=job.hardware.base_plate.foot,
        length=_length(job, role, base, centre.z),
        surface=f"LANDING-{number}",
    )
