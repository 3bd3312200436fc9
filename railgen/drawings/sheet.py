"""The neutral sheet: what is drawn where on the paper (mm, origin at the lower left corner, y up).

Every writer draws the same sheet. A sheet has one scale; its DXF is the sheet enlarged until lengths are true,
all but those of a piece drawn broken.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum, StrEnum

__all__ = [
    "Align",
    "Arc",
    "Box",
    "Circle",
    "Dimension",
    "Item",
    "Label",
    "Line",
    "Measure",
    "Path",
    "Pen",
    "Point",
    "Scale",
    "Sheet",
    "polar",
]

Point = tuple[float, float]


class Pen(Enum):
    """What a line is for: the layer it lies on, its width on paper (mm) and its dashes (mm on, off, ...).

    Widths of the 0.5 line group and the kinds of line: ISO 128-2:2020 (from memory).
    """

    OUTLINE = ("OUTLINE", 0.5, ())
    HOLE = ("HOLE", 0.35, ())
    HIDDEN = ("HIDDEN", 0.25, (3.0, 1.2))
    CENTRE = ("CENTRE", 0.25, (9.0, 1.2, 0.6, 1.2))
    BREAK = ("BREAK", 0.25, ())
    CLOCK = ("CLOCK", 0.18, (6.0, 2.0))
    STAIR = ("STAIR", 0.35, ())
    PLATE = ("PLATE", 0.25, ())
    DIMENSION = ("DIMENSION", 0.25, ())
    TEXT = ("TEXT", 0.25, ())
    TABLE = ("TABLE", 0.18, ())
    REFERENCE = ("REFERENCE", 0.7, ())
    CUT = ("CUT", 0.25, (1.5, 1.0))
    FRAME = ("FRAME", 0.7, ())

    def __init__(self, layer: str, width: float, dashes: tuple[float, ...]) -> None:
        self.layer = layer
        self.width = width
        self.dashes = dashes


class Align(StrEnum):
    """Which end of a text its place means."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line."""

    pen: Pen
    a: Point
    b: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """Straight lines end to end; a filled path has no outline."""

    pen: Pen
    points: tuple[Point, ...]
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A full circle."""

    pen: Pen
    centre: Point
    radius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """Part of a circle, anticlockwise from ``start`` to ``end`` (radians)."""

    pen: Pen
    centre: Point
    radius: float
    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One line of text; ``at`` lies on its base line, ``height`` is that of a capital letter, ``angle`` in radians."""

    at: Point
    text: str
    height: float
    align: Align = Align.LEFT
    angle: float = 0.0
    bold: bool = False
    inverse: bool = False  # white, on something black


class Measure(StrEnum):
    """What a dimension measures."""

    LENGTH = "length"  # between two points, along ``angle``
    RUNNING = "running"  # from ``first``, the datum, along ``angle``
    ANGLE = "angle"  # at ``corner``, from ``first`` to ``second``


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A dimension and how it is drawn; ``value`` (mm or radians) is true whatever the drawing's scale or breaks."""

    measure: Measure
    first: Point
    second: Point
    angle: float
    line: Point  # a point on the dimension line; of a running one, the end of its extension line
    value: float
    text: str
    drawn: tuple[Line | Path | Circle | Arc | Label, ...]
    broken: bool = False  # part of the length is left out of the drawing
    corner: Point = (0.0, 0.0)


Item = Line | Path | Circle | Arc | Label | Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """``paper`` mm on paper stand for ``real`` mm."""

    paper: int
    real: int

    @property
    def ratio(self) -> float:
        return self.paper / self.real

    def __str__(self) -> str:
        return f"{self.paper}:{self.real}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """An upright rectangle."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    @property
    def middle(self) -> Point:
        return (self.left + self.right) / 2, (self.bottom + self.top) / 2

    def holds(self, point: Point, slack: float = 1e-6) -> bool:
        x, y = point
        return self.left - slack <= x <= self.right + slack and self.bottom - slack <= y <= self.top + slack

    def grown(self, by: float) -> Box:
        return Box(left=self.left - by, bottom=self.bottom - by, right=self.right + by, top=self.top + by)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One page. ``name`` becomes a file name; ``frame`` holds everything; ``bar`` is the check bar's left end.

    The check bar is 100 mm long in every file: on the paper of a PDF, and in the true lengths of a DXF.
    """

    name: str
    title: str
    width: float
    height: float
    scale: Scale
    frame: Box
    bar: Point
    items: tuple[Item, ...]
    date: datetime.date | None = None

    def flat(self) -> Iterator[Line | Path | Circle | Arc | Label]:
        """Everything drawn, dimensions taken apart."""
        for item in self.items:
            if isinstance(item, Dimension):
                yield from item.drawn
            else:
                yield item

    def labels(self) -> tuple[Label, ...]:
        return tuple(item for item in self.flat() if isinstance(item, Label))


def polar(centre: Point, radius: float, angle: float) -> Point:
    """The point at ``radius`` and ``angle`` (radians, anticlockwise from the right) about ``centre``."""
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)
