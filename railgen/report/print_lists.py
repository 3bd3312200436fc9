"""Cut list, order, drill schedule and cost on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from reportlab.platypus import Flowable

from railgen.job.model import Job
from railgen.members import Fabrication
from railgen.members.pieces import Fitting, Piece, StairBody
from railgen.report.print_length import column_name, numeric, shown_cells
from railgen.report.print_table import Box, Col, Rows, filled
from railgen.report.print_text import Kind, headed, para
from railgen.schedules.table import Table
from railgen.units import Figures

__all__ = ["drill_pages", "list_pages", "order_pages", "plain_table", "priced"]

_BOLD = ("mark", "hole")


def plain_table(table: Table, figures: Figures, room: float, *, tick: str = "", size: float = 8.0) -> Flowable:
    """A schedule as it is, without its empty columns; ``tick`` heads a first column of boxes."""
    names = [column.name for column in table.columns]
    columns = [
        Col(name=column_name(name, figures), right=numeric(table.rows, n), bold=name in _BOLD)
        for n, name in enumerate(names)
    ]
    kept, cells = filled(columns, shown_cells(table, figures))
    rows = Rows(columns=(*((Col(name=tick, width=11),) if tick else ()), *kept), room=room, size=size)
    for row in cells:
        rows.add(*((Box(2.8),) if tick else ()), *row)
    return rows.table()


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
    columns = [Col(name=column_name(n, figures), right=numeric(table.rows, at)) for at, n in enumerate(names)]
    cells = shown_cells(table, figures)
    for row in cells:
        row[quantity] = row[quantity].removesuffix(".0")
        if not row[each] and row[kind] != "consumable":
            row[each] = row[total] = "not given"
    kept, filled_cells = filled(columns, cells)
    rows = Rows(columns=(Col(name="there", width=11), *kept), room=room, size=7.5)
    for row in filled_cells:
        rows.add(Box(2.8), *row)
    yield para(f"Mass of the finished rail: {_rail_mass(table.rows, kind, total)}.", Kind(bold=True, after=3))
    for note in table.notes:
        yield para(f"{note}.")
    yield rows.table()


def _rail_mass(rows: Sequence[Sequence[object]], kind: int, total: int) -> str:
    """Tubes and fittings; bars are left out, since the tubes are cut from them, and consumables."""
    masses = [row[total] for row in rows if row[kind] not in ("tube stock", "consumable")]
    known = [mass for mass in masses if isinstance(mass, int | float)]
    return f"{sum(known):.2f} kg" if len(known) == len(masses) else "not given"


def priced(job: Job) -> bool:
    """Whether the job names any price."""
    order = job.order
    return bool(
        order.prices.items or order.labour.rate is not None or any(bar.price is not None for bar in order.stock.lengths)
    )
