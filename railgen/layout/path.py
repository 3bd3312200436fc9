"""The rail's centreline as a polyline, and what it comes to: elbows at its corners, tubes between them."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from railgen.geometry import UP, Vec, angle_between
from railgen.job.model import Job
from railgen.layout.level import FlightLine
from railgen.layout.model import Foot, JointKind, Node, Post, PostRole, RailTube, TubeEnd

__all__ = ["Corner", "Path", "Run", "path_nodes", "path_tubes"]

_IN_LINE = 1e-9  # radians: tubes this straight have no elbow plane


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A point of the polyline between two tubes, and the post under it, if any."""

    at: Vec
    post: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A straight piece of the polyline: ``flight`` is None for a level or upright piece."""

    flight: FlightLine | None
    left: Vec
    posts: tuple[Post, ...] = ()  # level posts on it
    tip: Vec | None = None  # where a level end of the rail is cut


@dataclass(slots=True)
class Path:
    """The polyline under construction: corner i lies between run i and run i + 1."""

    runs: list[Run] = field(default_factory=list)
    corners: list[Corner] = field(default_factory=list)
    posts: list[Post] = field(default_factory=list)


def _direction(path: Path, index: int) -> Vec:
    run = path.runs[index]
    if run.flight is not None:
        pitch = run.flight.line.pitch
        return run.flight.flight.ahead * math.cos(pitch) + UP * math.sin(pitch)
    if run.tip is not None:
        return run.left.cross(UP)
    way = path.corners[index].at - path.corners[index - 1].at
    level = math.hypot(way.x, way.y) > abs(way.z)  # else upright: a rise piece
    return Vec(way.x, way.y, 0.0).unit() if level else way.unit()


def path_nodes(path: Path) -> tuple[Node, ...]:
    """The elbow at every corner, in walking order."""
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


def path_tubes(job: Job, path: Path, nodes: tuple[Node, ...]) -> tuple[RailTube, ...]:
    """The tube of every run, cut back from its elbows or on to its free end, with the feet of its saddles."""
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
        start = before.at + u * take_off if before else run.tip or feet[0][1] - u * job.rail.bottom.overhang
        end = after.at - u * take_off if after else run.tip or feet[-1][1] + u * job.rail.top.overhang
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
    lean = job.hardware.adjustable_saddle.lean(solved.line.pitch)
    across = solved.flight.across(job.rail.side, job.posts.edge_offset)
    number = solved.flight.flight.number
    feet = []
    for k, station in enumerate(solved.stations):
        if station.role is PostRole.PITCHED:
            x = solved.x(k) - lean
            feet.append((f"F{number}-P{k + 1}", solved.flight.at(x, across, solved.line.z(x))))
    return feet
