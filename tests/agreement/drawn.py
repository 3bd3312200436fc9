"""What a DXF or a PDF page shows, read by other libraries into one form: texts, circles and straight lines.

Lengths are true mm: a DXF's as they stand, a PDF's enlarged by the scale its own title block names. What has the same
bytes is read once in a process.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from io import BytesIO, TextIOWrapper
from pathlib import Path
from typing import Any

import ezdxf
import pdfplumber
from ezdxf.entities import DXFEntity

__all__ = ["Circle", "Drawn", "Line", "Text", "joined", "read_dxf", "read_pdf"]

_POINT = 72 / 25.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One text; ``x``, ``y`` is its middle, ``start`` and ``end`` are x where it begins and ends."""

    words: str
    x: float
    y: float
    start: float
    end: float
    low: float  # y of its beginning
    high: float  # y of its end
    height: float  # of its capitals
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    x: float
    y: float
    diameter: float
    pen: float  # width of its line on paper, mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    x0: float
    y0: float
    x1: float
    y1: float
    pen: float
    dash: float  # length of its dashes on paper, mm; 0 where it is solid

    @property
    def upright(self) -> bool:
        return abs(self.x1 - self.x0) < 0.01

    @property
    def level(self) -> bool:
        return abs(self.y1 - self.y0) < 0.01

    @property
    def length(self) -> float:
        return math.hypot(self.x1 - self.x0, self.y1 - self.y0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A sheet: ``paper`` is the true length that 1 mm of its paper stands for."""

    name: str
    texts: tuple[Text, ...]
    circles: tuple[Circle, ...]
    lines: tuple[Line, ...]
    paper: float

    def holes(self) -> list[Circle]:
        """Circles drawn with the pen of holes."""
        return [c for c in self.circles if abs(c.pen - 0.35) < 0.01]

    def thick(self, pen: float, dash: float = 0.0) -> list[Line]:
        return [line for line in self.lines if abs(line.pen - pen) < 0.01 and abs(line.dash - dash) < 0.01]

    def moved(self, by: float) -> Drawn:
        """The same sheet farther right."""
        return replace(
            self,
            texts=tuple(replace(t, x=t.x + by, start=t.start + by, end=t.end + by) for t in self.texts),
            circles=tuple(replace(c, x=c.x + by) for c in self.circles),
            lines=tuple(replace(line, x0=line.x0 + by, x1=line.x1 + by) for line in self.lines),
        )


def read_dxf(path: Path) -> Drawn:
    return _dxf(path.stem, path.read_bytes())


@cache
def _dxf(name: str, content: bytes) -> Drawn:
    doc = ezdxf.read(TextIOWrapper(BytesIO(content), encoding="utf-8"))
    dashes = {kind.dxf.name: kind.simplified_line_pattern() for kind in doc.linetypes}
    pens = {layer.dxf.name: (layer.dxf.lineweight / 100, (*dashes[layer.dxf.linetype], 0.0)[0]) for layer in doc.layers}
    texts, circles, lines = [], [], []
    paper = float(doc.header["$LTSCALE"])
    for entity in _parts(doc.modelspace()):
        pen, dash = pens[entity.dxf.layer]
        kind = entity.dxftype()
        if kind == "TEXT":
            texts.append(_dxf_text(entity))
        elif kind == "CIRCLE":
            (x, y, _), r = entity.dxf.center, entity.dxf.radius
            circles.append(Circle(x=x, y=y, diameter=2 * r, pen=pen))
        elif kind == "LINE":
            (x0, y0, _), (x1, y1, _) = entity.dxf.start, entity.dxf.end
            lines.append(Line(x0=x0, y0=y0, x1=x1, y1=y1, pen=pen, dash=dash))
    return Drawn(name=name, texts=tuple(texts), circles=tuple(circles), lines=tuple(lines), paper=paper)


def _parts(space: Any) -> Iterator[DXFEntity]:
    for entity in space:
        if entity.dxftype() == "DIMENSION":
            yield from entity.virtual_entities()
        else:
            yield entity


def _dxf_text(entity: Any) -> Text:
    """Only the anchor is exact; the rest, from a mean width of letters, serves to find what stands nearby."""
    x, y, _ = entity.dxf.align_point if entity.dxf.halign else entity.dxf.insert
    words = entity.plain_text()
    turn, wide = math.radians(entity.dxf.rotation), 0.78 * entity.dxf.height * len(words)
    begin = {0: 0.0, 1: -wide / 2, 2: -wide}[entity.dxf.halign]
    u = begin + wide / 2
    return Text(
        words=words,
        x=x + u * math.cos(turn),
        y=y + u * math.sin(turn),
        start=x + begin * math.cos(turn),
        end=x + (begin + wide) * math.cos(turn),
        low=y + begin * math.sin(turn),
        high=y + (begin + wide) * math.sin(turn),
        height=entity.dxf.height,
        turned=abs(math.sin(turn)) > 0.99,
    )


def read_pdf(path: Path) -> list[Drawn]:
    return list(_pdf(path.read_bytes()))


@cache
def _pdf(content: bytes) -> tuple[Drawn, ...]:
    with pdfplumber.open(BytesIO(content)) as pdf:
        return tuple(_page(page) for page in pdf.pages)


def joined(tiles: list[Drawn]) -> Drawn:
    """Tiles laid on each other as a person would: the dashed line at the edge of each on that of the one before."""
    first, *others = tiles
    circles, texts, lines = list(first.circles), list(first.texts), list(first.lines)
    edge = _overlap(first)[-1] if others else 0.0
    for tile in others:
        mine = _overlap(tile)
        there = tile.moved(edge - mine[0])
        edge += mine[-1] - mine[0]
        seen = [(c.x, c.y, c.pen) for c in circles]
        circles += [c for c in there.circles if not any(math.dist((c.x, c.y, c.pen), spot) < 0.05 for spot in seen)]
        texts += [t for t in there.texts if t.words not in {known.words for known in texts}]
        lines += there.lines
    return replace(first, texts=tuple(texts), circles=tuple(circles), lines=tuple(lines))


def _overlap(tile: Drawn) -> list[float]:
    return sorted(line.x0 for line in tile.thick(0.25, 1.5) if line.upright)


def _page(page: Any) -> Drawn:
    found = list(_runs(page.chars))
    scales = [re.fullmatch(r"(\d+):(\d+)", words) for words, *_ in found]
    scale = next((int(m[2]) / int(m[1]) for m in scales if m), 1.0)
    k = scale / _POINT
    texts = [
        Text(
            words=words,
            x=(x + u * advance / 2) * k,
            y=(y + v * advance / 2) * k,
            start=x * k,
            end=(x + u * advance) * k,
            low=y * k,
            high=(y + v * advance) * k,
            height=size * 0.718 * k,
            turned=abs(v) > 0.99,
        )
        for words, x, y, u, v, advance, size in found
    ]
    circles = [
        Circle(
            x=(c["x0"] + c["x1"]) / 2 * k, y=(c["y0"] + c["y1"]) / 2 * k, diameter=wide * k, pen=c["linewidth"] / _POINT
        )
        for c in page.curves
        if not c["fill"] and abs((wide := c["x1"] - c["x0"]) - (c["y1"] - c["y0"])) < 0.02 and _closed(c["pts"])
    ]
    lines = [
        Line(
            x0=x0 * k,
            y0=(page.height - y0) * k,
            x1=x1 * k,
            y1=(page.height - y1) * k,
            pen=line["linewidth"] / _POINT,
            dash=float((*line["dash"][0], 0.0)[0]),
        )
        for line in page.lines
        for (x0, y0), (x1, y1) in [line["pts"]]
    ]
    name = max(found, key=lambda run: run[6])[0]
    return Drawn(name=name, texts=tuple(texts), circles=tuple(circles), lines=tuple(lines), paper=scale)


def _closed(points: list[tuple[float, float]]) -> bool:
    return len(points) >= 5 and math.dist(points[0], points[-1]) < 0.01


def _runs(chars: list[dict[str, Any]]) -> Iterator[tuple[str, float, float, float, float, float, float]]:
    """Letters that follow each other on one base line: words, beginning, direction, length, size (points)."""
    words, x, y, u, v, advance, size = "", 0.0, 0.0, 1.0, 0.0, 0.0, 0.0
    for char in chars:
        a, b, _, _, e, f = char["matrix"]
        stretch = math.hypot(a, b)
        here = (a / stretch, b / stretch)
        joins = math.dist((x + u * advance, y + v * advance), (e, f)) < 0.05 and math.dist((u, v), here) < 1e-6
        if not (words and joins):
            if words:
                yield words, x, y, u, v, advance, size
            words, x, y, advance = "", e, f, 0.0
            u, v = here
        words += char["text"]
        advance += char["adv"] * stretch
        size = char["size"] if char["upright"] else char["x1"] - char["x0"]
    if words:
        yield words, x, y, u, v, advance, size
