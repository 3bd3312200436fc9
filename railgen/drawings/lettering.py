"""How wide a text is, and how to make one fit. Metrics are those of Helvetica, which Arial shares."""

from __future__ import annotations

import math
from functools import lru_cache

from railgen.drawings.faces import face, shown
from railgen.drawings.sheet import Align, Box, Label, Point

__all__ = [
    "CAP",
    "CAPTION",
    "LARGE",
    "MEDIUM",
    "SMALL",
    "corners",
    "fit",
    "label_box",
    "width",
    "wrap",
]

CAP = 0.718  # height of Helvetica's capitals, in ems (its published font metrics)
CAPTION, SMALL, MEDIUM, LARGE = 2.0, 2.5, 3.5, 5.0
"""Heights of capitals (mm); the upper three are of the series of ISO 3098-1:2015 (from memory)."""

_DESCENT, _ASCENT = 0.3, 1.05  # of the capitals' height, kept free around a text


@lru_cache(maxsize=8192)
def width(text: str, height: float, *, bold: bool = False) -> float:
    """Width (mm) of a text whose capitals are ``height`` (mm) high."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    seen = shown(text)
    return float(stringWidth(seen, face(seen, bold=bold), height / CAP))


def fit(text: str, room: float, height: float, *, bold: bool = False) -> tuple[str, float]:
    """Text and height that fit into ``room`` (mm): smaller first, down to captions, then cut short with dots."""
    wide = width(text, height, bold=bold)
    if wide <= room:
        return text, height
    smaller = max(CAPTION, math.floor(height * room / wide * 100) / 100)
    smaller = min(smaller, height)
    if width(text, smaller, bold=bold) <= room:
        return text, smaller
    kept = len(text)
    while kept > 0 and width(text[:kept].rstrip() + "…", smaller, bold=bold) > room:
        kept -= 1
    return text[:kept].rstrip() + "…", smaller


def wrap(text: str, room: float, height: float, *, bold: bool = False) -> list[str]:
    """The text in lines no wider than ``room`` (mm); words that are wider are broken."""
    lines = [""]
    for word in text.split():
        rest = word
        joined = f"{lines[-1]} {rest}".strip()
        if width(joined, height, bold=bold) <= room:
            lines[-1] = joined
            continue
        if lines[-1]:
            lines.append("")
        while width(rest, height, bold=bold) > room and len(rest) > 1:
            kept = len(rest) - 1
            while kept > 1 and width(rest[:kept], height, bold=bold) > room:
                kept -= 1
            lines[-1] = rest[:kept]
            lines.append("")
            rest = rest[kept:]
        lines[-1] = rest
    return lines


def corners(label: Label, around: float = 0.0) -> tuple[Point, Point, Point, Point]:
    """The four corners of the room a label takes, anticlockwise from the lower left as it is read.

    ``around`` (mm) widens it on all sides.
    """
    wide = width(label.text, label.height, bold=label.bold)
    start = {Align.LEFT: 0.0, Align.CENTRE: -wide / 2, Align.RIGHT: -wide}[label.align]
    left, right = start - around, start + wide + around
    low, high = -_DESCENT * label.height - around, _ASCENT * label.height + around
    cos, sin = math.cos(label.angle), math.sin(label.angle)
    (x, y) = label.at

    def turned(u: float, v: float) -> Point:
        return x + u * cos - v * sin, y + u * sin + v * cos

    return turned(left, low), turned(right, low), turned(right, high), turned(left, high)


def label_box(label: Label) -> Box:
    """The upright box around a label."""
    xs, ys = zip(*corners(label), strict=True)
    return Box(left=min(xs), bottom=min(ys), right=max(xs), top=max(ys))
