"""The shop drawing of a tube: side view, unrolled surface, end view, hole table, facts."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping

from railgen.drawings.board import Board
from railgen.drawings.breaks import LengthMap, map_length
from railgen.drawings.dims import aside, linear, reach, running
from railgen.drawings.endview import draw_end
from railgen.drawings.facts import short_list
from railgen.drawings.frame import Draft, drawing_area, title_box
from railgen.drawings.lettering import SMALL
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Align, Box, Label, Pen, Point, Scale
from railgen.drawings.table import ROW, Table, draw_table
from railgen.drawings.unrolled import arc_length, draw_unrolled, wavy
from railgen.drawings.words import fact_list, notes
from railgen.job.model import Job
from railgen.job.order_model import Projection
from railgen.members.fabrication import Fabrication
from railgen.members.facts import mates, places, prepared, tube_volume
from railgen.members.pieces import CutEnd, Tube, TubeHole, TubeRole
from railgen.units import Figures, degrees

__all__ = ["draw_tube"]

_SCALES = (Scale(paper=1, real=1), Scale(paper=1, real=2), Scale(paper=1, real=5), Scale(paper=1, real=10))
_COLUMN = 92.0  # mm for end view and facts
_AROUND = 86.0  # mm at most for the unrolled surface
_BROKEN = "drawn broken: dimensions hold, do not measure the file"
_NAMED = 10  # holes from which on callouts name the hole only


def draw_tube(job: Job, fabrication: Fabrication, tube: Tube, setting: Setting) -> list[Draft]:
    """One sheet, and as many more as its hole table needs."""
    area, figures = drawing_area(setting), setting.figures
    board = Board(area=area)
    column_right = setting.projection is Projection.FIRST_ANGLE
    left = area.left + 14 + (0 if column_right else _COLUMN + 8)
    right = area.right - 4 - (_COLUMN + 8 if column_right else 0)
    scale, lengths = _scaled(tube, left, right - left)
    radius = tube.section.radius * scale.ratio
    axis = area.top - 10 - reach(figures.length(stop) for stop in _stops(tube)) - radius
    _side(board, tube, lengths, axis, scale, figures)
    middle = area.right - _COLUMN / 2 if column_right else area.left + _COLUMN / 2
    draw_end(board, tube, (middle, axis), scale, _COLUMN / 2)
    board.text((middle, axis - radius - 13), "End view on the datum end", SMALL, Align.CENTRE)
    facts = Box(
        left=middle - _COLUMN / 2, right=middle + _COLUMN / 2, top=axis - radius - 20, bottom=title_box(setting).top + 3
    )
    told = _facts(board, job, fabrication, tube, setting, facts)
    low = draw_unrolled(board, tube, lengths, axis - radius - 37 - 2 * _under(figures), scale, figures)
    room = title_box(setting).left - area.left - 5
    if not column_right:
        low = min(low, told)  # the table of holes begins under the column
    table = _hole_table(tube, mates(fabrication), figures).wrapped(room)
    quantity = fabrication.quantities()[tube.mark]
    title = f"{tube.mark}  {tube.role.value}, {quantity} off"
    note = f"{_section(tube, figures)}, length {figures.named(tube.length)}"
    rows = max(0, math.floor((low - 4 - area.bottom) / ROW) - 1)
    drafts = [Draft(name=f"shop-{tube.mark}", title=title, note=note, scale=scale, board=board)]
    if table.rows:
        whole = math.floor((area.top - title_box(setting).top - 3) / ROW) - 1
        first, *rest = table.pages(whole, first=rows)
        if first.rows:
            draw_table(board, first, (area.left, low - 4), room)
        for number, part in enumerate(rest, start=2):
            more = Board(area=area)
            draw_table(more, part, (area.left, area.top), area.width)
            name = f"shop-{tube.mark}-{number}"
            drafts.append(Draft(name=name, title=f"{title}: holes", note=note, scale=scale, board=more))
    return drafts


def _scaled(tube: Tube, left: float, room: float) -> tuple[Scale, LengthMap]:
    features = [0.0, *(hole.distance for hole in tube.holes), tube.length]
    for scale in _SCALES:
        lengths = map_length(features, scale, left, room)
        if lengths is not None and math.pi * tube.section.od * scale.ratio <= _AROUND:
            return scale, lengths
    last = _SCALES[-1]
    squeezed = Scale(paper=1, real=math.ceil(tube.length / room / 10) * 10)
    whole = map_length(features, squeezed, left, room)
    return (
        (squeezed, whole)
        if whole is not None
        else (last, LengthMap(true=(0.0, tube.length), paper=(left, left + room), breaks=()))
    )


def _side(board: Board, tube: Tube, lengths: LengthMap, axis: float, scale: Scale, figures: Figures) -> None:
    """Seen from clock position 270, the datum end at the left, clock position 0 below."""
    radius = tube.section.radius * scale.ratio
    left, right = lengths.paper[0], lengths.paper[-1]
    for x in (left, right):
        board.line(Pen.OUTLINE, (x, axis - radius), (x, axis + radius))
    for low, high in lengths.runs():
        for y in (axis - radius, axis + radius):
            board.line(Pen.OUTLINE, (low, y), (high, y))
    for edges in lengths.breaks:
        for x in edges:
            board.path(Pen.BREAK, wavy((x, axis - radius), (x, axis + radius)))
    board.line(Pen.CENTRE, (left - 4, axis), (right + 4, axis))
    for hole in tube.holes:
        _hole(board, tube, hole, lengths.at(hole.distance), axis, scale)
    _running(board, tube, lengths, axis + radius, figures)
    _chain(board, tube, lengths, axis - radius, figures)
    board.text((left - 3, axis + radius + 12.5), "Datum end", SMALL, Align.RIGHT, math.pi / 2)
    callouts: dict[tuple[float, str], list[TubeHole]] = {}
    for hole in tube.holes:
        callouts.setdefault((hole.distance, f"{round(math.sin(hole.clock), 6)}"), []).append(hole)
    for hole in tube.holes:
        size = f"Ø{figures.drill(hole.diameter)}" + (f" {hole.thread}" if hole.thread else "")
        text = f"{hole.id} {size}" if len(tube.holes) <= _NAMED else hole.id
        place = (lengths.at(hole.distance), axis - radius * math.cos(hole.clock))
        board.note(place, text, SMALL, -math.pi / 4 if math.cos(hole.clock) >= 0 else math.pi / 4)
    words = "Side view from clock 270°, clock 0 below" + (f"; {_BROKEN}" if lengths.breaks else "")
    board.text((left, axis - radius - 29 - 2 * _under(figures)), words, SMALL)


def _hole(board: Board, tube: Tube, hole: TubeHole, x: float, axis: float, scale: Scale) -> None:
    radius, across = tube.section.radius * scale.ratio, hole.diameter / 2 * scale.ratio
    tall = abs(math.sin(hole.clock))
    y = axis - radius * math.cos(hole.clock)
    if tall < 0.2:  # seen from the side: the hole's edges in the wall
        wall = tube.section.wall * scale.ratio * (1 if math.cos(hole.clock) > 0 else -1)
        for edge in (x - across, x + across):
            board.line(Pen.HIDDEN, (edge, y), (edge, y + wall))
        out = -3.0 if math.cos(hole.clock) > 0 else 3.0
        board.line(Pen.CENTRE, (x, y - out), (x, y + out))
        return
    pen = Pen.HOLE if math.sin(hole.clock) < 0 else Pen.HIDDEN
    if tall > 1 - 1e-9:
        board.circle(pen, (x, y), across)
    else:
        turns = [math.tau * i / 24 for i in range(24)]
        board.path(pen, [(x + across * math.cos(t), y + across * tall * math.sin(t)) for t in turns], closed=True)
    board.cross((x, y), across + 1.0)


def _stops(tube: Tube) -> list[float]:
    return sorted({*(hole.distance for hole in tube.holes), tube.length})


def _running(board: Board, tube: Tube, lengths: LengthMap, level: float, figures: Figures) -> None:
    features: list[tuple[Point, float, str]] = [
        ((lengths.at(stop), level), stop, figures.length(stop)) for stop in _stops(tube)
    ]
    datum = (lengths.paper[0], level)
    board.add(*running(datum, features, 0.0, (0.0, level + 8), broken=bool(lengths.breaks)))


def _chain(board: Board, tube: Tube, lengths: LengthMap, level: float, figures: Figures) -> None:
    """Distances between neighbours, in brackets since the running ones govern, and the overall length."""
    stops = [0.0, *_stops(tube)]
    for a, b in itertools.pairwise(stops):
        first, second = (lengths.at(a), level), (lengths.at(b), level)
        text = aside(figures.between(a, b))
        item = linear(
            first,
            second,
            0.0,
            (0.0, level - 13),
            figures.rounded(b) - figures.rounded(a),
            text,
            height=SMALL,
            broken=lengths.broken(a, b),
        )
        value = next(part for part in item.drawn if isinstance(part, Label))
        if first[0] < value.at[0] < second[0]:
            board.add_if_free(item)
    ends = (lengths.paper[0], level), (lengths.paper[-1], level)
    whole, line = figures.length(tube.length), (0.0, level - 21 - _under(figures))
    board.add(linear(*ends, 0.0, line, tube.length, whole, broken=bool(lengths.breaks)))


def _under(figures: Figures) -> float:
    """Room (mm) for values under a dimension line, where there are any."""
    return 4.5 if figures.dual else 0.0


def _section(tube: Tube, figures: Figures) -> str:
    section = tube.section
    return f"tube {section.id}, Ø{figures.drill(section.od)} × {figures.drill(section.wall)}"


def _facts(board: Board, job: Job, fabrication: Fabrication, tube: Tube, setting: Setting, room: Box) -> float:
    """Draw what is told of the tube in words; returns how far down it reaches."""
    figures = setting.figures
    quantity = fabrication.quantities()[tube.mark]
    material = job.hardware.material
    mass = tube_volume(tube) * material.density * 1e-9
    zero = "faces down the flight" if tube.role is TubeRole.POST else "is the underside"
    end_a, end_b = map(_end, prepared(tube))
    lines = (
        ("Section", _section(tube, figures)),
        ("Length", figures.named(tube.length)),
        ("Quantity", f"{quantity}: {short_list(places(fabrication, tube.mark))}"),
        ("Material", material.description or material.id),
        ("Mass", f"{figures.mass(mass)} each, {figures.mass(mass * quantity)} in all"),
        ("Datum end", end_a),
        ("Far end", end_b),
        ("Clock", f"0° {zero}; clockwise seen from the datum end"),
        ("Holes", "square to the axis, through the wall named; deburr inside and out"),
        *notes(setting, weep=True),
    )
    board.text((room.left, room.top - 7), tube.mark, 7.0, bold=True)
    return fact_list(board, lines, Box(left=room.left, right=room.right, bottom=room.bottom, top=room.top - 12))


def _end(end: CutEnd) -> str:
    off, axis = degrees(end.angle), degrees(math.pi / 2 - end.angle)
    return f"cut {end.cut}, {off} from square, {axis} from the axis; for {end.prepared}"


def _hole_table(tube: Tube, mate: Mapping[tuple[str, str], tuple[str, ...]], figures: Figures) -> Table:
    return Table(
        headings=(
            "Hole",
            "From datum",
            "Clock",
            "Arc from 0°",
            "Ø",
            "Thread",
            "Walls",
            "When",
            "Purpose",
            "Mates with",
        ),
        rows=tuple(
            (
                hole.id,
                figures.length(hole.distance),
                degrees(hole.clock),
                figures.length(arc_length(tube.section.od, hole.clock)),
                figures.drill(hole.diameter),
                hole.thread or "-",
                str(hole.walls),
                str(hole.when),
                hole.purpose.value,
                short_list(mate.get((tube.mark, hole.id), ("-",))),
            )
            for hole in tube.holes
        ),
    )
