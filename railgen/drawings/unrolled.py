"""A tube's outer surface laid flat, outside up: length to the right, clock positions downwards."""

from __future__ import annotations

import math
from collections.abc import Iterable

from railgen.drawings.board import Board
from railgen.drawings.breaks import LengthMap
from railgen.drawings.dims import linear
from railgen.drawings.lettering import SMALL
from railgen.drawings.sheet import Align, Pen, Point, Scale
from railgen.members.pieces import Tube
from railgen.units import Figures, degrees

__all__ = ["arc_length", "draw_unrolled", "seam_of", "wavy"]

_QUARTERS = (math.pi, 0.0, math.pi / 2, 3 * math.pi / 2)  # seams in order of preference


def seam_of(clocks: Iterable[float]) -> float:
    """The quarter (radians) at which to slit the surface: the one farthest from every hole.

    >>> round(math.degrees(seam_of([0.0, math.radians(359.8)])))
    180
    """
    found = tuple(clocks)
    return max(_QUARTERS, key=lambda q: round(min((_apart(q, c) for c in found), default=math.pi), 6))


def _apart(one: float, other: float) -> float:
    turn = (one - other) % math.tau
    return min(turn, math.tau - turn)


def arc_length(od: float, clock: float, start: float = 0.0) -> float:
    """Length (mm) along the outer surface from clock position ``start``, clockwise, to ``clock`` (radians)."""
    return (clock - start) % math.tau * od / 2


def draw_unrolled(board: Board, tube: Tube, lengths: LengthMap, top: float, scale: Scale, figures: Figures) -> float:
    """Draw the surface with its upper edge at ``top``; answers the level of its lower edge."""
    od, seam = tube.section.od, seam_of(hole.clock for hole in tube.holes)
    around = math.pi * od * scale.ratio
    bottom = top - around
    left, right = lengths.paper[0], lengths.paper[-1]
    for x in (left, right):
        board.line(Pen.OUTLINE, (x, bottom), (x, top))
    for low, high in lengths.runs():
        for y in (top, bottom):
            board.line(Pen.OUTLINE, (low, y), (high, y))
        for quarter in (1, 2, 3):
            y = top - around * quarter / 4
            board.line(Pen.CLOCK, (low, y), (high, y))
    for edges in lengths.breaks:
        for x in edges:
            board.path(Pen.BREAK, wavy((x, bottom), (x, top)))
    for quarter in range(5):
        clock = (seam + quarter * math.pi / 2) % math.tau
        y = top - around * quarter / 4
        board.text((left - 2, y - SMALL / 2), degrees(clock), SMALL, Align.RIGHT)
    spots = {
        hole.id: (lengths.at(hole.distance), top - arc_length(od, hole.clock, seam) * scale.ratio)
        for hole in tube.holes
    }
    for hole in tube.holes:
        board.circle(Pen.HOLE, spots[hole.id], hole.diameter / 2 * scale.ratio)
        board.cross(spots[hole.id], hole.diameter / 2 * scale.ratio + 1.0)
    seen: set[tuple[str, int]] = set()
    for hole in tube.holes:
        _from_clock_line(board, spots[hole.id], hole.clock, od, scale, figures, seen)
    for hole in tube.holes:
        board.note(spots[hole.id], hole.id, SMALL, math.pi / 4)
    text = f"Unrolled, outside up; around {figures.length(math.pi * od)}, slit at clock {degrees(seam)}"
    board.text((left, bottom - 6), text, SMALL)
    return bottom - 7


def _from_clock_line(
    board: Board,
    spot: Point,
    clock: float,
    od: float,
    scale: Scale,
    figures: Figures,
    seen: set[tuple[str, int]],
) -> None:
    """The arc from the nearest quarter line to a hole that is on none."""
    quarter = round(clock / (math.pi / 2)) * math.pi / 2
    arc = (clock - quarter) * od / 2
    if abs(arc) * scale.ratio < 3.0:
        return
    text = figures.length(abs(arc))
    key = (text, round(spot[0]))
    if key in seen:
        return
    seen.add(key)
    line = (spot[0], spot[1] + arc * scale.ratio)
    low, high = sorted((spot, line), key=lambda p: p[1])
    for aside in (7.0, -7.0, 12.0, -12.0):
        item = linear(low, high, math.pi / 2, (spot[0] + aside, 0.0), abs(arc), text, height=SMALL)
        if board.add_if_free(item):
            return


def wavy(a: Point, b: Point) -> tuple[Point, ...]:
    """A line as if drawn by hand, for the edge of a break."""
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    count = max(8, round(length / 1.5))
    points = []
    for i in range(count + 1):
        along = length * i / count
        aside = 0.6 * math.sin(along / length * math.pi * max(1, round(length / 9)) * 2)
        points.append((a[0] + ux * along - uy * aside, a[1] + uy * along + ux * aside))
    return tuple(points)
