"""One table, printed in many ways: its cells are the members' numbers, and each paper and file writes them its way."""

from __future__ import annotations

import csv
import io
import math
import re
from dataclasses import dataclass, replace
from enum import StrEnum

from railgen.units import Figures, fixed

__all__ = ["Cell", "Column", "Quantity", "Table"]

Cell = str | float | int | None
"""Text, a number, or nothing; lengths in mm, angles in radians."""

_FORMULA = re.compile(r"[=@\t\r]|[+-](?![\d.]+$)")  # not a number


class Quantity(StrEnum):
    """What the numbers of a column are."""

    TEXT = "text"
    COUNT = "count"
    LENGTH = "length"
    DRILL = "drill"
    ANGLE = "angle"
    MASS = "mass"
    MONEY = "money"


_ENDINGS = {Quantity.LENGTH: "_mm", Quantity.DRILL: "_mm", Quantity.ANGLE: "_deg", Quantity.MASS: "_kg"}
"""How the names of columns end in files."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column by its name in files, where its numbers have ``decimals`` and are in mm, degrees or kg.

    >>> from railgen.units import Dimensions
    >>> start, inches = Column(name="from_bar_end_mm", quantity=Quantity.LENGTH), Figures(style=Dimensions.INCH)
    >>> start.heading(inches), start.shown(657.25, inches), start.text(657.25)
    ('from bar end, inch', '25.876', '657.250')
    """

    name: str
    quantity: Quantity = Quantity.TEXT
    decimals: int = 3

    def heading(self, figures: Figures) -> str:
        """Its name for people, with the unit of its numbers."""
        ending = _ENDINGS.get(self.quantity, "")
        unit = {"_mm": figures.unit, "_deg": "degrees", "_kg": "kg"}.get(ending)
        words = self.name.removesuffix(ending).replace("_", " ")
        return f"{words}, {unit}" if unit else words

    def value(self, cell: Cell) -> Cell:
        """A cell as files have it: numbers in their unit, to their decimals."""
        if not isinstance(cell, int | float) or (isinstance(cell, int) and self.quantity not in _ENDINGS):
            return cell
        return float(fixed(math.degrees(cell) if self.quantity is Quantity.ANGLE else cell, self.decimals))

    def text(self, cell: Cell) -> str:
        """A cell in the text of a file."""
        value = self.value(cell)
        return fixed(value, self.decimals) if isinstance(value, float) else "" if value is None else str(value)

    def shown(self, cell: Cell, figures: Figures) -> str:
        """A cell as people read it: lengths as ``figures`` write them, all else as in files."""
        if isinstance(cell, int | float) and self.quantity is Quantity.LENGTH:
            return figures.length(cell)
        if isinstance(cell, int | float) and self.quantity is Quantity.DRILL:
            return figures.drill(cell)
        return self.text(cell)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows of cells under named columns; ``notes`` belong below it."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if any(len(row) != len(self.columns) for row in self.rows):
            raise ValueError(f"{self.name}: a row has not one cell for each of {len(self.columns)} columns")

    def texts(self) -> list[list[str]]:
        """Every cell as files have it."""
        return [[column.text(cell) for cell, column in zip(row, self.columns, strict=True)] for row in self.rows]

    def stamped(self, build: str) -> Table:
        """The same with the build mark as its last column, ``build``."""
        return replace(
            self, columns=(*self.columns, Column(name="build")), rows=tuple((*row, build) for row in self.rows)
        )

    def csv(self) -> str:
        """CSV (RFC 4180, CRLF) with the column names as header, nothing a spreadsheet would run; notes are left out."""
        out = io.StringIO()
        writer = csv.writer(out)
        writer.writerow(column.name for column in self.columns)
        for cells, texts in zip(self.rows, self.texts(), strict=True):
            writer.writerow(
                f"'{text}" if isinstance(cell, str) and _FORMULA.match(text) else text
                for cell, text in zip(cells, texts, strict=True)
            )
        return out.getvalue()

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
