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
from railgen.layout.model import Node, Post, PostRole, RailTube, Setback
from railgen.layout.path import Corner, Path, Run, path_nodes, path_tubes
from railgen.survey import SurfaceId, surface_at

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
        path.posts += _flight_posts(job, flight, skip_first=shared)
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
        name = f"F{number}-P{len(solved.stations) + 1}"
        setback = Setback(flight=number, tread=flight.last, distance=end.setback, move=end.setback - job.posts.setback)
        surface = surface_at(job, number, flight.last)
        posts = (_post(job, name, PostRole.LEVEL, surface, base, flight.ahead, node.z, setback=setback),)
    path.posts += posts
    path.corners.append(Corner(at=node, post=None))
    path.runs.append(Run(flight=None, left=flight.left, posts=posts, tip=tip))


def _end_points(job: Job, solved: FlightLine, end: LevelEnd) -> tuple[Vec, Vec]:
    """Node and cut end of a level end in space."""
    across, z = solved.flight.across(job.rail.side, job.posts.edge_offset), solved.line.z(end.node)
    return solved.flight.at(end.node, across, z), solved.flight.at(end.tip, across, z)


def _flight_posts(job: Job, solved: FlightLine, *, skip_first: bool) -> list[Post]:
    flight, number, line = solved.flight, solved.flight.flight.number, solved.line
    across = flight.across(job.rail.side, job.posts.edge_offset)
    posts = []
    for k, station in enumerate(solved.stations):
        if skip_first and k == 0:
            continue  # the post of the corner node below carries it
        x, distance = solved.x(k), line.setbacks[k]
        setback = Setback(flight=number, tread=station.tread, distance=distance, move=distance - station.nominal)
        surface, base = surface_at(job, number, station.tread), flight.at(x, across, station.level)
        name, axis = f"F{number}-P{k + 1}", line.z(x)
        posts.append(
            _post(job, name, station.role, surface, base, flight.ahead, axis, pitch=line.pitch, setback=setback)
        )
    return posts


def _post(
    job: Job,
    name: str,
    role: PostRole,
    surface: SurfaceId,
    base: Vec,
    ahead: Vec,
    axis: float,
    *,
    pitch: float = 0.0,
    setback: Setback | None = None,
) -> Post:
    """A post as long as a rail asks whose centreline is at level ``axis`` over it."""
    foot = job.hardware.base_plate.foot
    length = axis - role.head(job.hardware).rise(pitch) - foot - base.z
    return Post(id=name, role=role, surface=surface, setback=setback, base=base, ahead=ahead, foot=foot, length=length)


def _cross_landing(job: Job, path: Path, lower: FlightLine, upper: FlightLine, join: Join, number: int) -> None:
    """Add what lies between two flights: their nodes, corner posts, level or upright pieces of rail."""
    side, offset = job.rail.side, job.posts.edge_offset
    top_x = lower.x(-1) if join.mode is JoinMode.PAIR else join.lower_x
    node = lower.flight.at(top_x, lower.flight.across(side, offset), lower.line.z(top_x))
    if join.mode is JoinMode.RISE:
        post = _landing_post(job, lower, node, lower.flight.ahead, PostRole.NODE, f"L{number}-C1")
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
        level_posts = _level_posts(job, lower, a, b, ahead, f"L{number}-S{leg}")
        path.posts += level_posts
        path.runs.append(Run(flight=None, left=UP.cross(ahead), posts=tuple(level_posts)))
        if leg < len(points) - 1:
            post = _landing_post(job, lower, b, ahead, PostRole.NODE, f"L{number}-C{leg}")
            path.posts.append(post)
            path.corners.append(Corner(at=b, post=post.id))
    path.corners.append(Corner(at=beyond, post=f"F{upper.flight.flight.number}-P1"))


def _level_posts(job: Job, lower: FlightLine, a: Vec, b: Vec, ahead: Vec, name: str) -> list[Post]:
    """Evenly spaced posts under a level rail longer than the largest span."""
    count = math.ceil((b - a).length / job.posts.largest_span - 1e-9) - 1
    return [
        _landing_post(job, lower, a + (b - a) * (k / (count + 1)), ahead, PostRole.LEVEL, f"{name}-{k}")
        for k in range(1, count + 1)
    ]


def _landing_post(job: Job, lower: FlightLine, centre: Vec, ahead: Vec, role: PostRole, name: str) -> Post:
    base = Vec(centre.x, centre.y, lower.flight.top_level)
    surface = surface_at(job, lower.flight.flight.number, lower.flight.last)
    return _post(job, name, role, surface, base, ahead, centre.z)
