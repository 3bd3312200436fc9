"""Tables of the printed pages: columns as wide as they need to be, heads repeated on every page."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from typing import Any

from reportlab.platypus import Flowable, Table

from railgen.report.grid import Grid
from railgen.report.paper.text import MM, Kind, line_or_para, para, text_width

__all__ = ["BLACK", "GREY", "Box", "Col", "Rows", "grid_rows"]

BLACK, GREY = (0.0, 0.0, 0.0), (0.55, 0.55, 0.55)
_PAD = 1.1 * MM
_TALL = 900  # letters of a cell that may want more than a page
_SHORT = 13  # letters of a cell that is not broken


@dataclass(frozen=True, slots=True, kw_only=True)
class Col:
    """A column; ``width`` (mm) None: as its cells need. ``bold``: what the eye looks for; ``whole``: never broken."""

    name: str
    width: float | None = None
    right: bool = False  # numbers
    bold: bool = False
    whole: bool = False


class Box(Flowable):
    """An empty box to tick, ``side`` mm."""

    def __init__(self, side: float = 3.4) -> None:
        super().__init__()
        self.side = side * MM

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.side, self.side + 1.2  # a little lower, beside the letters

    def draw(self) -> None:
        self.canv.setLineWidth(0.8)
        self.canv.rect(0, 0, self.side, self.side)


Cell = str | Flowable | Sequence[Flowable]


@dataclass(slots=True, kw_only=True)
class Rows:
    """A table in the making; ``grid`` draws lines between columns too, for what is filled in by hand."""

    columns: tuple[Col, ...]
    room: float  # points
    size: float = 8.0
    grid: bool = False
    least: float = 0.0  # mm: the least height of a row
    rows: list[Sequence[Cell]] = field(default_factory=list)
    extra: list[Any] = field(default_factory=list)

    def add(self, *cells: Cell) -> None:
        self.rows.append(cells)

    def span(self, text: str) -> None:
        """A note across all columns, which belongs to the row above it."""
        at = len(self.rows) + 1
        blank = [""] * (len(self.columns) - 1)
        self.rows.append([para(text, Kind(size=self.size - 0.8)), *blank])
        self.extra += [("SPAN", (0, at), (-1, at)), ("NOSPLIT", (0, at - 1), (-1, at))]
        self.extra += [("LINEABOVE", (0, at), (-1, at), 0.6, (1, 1, 1)), ("TOPPADDING", (0, at), (-1, at), 0)]

    def invert(self, column: int) -> None:
        """White on black: the cell of the row last added."""
        at = len(self.rows)
        self.extra.append(("BACKGROUND", (column, at), (column, at), BLACK))

    def table(self) -> Table:
        """The table; its head is repeated on every page."""
        wide = _widths(self.columns, self.rows, self.size, self.room)
        named = any(column.name for column in self.columns)
        body = [
            [_cell(cell, column, self.size, room) for cell, column, room in zip(row, self.columns, wide, strict=True)]
            for row in self.rows
        ]
        head = [[para(c.name, Kind(size=self.size - 0.5, bold=True, right=c.right)) for c in self.columns]]
        lines: list[Any] = [
            ("FONTSIZE", (0, 0), (-1, -1), self.size),
            ("LEADING", (0, 0), (-1, -1), self.size * 1.22),
            ("LINEBELOW", (0, 0), (-1, -1), 0.3, GREY),
            *((("GRID", (0, 0), (-1, -1), 0.4, BLACK),) if self.grid else ()),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE" if self.grid else "TOP"),
            *((("LINEBELOW", (0, 0), (-1, 0), 1.0, BLACK), ("VALIGN", (0, 0), (-1, 0), "BOTTOM")) if named else ()),
            ("LEFTPADDING", (0, 0), (-1, -1), _PAD),
            ("RIGHTPADDING", (0, 0), (-1, -1), _PAD),
            ("TOPPADDING", (0, 0), (-1, -1), 1.4),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2.0),
            *self.extra,
        ]
        least = self.least * MM
        made = Table(
            [*(head if named else ()), *body],
            colWidths=wide,
            rowHeights=[
                *((None,) if named else ()),
                *(None if least == 0 else max(least, _high(row, wide)) for row in body),
            ],
            repeatRows=int(named),
            hAlign="LEFT",
            splitInRow=int(any(isinstance(cell, str) and len(cell) > _TALL for row in self.rows for cell in row)),
            spaceBefore=2,
            spaceAfter=6,
        )
        made.setStyle(lines)
        return made


def grid_rows(grid: Grid, room: float, *, tick: str = "", size: float = 8.0, bold: Collection[str] = ()) -> Table:
    """A table of the page on paper, without its empty columns; ``tick`` heads a first column of boxes."""
    shown = grid.filled()
    columns = [
        Col(name=name, right=right, bold=name in bold) for name, right in zip(shown.columns, shown.numeric, strict=True)
    ]
    rows = Rows(columns=(*((Col(name=tick, width=11),) if tick else ()), *columns), room=room, size=size)
    for row in shown.rows:
        rows.add(*((Box(2.8),) if tick else ()), *(cell.text for cell in row))
    return rows.table()


def _cell(cell: Cell, column: Col, size: float, wide: float) -> Cell:
    if not isinstance(cell, str) or not cell:
        return cell
    return line_or_para(cell, Kind(size=size, right=column.right, bold=column.bold), wide - 2 * _PAD)


def _high(row: Sequence[Cell], wide: Sequence[float]) -> float:
    """Height a row needs (points)."""
    heights = [
        cell.wrap(width - 2 * _PAD, 1e6)[1] for cell, width in zip(row, wide, strict=True) if isinstance(cell, Flowable)
    ]
    return max(heights, default=0.0) + 4.0


def _widths(columns: Sequence[Col], rows: Sequence[Sequence[Cell]], size: float, room: float) -> list[float]:
    """Width of each column (points): what its longest cell needs if there is room, else at least its longest word."""
    natural, least = [], []
    for n, column in enumerate(columns):
        if column.width is not None:
            natural.append(column.width * MM)
            least.append(column.width * MM)
            continue
        texts = [cell for row in rows if isinstance(cell := row[n], str)]
        heads = [_width(word, size, bold=True) for word in column.name.split()]
        whole = [_width(text, size, bold=column.bold) for text in texts]
        words = whole if column.whole else [_widest(text, size, bold=column.bold) for text in texts]
        spare = 2 * _PAD + 0.5
        least.append(min(max(heads + words, default=0.0) + spare, room * 0.4))
        natural.append(max(least[-1], max(whole, default=0.0) + spare))
    slack = room - sum(natural)
    if slack >= 0:  # what is left goes to heads that would break
        heads = [
            max(0.0, _width(column.name, size, bold=True) + 2 * _PAD + 0.5 - width) if column.width is None else 0.0
            for column, width in zip(columns, natural, strict=True)
        ]
        share = min(1.0, slack / sum(heads)) if any(heads) else 0.0
        return [width + more * share for width, more in zip(natural, heads, strict=True)]
    loose = sum(natural) - sum(least)
    if loose <= 0 or sum(least) >= room:
        return [width * room / sum(least) for width in least]
    share = (room - sum(least)) / loose
    return [low + (high - low) * share for low, high in zip(least, natural, strict=True)]


def _widest(text: str, size: float, *, bold: bool) -> float:
    """Width of the longest part of a text that is better not broken: a word, or a few short ones."""
    parts = [text] if len(text) <= _SHORT else text.split()
    return max((_width(part, size, bold=bold) for part in parts), default=0.0)


def _width(text: str, size: float, *, bold: bool) -> float:
    return text_width(text, size, bold=bold)
