"""Paragraphs of the printed pages: any name is only text, in a face that has its letters."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from html import escape

from reportlab.lib.colors import black, white
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import CondPageBreak, Flowable, Paragraph

from railgen.drawings.faces import face, shown
from railgen.drawings.lettering import CAP, fit

__all__ = ["MM", "Kind", "headed", "heading", "line_or_para", "markup", "para", "style_of", "text_width", "write"]

MM = 72 / 25.4
"""PDF points in a millimetre."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """How a paragraph looks: size of the letters and distance of the lines (points), space around (points)."""

    size: float = 9.0
    bold: bool = False
    right: bool = False
    before: float = 0.0
    after: float = 0.0
    white: bool = False  # on something black


BODY = Kind(after=3.0)
_LEADING = 1.22  # of the size, from line to line


@cache
def style_of(kind: Kind) -> ParagraphStyle:
    """The kind as reportlab wants it."""
    style = ParagraphStyle(
        f"{kind}",
        fontName=face("", bold=kind.bold),
        fontSize=kind.size,
        leading=kind.size * _LEADING,
        spaceBefore=kind.before,
        spaceAfter=kind.after,
        textColor=white if kind.white else black,
    )
    if kind.right:
        style.alignment = TA_RIGHT
    return style


def para(text: str, kind: Kind = BODY) -> Paragraph:
    """A paragraph; line ends in the text stay."""
    return Paragraph(markup(text, bold=kind.bold), style_of(kind))


class OneLine(Flowable):
    """A text that fits on one line, at a fraction of a paragraph's cost; stands where a paragraph would."""

    def __init__(self, text: str, kind: Kind) -> None:
        super().__init__()
        self.text, self.kind = shown(text), kind

    def wrap(self, wide: float, _: float) -> tuple[float, float]:
        self.width = wide
        return wide, self.kind.size * _LEADING

    def draw(self) -> None:
        canvas, kind = self.canv, self.kind
        y = kind.size * (_LEADING - 1.0)  # where a paragraph has its base line
        canvas.setFont(face(self.text, bold=kind.bold), kind.size)
        if kind.right:
            canvas.drawRightString(self.width, y, self.text)
        else:
            canvas.drawString(0, y, self.text)


def line_or_para(text: str, kind: Kind, wide: float) -> Flowable:
    """The text in a cell ``wide`` points wide."""
    if "\n" not in text and text_width(text, kind.size, bold=kind.bold) <= wide:
        return OneLine(text, kind)
    return para(text, kind)


def heading(text: str, level: int = 2) -> Paragraph:
    """A heading: 1 a chapter's, 2 and 3 inside it."""
    size, before, after = {1: (17.0, 0.0, 6.0), 2: (11.5, 9.0, 3.0), 3: (9.5, 6.0, 2.0)}[level]
    return para(text, Kind(size=size, bold=True, before=before, after=after))


def headed(text: str, level: int = 2, need: float = 35.0) -> tuple[Flowable, ...]:
    """A heading with at least ``need`` (mm) of the page for itself and what it heads."""
    return CondPageBreak(need * MM), heading(text, level)


def markup(text: str, *, bold: bool = False) -> str:
    """The text as reportlab's own markup, in which nothing of it is markup.

    >>> markup("<b> & Łódź")
    '&lt;b&gt; &amp; <font name="DejaVuSans">Łódź</font>'
    """
    return "<br/>".join(" ".join(_word(word, bold=bold) for word in shown(line).split(" ")) for line in _lines(text))


def _lines(text: str) -> list[str]:
    return text.splitlines() or [""]


def _word(word: str, *, bold: bool) -> str:
    name, safe = face(word, bold=bold), escape(word, quote=False)
    return safe if name == face("", bold=bold) else f'<font name="{name}">{safe}</font>'


@lru_cache(maxsize=8192)
def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width (points) of a text on one line."""
    words = [(shown(word), face(shown(word), bold=bold)) for word in text.split(" ")]
    space = stringWidth(" ", face("", bold=bold), size) * (len(words) - 1)
    return float(space + sum(stringWidth(word, name, size) for word, name in words))


def write(canvas: Canvas, x: float, y: float, text: str, wide: float, size: float, *, bold: bool = False) -> float:
    """One line no wider than ``wide`` (points): else smaller, at last cut short with dots; answers its size."""
    words, high = fit(text, wide / MM, size * CAP / MM, bold=bold)
    seen, size = shown(words), high * MM / CAP
    canvas.setFont(face(seen, bold=bold), size)
    canvas.drawString(x, y, seen)
    return size
