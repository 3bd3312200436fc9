"""A sheet as one SVG element, to stand in a page beside others: text stays text, black on its own white paper.

It has no identifiers, no scripts and no style sheet, so any number of them may share a page.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from html import escape

from railgen.drawings.lettering import CAP, width
from railgen.drawings.sheet import Align, Arc, Circle, Label, Line, Path, Pen, Point, Sheet, polar

__all__ = ["svg_text"]

_LINES = 'fill="none" stroke="#000" stroke-linecap="round" stroke-linejoin="round"'
_LETTERS = 'font-family="Helvetica, Arial, sans-serif"'
_ANCHOR = {Align.LEFT: "", Align.CENTRE: ' text-anchor="middle"', Align.RIGHT: ' text-anchor="end"'}
_ABOUT = "Drawn at {scale} on paper of {width} by {height} mm. The tables hold its numbers too."


def svg_text(sheet: Sheet) -> str:
    """The sheet as an SVG element as wide as its place; one unit is 1 mm of paper, to 0.01 mm, y down."""
    wide, high = _number(sheet.width), _number(sheet.height)
    size = f'width="100%" viewBox="0 0 {wide} {high}"'
    about = _ABOUT.format(scale=sheet.scale, width=wide, height=high)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img" {_LINES} {_LETTERS}>',
        f"<title>{_safe(sheet.title)}</title>",
        f"<desc>{_safe(about)}</desc>",
        f'<rect width="{wide}" height="{high}" fill="#fff" stroke="none"/>',
        *_strokes(sheet),
        *_fills(sheet),
        *_texts(sheet),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _strokes(sheet: Sheet) -> Iterator[str]:
    """One group for each pen in use: what has corners as one path, then the circles."""
    paths: dict[Pen, list[str]] = {pen: [] for pen in Pen}
    circles: dict[Pen, list[str]] = {pen: [] for pen in Pen}
    for item in sheet.flat():
        if isinstance(item, Line):
            paths[item.pen].append(_run(sheet, (item.a, item.b)))
        elif isinstance(item, Path) and not item.filled:
            paths[item.pen].append(_run(sheet, item.points, closed=item.closed))
        elif isinstance(item, Arc):
            paths[item.pen].append(_arc(sheet, item))
        elif isinstance(item, Circle):
            across, down = _at(sheet, item.centre)
            circles[item.pen].append(f'<circle cx="{across}" cy="{down}" r="{_number(item.radius)}"/>')
    x, y = sheet.bar
    paths[Pen.REFERENCE].append(_run(sheet, ((x, y), (x + 100.0, y))))
    paths[Pen.REFERENCE] += [_run(sheet, ((x + at, y), (x + at, y + 2.5))) for at in (0.0, 50.0, 100.0)]
    for pen in Pen:
        if paths[pen] or circles[pen]:
            dashes = f' stroke-dasharray="{" ".join(map(_number, pen.dashes))}"' if pen.dashes else ""
            yield f'<g stroke-width="{_number(pen.width)}"{dashes}>'
            if paths[pen]:
                yield f'<path d="{"".join(paths[pen])}"/>'
            yield from circles[pen]
            yield "</g>"


def _fills(sheet: Sheet) -> Iterator[str]:
    """Filled paths, each for itself: in one path, two that overlap could cut a hole into each other."""
    filled = [item for item in sheet.flat() if isinstance(item, Path) and item.filled]
    if filled:
        yield '<g fill="#000" stroke="none">'
        for item in filled:
            yield f'<path d="{_run(sheet, item.points, closed=True)}"/>'
        yield "</g>"


def _texts(sheet: Sheet) -> Iterator[str]:
    """The labels, one group for each look.

    Every label is given its width, that of the face the sheet was set in: a reader without that face would otherwise
    run wider letters into the next label.
    """
    looks: dict[tuple[float, bool, bool], list[Label]] = {}
    for label in sheet.labels():
        if label.text.strip():
            looks.setdefault((label.height, label.bold, label.inverse), []).append(label)
    for (height, bold, inverse), labels in looks.items():
        weight = ' font-weight="bold"' if bold else ""
        colour = "#fff" if inverse else "#000"
        yield f'<g font-size="{_number(height / CAP)}"{weight} fill="{colour}" stroke="none">'
        for label in labels:
            x, y = _at(sheet, label.at)
            turn = _number(-math.degrees(label.angle))
            turned = f' transform="rotate({turn} {x} {y})"' if turn != "0" else ""
            wide = _number(width(label.text, label.height, bold=label.bold))
            yield (
                f'<text x="{x}" y="{y}"{_ANCHOR[label.align]}{turned} textLength="{wide}" '
                f'lengthAdjust="spacingAndGlyphs">{_safe(label.text)}</text>'
            )
        yield "</g>"


def _run(sheet: Sheet, points: tuple[Point, ...], *, closed: bool = False) -> str:
    """Straight lines end to end, as path data."""
    (x, y), *more = (_at(sheet, point) for point in points)
    return f"M{x} {y}L{' '.join(f'{x} {y}' for x, y in more)}{'Z' if closed else ''}"


def _arc(sheet: Sheet, arc: Arc) -> str:
    """Part of a circle, as path data; anticlockwise on paper is anticlockwise on the screen."""
    (x, y), (u, v) = (_at(sheet, polar(arc.centre, arc.radius, angle)) for angle in (arc.start, arc.end))
    r, large = _number(arc.radius), int(arc.end - arc.start > math.pi)
    return f"M{x} {y}A{r} {r} 0 {large} 0 {u} {v}"


def _at(sheet: Sheet, point: Point) -> tuple[str, str]:
    return _number(point[0]), _number(sheet.height - point[1])


def _number(value: float) -> str:
    """To 0.01, without zeros that say nothing.

    >>> [_number(value) for value in (12.0, 0.254, -0.001, 100.5)]
    ['12', '0.25', '0', '100.5']
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _safe(text: str) -> str:
    """Text that cannot be taken for markup, without characters that no page may hold or that turn the line about."""
    return escape("".join(char if char.isprintable() else "?" for char in text))
