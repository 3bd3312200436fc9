"""One table, printed in many ways: the same cells go to CSV, to the workbook, to plain text and to the sheets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from railgen.schedules.rows import number, to_csv

__all__ = ["Cell", "Column", "Table"]

Cell = str | float | int | None
"""Text, a number, or nothing."""


_COUNTS = ("quantity", "walls")
_UNITS = ("_mm", "_deg", "_kg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column, with the decimals of its numbers."""

    name: str
    decimals: int = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows of cells under named columns; ``notes`` belong below it."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()

    @classmethod
    def of_texts(
        cls, name: str, columns: Sequence[str], rows: Iterable[Mapping[str, str]], notes: tuple[str, ...] = ()
    ) -> Table:
        """A table of rows already written out: cells under names that end in a unit, and counts, become numbers."""
        cells = tuple(tuple(_cell(row.get(column, ""), column) for column in columns) for row in rows)
        return cls(name=name, columns=tuple(Column(name=column) for column in columns), rows=cells, notes=notes)

    def __post_init__(self) -> None:
        if any(len(row) != len(self.columns) for row in self.rows):
            raise ValueError(f"{self.name}: a row has not one cell for each of {len(self.columns)} columns")

    def texts(self) -> list[list[str]]:
        """Every cell as text."""
        return [[_text(cell, column) for cell, column in zip(row, self.columns, strict=True)] for row in self.rows]

    def csv(self) -> str:
        """CSV with the column names as header; notes are left out."""
        names = [column.name for column in self.columns]
        return to_csv(names, (dict(zip(names, row, strict=True)) for row in self.texts()))

    def text(self) -> str:
        """Plain text in aligned columns, numbers to the right, notes below."""
        names = [column.name for column in self.columns]
        rows = self.texts()
        widths = [max(len(row[n]) for row in (names, *rows)) for n in range(len(names))]
        right = [any(isinstance(row[n], int | float) for row in self.rows) for n in range(len(names))]
        lines = [self.name, "-" * len(self.name)] if self.name else []
        for row in (names, *rows):
            cells = [c.rjust(w) if r else c.ljust(w) for c, w, r in zip(row, widths, right, strict=True)]
            lines.append("  ".join(cells).rstrip())
        return "\n".join([*lines, *self.notes]) + "\n"


def _cell(text: str, column: str) -> Cell:
    if column not in _COUNTS and not column.endswith(_UNITS):
        return text
    try:
        return int(text) if text.isdecimal() else float(text)
    except ValueError:
        return text or None


def _text(cell: Cell, column: Column) -> str:
    if cell is None:
        return ""
    if isinstance(cell, float):
        return number(cell, column.decimals)
    return str(cell)
