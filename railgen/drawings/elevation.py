"""Each flight seen square to its own plane: nosings, posts, rail, heights."""

from __future__ import annotations

import math
from collections.abc import Sequence

from railgen.drawings.board import Board
from railgen.drawings.dims import corner_angle, linear, reach, running
from railgen.drawings.ends import FreeEnd, draw_finish, draw_reach, finish_outline, free_ends
from railgen.drawings.frame import Draft, drawing_area, title_box
from railgen.drawings.lettering import SMALL
from railgen.drawings.posttable import post_table
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Align, Box, Dimension, Label, Pen, Point, polar
from railgen.drawings.table import draw_table
from railgen.drawings.view import View, fitted
from railgen.geometry import UP, Vec
from railgen.job.model import Job
from railgen.layout.model import Layout, Post, RailTube
from railgen.members.fabrication import Fabrication
from railgen.members.stair import tread_thickness
from railgen.survey import FlightSurvey
from railgen.units import degrees

__all__ = ["draw_elevation"]

_NEAR = 3.0  # mm from the stair to the running dimensions of its nosings
_SHARES = tuple(0.5 + 0.04 * n * side for n in range(11) for side in ((1, -1) if n else (1,)))  # of a height
_REACHES = 14.0  # mm over the top end for how far it reaches
_SHOWN = 120.0  # mm of floor beyond the projected treads


def draw_elevation(job: Job, layout: Layout, fabrication: Fabrication, flight: FlightSurvey, setting: Setting) -> Draft:
    """The flight from the walker's right, going up to the right."""
    area, number = drawing_area(setting), flight.flight.number
    board = Board(area=area)
    posts = [post for post in layout.posts if post.flight == number]
    rails = list(layout.rails_of(number))
    table = post_table(job, layout, fabrication, posts, setting.figures)
    low = max(title_box(setting).top + 4, area.bottom + table.height + 4)
    long = setting.figures.length
    row = reach((long(x) for x in (*flight.xs, *(flight.along(post.base) for post in posts))), SMALL) + _NEAR
    aside = reach((long(z - flight.foot.z) for z in flight.zs), SMALL) + _NEAR + 4
    ends = [end for end in free_ends(job, layout) if end.flight is flight]
    top = area.top - 4 - (_REACHES if any(not end.bottom for end in ends) else 0.0)
    room = Box(left=area.left + 6, right=area.right - aside, bottom=low + 2 * row, top=top)
    shown = [point for end in ends for point in finish_outline(job.hardware, end)]
    view = fitted([*_extent(job, flight, posts, rails), *shown], flight.ahead, room)
    _stair(board, view, flight)
    for post in posts:
        _post(board, view, job, layout, post)
    for rail in rails:
        _rail(board, view, job, rail)
    for end in ends:
        draw_finish(board, view, job, end)
    _lengths(board, view, flight, posts, setting, low + 2 * row, row)
    _levels(board, view, flight, setting)
    _setbacks(board, view, flight, posts, setting)
    _heights(board, view, layout, flight, setting)
    for end in ends:
        draw_reach(board, view, job, end, rails, setting.figures)
    for rail in rails:
        _rail_words(board, view, job, fabrication, rail, ends, setting)
    for post in posts:
        spot = view.point(post.foot_at + UP * (post.length * 0.45))
        board.note(spot, f"{post.id} ({fabrication.mark(post.id)})", SMALL, 0.0)
    for node in layout.nodes:
        if any(rail.meets(node) for rail in rails):
            spot = view.point(node.at)
            board.circle(Pen.HOLE, spot, 1.2)
            board.note(spot, f"{node.id}, elbow {degrees(node.deflection, 2)}", SMALL, math.pi / 2)
    if table.rows:
        draw_table(board, table, (area.left, area.bottom + table.height), title_box(setting).left - area.left - 5)
    steps = f"{flight.last} risers, {flight.last - 1} goings"
    return Draft(
        name=f"setout-flight-{number}",
        title=f"Flight {number}, elevation",
        note=f"in its own plane, seen from the walker's right; {steps}; running lengths from nosing 1, levels from "
        "the surface below it",
        scale=view.scale,
        board=board,
    )


def _extent(job: Job, flight: FlightSurvey, posts: list[Post], rails: list[RailTube]) -> list[Vec]:
    design, last = flight.flight.design_going, flight.xs[-1]
    points = [flight.at(0.0, 0.0, flight.foot.z), flight.at(last + design, 0.0, flight.top_level)]
    points += [post.base - flight.ahead * _SHOWN for post in posts] + [
        post.base + flight.ahead * _SHOWN for post in posts
    ]
    points += [end + UP * job.hardware.tube.od for rail in rails for end in (rail.start, rail.end)]
    return points


def _stair(board: Board, view: View, flight: FlightSurvey) -> None:
    f = flight.flight

    def spot(x: float, z: float) -> Point:
        return view.point(flight.at(x, 0.0, z))

    thickness = tread_thickness(flight)
    board.line(Pen.STAIR, spot(-f.design_going - _SHOWN, flight.foot.z), spot(f.overhang, flight.foot.z))
    for tread in range(1, flight.last + 1):
        x, z, below = flight.tread_x(tread), flight.tread_z(tread), flight.tread_z(tread - 1)
        end = x + flight.going_of(tread) + (f.overhang if tread < flight.last else _SHOWN)
        face = x + f.overhang
        board.path(Pen.STAIR, (spot(end, z), spot(x, z), spot(x, z - thickness), spot(end, z - thickness)))
        if tread < flight.last:
            board.line(Pen.STAIR, spot(end, z), spot(end, z - thickness))
        board.line(Pen.STAIR, spot(face, z - thickness), spot(face, below))


def _post(board: Board, view: View, job: Job, layout: Layout, post: Post) -> None:
    hardware = job.hardware
    plate, radius = hardware.base_plate, view.length(hardware.post_tube.radius)
    foot = view.point(post.foot_at)
    x, low, high = foot[0], foot[1], foot[1] + view.length(post.length)
    half, deep = view.length(plate.length / 2), view.length(plate.thickness)
    board.rectangle(Pen.PLATE, Box(left=x - half, right=x + half, bottom=low - deep, top=low))
    board.rectangle(Pen.OUTLINE, Box(left=x - radius, right=x + radius, bottom=low, top=high))
    board.line(Pen.CENTRE, (x, low - deep - 2), (x, high + 2))
    for rail in layout.rails:
        for step in rail.feet:
            if step.post == post.id:
                board.line(Pen.PLATE, (x, high), view.point(rail.start + rail.direction * step.distance))
    for node in layout.nodes:
        if node.post == post.id:
            board.line(Pen.PLATE, (x, high), view.point(node.at))


def _rail(board: Board, view: View, job: Job, rail: RailTube) -> None:
    aside = view.length(job.hardware.tube.radius)
    along = view.angle(rail.direction)
    start, end = view.point(rail.start), view.point(rail.end)
    sides = [[polar(p, side * aside, along + math.pi / 2) for p in (start, end)] for side in (1, -1)]
    board.path(Pen.OUTLINE, (*sides[0], *reversed(sides[1])), closed=True)
    board.line(Pen.CENTRE, polar(start, -3, along), polar(end, 3, along))


def _lengths(
    board: Board, view: View, flight: FlightSurvey, posts: list[Post], setting: Setting, level: float, row: float
) -> None:
    """Running lengths along the flight from nosing 1: nosings above, posts ``row`` mm below."""
    figures = setting.figures
    floor = min(level, view.point(flight.at(0.0, 0.0, flight.foot.z))[1])
    datum = view.point(flight.at(0.0, 0.0, flight.tread_z(1)))
    spots: list[tuple[Point, float, str]] = []
    for post in posts:
        x = flight.along(post.base)
        spots.append((view.point(post.base), x, figures.length(x)))
    below = floor - _NEAR - row
    if spots:  # its datum needs no extension line: the nosings' row has one above it
        board.add(*running((datum[0], below), spots, 0.0, (0.0, below), height=SMALL))
    edges = [
        (view.point(flight.at(x, 0.0, z)), x, figures.length(x))
        for x, z in zip(flight.xs[1:], flight.zs[1:], strict=True)
    ]
    board.add(*running(datum, edges, 0.0, (0.0, floor - _NEAR), height=SMALL))
    tag = datum[0] - 5
    tag = min([tag, *(view.point(post.base)[0] - 5 for post in posts)])
    board.text((tag - 2, below - SMALL / 2), "Posts", SMALL, Align.RIGHT)
    board.text((tag - 2, floor - _NEAR - SMALL / 2), "Nosings", SMALL, Align.RIGHT)


def _levels(board: Board, view: View, flight: FlightSurvey, setting: Setting) -> None:
    """Running levels at the right, from the surface the flight starts on."""
    end = flight.xs[-1] + flight.going_of(flight.last) + _SHOWN
    datum = view.point(flight.at(flight.flight.overhang, 0.0, flight.foot.z))
    spots: list[tuple[Point, float, str]] = []
    for tread in range(1, flight.last + 1):
        x = end if tread == flight.last else flight.tread_x(tread) + flight.going_of(tread) + flight.flight.overhang
        rise = flight.tread_z(tread) - flight.foot.z
        spots.append((view.point(flight.at(x, 0.0, flight.tread_z(tread))), rise, setting.figures.length(rise)))
    edge = view.point(flight.at(end, 0.0, 0.0))[0]
    board.add(*running(datum, spots, math.pi / 2, (edge + 4, 0.0), height=SMALL))


def _setbacks(board: Board, view: View, flight: FlightSurvey, posts: list[Post], setting: Setting) -> None:
    """From the post's own nosing, or on to nosing 1 from a post in front of the flight."""
    for post in posts:
        if post.setback is None:
            continue
        x = flight.along(post.base)
        edge = flight.tread_x(post.setback.tread or 1)
        low, high = sorted((x, edge))
        ends = [view.point(flight.at(value, 0.0, post.base.z)) for value in (low, high)]
        text, value = setting.figures.length(high - low), high - low
        board.add_best(
            linear(ends[0], ends[1], 0.0, (0.0, ends[0][1] + rise), value, text, height=SMALL, before=before)
            for rise in (8.0, 12.0, 16.0, 20.0)
            for before in (True, False)
        )


def _heights(board: Board, view: View, layout: Layout, flight: FlightSurvey, setting: Setting) -> None:
    """From each nosing straight up to the top of the tube."""
    for entry in layout.heights:
        if entry.flight != flight.flight.number or entry.height is None:
            continue
        x, z = flight.xs[entry.nosing - 1], flight.zs[entry.nosing - 1]
        low, high = view.point(flight.at(x, 0.0, z)), view.point(flight.at(x, 0.0, z + entry.height))
        text = setting.figures.length(entry.height)
        choices = [
            linear(low, high, math.pi / 2, low, entry.height, text, height=SMALL, share=share) for share in _SHARES
        ]
        board.add_best(choices, later=0.05)


def _rail_words(
    board: Board,
    view: View,
    job: Job,
    fabrication: Fabrication,
    rail: RailTube,
    ends: Sequence[FreeEnd],
    setting: Setting,
) -> None:
    along, aside = view.angle(rail.direction), view.length(job.hardware.tube.radius) + 2.0
    text = f"{fabrication.named(rail.id)}, cut length {setting.figures.length(rail.length)}"
    if rail.level_end:  # too short to be written along: its words stand beyond the cut end
        end = next(end for end in ends if end.rail is rail)
        bottom = end.bottom
        y = view.point(end.tip)[1]
        reached = [view.point(point)[0] for point in (end.tip, *finish_outline(job.hardware, end))]
        x = min(reached) if bottom else max(reached)
        at, align = ((x - 4.0, y - SMALL / 2), Align.RIGHT) if bottom else ((x + 4.0, y - SMALL / 2), Align.LEFT)
        if not board.add_if_free(Label(at=at, text=f"{text}, level", height=SMALL, align=align)):
            board.note((x, y), f"{text}, level", SMALL, math.pi / 2)
        return
    text += f", pitch {degrees(rail.pitch, 2)}"
    for share in (0.5, 0.4, 0.6, 0.3, 0.7):
        spot = polar(view.point(rail.start + rail.direction * (rail.length * share)), aside, along + math.pi / 2)
        if board.add_if_free(Label(at=spot, text=text, height=SMALL, align=Align.CENTRE, angle=along)):
            break
    corners = [view.point(rail.start + rail.direction * (rail.length * n / 20)) for n in range(17)]
    arcs = [
        corner_angle(corner, 0.0, along, radius, rail.pitch, degrees(rail.pitch, 2), height=SMALL)
        for corner in corners
        for radius in (26.0, 20.0, 14.0, 34.0, 42.0)
        if rail.pitch > 1e-6
    ]
    chosen = board.add_best(arcs, later=0.02)
    if isinstance(chosen, Dimension):
        board.line(Pen.DIMENSION, chosen.corner, (chosen.first[0] + 2, chosen.corner[1]))
