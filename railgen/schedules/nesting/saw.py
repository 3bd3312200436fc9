"""The saw list: every cut in the order it is made."""

from __future__ import annotations

from collections import Counter

from railgen.schedules.nesting.model import NestedBar, Nesting
from railgen.schedules.table import Cell, Column, Quantity, Table
from railgen.units import Figures

__all__ = ["saw_table"]

_COLUMNS = (
    Column(name="bar", quantity=Quantity.COUNT),
    Column(name="section"),
    Column(name="take"),
    Column(name="bar_mm", quantity=Quantity.LENGTH),
    Column(name="cut", quantity=Quantity.COUNT),
    Column(name="mark"),
    Column(name="copy", quantity=Quantity.COUNT),
    Column(name="length_mm", quantity=Quantity.LENGTH),
    Column(name="from_bar_end_mm", quantity=Quantity.LENGTH),
    Column(name="blade_a_deg", quantity=Quantity.ANGLE, decimals=2),
    Column(name="blade_b_deg", quantity=Quantity.ANGLE, decimals=2),
    Column(name="then"),
)


def saw_table(nesting: Nesting, figures: Figures) -> Table:
    """Bars in turn, longest piece first; blade angles off square, 0 a square cut; what becomes of the offcut."""
    rows: list[tuple[Cell, ...]] = []
    copies: Counter[str] = Counter()
    for bar in nesting.bars:
        for number, cut in enumerate(bar.cuts, start=1):
            copies[cut.mark] += 1
            rows.append(
                (
                    bar.number,
                    bar.section,
                    "rack" if bar.from_rack else "new",
                    bar.length,
                    number,
                    cut.mark,
                    copies[cut.mark],
                    cut.length,
                    cut.start,
                    cut.angle_a,
                    cut.angle_b,
                    _then(bar, figures) if number == len(bar.cuts) else "",
                )
            )
    notes = tuple(section.says() for section in nesting.sections)
    return Table(name="Saw list", columns=_COLUMNS, rows=tuple(rows), notes=notes)


def _then(bar: NestedBar, figures: Figures) -> str:
    left = f"offcut {figures.named(bar.offcut)}"
    return f"{left}, to the rack" if bar.kept else f"{left}, scrap" if bar.offcut > 0 else "nothing left"
