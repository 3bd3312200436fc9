"""Cells of the schedules as the printed pages show them: lengths in the job's style, empty columns left out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from railgen.job.order_model import Dimensions
from railgen.schedules.dimension import dimension
from railgen.schedules.rows import number
from railgen.schedules.table import Table
from railgen.units import MM_PER_INCH

__all__ = ["UNIT", "bare", "column_name", "drill_size", "shown_cells"]

UNIT = {
    Dimensions.MM: "mm",
    Dimensions.INCH: "inch",
    Dimensions.SIXTEENTH: "inch",
    Dimensions.BOTH: "mm (inch)",
}
_DRILLS = ("diameter_mm", "countersink_mm")


def bare(mm: float, style: Dimensions) -> str:
    """A length without its unit, for tables that name it.

    >>> bare(1982.657, Dimensions.BOTH), bare(1982.657, Dimensions.SIXTEENTH)
    ('1982.7 (78.057)', '78 1/16')
    """
    text = dimension(mm, style)
    return text.replace(" mm", "").replace(" in", "").replace('"', "")


def drill_size(mm: float, style: Dimensions) -> str:
    """Diameter of a drill: in inches decimal, since the nearest sixteenth would be another drill.

    >>> drill_size(6.4, Dimensions.MM), drill_size(6.4, Dimensions.SIXTEENTH), drill_size(6.4, Dimensions.BOTH)
    ('6.4', '0.252', '6.4 (0.252)')
    """
    metric, inch = _trimmed(mm, 2), _trimmed(mm / MM_PER_INCH, 3)
    if style is Dimensions.BOTH:
        return f"{metric} ({inch})"
    return metric if style is Dimensions.MM else inch


def _trimmed(value: float, decimals: int) -> str:
    return number(value, decimals).rstrip("0").rstrip(".")


def column_name(name: str, style: Dimensions) -> str:
    """A schedule's column as it is printed.

    >>> column_name("from_bar_end_mm", Dimensions.INCH), column_name("total_kg", Dimensions.MM)
    ('from bar end, inch', 'total, kg')
    """
    for ending, unit in (("_mm", UNIT[style]), ("_deg", "degrees"), ("_kg", "kg")):
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
        return drill_size(cell, style)
    if name.endswith("_mm"):
        return bare(cell, style)
    return number(cell, 1) if name.endswith("_deg") else text


def numeric(rows: Sequence[Sequence[object]], column: int) -> bool:
    """Whether a column holds numbers and nothing else."""
    cells = [row[column] for row in rows if row[column] is not None and row[column] != ""]
    return bool(cells) and all(isinstance(cell, int | float) for cell in cells)
