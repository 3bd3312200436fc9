"""What is printed of a job: the whole pack as one book, and the parts of it that somebody needs alone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from reportlab.platypus import Flowable

from railgen.report.content import Worked
from railgen.report.paper.book import Book, Chapter, room, write_book
from railgen.report.paper.boxes import framed
from railgen.report.paper.checks import check_pages
from railgen.report.paper.front import cover
from railgen.report.paper.labels import label_pages
from railgen.report.paper.lists import drill_pages, list_pages, order_pages, priced
from railgen.report.paper.record import record_pages
from railgen.report.paper.saw import saw_pages
from railgen.report.paper.stair import layout_pages, summary_pages
from railgen.report.paper.steps import step_pages
from railgen.report.paper.text import Kind, headed, para
from railgen.schedules.book import Book as OrderBook
from railgen.schedules.install import Caution, cautions
from railgen.schedules.labels import labels

__all__ = ["write_hand_over", "write_installation", "write_labels", "write_pack_book"]

_INSIDE = (
    ("the office", "Summary; Checks and verdicts; Parts list; Order; Cost; Hand-over record"),
    ("the saw", "Cut list; Saw list; Labels"),
    ("the bench", "Drill schedule; Shop drawings; Templates"),
    ("the stair", "Survey and layout; Installation; Set-out drawings; Templates"),
)


def write_pack_book(worked: Worked, path: Path) -> None:
    """``pack.pdf``: every chapter, with a cover, contents and page numbers."""
    chapters = tuple(_chapters(worked))
    wide, _ = room(worked.setting.paper.page)
    titles = {chapter.title for chapter in chapters}
    inside = [(who, "; ".join(t for t in what.split("; ") if t in titles)) for who, what in _INSIDE]
    write_book(_book(worked, "pack", *chapters, cover=tuple(cover(worked, inside, wide))), path)


def write_labels(worked: Worked, path: Path) -> None:
    """``labels.pdf``."""
    write_book(_book(worked, "labels", _labels(worked)), path)


def write_installation(worked: Worked, path: Path) -> None:
    """``installation.pdf``."""
    write_book(_book(worked, "installation", _installation(worked)), path)


def write_hand_over(worked: Worked, path: Path) -> None:
    """``hand_over.pdf``."""
    write_book(_book(worked, "hand-over record", _record(worked)), path)


def _book(worked: Worked, title: str, *chapters: Chapter, cover: tuple[Flowable, ...] = ()) -> Book:
    return Book(
        title=title,
        project=worked.content.job.project,
        page=worked.setting.paper.page,
        status=worked.status,
        build=worked.build,
        chapters=chapters,
        cover=cover,
    )


def _chapters(worked: Worked) -> Iterator[Chapter]:
    content, figures = worked.content, worked.setting.figures
    wide, _ = room(worked.setting.paper.page)
    yield Chapter(
        title="Summary",
        about="The rail in a few lines, and what was noted while it was laid out.",
        story=tuple(summary_pages(content, figures, wide)),
    )
    yield Chapter(
        title="Checks and verdicts",
        about="What was checked, what was found, what is allowed, and by whom.",
        story=tuple(check_pages(content.checks, figures, wide)),
    )
    yield Chapter(
        title="Survey and layout",
        about="The stair as it was measured, and where posts, tubes and elbows come to stand.",
        story=tuple(layout_pages(content, figures, wide)),
    )
    yield from _buying(worked, wide)
    drill = worked.drill
    yield Chapter(
        title="Drill schedule",
        about="Every hole, piece by piece. The installation says which are drilled only after the trial fit.",
        story=(
            _cautions(wide, cautions.EYES, cautions.EDGES, cautions.HYGIENE, cautions.SERVICES),
            *drill_pages(content.job, content.fabrication, drill, figures, wide),
        ),
    )
    yield _labels(worked)
    if worked.steps:
        yield _installation(worked)
    sheets = worked.sheets
    yield Chapter(title="Set-out drawings", about="The stair in plan and elevation.", sheets=sheets.set_out)
    yield Chapter(title="Shop drawings", about="One for each distinct piece made.", sheets=sheets.shop)
    yield Chapter(
        title="Templates", about="Print at 100 %: the check bar must measure 100 mm.", sheets=sheets.templates
    )
    yield _record(worked)


def _buying(worked: Worked, wide: float) -> Iterator[Chapter]:
    """Cut list, and what follows from a cutting plan where there is one."""
    job, book, figures = worked.content.job, worked.book, worked.setting.figures
    yield Chapter(
        title="Cut list",
        about="Finished lengths of all tubes, and which of them are easily taken for each other.",
        story=(
            *list_pages(worked.cut, figures, wide),
            *headed("Like pieces"),
            para("Pieces that may be made as one, and those that are nearly alike or opposite hands: never mix them."),
            *list_pages(worked.alike, figures, wide),
        ),
    )
    if worked.volumes is not None:
        yield Chapter(
            title="Parts list",
            about="Every piece with its mass, as the solids have it.",
            story=tuple(list_pages(worked.parts, figures, wide)),
        )
    if book is None:
        yield Chapter(title="Order", story=(para("Not made:", Kind(bold=True)), para(worked.no_book)))
        return
    yield Chapter(
        title="Saw list",
        about="Which piece is cut from which bar.",
        story=(
            _cautions(wide, cautions.EYES, cautions.HEARING, cautions.EDGES),
            *saw_pages(book.nesting, job.order.stock.kerf, wide, figures),
        ),
    )
    yield Chapter(
        title="Order",
        about="Everything the rail is made of: bars, tubes, fittings, fixings and consumables.",
        story=tuple(order_pages(book.table("Order"), figures, wide)),
    )
    if priced(job):
        yield Chapter(
            title="Cost", about="What is bought, what of it is waste, and labour.", story=_cost(book, worked, wide)
        )


def _cautions(wide: float, *told: Caution) -> Flowable:
    return framed([("Caution", f"{caution.text} [{caution.source}]") for caution in told], wide)


def _cost(book: OrderBook, worked: Worked, wide: float) -> tuple[Flowable, ...]:
    return tuple(list_pages(book.table("Cost"), worked.setting.figures, wide))


def _labels(worked: Worked) -> Chapter:
    content = worked.content
    wide, high = room(worked.setting.paper.page)
    made = labels(content.job, content.fabrication, content.job.order.finish)
    return Chapter(
        title="Labels",
        about="Cut out and stick on, the black end at the datum end, before a piece leaves the saw.",
        story=tuple(label_pages(made, worked.build, worked.setting.figures, (wide, high - 46.0))),
    )


def _installation(worked: Worked) -> Chapter:
    wide, _ = room(worked.setting.paper.page)
    return Chapter(
        title="Installation",
        about="In this order. Behind a hold point nothing goes on until it is released.",
        story=tuple(step_pages(worked.steps, worked.setting.figures, wide)),
    )


def _record(worked: Worked) -> Chapter:
    wide, _ = room(worked.setting.paper.page)
    return Chapter(
        title="Hand-over record",
        about="To be filled in with what was measured, not with what was designed, and kept with the building.",
        story=tuple(record_pages(worked.record, worked.content.checks, worked.setting.figures, wide)),
    )
