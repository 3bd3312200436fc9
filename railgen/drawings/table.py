"""A ruled table."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import zip_longest

from railgen.drawings.board import Board
from railgen.drawings.lettering import SMALL, fit, width, wrap
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
        """The same table, its last two columns wrapped where ``room`` (mm) is short: rows that go on begin empty."""
        widths = list(self.widths())
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

    def pages(self, rows: int) -> tuple[Table, ...]:
        """The same table in parts of at most ``rows`` rows."""
        parts = [self.rows[start : start + rows] for start in range(0, len(self.rows), rows)]
        return tuple(Table(headings=self.headings, rows=part) for part in parts)


def draw_table(board: Board, table: Table, top_left: Point, room: float) -> float:
    """Draw the table; columns shrink together where ``room`` (mm) is short. Answers the level of its lower edge."""
    widths = list(table.widths())
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
