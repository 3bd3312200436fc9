"""The end of a tube, seen from its datum end along it: clock positions of all holes."""

from __future__ import annotations

import math

from railgen.drawings.board import Board
from railgen.drawings.dims import spread
from railgen.drawings.facts import short_list
from railgen.drawings.lettering import SMALL, fit, width
from railgen.drawings.sheet import Align, Pen, Point, Scale, polar
from railgen.members.pieces import Tube
from railgen.units import degrees

__all__ = ["clock_angle", "draw_end"]


def clock_angle(clock: float) -> float:
    """Direction on paper of a clock position: 0 points down, clockwise."""
    return -math.pi / 2 - clock


def draw_end(board: Board, tube: Tube, centre: Point, scale: Scale, room: float) -> None:
    """Draw the end view about ``centre``; labels stand in two columns within ``room`` mm to each side."""
    radius, bore = tube.section.radius * scale.ratio, tube.section.bore / 2 * scale.ratio
    board.circle(Pen.OUTLINE, centre, radius)
    board.circle(Pen.OUTLINE, centre, bore)
    board.cross(centre, 2.0)
    for quarter in range(4):
        direction, text = clock_angle(quarter * math.pi / 2), f"{90 * quarter}"
        board.line(Pen.CENTRE, polar(centre, bore - 0.8, direction), polar(centre, radius + 2.5, direction))
        if quarter and bore < 3.6 * SMALL:
            continue  # a small circle has room for its 0 alone; every hole tells its clock position
        half = (SMALL if quarter % 2 == 0 else width(text, SMALL)) / 2
        x, y = polar(centre, bore - half - 1.3, direction)
        board.text((x, y - SMALL / 2), text, SMALL, Align.CENTRE)
    named: dict[str, list[str]] = {}
    clocks: dict[str, float] = {}
    for hole in tube.holes:
        text = degrees(hole.clock)
        named.setdefault(text, []).append(hole.id)
        clocks.setdefault(text, hole.clock)
    for side in (1, -1):
        mine = [text for text in named if (1 if _right(clocks[text]) else -1) == side]
        levels = [polar(centre, radius + 5, clock_angle(clocks[text]))[1] for text in mine]
        for text, level in zip(mine, spread(levels, SMALL * 1.7), strict=True):
            direction = clock_angle(clocks[text])
            edge = centre[0] + side * (radius + 8.0)
            board.line(Pen.CENTRE, polar(centre, bore - 1.0, direction), polar(centre, radius + 3.0, direction))
            board.line(Pen.DIMENSION, polar(centre, radius + 3.0, direction), (edge, level))
            words, height = fit(f"{short_list(named[text])}  {text}", room - radius - 9.0, SMALL)
            board.text((edge + side, level - height / 2), words, height, Align.LEFT if side > 0 else Align.RIGHT)


def _right(clock: float) -> bool:
    return clock == 0.0 or clock >= math.pi
