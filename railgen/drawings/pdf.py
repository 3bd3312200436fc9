"""Sheets as a vector PDF: text stays text, the same sheets give the same bytes."""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import Path as File
from typing import TYPE_CHECKING

from railgen.drawings.faces import face, shown
from railgen.drawings.lettering import CAP, width
from railgen.drawings.sheet import Align, Arc, Circle, Label, Line, Path, Pen, Sheet, polar

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

__all__ = ["draw_page", "write_pdf"]

_POINT = 72 / 25.4  # PDF points per mm


def write_pdf(sheets: Iterable[Sheet], path: File) -> None:
    """Write the sheets, one page each, with an outline entry for each. The date is the job's, or a fixed one."""
    from reportlab.pdfgen.canvas import Canvas

    pages = tuple(sheets)
    canvas = Canvas(str(path), invariant=1, pageCompression=1)
    date = next((sheet.date for sheet in pages if sheet.date), None)
    if date is not None:
        stamp = f"D:{date:%Y%m%d}000000+00'00'"
        canvas.setDateFormatter(lambda *_: stamp)
    canvas.setTitle(shown(pages[0].title) if len(pages) == 1 else "Drawings")
    canvas.setViewerPreference("PrintScaling", "None")  # readers that heed it print at 100 % unless told otherwise
    canvas.setCreator("railgen")
    canvas.setProducer("railgen")
    for number, sheet in enumerate(pages, start=1):
        canvas.setPageSize((sheet.width * _POINT, sheet.height * _POINT))
        key = f"sheet-{number}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(shown(sheet.title), key)
        draw_page(canvas, sheet)
        canvas.showPage()
    canvas.save()


def draw_page(canvas: Canvas, sheet: Sheet) -> None:
    """Draw one sheet on the canvas's current page."""
    canvas.saveState()
    canvas.scale(_POINT, _POINT)
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    for item in sheet.flat():
        if isinstance(item, Label):
            _text(canvas, item)
            continue
        _pen(canvas, item.pen)
        if isinstance(item, Line):
            canvas.line(*item.a, *item.b)
        elif isinstance(item, Circle):
            canvas.circle(*item.centre, item.radius, stroke=1, fill=0)
        elif isinstance(item, Arc):
            x, y, r = *item.centre, item.radius
            extent = math.degrees(item.end - item.start)
            canvas.arc(x - r, y - r, x + r, y + r, math.degrees(item.start), extent)
        else:
            _path(canvas, item)
    _bar(canvas, sheet)
    canvas.restoreState()


def _pen(canvas: Canvas, pen: Pen) -> None:
    canvas.setLineWidth(pen.width)
    canvas.setDash(list(pen.dashes) if pen.dashes else [])


def _path(canvas: Canvas, item: Path) -> None:
    path = canvas.beginPath()
    path.moveTo(*item.points[0])
    for point in item.points[1:]:
        path.lineTo(*point)
    if item.closed:
        path.close()
    canvas.drawPath(path, stroke=0 if item.filled else 1, fill=1 if item.filled else 0)


def _text(canvas: Canvas, label: Label) -> None:
    wide = width(label.text, label.height, bold=label.bold)
    back = {Align.LEFT: 0.0, Align.CENTRE: wide / 2, Align.RIGHT: wide}[label.align]
    x, y = polar(label.at, -back, label.angle)
    cos, sin = math.cos(label.angle), math.sin(label.angle)
    seen = shown(label.text)
    text = canvas.beginText()
    text.setFont(face(seen, bold=label.bold), label.height / CAP)
    text.setTextTransform(cos, sin, -sin, cos, x, y)
    text.setFillGray(1.0 if label.inverse else 0.0)
    text.textOut(seen)
    canvas.drawText(text)
    canvas.setFillGray(0.0)


def _bar(canvas: Canvas, sheet: Sheet) -> None:
    """The check bar: 100 mm on paper, with a tick at each end and at the middle."""
    _pen(canvas, Pen.REFERENCE)
    x, y = sheet.bar
    canvas.line(x, y, x + 100.0, y)
    for along in (0.0, 50.0, 100.0):
        canvas.line(x + along, y, x + along, y + 2.5)
