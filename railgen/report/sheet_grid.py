"""A table of the job sheet: named columns, cells with a text to read and a number to sort by."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

__all__ = ["Cell", "Grid", "grid", "grid_of_csv", "number_cell"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """``key`` sorts the column where it has numbers; ``more`` is shown on request; ``state`` is how it is marked."""

    text: str
    key: float | None = None
    more: tuple[tuple[str, str], ...] = ()
    state: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """``numeric`` says for each column whether it holds numbers only; ``notes`` belong below the table."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()

    @property
    def numeric(self) -> tuple[bool, ...]:
        columns = list(zip(*self.rows, strict=True)) if self.rows else [()] * len(self.columns)
        return tuple(
            any(cell.text for cell in column) and all(cell.key is not None or not cell.text for cell in column)
            for column in columns
        )

    def filled(self) -> Grid:
        """Without the columns that no row has anything in."""
        kept = [n for n in range(len(self.columns)) if any(row[n].text for row in self.rows)]
        return replace(
            self,
            columns=tuple(self.columns[n] for n in kept),
            rows=tuple(tuple(row[n] for n in kept) for row in self.rows),
        )


def number_cell(text: str, key: float) -> Cell:
    """A number as it is read, sorted by its full value."""
    return Cell(text=text, key=key)


def grid(caption: str, columns: Sequence[str], rows: Iterable[Iterable[Cell | str]]) -> Grid:
    """A table of cells, where plain text may stand for a cell without a number."""
    cells = tuple(tuple(cell if isinstance(cell, Cell) else Cell(text=cell) for cell in row) for row in rows)
    return Grid(caption=caption, columns=tuple(columns), rows=cells)


def grid_of_csv(caption: str, text: str, notes: tuple[str, ...] = ()) -> Grid:
    r"""The table of a CSV file of the pack, cell by cell, without its empty columns.

    >>> grid_of_csv("Cut list", "mark,length_mm,note\r\nR1,12.500,\r\n").rows
    ((Cell(text='R1', key=None, more=(), state=''), Cell(text='12.500', key=12.5, more=(), state='')),)
    """
    header, *rows = csv.reader(io.StringIO(text, newline=""))
    return replace(grid(caption, header, [[_read(cell) for cell in row] for row in rows]).filled(), notes=notes)


def _read(text: str) -> Cell:
    try:
        key = float(text)
    except ValueError:
        return Cell(text=text)
    return Cell(text=text, key=key if math.isfinite(key) else None)
