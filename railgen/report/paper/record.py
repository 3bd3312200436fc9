"""The hand-over record on paper, with room to write."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from railgen.checks import Check
from railgen.checks.table import count_line
from railgen.report.page.checks import check_table
from railgen.report.paper.boxes import framed
from railgen.report.paper.checks import verdict_mark
from railgen.report.paper.table import Col, Rows
from railgen.report.paper.text import MM, Kind, headed, para
from railgen.schedules.install import HandOver, RecordRow
from railgen.units import Figures

__all__ = ["record_pages"]


def record_pages(record: HandOver, checks: Sequence[Check], figures: Figures, room: float) -> Iterator[Flowable]:
    """Cautions, as-installed dimensions, checks, materials, maintenance, signatures."""
    project, style = record.job.project, record.dimensions
    facts = (
        ("job", project.id),
        ("title", project.title),
        ("client", project.client),
        ("revision", project.revision),
        ("date", f"{project.date or ''}"),
    )
    yield para("; ".join(f"{name}: {value}" for name, value in facts if value), Kind(after=4))
    yield framed([("Caution", f"{caution.text} [{caution.source}]") for caution in record.cautions], room)
    yield from headed("As installed")
    rows = Rows(
        columns=(
            Col(name="what"),
            Col(name="where"),
            Col(name="designed", right=True, whole=True),
            Col(name="accepted", whole=True),
            Col(name="as installed", width=27),
            Col(name="initials", width=17),
        ),
        room=room,
        grid=True,
        least=6.5,
        size=7.5,
    )
    for m in record.as_installed:
        rows.add(m.what, m.where, m.target(style), m.accepted(style), "", "")
    yield rows.table()
    yield from headed("Checks and their verdicts")
    yield para(count_line(checks), Kind(bold=True, after=3))
    yield framed([("Caution", text) for text in record.checks.notes], room)
    yield _verdicts(checks, figures, room)
    for title, lines in record.lists():
        yield from headed(title, need=50.0)
        yield _to_fill(lines, room, "to be written")
    yield from headed("Sign-off", need=85.0)
    yield para("With this record the rail, as installed and measured above, is handed over.", Kind(after=3))
    yield _signatures(record.sign_off, room)


def _verdicts(checks: Sequence[Check], figures: Figures, room: float) -> Flowable:
    rows = Rows(
        columns=(
            Col(name="verdict", width=25),
            Col(name="where", whole=True),
            Col(name="what"),
            Col(name="found", right=True, whole=True),
            Col(name="allowed"),
        ),
        room=room,
        size=7.5,
    )
    for check, row in zip(checks, check_table(checks, figures).rows, strict=True):
        verdict_mark(rows, check.verdict, *(cell.text for cell in row[1:5]))
    return rows.table()


def _to_fill(lines: Sequence[RecordRow], room: float, name: str) -> Flowable:
    wordy = max(len(line.what) for line in lines) > 2 * max(len(line.given) for line in lines)
    first = (
        (Col(name="what"), Col(name="given", width=32)) if wordy else (Col(name="what", width=42), Col(name="given"))
    )
    rows = Rows(
        columns=(*first, Col(name=name, width=34), Col(name="entry", width=44)),
        room=room,
        grid=True,
        least=9.0,
    )
    for line in lines:
        rows.add(line.what, line.given, line.blank, "")
    return rows.table()


def _signatures(lines: Sequence[RecordRow], room: float) -> Flowable:
    rows = Rows(
        columns=(
            Col(name="", width=30),
            Col(name="name", width=52),
            Col(name="date", width=26),
            Col(name="signature", width=room / MM - 108),
        ),
        room=room,
        grid=True,
        least=13.0,
    )
    for line in lines:
        rows.add(line.what, "", "", "")
    return rows.table()
