"""Cut list, order, drill schedule and cost on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from reportlab.platypus import Flowable

from railgen.job.model import Job
from railgen.members import Fabrication
from railgen.members.pieces import Fitting, Piece, StairBody
from railgen.report.grid import number_cell, table_grid
from railgen.report.paper.table import grid_rows
from railgen.report.paper.text import Kind, headed, para
from railgen.schedules.table import Quantity, Table
from railgen.units import Figures, fixed

__all__ = ["drill_pages", "list_pages", "order_pages", "plain_table", "priced"]


def plain_table(table: Table, figures: Figures, room: float, *, tick: str = "", size: float = 8.0) -> Flowable:
    """A schedule as people read it, angles to a tenth of a degree; ``tick`` heads a first column of boxes."""
    columns = tuple(replace(c, decimals=1) if c.quantity is Quantity.ANGLE else c for c in table.columns)
    return grid_rows(
        table_grid(replace(table, columns=columns), figures), room, tick=tick, size=size, bold=("mark", "hole")
    )


def list_pages(table: Table, figures: Figures, room: float) -> Iterator[Flowable]:
    """A schedule with its notes."""
    yield plain_table(table, figures, room)
    for note in table.notes:
        yield para(note)


def drill_pages(job: Job, fabrication: Fabrication, table: Table, figures: Figures, room: float) -> Iterator[Flowable]:
    """The drill schedule, piece by piece, with a box to tick for each hole."""
    quantities = fabrication.quantities()
    part = [column.name for column in table.columns].index("part")
    columns = tuple(column for n, column in enumerate(table.columns) if n != part)
    for mark, group in groupby(table.rows, key=lambda row: row[part]):
        rows = tuple(tuple(cell for n, cell in enumerate(row) if n != part) for row in group)
        piece = fabrication.pieces[str(mark)]
        count = quantities[str(mark)]
        yield from headed(f"{mark}" + (f", {count} pieces" if count > 1 else ""))
        yield para(_measured(job, piece, figures), Kind(size=8.5, after=2))
        yield plain_table(Table(name="", columns=columns, rows=rows), figures, room, tick="done", size=7.5)


def _measured(job: Job, piece: Piece, figures: Figures) -> str:
    """How the holes of a piece are measured."""
    if isinstance(piece, StairBody):
        return (
            "Part of the stair, drilled on site: from the nosing named, a minus in front of it, and inwards from the "
            "side edge at the rail."
        )
    if isinstance(piece, Fitting):
        return (
            "Bought with its holes; they are listed to be compared. x points down the flight and y to the walker's "
            "right, from the plate's middle; holes in the socket: height above the plate's underside, clock position."
        )
    length = figures.named(piece.length)
    return (
        f"{piece.section.id}, {job.hardware.material.id}, {length} long. Distances from the datum end; "
        "clock position 0 underneath, in a post down the flight, and clockwise seen from the datum end."
    )


def order_pages(table: Table, figures: Figures, room: float) -> Iterator[Flowable]:
    """The order by what is bought, taken and cut; masses where they are known."""
    names = [column.name for column in table.columns]
    kind, each, total, quantity = (names.index(n) for n in ("kind", "each_kg", "total_kg", "quantity"))
    shown, rows = table_grid(table, figures), []
    for row, told in zip(table.rows, shown.rows, strict=True):
        cells = list(told)
        cells[quantity] = replace(told[quantity], text=told[quantity].text.removesuffix(".0"))
        if row[each] is None and row[kind] != "consumable":
            cells[each] = cells[total] = number_cell("not given", 0.0)  # stands where the numbers do
        rows.append(tuple(cells))
    yield para(f"Mass of the finished rail: {_rail_mass(table.rows, kind, total)}.", Kind(bold=True, after=3))
    for note in table.notes:
        yield para(f"{note}.")
    yield grid_rows(replace(shown, rows=tuple(rows)), room, tick="there", size=7.5)


def _rail_mass(rows: Sequence[Sequence[object]], kind: int, total: int) -> str:
    """Tubes and fittings; bars are left out, since the tubes are cut from them, and consumables."""
    masses = [row[total] for row in rows if row[kind] not in ("tube stock", "consumable")]
    known = [mass for mass in masses if isinstance(mass, int | float)]
    return f"{fixed(sum(known), 2)} kg" if len(known) == len(masses) else "not given"


def priced(job: Job) -> bool:
    """Whether the job names any price."""
    order = job.order
    return bool(
        order.prices.items or order.labour.rate is not None or any(bar.price is not None for bar in order.stock.lengths)
    )
