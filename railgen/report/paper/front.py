"""The first page: which job, how its checks came out, what to beware of, how to use what is inside."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from railgen.checks.table import cautions, count_line
from railgen.drawings.faces import lost
from railgen.drawings.frame import CAUTIONS
from railgen.report.content import Worked
from railgen.report.paper.boxes import banner, framed
from railgen.report.paper.table import Col, Rows
from railgen.report.paper.text import Kind, headed, para

__all__ = ["cover"]


def cover(worked: Worked, inside: Sequence[tuple[str, str]], room: float) -> Iterator[Flowable]:
    """The cover; ``inside`` says who needs what."""
    job, checks, paper = worked.content.job, worked.content.checks, worked.setting.paper
    project = job.project
    yield para("Handrail pack", Kind(size=11, after=2))
    yield para(project.title or project.id, Kind(size=24, bold=True, after=8))
    rows = Rows(columns=(Col(name="", width=36), Col(name="", bold=True)), room=room, size=9.5)
    for name, value in (
        ("number", project.id),
        ("client", project.client),
        ("revision", project.revision or "-"),
        ("date", f"{project.date or '-'}"),
        ("build", worked.build),
    ):
        if value:
            rows.add(name, value)
    yield rows.table()
    yield banner(worked.verdict, room, filled=bool(worked.status))
    yield para(count_line(checks), Kind(size=10, after=4))
    yield framed([("Caution", text) for text in (*cautions(checks), *CAUTIONS)], room)
    yield from headed("Who needs what")
    rows = Rows(columns=(Col(name="", width=36, bold=True), Col(name="")), room=room, size=9)
    for who, what in inside:
        rows.add(who, what)
    yield rows.table()
    yield para(
        f"Pages of text are {paper.page_name}; drawings are {paper.sheet_name} and may be printed smaller. Templates "
        f"are {paper.page_name} and are printed at 100 %, without fitting to the page: their check bar must measure "
        "100 mm.",
        Kind(before=4, after=3),
    )
    missing = lost(f"{job}")  # which has every text of the job in it
    if missing:
        points = " ".join(f"U+{ord(letter):04X}" for letter in missing)
        yield para(f"Printed as ? for want of the letters: {points}", Kind(bold=True))
