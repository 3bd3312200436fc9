"""The stair as measured and the rail as laid out, on paper."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.platypus import Flowable

from railgen.report.content import Content
from railgen.report.grid import Grid
from railgen.report.page.stair import layout_tables, summary, survey_tables
from railgen.report.paper.table import Col, Rows, grid_rows
from railgen.report.paper.text import headed, para
from railgen.units import Figures

__all__ = ["grid_table", "layout_pages", "summary_pages"]


def summary_pages(content: Content, figures: Figures, room: float) -> Iterator[Flowable]:
    """The rail in a few lines, and every note."""
    rows = Rows(columns=(Col(name="", width=32, bold=True), Col(name="")), room=room, size=9)
    for what, value in summary(content.job, content.layout, figures):
        rows.add(what, value)
    yield rows.table()
    notes = (*content.job.notes, *content.layout.notes)
    if notes:
        yield from headed("Notes")
        for note in notes:
            yield para(note)


def layout_pages(content: Content, figures: Figures, room: float) -> Iterator[Flowable]:
    """Survey first, then posts, tubes, elbows, heights and spans."""
    for grid in survey_tables(content.job, content.layout, figures):
        yield from grid_table(grid, room)
    for grid in layout_tables(content.layout, content.fabrication, figures):
        yield from grid_table(grid, room)


def grid_table(grid: Grid, room: float) -> Iterator[Flowable]:
    """A table of the job sheet under its caption."""
    yield from headed(grid.caption, 3)
    yield grid_rows(grid, room)
