"""What is measured on a solved rail: its height over every nosing, and the distance between its supports."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from railgen.layout.fit import fit_free
from railgen.layout.level import FlightLine
from railgen.layout.model import HeightAt, Node, RailTube, Span
from railgen.survey import FlightSurvey

__all__ = ["along", "covered", "free_ends", "heights", "off_line", "spans"]

_HAIR = 1e-6  # mm: tops that meet over a nosing cover it


def covered(flight: FlightSurvey, rail: RailTube, nodes: Sequence[Node], radius: float) -> tuple[float, float]:
    """From where to where along the flight the top of its tube reaches (mm from its first nosing).

    The top of a square-cut pitched tube ends ``radius * sin(pitch)`` before its centreline, walking up. At an elbow it
    reaches to where the top of a level tube meets it, ``radius * tan(pitch / 2)`` before the node.
    """
    by_id = {node.id: node for node in nodes}
    ends = []
    for end, at in ((rail.start_end, rail.start), (rail.far_end, rail.end)):
        back = radius * (math.tan(rail.pitch / 2) if end.node else math.sin(rail.pitch))
        ends.append(flight.along(by_id[end.node].at if end.node else at) - back)
    return ends[0], ends[1]


def heights(
    lines: Sequence[FlightLine], rails: Sequence[RailTube], nodes: Sequence[Node], radius: float
) -> tuple[HeightAt, ...]:
    """Vertical height from each nosing to the top of the tube over it; None where the tube does not reach over it."""
    by_flight = {rail.flight: rail for rail in rails if rail.flight is not None}
    found = []
    for solved in lines:
        flight, line = solved.flight, solved.line
        rail = by_flight[flight.flight.number]
        low, high = covered(flight, rail, nodes, radius)
        top = radius / math.cos(line.pitch)
        for nosing, (x, z) in enumerate(zip(flight.xs, flight.zs, strict=True), start=1):
            height = line.z(x) + top - z if low - _HAIR <= x <= high + _HAIR else None
            found.append(HeightAt(flight=flight.flight.number, nosing=nosing, height=height))
    return tuple(found)


def along(found: Sequence[HeightAt], flight: int) -> float:
    """By how much (mm) the heights over a flight's nosings differ."""
    own = [at.height for at in found if at.flight == flight and at.height is not None]
    return max(own) - min(own) if own else 0.0


def off_line(flight: FlightSurvey) -> float:
    """By how much (mm) a flight's nosings lie off the line that fits them best: what no straight rail takes up."""
    points = list(zip(flight.xs, flight.zs, strict=True))
    slope = fit_free(points)[0] if len(points) > 1 else 0.0
    over = [z - slope * x for x, z in points]
    return max(over) - min(over)


def spans(rails: Sequence[RailTube], nodes: Sequence[Node]) -> tuple[Span, ...]:
    """Distances between neighbouring supports along the centrelines, round every elbow."""
    found, _ = _travelled(rails, nodes)
    return tuple(Span(from_post=a, to_post=b, length=to - start) for (a, start), (b, to) in pairwise(found))


def free_ends(rails: Sequence[RailTube], nodes: Sequence[Node]) -> tuple[float, float]:
    """Rail (mm) below the first support and beyond the last, along the centrelines to the cut ends."""
    found, total = _travelled(rails, nodes)
    return (found[0][1], total - found[-1][1]) if found else (0.0, 0.0)


def _travelled(rails: Sequence[RailTube], nodes: Sequence[Node]) -> tuple[list[tuple[str, float]], float]:
    """How far along the centrelines from the rail's lower end each support stands, and the rail's upper end."""
    by_id = {node.id: node for node in nodes}
    supports: list[tuple[str, float]] = []
    travelled = 0.0
    for rail in rails:
        before = by_id[rail.start_end.node] if rail.start_end.node else None
        after = by_id[rail.far_end.node] if rail.far_end.node else None
        lead = (rail.start - before.at).length if before else 0.0
        if before and before.post:
            supports.append((before.post, travelled))
        supports += [(foot.post, travelled + lead + foot.distance) for foot in rail.feet]
        travelled += lead + rail.length + ((after.at - rail.end).length if after else 0.0)
    return supports, travelled
