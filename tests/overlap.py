"""Exact common volume of every pair of placed solids whose boxes meet."""

from __future__ import annotations

from itertools import combinations

import cadquery

from railgen.geometry import Frame
from railgen.members import Fabrication
from railgen.solids import build_all
from railgen.solids.shapes import location

__all__ = ["overlaps"]

_ALLOWED = 1.0  # mm3


def overlaps(fabrication: Fabrication) -> tuple[int, list[tuple[str, str, float]]]:
    """How many different pairs were tried, and those with more than 1 mm3 in common.

    Left out are pairs where a thread cuts into what it holds: each screw or anchor with the pieces of its joint.
    """
    shapes = build_all(fabrication)
    placed = {place.id: shapes[place.mark].moved(location(place.frame)) for place in fabrication.placed}
    boxes = {name: shape.BoundingBox() for name, shape in placed.items()}
    frames = {place.id: (place.mark, place.frame) for place in fabrication.placed}
    threaded = {
        frozenset((joint.fastener, end[0]))
        for joint in fabrication.joints
        for end in (joint.a, joint.b)
        if not joint.fastener.endswith(".rivet")
    }
    seen: dict[tuple[object, ...], float] = {}
    clashes = []
    for a, b in combinations(sorted(placed), 2):
        if frozenset((a, b)) in threaded or not _meet(boxes[a], boxes[b]):
            continue
        key = _relative(frames[a], frames[b])
        if key not in seen:
            seen[key] = placed[a].intersect(placed[b]).Volume()
        if seen[key] > _ALLOWED:
            clashes.append((a, b, round(seen[key], 2)))
    return len(seen), clashes


def _meet(a: cadquery.BoundBox, b: cadquery.BoundBox) -> bool:
    along = a.xmin < b.xmax and b.xmin < a.xmax
    across = a.ymin < b.ymax and b.ymin < a.ymax
    return along and across and a.zmin < b.zmax and b.zmin < a.zmax


def _relative(a: tuple[str, Frame], b: tuple[str, Frame]) -> tuple[object, ...]:
    """Marks, and placement of b in a, rounded: equal pairs have the same common volume."""
    at = a[1].local(b[1].origin)
    turned = (a[1].local_direction(b[1].x), a[1].local_direction(b[1].z))
    numbers = [round(v, 4) + 0.0 for vec in (at, *turned) for v in vec]
    return (a[0], b[0], *numbers)
