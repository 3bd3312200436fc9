"""Cells of the schedules as the printed pages show them: lengths as the job asks, angles to a tenth."""

from __future__ import annotations

from collections.abc import Sequence

from railgen.schedules.rows import number
from railgen.schedules.table import Table
from railgen.units import Figures

__all__ = ["column_name", "numeric", "shown_cells"]

_DRILLS = ("diameter_mm", "countersink_mm")


def column_name(name: str, figures: Figures) -> str:
    """A schedule's column as it is printed.

    >>> from railgen.units import Dimensions
    >>> column_name("from_bar_end_mm", Figures(style=Dimensions.INCH))
    'from bar end, inch'
    """
    for ending, unit in (("_mm", figures.unit), ("_deg", "degrees"), ("_kg", "kg")):
        if name.endswith(ending):
            return f"{name.removesuffix(ending).replace('_', ' ')}, {unit}"
    return name.replace("_", " ")


def shown_cells(table: Table, figures: Figures) -> list[list[str]]:
    """The cells as they are printed: lengths as ``figures`` write them, angles to a tenth of a degree."""
    names = [column.name for column in table.columns]
    return [
        [_cell(cell, text, name, figures) for cell, text, name in zip(row, texts, names, strict=True)]
        for row, texts in zip(table.rows, table.texts(), strict=True)
    ]


def _cell(cell: object, text: str, name: str, figures: Figures) -> str:
    if not isinstance(cell, int | float):
        return text
    if name in _DRILLS:
        return figures.drill(cell)
    if name.endswith("_mm"):
        return figures.length(cell)
    return number(cell, 1) if name.endswith("_deg") else text


def numeric(rows: Sequence[Sequence[object]], column: int) -> bool:
    """Whether a column holds numbers and nothing else."""
    cells = [row[column] for row in rows if row[column] is not None and row[column] != ""]
    return bool(cells) and all(isinstance(cell, int | float) for cell in cells)
