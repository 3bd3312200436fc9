"""The free ends of the rail: what closes them, and how far each reaches beyond the end post and the nosing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from railgen.drawings.board import Board
from railgen.drawings.dims import linear
from railgen.drawings.lettering import SMALL
from railgen.drawings.sheet import Dimension, Pen, polar
from railgen.drawings.view import View
from railgen.geometry import Vec
from railgen.job.model import EndFinish, Hardware, Job, RailEnd
from railgen.layout.model import Layout, Post, RailTube
from railgen.survey import FlightSurvey
from railgen.units import Figures

__all__ = ["FreeEnd", "draw_finish", "draw_plan_finish", "draw_plan_reach", "draw_reach", "finish_outline", "free_ends"]

_LEAST = 1.0  # mm on paper: a shorter reach is not dimensioned
_STEPS = 16  # straight lines to a curl


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeEnd:
    """A free end of the rail; ``tip`` is the middle of its cut, ``out`` the tube's direction out of it.

    ``nosing`` is where its flight begins or ends (mm along it): nosing 1, under a level part the projected nosing 0,
    or the last.
    """

    rail: RailTube
    finish: EndFinish
    tip: Vec
    out: Vec
    post: Post  # the end post
    flight: FlightSurvey
    nosing: float

    @property
    def bottom(self) -> bool:
        return self.tip == self.rail.start

    @property
    def at(self) -> float:
        """Where the cut is, in mm along the flight from nosing 1."""
        return self.flight.along(self.tip)

    @property
    def post_at(self) -> float:
        """Where the end post's axis is, likewise."""
        return self.flight.along(self.post.base)


def free_ends(job: Job, layout: Layout) -> tuple[FreeEnd, FreeEnd]:
    """The rail's end at the bottom and the one at the top."""
    first, last = layout.rails[0], layout.rails[-1]
    below, above = layout.survey.flights[0], layout.survey.flights[-1]

    def end(free: RailEnd, rail: RailTube, tip: Vec, out: Vec, post: Post, flight: FlightSurvey, x: float) -> FreeEnd:
        return FreeEnd(rail=rail, finish=free.finish, tip=tip, out=out, post=post, flight=flight, nosing=x)

    start = below.tread_x(0) if first.level_end else below.xs[0]
    return (
        end(job.rail.bottom, first, first.start, -first.direction, layout.posts[0], below, start),
        end(job.rail.top, last, last.end, last.direction, layout.posts[-1], above, above.xs[-1]),
    )


def finish_outline(hardware: Hardware, end: FreeEnd) -> tuple[Vec, ...]:
    """Outline of cap or scroll in the upright plane of the tube; empty for an open end."""
    under = end.rail.left.cross(end.rail.direction)
    radius = hardware.tube.radius

    def spot(along: float, down: float) -> Vec:
        return end.tip + end.out * along + under * down

    if end.finish is EndFinish.CAP:
        thick = hardware.end_cap.thickness
        return spot(0.0, -radius), spot(thick, -radius), spot(thick, radius), spot(0.0, radius)
    if end.finish is EndFinish.SCROLL:
        curl = hardware.end_scroll
        turns = [curl.turn * n / _STEPS for n in range(_STEPS + 1)]
        outer = [(curl.bend_radius + radius, turn) for turn in turns]
        inner = [(curl.bend_radius - radius, turn) for turn in reversed(turns)]
        return tuple(spot(r * math.sin(t), curl.bend_radius - r * math.cos(t)) for r, t in (*outer, *inner))
    return ()


def draw_finish(board: Board, view: View, job: Job, end: FreeEnd) -> None:
    """Cap or scroll from the side."""
    outline = finish_outline(job.hardware, end)
    if outline:
        board.path(Pen.OUTLINE, [view.point(point) for point in outline], closed=True)


def draw_plan_finish(board: Board, view: View, job: Job, end: FreeEnd) -> None:
    """Cap or scroll from above: as wide as the tube, as far as it reaches beyond the cut."""
    outline = finish_outline(job.hardware, end)
    if not outline:
        return
    level = Vec(end.out.x, end.out.y, 0.0).unit()
    far = max((point - end.tip).dot(level) for point in outline)
    along, aside = view.angle(level), view.length(job.hardware.tube.radius)
    near, tip = view.point(end.tip), view.point(end.tip + level * far)
    sides = [[polar(p, s * aside, along + math.pi / 2) for p in (near, tip)] for s in (1, -1)]
    board.path(Pen.OUTLINE, (*sides[0], *reversed(sides[1])), closed=True)


def draw_reach(board: Board, view: View, job: Job, end: FreeEnd, rails: Sequence[RailTube], figures: Figures) -> None:
    """From the end post's axis, and from the nosing where the tube passes it, on to the cut end; above the rail."""
    radius = job.hardware.tube.radius
    foot = view.point(end.post.top_at)
    tip = view.point(end.tip)
    x = view.point(end.flight.at(end.nosing, 0.0, 0.0))[0]
    edge = (x, tip[1] if end.rail.level_end else _top(view, rails, radius, (x, x)))
    low = 0.0
    for spot, start in sorted(((foot, end.post_at), (edge, end.nosing)), key=lambda entry: abs(end.at - entry[1])):
        reach = (start - end.at) if end.bottom else (end.at - start)
        if view.length(reach) < _LEAST:
            continue
        first, second = (tip, spot) if end.bottom else (spot, tip)
        low = max(low, _top(view, rails, radius, (first[0], second[0])) + 5.0)
        text = figures.length(reach)
        chosen = board.add_best(
            linear(first, second, 0.0, (0.0, low + rise), reach, text, height=SMALL, before=before)
            for rise in (0.0, 4.0, 8.0, 12.0)
            for before in ((True, False) if end.bottom else (False, True))
        )
        if isinstance(chosen, Dimension):
            low = chosen.line[1] + 6.0


def _top(view: View, rails: Sequence[RailTube], radius: float, between: tuple[float, float]) -> float:
    """The highest point (on paper) of the tubes between two places; 0 where there is no tube."""
    found = [0.0]
    for rail in rails:
        (ax, ay), (bx, by) = view.point(rail.start), view.point(rail.end)
        low, high = max(between[0], ax), min(between[1], bx)
        if low <= high and ax < bx:
            rise = (by - ay) / (bx - ax)
            found += [ay + rise * (x - ax) + view.length(radius) / math.cos(rail.pitch) for x in (low, high)]
    return max(found)


def draw_plan_reach(board: Board, view: View, end: FreeEnd, figures: Figures) -> None:
    """From the end post's axis to the cut end, seen from above."""
    tip, foot = view.point(end.tip), view.point(end.post.base)
    reach = (end.post_at - end.at) if end.bottom else (end.at - end.post_at)
    if view.length(reach) < _LEAST:
        return
    along = view.angle(end.flight.ahead)
    first, second = (tip, foot) if end.bottom else (foot, tip)
    board.add_best(
        linear(first, second, along, through, reach, figures.length(reach), height=SMALL, before=before)
        for aside in (8.0, -8.0, 12.0, -12.0, 16.0, -16.0)
        for through in [polar(tip, aside, along + math.pi / 2)]
        for before in ((True, False) if end.bottom else (False, True))
    )
