"""A ruled table."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from railgen.drawings.board import Board
from railgen.drawings.lettering import CAPTION, SMALL, fit, width, wrap
from railgen.drawings.sheet import Pen, Point

__all__ = ["ROW", "Table", "draw_table"]

ROW = 4.6  # mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Headings and rows of text; every row has as many cells as there are headings."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def widths(self) -> tuple[float, ...]:
        """Width (mm) each column would like."""
        columns = zip(self.headings, *self.rows, strict=True)
        return tuple(max(width(text, SMALL, bold=n == 0) for n, text in enumerate(column)) + 3.0 for column in columns)

    @property
    def height(self) -> float:
        return ROW * (len(self.rows) + 1)

    def wrapped(self, room: float) -> Table:
        """The same table, its last two columns wrapped where smaller letters do not fit them into ``room`` (mm).

        Rows that go on begin empty.
        """
        widths = list(self.widths())
        if math.fsum(widths) - room <= math.fsum(_give(widths)):
            return self
        least = [max(width(word, SMALL) for row in self.rows for word in row[n].split()) + 3.0 for n in (-2, -1)]
        while (over := math.fsum(widths) - room) > 0:  # the wider one gives way, down to its longest word
            n = max((-2, -1), key=lambda n: (widths[n] > least[n], widths[n]))
            if widths[n] <= least[n]:
                break
            widths[n] = max(least[n], widths[n] - min(over, 1.0))
        rows: list[tuple[str, ...]] = []
        for row in self.rows:
            ends = [wrap(row[n], widths[n] - 2.0, SMALL) for n in (-2, -1)]
            for number, pair in enumerate(zip_longest(*ends, fillvalue="")):
                rows.append((*(row[:-2] if number == 0 else [""] * (len(row) - 2)), *pair))
        return Table(headings=self.headings, rows=tuple(rows))

    def pages(self, rows: int, first: int | None = None) -> tuple[Table, ...]:
        """The same table in parts of at most ``rows`` rows, the first of at most ``first``; no row is torn apart."""
        parts: list[Table] = []
        start, room = 0, rows if first is None else first
        while start < len(self.rows) or not parts:
            most = min(start + room, len(self.rows))
            ends = [n for n in range(start, most + 1) if n == len(self.rows) or self.rows[n][0]]
            end = ends[-1] if ends and (ends[-1] > start or room < rows) else most
            parts.append(Table(headings=self.headings, rows=self.rows[start:end]))
            start, room = end, rows
        return tuple(parts)


def _give(widths: Sequence[float]) -> list[float]:
    """What smaller letters save of the last two columns (mm), which hold words."""
    return [(1 - CAPTION / SMALL) * (wide - 3.0) for wide in widths[-2:]]


def draw_table(board: Board, table: Table, top_left: Point, room: float) -> float:
    """Draw the table; columns shrink together where ``room`` (mm) is short. Answers the level of its lower edge."""
    widths = list(table.widths())
    over, give = math.fsum(widths) - room, _give(widths)
    if 0 < over <= math.fsum(give):
        widths[-2:] = [w - over * g / math.fsum(give) for w, g in zip(widths[-2:], give, strict=True)]
    while math.fsum(widths) > room + 1e-6:  # the widest gives way first
        widest = max(range(len(widths)), key=lambda i: widths[i])
        over = math.fsum(widths) - room
        rest = max((w for i, w in enumerate(widths) if i != widest), default=0.0)
        widths[widest] = max(widths[widest] - over, min(rest, widths[widest] - 1.0))
    left, top = top_left
    bottom = top - table.height
    edges = [left]
    for wide in widths:
        edges.append(edges[-1] + wide)
    for number, row in enumerate((table.headings, *table.rows)):
        y = top - ROW * (number + 1)
        if number == len(table.rows) or table.rows[number][0]:  # the next row begins anew
            board.line(Pen.TABLE, (left, y), (edges[-1], y))
        for x, wide, cell in zip(edges, widths, row, strict=False):
            text, height = fit(cell, wide - 2.0, SMALL, bold=number == 0)
            board.text((x + 1.2, y + 1.1), text, height, bold=number == 0)
    board.line(Pen.TABLE, (left, top), (edges[-1], top))
    for edge in edges:
        board.line(Pen.TABLE, (edge, bottom), (edge, top))
    return bottom
