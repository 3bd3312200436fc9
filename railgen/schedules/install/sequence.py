"""The whole sequence of a job, and its plain forms; other printers take the steps themselves."""

from __future__ import annotations

from dataclasses import replace

from railgen.job.model import Job
from railgen.job.order_model import Dimensions, Finish
from railgen.layout.model import Layout
from railgen.members import Fabrication
from railgen.schedules.install.facts import Facts
from railgen.schedules.install.model import Limit, Step
from railgen.schedules.install.site import site_steps
from railgen.schedules.install.workshop import workshop_steps
from railgen.schedules.nesting import Nesting
from railgen.schedules.table import Cell, Column, Table

__all__ = ["installation", "installation_table", "installation_text"]


def installation(
    job: Job,
    layout: Layout,
    fabrication: Fabrication,
    nesting: Nesting,
    finish: Finish,
    limits: tuple[Limit, ...] = (),
) -> tuple[Step, ...]:
    """Every step of this job, workshop first, numbered from 1; ``limits``: what its codes set to what is measured."""
    facts = Facts(job=job, layout=layout, fabrication=fabrication, limits=limits)
    steps = [*workshop_steps(facts, nesting, finish), *site_steps(facts, finish)]
    return tuple(replace(step, number=number) for number, step in enumerate(steps, start=1))


def installation_table(steps: tuple[Step, ...], style: Dimensions) -> Table:
    """One row for everything a step says, for ``installation.csv`` and the workbook."""
    rows: list[tuple[Cell, ...]] = []
    for step in steps:
        said = [
            *(("do", text, "") for text in step.do),
            *(("piece", f"{piece.quantity} x {piece.mark}", piece.where) for piece in step.pieces),
            *(("tool", tool, "") for tool in step.tools),
            *(
                (
                    "measure",
                    f"{m.what}, {m.where}: {m.target(style)}",
                    m.accepted(style),
                )
                for m in step.measures
            ),
            *(("caution", caution.text, caution.source) for caution in step.cautions),
            *((("hold", step.hold, ""),) if step.hold else ()),
        ]
        rows += [(step.number, step.phase.value, step.title, *row) for row in said]
    columns = tuple(Column(name=name) for name in ("step", "where", "title", "kind", "text", "more"))
    return Table(name="Installation", columns=columns, rows=tuple(rows))


def installation_text(steps: tuple[Step, ...], style: Dimensions) -> str:
    """The sequence as plain text."""
    lines: list[str] = []
    for step in steps:
        lines += [f"{step.number}. {step.title} ({step.phase.value})"]
        lines += [f"   CAUTION: {caution.text} [{caution.source}]" for caution in step.cautions]
        if step.tools:
            lines.append(f"   tools: {', '.join(step.tools)}")
        lines += [
            f"   piece: {piece.quantity} x {piece.mark}" + (f" ({piece.where})" if piece.where else "")
            for piece in step.pieces
        ]
        lines += [f"   - {text}" for text in step.do]
        lines += [
            f"   [ ] {m.what}, {m.where}: {m.target(style)}"
            + (f" ({accepted})" if (accepted := m.accepted(style)) else "")
            for m in step.measures
        ]
        if step.hold:
            lines.append(f"   HOLD: {step.hold}")
        lines.append("")
    return "\n".join(lines)
