"""Everything there is to buy, cut and pay, worked out once: ``order.csv`` and the workbook are two prints of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from railgen.job.model import Job
from railgen.job.order_model import OrderInput
from railgen.members import Fabrication
from railgen.schedules.alike import alike_table
from railgen.schedules.cost import CostSheet, cost_sheet, cost_table
from railgen.schedules.drill import drill_table
from railgen.schedules.labels import label_table, labels
from railgen.schedules.lists import cut_table
from railgen.schedules.nesting import Nesting, blanks, nest, saw_table
from railgen.schedules.order import OrderLine, order_lines, order_table
from railgen.schedules.table import Table
from railgen.schedules.workbook import workbook
from railgen.units import Figures

__all__ = ["Book", "make_book"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """Cutting plan, order and cost of one job, and the tables they are printed from."""

    job: Job
    nesting: Nesting
    lines: tuple[OrderLine, ...]
    cost: CostSheet
    tables: tuple[Table, ...]

    def order_csv(self, build: str = "") -> str:
        """``order.csv``, its last column the ``build``."""
        return self.table("Order").stamped(build).csv()

    def saw_csv(self, build: str = "") -> str:
        """``saw_list.csv``, its last column the ``build``."""
        return self.table("Saw list").stamped(build).csv()

    def xlsx(self, mark: str = "", build: str = "") -> bytes:
        """``workbook.xlsx``: a sheet for each table; ``mark`` stands at the head of each unless it is empty.

        ``build`` is the last column of each and stands at the foot of every page.
        """
        project = self.job.project
        return workbook(self.tables, project.title or project.id, project.date, mark, build)

    def table(self, name: str) -> Table:
        return next(table for table in self.tables if table.name == name)


def make_book(
    job: Job,
    fabrication: Fabrication,
    order: OrderInput,
    checks: Table,
    volumes: Mapping[str, float] | None = None,
) -> Book:
    """Nest, order and price a job; ``checks`` is a table of their verdicts, ``volumes`` (mm3) those of the solids.

    Raises ImpossibleError where the tubes cannot be cut from the stock given.
    """
    nesting = nest(blanks(fabrication), order.stock, job.hardware.tube.id, job.output_unit)
    lines = order_lines(job, fabrication, nesting, order, volumes)
    cost = cost_sheet(lines, fabrication, nesting, order)
    currency = order.prices.currency
    tables = (
        order_table(lines, nesting, currency),
        cost_table(lines, cost, currency),
        cut_table(job, fabrication),
        saw_table(nesting, Figures(style=order.dimensions)),
        drill_table(fabrication),
        alike_table(fabrication),
        label_table(labels(job, fabrication, order.finish)),
        checks,
    )
    return Book(job=job, nesting=nesting, lines=lines, cost=cost, tables=tables)
