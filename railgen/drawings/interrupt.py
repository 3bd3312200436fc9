"""Thin lines are interrupted where they would run through a text (ISO 129-1:2018, from memory)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

from railgen.drawings.lettering import corners
from railgen.drawings.sheet import Box, Dimension, Item, Label, Line, Pen, Point, polar

__all__ = ["interrupted"]

_THIN = (Pen.DIMENSION, Pen.CENTRE, Pen.STAIR)
_SHORT = 0.3  # mm: a stump not worth drawing
_CLEAR = 0.3  # mm kept free around letters

Text = tuple[Box, tuple[Point, ...]]
Part = TypeVar("Part", bound=Item)


def interrupted(items: Sequence[Item]) -> tuple[Item, ...]:
    """The items with every thin line and the stair's left out under all texts."""
    texts = [
        _room(part)
        for item in items
        for part in (item.drawn if isinstance(item, Dimension) else (item,))
        if isinstance(part, Label)
    ]
    found: list[Item] = []
    for item in items:
        if isinstance(item, Dimension):
            drawn = tuple(piece for part in item.drawn for piece in _pieces(part, texts))
            found.append(replace(item, drawn=drawn))
        else:
            found += _pieces(item, texts)
    return tuple(found)


def _room(label: Label) -> Text:
    """The box around a text, and its letters' own room: what hangs below the base line may touch a line."""
    (ax, ay), (bx, by), _, _ = corners(label)
    angle, low, high = label.angle, -_CLEAR, label.height + _CLEAR
    start, end = (ax - label.at[0], ay - label.at[1]), (bx - label.at[0], by - label.at[1])
    left, right = (u * math.cos(angle) + v * math.sin(angle) for u, v in (start, end))
    shape = tuple(
        polar(polar(label.at, u, angle), v, angle + math.pi / 2)
        for u, v in ((left, low), (right, low), (right, high), (left, high))
    )
    xs, ys = zip(*shape, strict=True)
    return Box(left=min(xs), bottom=min(ys), right=max(xs), top=max(ys)), shape


def _pieces(part: Part, texts: Iterable[Text]) -> Iterator[Part | Line]:
    if not isinstance(part, Line) or part.pen not in _THIN:
        yield part
        return
    left, right = sorted((part.a[0], part.b[0]))
    low, high = sorted((part.a[1], part.b[1]))
    gaps = [
        gap
        for box, shape in texts
        if box.left < right and box.right > left and box.bottom < high and box.top > low
        if (gap := _inside(part, shape)) is not None
    ]
    if not gaps:
        yield part
        return
    long, at = max(right - left, high - low), 0.0
    for start, end in [*sorted(gaps), (1.0, 1.0)]:
        if (start - at) * long > _SHORT:
            yield replace(part, a=_at(part, at), b=_at(part, start))
        at = max(at, end)


def _at(line: Line, share: float) -> Point:
    return line.a[0] + (line.b[0] - line.a[0]) * share, line.a[1] + (line.b[1] - line.a[1]) * share


def _inside(line: Line, shape: Sequence[Point]) -> tuple[float, float] | None:
    """From and to which share of a line it runs inside a convex shape with corners anticlockwise."""
    low, high = 0.0, 1.0
    dx, dy = line.b[0] - line.a[0], line.b[1] - line.a[1]
    for (ax, ay), (bx, by) in zip(shape, (*shape[1:], shape[0]), strict=True):
        nx, ny = by - ay, ax - bx  # outward
        away, step = nx * (line.a[0] - ax) + ny * (line.a[1] - ay), nx * dx + ny * dy
        if abs(step) < 1e-12:
            if away >= -1e-9:
                return None
            continue
        share = -away / step
        low, high = (max(low, share), high) if step < 0 else (low, min(high, share))
    return (low, high) if high - low > 1e-6 else None
