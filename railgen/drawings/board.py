"""The drawing board: items are put on it one by one; notes find a free place by themselves."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from railgen.drawings.lettering import SMALL, corners, label_box
from railgen.drawings.sheet import Align, Arc, Box, Circle, Dimension, Item, Label, Line, Path, Pen, Point, polar

__all__ = ["Board", "boxes_meet", "crosses"]

_REACH = (2.0, 4.0, 7.0, 11.0, 16.0, 22.0, 30.0, 40.0)  # mm tried from the point a note is about
_DIRECTIONS = 16
_COSTS = {Pen.CLOCK: 0.4, Pen.TABLE: 0.4, Pen.OUTLINE: 1.6, Pen.PLATE: 1.6, Pen.STAIR: 1.6}  # of standing on a line
_CLEAR = 0.5  # mm between a text and a line beside it
_LEADER = 3.0  # mm from which a note needs a leader line


@dataclass(slots=True)
class Board:
    """A sheet while it is drawn; ``area`` is where notes may stand."""

    area: Box
    items: list[Item] = field(default_factory=list)
    _texts: list[tuple[Box, tuple[Point, ...]]] = field(default_factory=list)
    _lines: list[tuple[Point, Point, float]] = field(default_factory=list)  # and what crossing it costs

    def add(self, *items: Item) -> None:
        for item in items:
            self.items.append(item)
            parts = item.drawn if isinstance(item, Dimension) else (item,)
            for part in parts:
                if isinstance(part, Label):
                    self._texts.append((label_box(part), corners(part)))
                else:
                    cost = _COSTS.get(part.pen, 1.0)
                    self._lines.extend((a, b, cost) for a, b in _segments(part))

    def line(self, pen: Pen, a: Point, b: Point) -> None:
        self.add(Line(pen=pen, a=a, b=b))

    def path(self, pen: Pen, points: Iterable[Point], *, closed: bool = False) -> None:
        self.add(Path(pen=pen, points=tuple(points), closed=closed))

    def rectangle(self, pen: Pen, box: Box) -> None:
        self.path(
            pen,
            ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top)),
            closed=True,
        )

    def circle(self, pen: Pen, centre: Point, radius: float) -> None:
        self.add(Circle(pen=pen, centre=centre, radius=radius))

    def cross(self, centre: Point, arm: float, angle: float = 0.0) -> None:
        """A centre mark."""
        for turn in (angle, angle + math.pi / 2):
            self.line(Pen.CENTRE, polar(centre, -arm, turn), polar(centre, arm, turn))

    def text(
        self,
        at: Point,
        text: str,
        height: float = SMALL,
        align: Align = Align.LEFT,
        angle: float = 0.0,
        *,
        bold: bool = False,
    ) -> None:
        if text:
            self.add(Label(at=at, text=text, height=height, align=align, angle=angle, bold=bold))

    def note(self, about: Point, text: str, height: float = SMALL, prefer: float = math.pi / 4) -> bool:
        """A note at the best free place near ``about``, with a leader line where it stands apart.

        ``prefer`` is the direction tried first. Answers whether there was a place; none is drawn where there was not.
        """
        near = _REACH[-1] + 50.0
        window = Box(left=about[0] - near, bottom=about[1] - near, right=about[0] + near, top=about[1] + near)
        lines = [seg for seg in self._lines if _near(seg, window)]
        texts = [entry for entry in self._texts if boxes_meet(entry[0], window)]
        best: tuple[float, Label, tuple[Point, Point] | None] | None = None
        for reach in _REACH:
            if best is not None and best[0] < reach * 0.08:
                break
            for step in range(_DIRECTIONS):
                turn = (step + 1) // 2 * (1 if step % 2 else -1) * math.tau / _DIRECTIONS
                label = _beside(about, text, height, reach, prefer + turn)
                box = label_box(label)
                if not (self.area.holds((box.left, box.bottom)) and self.area.holds((box.right, box.top))):
                    continue
                if any(boxes_meet(box, other) and _shapes_meet(corners(label), shape) for other, shape in texts):
                    continue
                leader = _leader(about, box) if reach > _LEADER else None
                if leader and any(crosses(*leader, shape) for _, shape in texts):
                    continue
                cost = reach * 0.08 + abs(turn) * 0.1
                if best is not None and cost >= best[0]:
                    continue
                cost += _crossed(lines, label)
                if leader:
                    cost += 0.25 * sum(c for a, b, c in lines if _cut(leader, (a, b)))
                if best is None or cost < best[0]:
                    best = cost, label, leader
        if best is None:
            return False
        _, label, leader = best
        if leader:
            self.line(Pen.DIMENSION, *leader)
        self.add(label)
        return True

    def free(self, item: Dimension | Label) -> bool:
        """Whether the texts of an item touch no text already there and stay inside the area."""
        parts = item.drawn if isinstance(item, Dimension) else (item,)
        for part in parts:
            if isinstance(part, Label):
                box, shape = label_box(part), corners(part)
                if not all(self.area.holds(corner) for corner in shape):
                    return False
                if any(boxes_meet(box, other) and _shapes_meet(shape, theirs) for other, theirs in self._texts):
                    return False
        return True

    def add_best(self, choices: Iterable[Dimension | Label], later: float = 0.3) -> Dimension | Label | None:
        """Add the one that crosses least and answer it; None where none is free.

        Each place further back in the choices counts as ``later`` of a crossing.
        """
        best: tuple[float, Dimension | Label] | None = None
        for number, item in enumerate(choices):
            if not self.free(item):
                continue
            parts = item.drawn if isinstance(item, Dimension) else (item,)
            values = [part for part in parts if isinstance(part, Label)]
            cost = number * later + sum(_crossed(self._lines, value) for value in values)
            cost += 2.0 * sum(
                crosses(a, b, shape)
                for part in parts
                if isinstance(part, Line | Arc)
                for a, b in _segments(part)
                for box, shape in self._texts
                if _near((a, b, 0.0), box)
            )
            if best is None or cost < best[0]:
                best = cost, item
        if best is None:
            return None
        self.add(best[1])
        return best[1]

    def add_if_free(self, item: Dimension | Label) -> bool:
        """Add the item if its texts have room; answers whether they had."""
        if not self.free(item):
            return False
        self.add(item)
        return True


def _beside(about: Point, text: str, height: float, reach: float, direction: float) -> Label:
    x, y = polar(about, reach, direction)
    cos, sin = math.cos(direction), math.sin(direction)
    align = Align.LEFT if cos > 0.25 else Align.RIGHT if cos < -0.25 else Align.CENTRE
    drop = height * (0.5 - 0.5 * sin)  # above: on its base line; below: hanging
    return Label(at=(x, y - drop), text=text, height=height, align=align)


def _leader(about: Point, box: Box) -> tuple[Point, Point]:
    """From just beside the point to the nearest point of the box around the note."""
    x = min(max(about[0], box.left), box.right)
    y = min(max(about[1], box.bottom), box.top)
    return about, (x, y)


def _segments(part: Line | Path | Circle | Arc) -> Iterator[tuple[Point, Point]]:
    if isinstance(part, Line):
        yield part.a, part.b
    elif isinstance(part, Path):
        yield from zip(part.points, part.points[1:], strict=False)
        if part.closed:
            yield part.points[-1], part.points[0]
    else:
        start, end = (0.0, math.tau) if isinstance(part, Circle) else (part.start, part.end)
        count = 12
        spots = [polar(part.centre, part.radius, start + (end - start) * i / count) for i in range(count + 1)]
        yield from itertools.pairwise(spots)


def _crossed(lines: Iterable[tuple[Point, Point, float]], label: Label) -> float:
    """What it costs to stand on these lines, or as good as on them."""
    shape = corners(label, _CLEAR)
    box = label_box(label).grown(_CLEAR)
    return sum(entry[2] for entry in lines if _near(entry, box) and crosses(entry[0], entry[1], shape))


def _near(segment: tuple[Point, Point, float], window: Box) -> bool:
    (ax, ay), (bx, by), _ = segment
    return (
        max(ax, bx) >= window.left
        and min(ax, bx) <= window.right
        and max(ay, by) >= window.bottom
        and min(ay, by) <= window.top
    )


def boxes_meet(one: Box, other: Box) -> bool:
    """Whether two upright boxes overlap."""
    return one.left < other.right and other.left < one.right and one.bottom < other.top and other.bottom < one.top


def _shapes_meet(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two convex shapes overlap (separating axis test)."""
    for shape in (one, other):
        for (ax, ay), (bx, by) in zip(shape, (*shape[1:], shape[0]), strict=True):
            nx, ny = ay - by, bx - ax
            mine = [nx * x + ny * y for x, y in one]
            theirs = [nx * x + ny * y for x, y in other]
            if max(mine) <= min(theirs) + 1e-9 or max(theirs) <= min(mine) + 1e-9:
                return False
    return True


def crosses(a: Point, b: Point, shape: Sequence[Point]) -> bool:
    """Whether a segment passes through a convex shape."""
    return _shapes_meet((a, b), shape) if a != b else False


def _cut(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    (a, b), (c, d) = one, other
    if max(c[0], d[0]) < min(a[0], b[0]) or min(c[0], d[0]) > max(a[0], b[0]):
        return False
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
