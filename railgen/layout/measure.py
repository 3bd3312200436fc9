"""What is measured on a solved rail: its height over every nosing, and the distance between its supports."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from railgen.layout.level import FlightLine
from railgen.layout.model import HeightAt, Node, RailTube, Span

__all__ = ["heights", "spans"]


def heights(lines: Sequence[FlightLine], rails: Sequence[RailTube], radius: float) -> tuple[HeightAt, ...]:
    """Vertical height from each nosing to the top of the tube over it; None where the tube does not reach over it.

    The top of a square-cut pitched tube ends ``radius * sin(pitch)`` before its centreline, walking up.
    """
    by_flight = {rail.flight: rail for rail in rails if rail.flight is not None}
    found = []
    for solved in lines:
        flight, line = solved.flight, solved.line
        rail = by_flight[flight.flight.number]
        back = radius * math.sin(line.pitch)
        low, high = ((at - flight.foot).dot(flight.ahead) - back for at in (rail.start, rail.end))
        top = radius / math.cos(line.pitch)
        for nosing, (x, z) in enumerate(zip(flight.xs, flight.zs, strict=True), start=1):
            height = line.z(x) + top - z if low <= x <= high else None
            found.append(HeightAt(flight=flight.flight.number, nosing=nosing, height=height))
    return tuple(found)


def spans(rails: Sequence[RailTube], nodes: Sequence[Node]) -> tuple[Span, ...]:
    """Distances between neighbouring supports along the centrelines, round every elbow."""
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
    return tuple(Span(from_post=a, to_post=b, length=to - start) for (a, start), (b, to) in pairwise(supports))
