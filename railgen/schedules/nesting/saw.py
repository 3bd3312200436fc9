"""The saw list: every cut in the order it is made."""

from __future__ import annotations

import math
from collections import Counter

from railgen.schedules.nesting.model import NestedBar, Nesting
from railgen.schedules.table import Cell, Column, Table

__all__ = ["saw_table"]

_COLUMNS = (
    Column(name="bar"),
    Column(name="section"),
    Column(name="take"),
    Column(name="bar_mm", decimals=1),
    Column(name="cut"),
    Column(name="mark"),
    Column(name="copy"),
    Column(name="length_mm", decimals=1),
    Column(name="from_bar_end_mm", decimals=1),
    Column(name="blade_a_deg", decimals=2),
    Column(name="blade_b_deg", decimals=2),
    Column(name="then"),
)


def saw_table(nesting: Nesting) -> Table:
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
                    math.degrees(cut.angle_a),
                    math.degrees(cut.angle_b),
                    _then(bar) if number == len(bar.cuts) else "",
                )
            )
    notes = tuple(section.says() for section in nesting.sections)
    return Table(name="Saw list", columns=_COLUMNS, rows=tuple(rows), notes=notes)


def _then(bar: NestedBar) -> str:
    left = f"offcut {bar.offcut:.1f} mm"
    return f"{left}, to the rack" if bar.kept else f"{left}, scrap" if bar.offcut > 0 else "nothing left"
