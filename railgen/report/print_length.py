"""Cells of the schedules as the printed pages show them: lengths in the job's style, empty columns left out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from railgen.schedules.rows import number
from railgen.schedules.table import Table
from railgen.units import Dimensions, Figures

__all__ = ["column_name", "numeric", "shown_cells"]

_DRILLS = ("diameter_mm", "countersink_mm")


def column_name(name: str, style: Dimensions) -> str:
    """A schedule's column as it is printed.

    >>> column_name("from_bar_end_mm", Dimensions.INCH), column_name("total_kg", Dimensions.MM)
    ('from bar end, inch', 'total, kg')
    """
    for ending, unit in (("_mm", Figures(style=style).unit), ("_deg", "degrees"), ("_kg", "kg")):
        if name.endswith(ending):
            return f"{name.removesuffix(ending).replace('_', ' ')}, {unit}"
    return name.replace("_", " ")


def shown_cells(table: Table, style: Dimensions, wanted: Iterable[str] | None = None) -> list[list[str]]:
    """The cells of some columns, all by default: lengths in ``style``, angles to a tenth of a degree."""
    names = [column.name for column in table.columns]
    at = range(len(names)) if wanted is None else [names.index(name) for name in wanted]
    return [
        [_cell(row[n], text[n], names[n], style) for n in at]
        for row, text in zip(table.rows, table.texts(), strict=True)
    ]


def _cell(cell: object, text: str, name: str, style: Dimensions) -> str:
    if not isinstance(cell, int | float):
        return text
    if name in _DRILLS:
        return Figures(style=style).drill(cell)
    if name.endswith("_mm"):
        return Figures(style=style).length(cell)
    return number(cell, 1) if name.endswith("_deg") else text


def numeric(rows: Sequence[Sequence[object]], column: int) -> bool:
    """Whether a column holds numbers and nothing else."""
    cells = [row[column] for row in rows if row[column] is not None and row[column] != ""]
    return bool(cells) and all(isinstance(cell, int | float) for cell in cells)
