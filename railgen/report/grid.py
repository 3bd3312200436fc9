"""A table as people read it, on the page and on paper: cells with a text to read and a number to sort by."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from railgen.schedules import Column, Table
from railgen.schedules.table import Cell as Value
from railgen.units import Figures

__all__ = ["Cell", "Grid", "grid", "number_cell", "table_grid"]


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


def table_grid(table: Table, figures: Figures) -> Grid:
    """A schedule as people read it."""

    def read(column: Column, cell: Value) -> Cell:
        value, text = column.value(cell), column.shown(cell, figures)
        return number_cell(text, value) if isinstance(value, int | float) else Cell(text=text)

    rows = [[read(column, cell) for column, cell in zip(table.columns, row, strict=True)] for row in table.rows]
    found = grid(table.name, [column.heading(figures) for column in table.columns], rows)
    return replace(found, notes=table.notes)
