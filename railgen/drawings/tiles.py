"""Templates at 1:1 on pages: a large one is cut into tiles that overlap."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from railgen.drawings.board import Board
from railgen.drawings.frame import CAUTIONS
from railgen.drawings.lettering import CAPTION, LARGE, MEDIUM, SMALL, corners, fit, width, wrap
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Align, Arc, Box, Circle, Item, Label, Line, Path, Pen, Point, Scale, Sheet, polar
from railgen.job.model import Job

__all__ = ["FULL", "Callout", "Template", "clip", "paged"]

FULL = Scale(paper=1, real=1)
_MARGIN = 8.0  # mm that printers leave white
_HEAD, _FOOT = 21.0, 12.0  # mm for the title above and the check bar below
_OVERLAP = 15.0  # mm that neighbouring tiles share


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """What is written beside a hole of a template, on every tile that shows the hole whole."""

    spot: Point
    radius: float
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A drawing at 1:1 inside ``extent``; only tiles that show one of ``marks`` are printed."""

    name: str
    title: str
    note: str
    extent: Box
    items: tuple[Line | Path | Circle | Arc | Label, ...]
    marks: tuple[Point, ...]
    callouts: tuple[Callout, ...] = ()
    widest: float = 0.0  # largest hole, which must fit into the overlap

    @property
    def overlap(self) -> float:
        """What neighbouring tiles share (mm): enough to show every hole whole on one of them."""
        return max(_OVERLAP, self.widest + 5.0)


def paged(job: Job, setting: Setting, templates: Sequence[Template]) -> tuple[Sheet, ...]:
    """The templates as pages, upright or turned, whichever shows them better."""
    pages = [page for template in templates for page in _tiles(template, setting)]
    return tuple(_page(job, setting, tile, f"{number} of {len(pages)}") for number, tile in enumerate(pages, start=1))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tile:
    """One page: what of the template it shows, on which paper, as which tile of how many."""

    template: Template
    window: Box
    size: tuple[float, float]
    number: int
    total: int
    rows: int

    @property
    def name(self) -> str:
        return f"tile {self.number} of {self.total}" if self.total > 1 else ""


def _tiles(template: Template, setting: Setting) -> list[_Tile]:
    """Tiles on upright or turned paper: no row below another where that can be, then few pages, then few cuts."""
    wide, high = setting.paper.page
    choices = [_grid(template, (wide, high)), _grid(template, (high, wide))]
    return min(choices, key=lambda tiles: (tiles[0].rows, len(tiles), tiles[0].total))


def _grid(template: Template, size: tuple[float, float]) -> list[_Tile]:
    room = _room(size)
    columns = _spans(template.extent.left, template.extent.right, room.width, template.overlap)
    rows = _spans(template.extent.bottom, template.extent.top, room.height, template.overlap)
    total = len(columns) * len(rows)
    windows = [
        Box(left=left, right=right, bottom=low, top=high) for low, high in reversed(rows) for left, right in columns
    ]
    return [
        _Tile(template=template, window=window, size=size, number=number, total=total, rows=len(rows))
        for number, window in enumerate(windows, start=1)
        if total == 1 or any(window.holds(mark) for mark in template.marks)
    ]


def _spans(start: float, end: float, room: float, overlap: float) -> list[tuple[float, float]]:
    if end - start <= room:
        return [(start, end)]
    count = math.ceil((end - start - overlap) / (room - overlap))
    return [(start + i * (room - overlap), min(start + i * (room - overlap) + room, end)) for i in range(count)]


def _room(size: tuple[float, float]) -> Box:
    return Box(left=_MARGIN + 2, bottom=_MARGIN + _FOOT, right=size[0] - _MARGIN - 2, top=size[1] - _MARGIN - _HEAD)


def _page(job: Job, setting: Setting, tile: _Tile, number: str) -> Sheet:
    template, window, (wide, high) = tile.template, tile.window, tile.size
    frame = Box(left=_MARGIN, bottom=_MARGIN, right=wide - _MARGIN, top=high - _MARGIN)
    room = _room(tile.size)
    board = Board(area=frame)
    shift = (room.left - window.left, room.top - window.top)
    seen = Box(left=room.left, right=room.left + window.width, bottom=room.top - window.height, top=room.top)
    for item in template.items:
        board.add(*_shown(item, shift, seen))
    for callout in template.callouts:
        _call_out(board, callout, shift, seen)
    _overlap_marks(board, template, window, seen)
    _head(board, job, setting, tile, frame, number)
    _foot(board, frame)
    return Sheet(
        name=f"{template.name}{f'-{tile.number}' if tile.total > 1 else ''}",
        title=f"{template.title}{', ' + tile.name if tile.name else ''}",
        width=wide,
        height=high,
        scale=FULL,
        frame=frame,
        bar=(frame.left + 2, frame.bottom + 2),
        items=tuple(board.items),
        date=job.project.date,
    )


def _call_out(board: Board, callout: Callout, shift: Point, seen: Box) -> None:
    """The words in the first quarter around the hole where they have room, else beside the tile."""
    x, y, r = callout.spot[0] + shift[0], callout.spot[1] + shift[1], callout.radius
    if not (seen.holds((x - r, y - r)) and seen.holds((x + r, y + r))):
        return

    def words(at: float, first: float, align: Align) -> list[Label]:
        return [
            Label(
                at=(at, first - 3.8 * row),
                text=word,
                height=SMALL if row == 0 else CAPTION,
                align=align,
                bold=row == 0,
            )
            for row, word in enumerate(callout.words)
        ]

    for side, below in ((1, True), (-1, True), (1, False), (-1, False)):
        first = y - r - 6.6 if below else y + r + 4.0 + 3.8 * (len(callout.words) - 1)
        labels = words(x + side, first, Align.LEFT if side > 0 else Align.RIGHT)
        if all(board.free(label) and all(seen.holds(corner) for corner in corners(label)) for label in labels):
            board.add(*labels)
            return
    board.add(Line(pen=Pen.DIMENSION, a=(x + r, y), b=(seen.right + 1.5, y)), *words(seen.right + 2.0, y, Align.LEFT))


def _shown(item: Line | Path | Circle | Arc | Label, shift: Point, seen: Box) -> Iterator[Item]:
    """The part of an item that a tile shows; holes and texts are shown whole or not at all."""

    def moved(point: Point) -> Point:
        return point[0] + shift[0], point[1] + shift[1]

    if isinstance(item, Line):
        ends = moved(item.a), moved(item.b)
        cut = clip(*ends, seen)
        if cut is not None and (item.pen is not Pen.HOLE or all(seen.holds(end) for end in ends)):
            yield Line(pen=item.pen, a=cut[0], b=cut[1])
    elif isinstance(item, Path):
        points = [moved(point) for point in item.points]
        if all(seen.holds(point) for point in points):
            yield Path(pen=item.pen, points=tuple(points), closed=item.closed, filled=item.filled)
    elif isinstance(item, Circle | Arc):
        centre, r = moved(item.centre), item.radius
        if seen.holds((centre[0] - r, centre[1] - r)) and seen.holds((centre[0] + r, centre[1] + r)):
            yield replace(item, centre=centre)
        elif item.pen is not Pen.HOLE:
            yield from _chords(item, centre, seen)
    else:
        label = Label(
            at=moved(item.at),
            text=item.text,
            height=item.height,
            align=item.align,
            angle=item.angle,
            bold=item.bold,
        )
        if all(seen.holds(corner) for corner in corners(label)):
            yield label


def _chords(item: Circle | Arc, centre: Point, seen: Box) -> Iterator[Line]:
    """What a tile shows of a circle or arc that it cuts, as short lines."""
    start, end = (item.start, item.end) if isinstance(item, Arc) else (0.0, math.tau)
    count = max(2, math.ceil((end - start) / math.tau * 96))
    spots = [polar(centre, item.radius, start + (end - start) * n / count) for n in range(count + 1)]
    for a, b in pairwise(spots):
        cut = clip(a, b, seen)
        if cut is not None:
            yield Line(pen=item.pen, a=cut[0], b=cut[1])


def clip(a: Point, b: Point, window: Box) -> tuple[Point, Point] | None:
    """The part of a segment inside a window; None where there is none."""
    low, high = 0.0, 1.0
    for start, step, least, most in (
        (a[0], b[0] - a[0], window.left, window.right),
        (a[1], b[1] - a[1], window.bottom, window.top),
    ):
        if abs(step) < 1e-12:
            if not least - 1e-9 <= start <= most + 1e-9:
                return None
            continue
        near, far = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, near), min(high, far)
    if low >= high:
        return None

    def at(share: float) -> Point:
        return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share

    return at(low), at(high)


def _overlap_marks(board: Board, template: Template, window: Box, seen: Box) -> None:
    """Where the next tile begins: a dashed line with a diamond, at each side that goes on."""
    overlap, whole = template.overlap, template.extent
    for here, end, x in (
        (window.left, whole.left, seen.left + overlap / 2),
        (window.right, whole.right, seen.right - overlap / 2),
    ):
        if abs(here - end) > 1e-6:
            board.line(Pen.CUT, (x, seen.bottom), (x, seen.top))
            _diamond(board, (x, (seen.bottom + seen.top) / 2))
    for here, end, y in (
        (window.bottom, whole.bottom, seen.bottom + overlap / 2),
        (window.top, whole.top, seen.top - overlap / 2),
    ):
        if abs(here - end) > 1e-6:
            board.line(Pen.CUT, (seen.left, y), (seen.right, y))
            _diamond(board, ((seen.left + seen.right) / 2, y))


def _diamond(board: Board, centre: Point) -> None:
    x, y = centre
    board.path(Pen.CUT, ((x - 2, y), (x, y - 2), (x + 2, y), (x, y + 2)), closed=True)


def _head(board: Board, job: Job, setting: Setting, tile: _Tile, frame: Box, number: str) -> None:
    project, top = job.project, frame.top
    right = f"{tile.name}   page {number}".strip()
    board.text((frame.right, top - 4.0), right, SMALL, Align.RIGHT)
    title, height = fit(tile.template.title, frame.width - width(right, SMALL) - 4, LARGE, bold=True)
    board.text((frame.left, top - 5.5), title, height, bold=True)
    about = f"{project.title or project.id}; revision {project.revision or '-'}; {project.date or 'no date'}"
    build = f"build {setting.build or '-'}"
    board.text((frame.right, top - 9.9), build, SMALL, Align.RIGHT)
    text, height = fit(about, frame.width - width(build, SMALL) - 4, SMALL)
    board.text((frame.left, top - 9.9), text, height)
    text, height = fit(tile.template.note, frame.width, SMALL)
    board.text((frame.left, top - 13.9), text, height)
    if setting.status:
        text, height = fit(setting.status, frame.width, MEDIUM, bold=True)
        board.text((frame.left, top - 18.7), text, height, bold=True)


def _foot(board: Board, frame: Box) -> None:
    x, y = frame.left + 106.0, frame.bottom + 7.4
    words = "Print at 100 %: the bar must measure 100 mm. DXF: 1 unit = 1 mm. " + " ".join(CAUTIONS)
    for line in wrap(words, frame.right - x, CAPTION):
        board.text((x, y), line, CAPTION)
        y -= 2.9
