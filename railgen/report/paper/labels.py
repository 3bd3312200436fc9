"""Labels to cut out and stick on: the mark seen from afar, which end is which, how many there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable, PageBreak

from railgen.drawings.lettering import CAP, wrap
from railgen.report.paper.text import MM, text_width, write
from railgen.schedules.labels import Label
from railgen.units import Figures

__all__ = ["COLUMNS", "ROWS", "label_pages"]

COLUMNS, ROWS = 2, 4
"""Labels beside and above each other on a page."""

_PAD = 3.0 * MM


def label_pages(labels: Sequence[Label], build: str, figures: Figures, size: tuple[float, float]) -> Iterator[Flowable]:
    """Pages of labels with their build mark; ``size`` (points) is the room on a page."""
    each = COLUMNS * ROWS
    for first in range(0, len(labels), each):
        if first:
            yield PageBreak()
        yield _Grid(labels[first : first + each], build, figures, size)


class _Grid(Flowable):
    """One page of labels with the lines to cut along."""

    def __init__(self, labels: Sequence[Label], build: str, figures: Figures, size: tuple[float, float]) -> None:
        super().__init__()
        self.labels, self.build, self.figures = labels, build, figures
        self.width, self.height = size

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        wide, high = self.width / COLUMNS, self.height / ROWS
        for n, label in enumerate(self.labels):
            row, column = divmod(n, COLUMNS)
            self.canv.saveState()
            self.canv.translate(column * wide, self.height - (row + 1) * high)
            self.canv.setDash([4, 3])
            self.canv.setLineWidth(0.5)
            self.canv.rect(0, 0, wide, high)
            self.canv.setDash([])
            _Card(self, label, wide, high).draw()
            self.canv.restoreState()


class _Card:
    """One label on the canvas, its lower left corner at the origin."""

    def __init__(self, grid: _Grid, label: Label, wide: float, high: float) -> None:
        self.canvas, self.build, self.figures, self.label = grid.canv, grid.build, grid.figures, label
        self.left, self.right, self.high = _PAD, wide - _PAD, high
        self.room = self.right - self.left

    def draw(self) -> None:
        label, top = self.label, self.high - _PAD
        write(self.canvas, self.left, top - 33, label.mark, self.room * 0.5, 44, bold=True)
        self._right(f"piece {label.copy} of {label.copies}", top - 13, self.room * 0.46, 15)
        self._right(f"goes to {label.goes_to}", top - 31, self.room * 0.46, 13)
        length = self.figures.named(label.length)
        write(self.canvas, self.left, top - 57, length, self.room * 0.62, 20, bold=True)
        holes = f"{label.holes} hole{'' if label.holes == 1 else 's'}"
        self._right(f"{label.section}, {holes}", top - 55, self.room * 0.36, 9, bold=False)
        self._tube(top - 78)
        self._lines("; ".join(label.notes), self.left, top - 132, self.room, 7.5, 2)
        title = f": {label.title}" if label.title else ""
        foot = f"build {self.build}, {label.job}, revision {label.revision or '-'}{title}"
        self.canvas.setLineWidth(0.4)
        self.canvas.line(self.left, _PAD + 9, self.right, _PAD + 9)
        write(self.canvas, self.left, _PAD + 1, foot, self.room, 7.5)

    def _tube(self, y: float) -> None:
        """The tube lying with its datum end to the left: the arrow leads from there."""
        canvas, label, high = self.canvas, self.label, 9.0
        canvas.setLineWidth(1.0)
        canvas.rect(self.left, y, self.room, high)
        canvas.rect(self.left, y, 8.0, high, stroke=0, fill=1)
        middle, tip = y + high / 2, self.right - 8
        canvas.line(self.left + 13, middle, tip, middle)
        path = canvas.beginPath()
        path.moveTo(tip, middle)
        for dx, dy in ((-7, 3.0), (-7, -3.0)):
            path.lineTo(tip + dx, middle + dy)
        path.close()
        canvas.drawPath(path, stroke=0, fill=1)
        half = self.room / 2 - 4
        write(canvas, self.left, y - 12, f"DATUM END: {label.datum}", self.room * 0.72, 10, bold=True)
        self._right("OTHER END", y - 12, self.room * 0.26, 10)
        self._lines(label.end_a, self.left, y - 23, half, 9, 3)
        self._lines(label.end_b, self.left + self.room / 2 + 4, y - 23, half, 9, 3)

    def _right(self, text: str, y: float, wide: float, size: float, *, bold: bool = True) -> None:
        start = self.right - min(wide, text_width(text, size, bold=bold))
        write(self.canvas, start, y, text, wide, size, bold=bold)

    def _lines(self, text: str, x: float, y: float, wide: float, size: float, most: int) -> None:
        """Wrapped text; what needs more lines than there is room for is set smaller, and cut short at last."""
        small = 5.6
        lines = wrap(text, wide / MM, size * CAP / MM)
        if len(lines) > most:
            size = small
            lines = wrap(text, wide / MM, size * CAP / MM)
        shown = [*lines[: most - 1], " ".join(lines[most - 1 :])] if len(lines) > most else lines
        for n, line in enumerate(shown):
            write(self.canvas, x, y - n * (size + 1.4), line, wide, size)
