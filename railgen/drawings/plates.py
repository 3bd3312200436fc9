"""Drilling templates for the base plates, and gauges that set a plate off from nosing and edge."""

from __future__ import annotations

import math

from railgen.drawings.board import Board
from railgen.drawings.dims import arrow
from railgen.drawings.lettering import CAPTION, SMALL, width
from railgen.drawings.plate import outline
from railgen.drawings.references import Reference, references
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Align, Arc, Box, Circle, Dimension, Label, Line, Path, Pen, Point, polar
from railgen.drawings.tiles import Callout, Template
from railgen.geometry import Vec
from railgen.job.model import Job
from railgen.layout.model import Layout, Post
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import SurfaceHole
from railgen.units import Figures

__all__ = ["drilling_template", "gauges"]

_BEYOND = 10.0  # mm shown beyond lines and plate
_GAUGE, _PITCH = 24.0, 34.0  # mm: width of a gauge, and from one to the next
_GAUGES_A_PAGE = 6


def drilling_template(job: Job, layout: Layout, fabrication: Fabrication, post: Post, setting: Setting) -> Template:
    """Seen from above; the first reference line is upright, the post's axis is the origin."""
    figures, plate = setting.figures, job.hardware.base_plate
    lines = references(job, layout, fabrication, post)
    right, up = _axes(lines)
    half = max(plate.length, plate.width) / 2 + _BEYOND
    low_x, low_y = min(-half, -lines[0].distance - _BEYOND), -half
    high_x, high_y = half, max(half, lines[1].distance + _BEYOND)
    if lines[1].towards.dot(up) < 0:
        low_y, high_y = min(-half, -lines[1].distance - _BEYOND), half
    board = Board(area=Box(left=low_x, right=high_x, bottom=low_y, top=high_y))
    _plate(board, job, post, right, up)
    board.line(Pen.REFERENCE, (-lines[0].distance, low_y), (-lines[0].distance, high_y))
    level = lines[1].distance * (1 if lines[1].towards.dot(up) > 0 else -1)
    board.line(Pen.REFERENCE, (low_x, level), (high_x, level))
    board.line(Pen.CENTRE, (low_x, 0.0), (half, 0.0))
    board.line(Pen.CENTRE, (0.0, low_y), (0.0, high_y))
    _way_up(board, post, right, up, job.hardware.post_tube.radius)
    holes = _holes(fabrication, post, right, up)
    for hole, spot in holes:
        board.circle(Pen.HOLE, spot, hole.diameter / 2)
        arm = hole.diameter / 2 + 4.0
        board.line(Pen.HOLE, (spot[0] - arm, spot[1]), (spot[0] + arm, spot[1]))
        board.line(Pen.HOLE, (spot[0], spot[1] - arm), (spot[0], spot[1] + arm))
    _name_lines(board, lines, level, figures, Box(left=low_x, right=high_x, bottom=low_y, top=high_y))
    deep = f", {figures.drill(holes[0][0].depth)} deep" if holes else ""
    size = f"Ø{figures.drill(holes[0][0].diameter)}{deep}" if holes else "no holes"
    seen = f", as seen walking up flight {post.surface.flight}" if post.setback is None else ""
    return Template(
        name=f"template-{post.id}",
        title=f"{post.id} on {post.surface}, drilling template",
        note=f"From above, thick lines on {lines[0].name} and {lines[1].name}{seen}; holes {size}",
        extent=Box(left=low_x, right=high_x, bottom=low_y, top=high_y),
        items=_flat(board),
        callouts=tuple(
            Callout(
                spot=spot,
                radius=hole.diameter / 2,
                words=(f"{hole.id.rsplit('.', 1)[-1]}  Ø{figures.drill(hole.diameter)}",),
            )
            for hole, spot in holes
        ),
        marks=(*(spot for _, spot in holes), (0.0, 0.0), (-lines[0].distance, 0.0), (0.0, level)),
        widest=max((hole.diameter for hole, _ in holes), default=0.0),
    )


def _axes(lines: tuple[Reference, Reference]) -> tuple[Vec, Vec]:
    """World directions of right and up on a template that lies on the surface, seen from above."""
    right = -lines[0].towards
    return right, Vec(0.0, 0.0, 1.0).cross(right)


def _plate(board: Board, job: Job, post: Post, right: Vec, up: Vec) -> None:
    plate = job.hardware.base_plate
    level = abs(post.ahead.dot(right)) > abs(post.ahead.dot(up))
    wide, high = (plate.length, plate.width) if level else (plate.width, plate.length)
    outline(board, Pen.PLATE, Box(left=-wide / 2, right=wide / 2, bottom=-high / 2, top=high / 2), plate.corner_radius)
    board.circle(Pen.PLATE, (0.0, 0.0), job.hardware.post_tube.radius)


def _way_up(board: Board, post: Post, right: Vec, up: Vec, radius: float) -> None:
    """An arrow in the post's circle that points up the flight."""
    turn = math.atan2(post.ahead.dot(up), post.ahead.dot(right))
    tail, tip = polar((0.0, 0.0), -radius * 0.7, turn), polar((0.0, 0.0), radius * 0.7, turn)
    aside = 3.0
    tail, tip = (polar(end, aside, turn + math.pi / 2) for end in (tail, tip))
    board.line(Pen.DIMENSION, tail, tip)
    board.add(arrow(tip, turn))
    board.note(tail, "up", SMALL, turn + math.pi / 2)


def _holes(fabrication: Fabrication, post: Post, right: Vec, up: Vec) -> list[tuple[SurfaceHole, Point]]:
    """The surface's holes that belong to the post, on the template."""
    body, place = fabrication.body(post.surface)
    found = []
    for hole in body.holes:
        if hole.post == post.id:
            away = place.frame.point(hole.point) - post.base
            found.append((hole, (away.dot(right), away.dot(up))))
    return found


def _name_lines(board: Board, lines: tuple[Reference, Reference], level: float, figures: Figures, extent: Box) -> None:
    first, second = lines
    upright = f"{first.name}: axis {figures.length(first.distance)} away"
    flat = f"{second.name}: axis {figures.length(second.distance)} away"
    x = -first.distance
    y = extent.middle[1]
    long = width(upright, SMALL)
    y = extent.bottom + long / 2 + 3 if level > 0 else extent.top - long / 2 - 3
    board.text((x - 1.6, y), upright, SMALL, Align.CENTRE, math.pi / 2)
    board.text((x + 2.0, level + 1.6), flat, SMALL)


def _flat(board: Board) -> tuple[Line | Path | Circle | Arc | Label, ...]:
    return tuple(item for item in board.items if not isinstance(item, Dimension))


def gauges(job: Job, layout: Layout, fabrication: Fabrication, setting: Setting) -> list[Template]:
    """Two strips for each plate, to cut out: butt end on the line, plate and axis marked."""
    strips: list[tuple[str, Reference, float]] = []
    plate = job.hardware.base_plate
    for post in layout.posts:
        for line in references(job, layout, fabrication, post):
            level = abs(line.towards.dot(post.ahead)) > 0.5
            strips.append((post.id, line, (plate.length if level else plate.width) / 2))
    long = any(line.distance + half > setting.paper.page[0] - 40 for _, line, half in strips)
    count = 4 if long else _GAUGES_A_PAGE  # as many as turned, or upright, paper holds
    pages = [strips[i : i + count] for i in range(0, len(strips), count)]
    return [_gauge_page(page, number, setting) for number, page in enumerate(pages, start=1)]


def _gauge_page(page: list[tuple[str, Reference, float]], number: int, setting: Setting) -> Template:
    figures = setting.figures
    items: list[Line | Path | Circle | Arc | Label] = []
    longest = 0.0
    for row, (post, line, half) in enumerate(page):
        top = -row * _PITCH
        low, far = top - _GAUGE, line.distance + half + 12.0
        longest = max(longest, far)
        items += [
            Line(pen=Pen.REFERENCE, a=(0.0, low), b=(0.0, top)),
            Line(pen=Pen.CUT, a=(0.0, low), b=(far, low)),
            Line(pen=Pen.CUT, a=(0.0, top), b=(far, top)),
            Line(pen=Pen.CUT, a=(far, low), b=(far, top)),
        ]
        items += [
            Line(pen=Pen.PLATE, a=(x, low), b=(x, low + 12.0))
            for x in (line.distance - half, line.distance + half)
            if x > 0.5
        ]
        items.append(Line(pen=Pen.HOLE, a=(line.distance, low), b=(line.distance, top - 8.0)))
        items.append(Label(at=(2.0, top - 4.0), text=f"{post} from {line.name}", height=SMALL, bold=True))
        items += [
            Label(at=(x - 1.0, low + 2.0), text=text, height=CAPTION, align=Align.RIGHT)
            for x, text in (
                (line.distance - half, f"plate {figures.length(line.distance - half)}"),
                (line.distance, f"axis {figures.length(line.distance)}"),
                (line.distance + half, f"plate {figures.length(line.distance + half)}"),
            )
            if x - 1.0 > width(text, CAPTION)
        ]
    wide = max([longest, *(width(f"{post} from {line.name}", SMALL, bold=True) + 6 for post, line, _ in page)])
    return Template(
        name=f"template-gauges-{number}",
        title=f"Setback gauges, {number}",
        note="Cut out; thick end on the line named; plate between the short lines, axis on the long one",
        extent=Box(left=0.0, right=wide, bottom=-len(page) * _PITCH + (_PITCH - _GAUGE), top=0.0),
        items=tuple(items),
        marks=tuple(
            (x, -row * _PITCH - _GAUGE / 2)
            for row, (_, line, half) in enumerate(page)
            for x in (0.0, line.distance, line.distance + half)
        ),
    )
