"""The cutting plan: every bar drawn to scale, with the cuts to be made of it in their order."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

from reportlab.platypus import Flowable, KeepTogether

from railgen.drawings.faces import face
from railgen.report.paper.table import Box, Col, Rows
from railgen.report.paper.text import MM, Kind, heading, para, text_width
from railgen.schedules.nesting import NestedBar, Nesting
from railgen.units import Figures, fixed

__all__ = ["BarPicture", "saw_pages"]

_HIGH = 8.0 * MM


class BarPicture(Flowable):
    """A bar at a scale: trim and saw cuts black, pieces white with mark and length, the offcut hatched."""

    def __init__(self, bar: NestedBar, scale: float, figures: Figures) -> None:
        super().__init__()
        self.bar, self.scale, self.figures = bar, scale, figures

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.bar.length * self.scale, _HIGH + 3.6 * MM

    def draw(self) -> None:
        canvas, bar, end = self.canv, self.bar, self.bar.length * self.scale
        canvas.setLineWidth(0.8)
        canvas.rect(0, 0, end, _HIGH, stroke=1, fill=1)
        at = bar.length - bar.offcut
        if bar.offcut > 0:
            self._offcut(at * self.scale, end)
        blocked = -math.inf
        for cut in bar.cuts:
            x, wide = cut.start * self.scale, cut.length * self.scale
            canvas.setFillGray(1.0)
            canvas.rect(x, 0, wide, _HIGH, stroke=1, fill=1)
            canvas.setFillGray(0.0)
            length = self.figures.length(cut.length)
            size = min(9.0, 9.0 * (wide - 2.5) / text_width(cut.mark, 9.0, bold=True))
            if size >= 5.0:
                long = text_width(length, 7.0) < wide - 3
                canvas.setFont(face(cut.mark, bold=True), size)
                canvas.drawCentredString(x + wide / 2, _HIGH / 2 + (2.0 if long else -size * 0.36), cut.mark)
                if long:
                    canvas.setFont(face(length, bold=False), 7.0)
                    canvas.drawCentredString(x + wide / 2, _HIGH / 2 - 8.0, length)
                continue
            half = text_width(cut.mark, 5.0, bold=True) / 2
            if x + wide / 2 - half > blocked:  # above the bar, where the one before leaves room
                canvas.setFont(face(cut.mark, bold=True), 5.0)
                canvas.drawCentredString(x + wide / 2, _HIGH + 1.2, cut.mark)
                blocked = x + wide / 2 + half + 1.0
        canvas.rect(0, 0, end, _HIGH, stroke=1, fill=0)

    def _offcut(self, start: float, end: float) -> None:
        canvas = self.canv
        canvas.saveState()
        path = canvas.beginPath()
        path.rect(start, 0, end - start, _HIGH)
        canvas.clipPath(path, stroke=0)
        canvas.setFillGray(1.0)
        canvas.rect(start, 0, end - start, _HIGH, stroke=0, fill=1)
        canvas.setFillGray(0.0)
        canvas.setLineWidth(0.4)
        x = start - _HIGH
        while x < end:
            canvas.line(x, 0, x + _HIGH, _HIGH)
            x += 1.6 * MM
        words = self.figures.length(self.bar.offcut)
        wide = text_width(words, 7.0) + 4
        if wide < end - start - 4:
            canvas.setFillGray(1.0)
            canvas.rect((start + end - wide) / 2, _HIGH / 2 - 5, wide, 10, stroke=0, fill=1)
            canvas.setFillGray(0.0)
            canvas.setFont(face(words, bold=False), 7.0)
            canvas.drawCentredString((start + end) / 2, _HIGH / 2 - 2.5, words)
        canvas.restoreState()


def saw_pages(nesting: Nesting, kerf: float, room: float, figures: Figures) -> Iterator[Flowable]:
    """Bars in the order they are taken; pictures to one scale, that of the longest bar."""
    scale = room / max(bar.length for bar in nesting.bars)
    for section in nesting.sections:
        yield para(section.says(), Kind(bold=True, after=3))
    yield para(
        f"Each saw cut takes {figures.named(kerf)}. White: a piece; black: saw cuts, and what is trimmed "
        "off a bought bar's end; hatched: what is left. Cut from left to right; the blade stands square at 0 degrees.",
        Kind(after=6),
    )
    copies: Counter[str] = Counter()
    for bar in nesting.bars:
        rows = Rows(
            columns=(
                Col(name="done", width=11),
                Col(name="cut", width=11, right=True),
                Col(name="mark", bold=True),
                Col(name="copy", width=13, right=True),
                Col(name=f"length, {figures.unit}", width=36, right=True, bold=True),
                Col(name=f"starts at, from the bar's end, {figures.unit}", width=40, right=True),
                Col(name="blade at start, degrees", width=24, right=True),
                Col(name="blade at end, degrees", width=24, right=True),
            ),
            room=room,
        )
        for number, cut in enumerate(bar.cuts, start=1):
            copies[cut.mark] += 1
            rows.add(
                Box(2.8),
                str(number),
                cut.mark,
                str(copies[cut.mark]),
                figures.length(cut.length),
                figures.length(cut.start),
                fixed(math.degrees(cut.angle_a), 1),
                fixed(math.degrees(cut.angle_b), 1),
            )
        begin = (heading(_title(bar, figures), 3), BarPicture(bar, scale, figures))
        if len(bar.cuts) <= 20:
            yield KeepTogether([*begin, rows.table(), para(_left(bar, figures), Kind(after=8))])
        else:
            yield from (*begin, rows.table(), para(_left(bar, figures), Kind(after=8)))


def _title(bar: NestedBar, figures: Figures) -> str:
    source = "piece from the rack" if bar.from_rack else "new bar"
    return f"Bar {bar.number}: {source}, {bar.section}, {figures.named(bar.length)}"


def _left(bar: NestedBar, figures: Figures) -> str:
    trim = f"trim {figures.named(bar.trim)}, " if bar.trim else ""
    pieces = f"pieces {figures.named(bar.used)}, saw cuts {figures.named(bar.kerf)}, "
    fate = ", to the rack: mark its length and section on it" if bar.kept else ", scrap" if bar.offcut > 0 else ""
    return f"{trim}{pieces}offcut {figures.named(bar.offcut)}{fate}."
