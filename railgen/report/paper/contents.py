"""The contents of a printed book: titles with links, and page numbers that are drawn when all pages are there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from railgen.drawings.faces import face
from railgen.report.paper.text import MM, text_width, write

__all__ = ["ContentsPage", "Entry", "listed"]

_HEAD = 40.0  # points above the entries
_HEIGHTS = (33.0, 13.0)  # of an entry, by its level (points)
_SIZES = (11.0, 8.5)
_BASES = (14.0, 9.5)  # of its base line, from its upper edge
_INDENT, _NUMBER = 7.0 * MM, 14.0 * MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A line of the contents: ``key`` names its bookmark."""

    title: str
    about: str
    level: int
    key: str


class ContentsPage(Flowable):
    """One page of the contents; its page numbers stand in a form that ``number`` draws."""

    def __init__(self, page: int, entries: tuple[Entry, ...]) -> None:
        super().__init__()
        self.name, self.entries = f"contents-{page}", entries

    def wrap(self, wide: float, _: float) -> tuple[float, float]:
        self.width, self.height = wide, sum(_HEIGHTS[entry.level] for entry in self.entries)
        return self.width, self.height

    def draw(self) -> None:
        canvas, y = self.canv, self.height
        for entry in self.entries:
            top, y = y, y - _HEIGHTS[entry.level]
            chapter, size, base = entry.level == 0, _SIZES[entry.level], top - _BASES[entry.level]
            left = 0.0 if chapter else _INDENT
            room = self.width - left - _NUMBER
            write(canvas, left, base, entry.title, room, size, bold=chapter)
            if entry.about:
                write(canvas, _INDENT, base - 11.0, entry.about, self.width - _INDENT - _NUMBER, 8.5)
            end = left + min(text_width(entry.title, size, bold=chapter), room) + 2 * MM
            canvas.setLineWidth(0.4)
            canvas.setDash([0.4, 2.6])
            canvas.line(end, base, self.width - 9 * MM, base)
            canvas.setDash([])
            canvas.linkRect("", entry.key, (0, y, self.width, top), relative=1)
        canvas.doForm(self.name)

    def number(self, canvas: Canvas, pages: Mapping[str, int]) -> None:
        """Draw the page number of each entry, by its key."""
        canvas.beginForm(self.name, 0, 0, self.width, self.height)
        y = self.height
        for entry in self.entries:
            canvas.setFont(face("", bold=entry.level == 0), _SIZES[entry.level])
            canvas.drawRightString(self.width, y - _BASES[entry.level], str(pages[entry.key]))
            y -= _HEIGHTS[entry.level]
        canvas.endForm()


def listed(entries: Iterable[Entry], room: float) -> list[ContentsPage]:
    """The entries, shared out among as many pages as they need; ``room`` (points) is the height of a page's text."""
    pages: list[list[Entry]] = [[]]
    left = room - _HEAD
    for entry in entries:
        high = _HEIGHTS[entry.level]
        if left < high:
            pages.append([])
            left = room - _HEAD
        left -= high
        pages[-1].append(entry)
    return [ContentsPage(number, tuple(entries)) for number, entries in enumerate(pages)]
