"""The checks on paper: what is not met first, the cautions beside the verdicts, then every check with its formula."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable, KeepTogether

from railgen.checks import Check, Verdict
from railgen.checks.reading import STRICTEST, allowed, facts, found, like
from railgen.checks.table import cautions, count_line, tightest
from railgen.report.grid import Cell
from railgen.report.page.checks import check_table
from railgen.report.paper.boxes import framed
from railgen.report.paper.table import Col, Rows
from railgen.report.paper.text import Kind, headed, para
from railgen.units import Figures

__all__ = ["check_pages", "verdict_mark"]


def check_pages(checks: Sequence[Check], figures: Figures, room: float) -> Iterator[Flowable]:
    """Count, cautions, the worst of what is open, and the table of all."""
    yield para(count_line(checks), Kind(size=11, bold=True, after=4))
    yield framed([("Caution", text) for text in cautions(checks)], room)
    unmet = [(check, count) for check, count in tightest(checks) if check.verdict is not Verdict.MEETS]
    if unmet:
        yield from headed("Not met, or open")
    for check, count in unmet:
        yield KeepTogether(list(_open(check, count, figures)))
    yield from headed("Every check")
    rows = Rows(
        columns=(
            Col(name="verdict", width=25),
            Col(name="where", whole=True),
            Col(name="what"),
            Col(name="found", right=True, whole=True),
            Col(name="allowed"),
            Col(name="by", width=9, right=True),
        ),
        room=room,
    )
    lines = check_table(checks, figures).rows
    sources = list(dict.fromkeys(_source(check, row) for check, row in zip(checks, lines, strict=True)))
    numbers = {source: f"[{n}]" for n, source in enumerate(sources, start=1)}
    notes = [_note(check) for check in checks]
    for check, row, note, following in zip(checks, lines, notes, [*notes[1:], ""], strict=True):
        verdict_mark(rows, check.verdict, *(cell.text for cell in row[1:5]), numbers[_source(check, row)])
        if note and note != following:  # said once for neighbours of which the same is to be said
            rows.span(note)
    yield rows.table()
    yield from headed("By whom")
    for source in sources:
        yield para(f"{numbers[source]} {source}", Kind(size=8, after=1.5))


def _note(check: Check) -> str:
    """How a check was come by, and what it lacks; what would help is told before."""
    return "\n".join(f"{name}: {text}" for name, text in facts(check) if name != "Would help")


def _source(check: Check, row: Sequence[Cell]) -> str:
    """Who asks for it, where, and in which words."""
    governs = f", {STRICTEST}" if check.governs else ""
    return f"{row[5].text}{governs}" + (f": {check.says}" if check.says else "")


def _open(check: Check, count: int, figures: Figures) -> Iterator[Flowable]:
    """A check that is not met, for all that are like it."""
    title = f"{check.title}, {check.where}" if check.where else check.title
    yield para(f"{check.verdict.said.upper()}: {title}{like(check, count)}", Kind(bold=True, before=4))
    measured = (("Found", found(check, figures)), ("Allowed", allowed(check, figures)))
    for name, text in (*measured, *facts(check)):
        if text and name != "Worked out":  # which stands in the table of all
            yield para(f"{name}: {text}", Kind(size=8.5))


def verdict_mark(rows: Rows, verdict: Verdict, *cells: str) -> None:
    """A row that begins with a verdict, which also stands out where a copy has no colours."""
    if verdict is Verdict.MEETS:
        rows.add(verdict.said, *cells)
        return
    fails = verdict is Verdict.FAILS
    rows.add([para(verdict.said, Kind(size=rows.size, bold=True, white=fails))], *cells)
    if fails:
        rows.invert(0)
