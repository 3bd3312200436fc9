"""The installation on paper: cautions before the work, boxes to tick, values to measure, hold points."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from railgen.report.paper.boxes import framed, hold, ticks
from railgen.report.paper.table import Box, Col, Rows
from railgen.report.paper.text import Kind, headed, para
from railgen.schedules.install import Measure, Step, StepPiece
from railgen.units import Figures

__all__ = ["step_pages"]


def step_pages(steps: Sequence[Step], figures: Figures, room: float) -> Iterator[Flowable]:
    """Every step in its order."""
    for step in steps:
        yield from headed(f"{step.number}. {step.title}", need=45.0)
        where = f"In the {step.phase.value}" if step.phase.value == "workshop" else "On site"
        tools = f"; tools: {', '.join(step.tools)}" if step.tools else ""
        yield para(where + tools, Kind(size=8.5, after=2))
        if step.cautions:
            yield framed([("Caution", f"{c.text} [{c.source}]") for c in step.cautions], room)
        if step.pieces:
            yield _pieces(step.pieces, room)
        yield ticks(step.do, room)
        if step.measures:
            yield _measures(step.measures, figures, room)
        if step.hold:
            yield hold(step.hold, room)


def _pieces(pieces: Sequence[StepPiece], room: float) -> Flowable:
    placed = any(piece.where for piece in pieces)
    rows = Rows(
        columns=(
            Col(name="there", width=11),
            Col(name="pieces", width=14, right=True),
            Col(name="mark", bold=True),
            *((Col(name="goes to"),) if placed else ()),
        ),
        room=room,
    )
    for piece in pieces:
        rows.add(Box(2.8), str(piece.quantity), piece.mark, *((piece.where,) if placed else ()))
    return rows.table()


def _measures(measures: Sequence[Measure], figures: Figures, room: float) -> Flowable:
    rows = Rows(
        columns=(
            Col(name="measure"),
            Col(name="where"),
            Col(name="should be", right=True, bold=True, whole=True),
            Col(name="accepted", whole=True),
            Col(name="measured", width=26),
        ),
        room=room,
        grid=True,
        least=6.5,
    )
    for measure in measures:
        rows.add(
            measure.what,
            measure.where,
            measure.target(figures.style),
            measure.accepted(figures.style),
            "",
        )
    return rows.table()
