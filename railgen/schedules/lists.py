"""Cut list and parts list."""

from __future__ import annotations

import re
from collections.abc import Mapping

from railgen.job.model import Job
from railgen.members import Fabrication
from railgen.members.facts import tube_volume
from railgen.members.pieces import StairBody, Tube
from railgen.schedules.table import Cell, Column, Quantity, Table
from railgen.units import Figures

__all__ = ["cut_table", "parts_table", "reading_order"]


def reading_order(mark: str) -> tuple[tuple[str, int], ...]:
    """Sorts marks as people count them.

    >>> sorted(["R10", "P1", "R2"], key=reading_order)
    ['P1', 'R2', 'R10']
    """
    return tuple((text, int(digits or 0)) for text, digits in re.findall(r"(\D*)(\d*)", mark))


def cut_table(job: Job, fabrication: Fabrication) -> Table:
    """``cut_list.csv``: every tube to cut, by mark, finished length, what each end is prepared for."""
    quantities, density = fabrication.quantities(), job.hardware.material.density * 1e-9
    tubes = [piece for piece in fabrication.pieces.values() if isinstance(piece, Tube)]
    rows = tuple(
        (
            piece.mark,
            quantities[piece.mark],
            piece.section.id,
            piece.length,
            str(piece.end_a),
            str(piece.end_b),
            job.hardware.material.id,
            tube_volume(piece) * density,
        )
        for piece in sorted(tubes, key=lambda tube: reading_order(tube.mark))
    )
    columns = (
        Column(name="mark"),
        Column(name="quantity", quantity=Quantity.COUNT),
        Column(name="section"),
        Column(name="length_mm", quantity=Quantity.LENGTH),
        Column(name="end_a"),
        Column(name="end_b"),
        Column(name="material"),
        Column(name="mass_kg", quantity=Quantity.MASS),
    )
    return Table(name="Cut list", columns=columns, rows=rows)


_NO_MASS = "not given"


def parts_table(job: Job, fabrication: Fabrication, volumes: Mapping[str, float] | None = None) -> Table:
    """``parts_list.csv``: everything made or bought; masses where there are ``volumes`` (mm3) by mark, of the solids.

    Without them a mass is "not given".
    """
    density, figures = job.hardware.material.density * 1e-9, Figures(style=job.order.dimensions)
    quantities = fabrication.quantities()
    rows: list[tuple[Cell, ...]] = []
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, StairBody):
            continue
        if isinstance(piece, Tube):
            told = ("tube", f"{piece.section.id}, {figures.named(piece.length)}")
        else:
            told = (piece.kind.value, piece.item.description)
        mass = None if volumes is None else volumes[mark] * density
        masses = (_NO_MASS, _NO_MASS) if mass is None else (mass, mass * quantities[mark])
        rows.append((mark, quantities[mark], *told, *masses, "made" if isinstance(piece, Tube) else "bought"))
    columns = (
        Column(name="mark"),
        Column(name="quantity", quantity=Quantity.COUNT),
        Column(name="kind"),
        Column(name="description"),
        Column(name="mass_kg", quantity=Quantity.MASS, decimals=4),
        Column(name="total_kg", quantity=Quantity.MASS),
        Column(name="source"),
    )
    return Table(name="Parts list", columns=columns, rows=tuple(rows))
