"""A printed book: chapters of text and sheets, page numbers on every page, contents, bookmarks."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, NextPageTemplate, PageBreak, PageTemplate

from railgen.drawings.faces import face, shown
from railgen.drawings.lettering import CAP, fit, width
from railgen.drawings.pdf import draw_page
from railgen.drawings.sheet import Sheet
from railgen.job.model import Project
from railgen.report.content import DEFERS
from railgen.report.paper.contents import ContentsPage, Entry, listed
from railgen.report.paper.text import MM, Kind, heading, para, write

__all__ = ["Book", "Chapter", "room", "write_book"]

_LEFT, _RIGHT, _TOP, _BOTTOM = 20.0, 12.0, 24.0, 18.0  # mm around the text of a page; left for binding
_TOTAL = "total"


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """Text, then sheets, which keep their own size; ``about`` stands below the heading and on the contents page."""

    title: str
    about: str = ""
    story: Sequence[Flowable] = ()
    sheets: tuple[Sheet, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """``page`` is the size of a page of text (mm); each bears ``build``, and ``status`` unless that is empty."""

    title: str
    project: Project
    page: tuple[float, float]
    status: str
    build: str
    chapters: Sequence[Chapter]
    cover: Sequence[Flowable] = ()  # before the contents; without one there are no contents

    @property
    def name(self) -> str:
        return self.project.title or self.project.id

    def entries(self) -> Iterator[Entry]:
        """What the contents list: chapters, and the sheets in them."""
        for n, chapter in enumerate(self.chapters, start=1):
            yield Entry(title=f"{n}  {chapter.title}", about=chapter.about, level=0, key=f"c{n}")
            for m, sheet in enumerate(chapter.sheets, start=1):
                yield Entry(title=sheet.title, about="", level=1, key=f"c{n}s{m}")


def room(page: tuple[float, float]) -> tuple[float, float]:
    """Width and height (points) that a page has for text."""
    return (page[0] - _LEFT - _RIGHT) * MM, (page[1] - _TOP - _BOTTOM) * MM


def write_book(book: Book, path: Path) -> None:
    """Write the book. The only date in the file is the job's, and the same book gives the same bytes."""
    pages: dict[str, int] = {}
    contents = listed(book.entries(), room(book.page)[1]) if book.cover else []
    date = book.project.date

    def canvas(*args: Any, **options: Any) -> Canvas:
        made = _Numbered(*args, **options)
        made.setViewerPreference("PrintScaling", "None")  # for the templates: readers that heed it do not fit to pages
        made.ending = lambda: _ending(made, contents, pages)
        if date is not None:
            made.setDateFormatter(lambda *_: f"D:{date:%Y%m%d}000000+00'00'")
        return made

    document = BaseDocTemplate(
        str(path),
        pageTemplates=list(_templates(book)),
        title=shown(f"{book.name}: {book.title}"),
        author="",
        subject="",
        creator="railgen",
        producer="railgen",
        invariant=1,
        pageCompression=1,
    )
    document.build(list(_story(book, contents, pages)), canvasmaker=canvas)


class _Numbered(Canvas):
    """A canvas that draws what was left open, such as the number of pages, once all pages are there."""

    ending: Callable[[], None] = staticmethod(lambda: None)

    def save(self) -> None:
        self.ending()
        super().save()


def _ending(canvas: Canvas, contents: Sequence[ContentsPage], pages: dict[str, int]) -> None:
    """The forms that pages have referred to: how many pages there are, and where each entry stands."""
    canvas.beginForm(_TOTAL, -1, -3, 60, 20)
    canvas.setFont(face("", bold=False), 8)
    canvas.drawString(0, 0, str(canvas.getPageNumber() - 1))
    canvas.endForm()
    for page in contents:
        page.number(canvas, pages)


class _Anchor(Flowable):
    """Marks the page that an entry stands on; takes no room."""

    def __init__(self, entry: Entry, pages: dict[str, int]) -> None:
        super().__init__()
        self.entry, self.pages = entry, pages

    def wrap(self, *_: float) -> tuple[float, float]:
        return 0.0, 0.0

    def draw(self) -> None:
        self.pages[self.entry.key] = self.canv.getPageNumber()
        self.canv.bookmarkPage(self.entry.key)
        self.canv.addOutlineEntry(shown(self.entry.title), self.entry.key, self.entry.level)


class _SheetPage(Flowable):
    """A drawing on a page of its own, from corner to corner."""

    def __init__(self, sheet: Sheet) -> None:
        super().__init__()
        self.sheet = sheet

    def wrap(self, *_: float) -> tuple[float, float]:
        return 0.0, 0.0

    def draw(self) -> None:
        self.canv.translate(0, -self.sheet.height * MM)  # from the upper corner, where it is called for
        draw_page(self.canv, self.sheet)


def _story(book: Book, contents: Sequence[ContentsPage], pages: dict[str, int]) -> Iterator[Flowable]:
    entries = {entry.key: entry for entry in book.entries()}
    if book.cover:
        yield from book.cover
        yield NextPageTemplate("contents")
        yield PageBreak()
        for number, page in enumerate(contents):
            if number:
                yield PageBreak()
            yield heading("Contents, continued" if number else "Contents", 1)
            yield page
    for n, chapter in enumerate(book.chapters, start=1):
        if chapter.story:
            if n > 1 or book.cover:
                yield NextPageTemplate(f"c{n}")
                yield PageBreak()
            yield _Anchor(entries[f"c{n}"], pages)
            yield heading(chapter.title, 1)
            if chapter.about:
                yield para(chapter.about, Kind(after=6.0))
            yield from chapter.story
        for m, sheet in enumerate(chapter.sheets, start=1):
            yield NextPageTemplate(_size_name(sheet))
            yield PageBreak()
            if m == 1 and not chapter.story:
                yield _Anchor(entries[f"c{n}"], pages)
            yield _Anchor(entries[f"c{n}s{m}"], pages)
            yield _SheetPage(sheet)


def _size_name(sheet: Sheet) -> str:
    return f"{sheet.width:g} x {sheet.height:g}"


def _templates(book: Book) -> Iterator[PageTemplate]:
    """A kind of page for the cover, the contents, each chapter of text and each size of sheet."""
    wide, high = room(book.page)
    size = book.page[0] * MM, book.page[1] * MM

    def text_page(name: str, title: str) -> PageTemplate:
        frame = Frame(_LEFT * MM, _BOTTOM * MM, wide, high, 0, 0, 0, 0, id=name)
        return PageTemplate(name, [frame], pagesize=size, onPage=lambda canvas, _: _around(canvas, book, title))

    if book.cover:
        yield text_page("cover", "")
        yield text_page("contents", "Contents")
    for n, chapter in enumerate(book.chapters, start=1):
        yield text_page(f"c{n}", chapter.title)
    sheets = {_size_name(sheet): sheet for chapter in book.chapters for sheet in chapter.sheets}
    for name, sheet in sheets.items():
        w, h = sheet.width * MM, sheet.height * MM
        yield PageTemplate(
            name,
            [Frame(0, 0, w, h, 0, 0, 0, 0, id=name)],
            pagesize=(w, h),
            onPage=partial(_below, book, sheet),
        )


def _below(book: Book, sheet: Sheet, canvas: Canvas, _: object) -> None:
    """The foot of a drawing, in the margin below its frame."""
    _foot(canvas, book, sheet.frame.left * MM, sheet.frame.right * MM, 4.0 * MM)


def _around(canvas: Canvas, book: Book, title: str) -> None:
    """Head and foot of a page of text."""
    left, right, top = _LEFT * MM, (book.page[0] - _RIGHT) * MM, (book.page[1] - 13.0) * MM
    canvas.saveState()
    wide = right - left
    if book.status:
        across = width(book.status, 9 * CAP / MM, bold=True) * MM + 6 * MM
        canvas.rect((left + right - across) / 2, top - 1.6 * MM, across, 6.0 * MM, stroke=0, fill=1)
        canvas.setFillGray(1.0)
        write(canvas, (left + right - across) / 2 + 3 * MM, top, book.status, across, 9.0, bold=True)
        canvas.setFillGray(0.0)
        wide -= across + 6 * MM
        wide = min(wide, right - left)
    write(canvas, left, top, book.name, wide / 2 if book.status else wide * 0.62, 9.0, bold=True)
    words, size = fit(title, (wide / 2 if book.status else wide * 0.36) / MM, 9.0 * CAP / MM)
    write(canvas, right - width(words, size) * MM, top, words, wide, size * MM / CAP)
    canvas.setLineWidth(0.8)
    canvas.line(left, top - 2.4 * MM, right, top - 2.4 * MM)
    _foot(canvas, book, left, right, 9.0 * MM)
    if book.status:
        write(canvas, left + 0.44 * (right - left), 9.0 * MM, DEFERS, 0.36 * (right - left), 8.0)
    canvas.restoreState()


def _foot(canvas: Canvas, book: Book, left: float, right: float, y: float) -> None:
    """Build, job, revision and date on the left; on the right the page, and by a form how many there are."""
    project = book.project
    total = 14.0  # points kept for the number of pages
    page = f"{'pack page' if book.cover else 'page'} {canvas.getPageNumber()} of "
    parts = [f"build {book.build}", project.id, f"revision {project.revision or '-'}", f"{project.date or 'no date'}"]
    canvas.saveState()
    canvas.setFont(face("", bold=False), 8)
    canvas.drawRightString(right - total, y, page)
    write(canvas, left, y, "   ".join(parts), (right - left) * 0.42, 8.0)
    canvas.translate(right - total, y)
    canvas.doForm(_TOTAL)
    canvas.restoreState()
