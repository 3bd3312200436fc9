"""Entities of a STEP file (ISO 10303-21) as text, their arguments, and points along the curves of its edges."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise
from typing import Any

from railgen.geometry import Frame, Vec

__all__ = ["Args", "Part21"]

Args = list[Any]
"""Arguments of an entity: references as int, numbers as float, text, enumerations, nested lists, None for $ and *."""

_ENTITY = re.compile(r"#(\d+)\s*=\s*((?:'(?:[^']|'')*'|[^';])*);", re.DOTALL)
_TOKEN = re.compile(
    r"\s*(?:(#\d+)|('(?:[^']|'')*')|(\.[A-Z_0-9]+\.)|([A-Z_0-9]*[A-Z_][A-Z_0-9]*)|([-+0-9.Ee]+)|(.))", re.DOTALL
)


class Part21:
    """A whole file. Raises ValueError for text that is not one."""

    def __init__(self, text: str) -> None:
        if not text.startswith("ISO-10303-21;") or not text.rstrip().endswith("END-ISO-10303-21;"):
            raise ValueError("not a whole STEP file")
        self.header, data = text.split("DATA;", 1)
        self.raw = {int(number): body.strip() for number, body in _ENTITY.findall(data)}
        self.parsed: dict[int, dict[str, Args]] = {}

    @cached_property
    def by_type(self) -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        for number, body in self.raw.items():
            names = (
                re.findall(r"([A-Z_0-9]+)\s*\(", re.sub(r"'(?:[^']|'')*'", "", body))
                if body[0] == "("
                else [body[: body.index("(")].strip()]
            )
            for name in names:
                found.setdefault(name, []).append(number)
        return found

    def parts(self, number: int) -> dict[str, Args]:
        """Arguments of an entity by type; a complex entity has several types."""
        if number not in self.parsed:
            tokens = [match for match in _TOKEN.finditer(self.raw[number]) if match.group(0).strip()]
            values = iter(tokens)
            self.parsed[number] = _parts(values)
        return self.parsed[number]

    def args(self, number: int, name: str) -> Args:
        return self.parts(number)[name]

    def kind(self, number: int) -> str:
        return next(iter(self.parts(number)))

    def point(self, number: int) -> Vec:
        return Vec(*self.args(number, "CARTESIAN_POINT")[1])

    def direction(self, number: int) -> Vec:
        return Vec(*self.args(number, "DIRECTION")[1]).unit()

    def axes(self, number: int) -> Frame:
        _, origin, axis, ref = self.args(number, "AXIS2_PLACEMENT_3D")
        z = self.direction(axis) if axis is not None else Vec(0, 0, 1)
        x = self.direction(ref) if ref is not None else Vec(1, 0, 0)
        return Frame.along(self.point(origin), z, x)

    # products and occurrences

    def edge(self, number: int) -> list[Vec]:
        """Points along an edge, near enough to each other to follow it around an axis."""
        _, first, last, curve, same = self.args(number, "EDGE_CURVE")
        a, b = (self.point(self.args(v, "VERTEX_POINT")[1]) for v in (first, last))
        kind = self.kind(curve)
        while kind in ("SURFACE_CURVE", "SEAM_CURVE", "INTERSECTION_CURVE"):
            curve = self.args(curve, kind)[1]
            kind = self.kind(curve)
        if kind == "LINE":
            return [a, b]
        if kind in ("CIRCLE", "ELLIPSE"):
            _, axes, *radii = self.args(curve, kind)
            return _arc(self.axes(axes), radii[0], radii[-1], a, b, same == ".T.")
        return self.spline(curve)

    def spline(self, number: int) -> list[Vec]:
        parts = self.parts(number)
        if "B_SPLINE_CURVE_WITH_KNOTS" not in parts:
            raise ValueError(f"cannot follow a {self.kind(number)}")
        if "B_SPLINE_CURVE" in parts:
            degree, poles = parts["B_SPLINE_CURVE"][:2]
            counts, knots = parts["B_SPLINE_CURVE_WITH_KNOTS"][:2]
            weights = parts.get("RATIONAL_B_SPLINE_CURVE", [[1.0] * len(poles)])[0]
        else:
            _, degree, poles, _, _, _, counts, knots, _ = parts["B_SPLINE_CURVE_WITH_KNOTS"]
            weights = [1.0] * len(poles)
        flat = [knot for knot, count in zip(knots, counts, strict=True) for _ in range(int(count))]
        points = [self.point(pole) for pole in poles]
        return [
            _de_boor(int(degree), flat, points, weights, t)
            for t in _between(knots, flat[int(degree)], flat[len(poles)])
        ]


def _parts(tokens: Iterator[re.Match[str]]) -> dict[str, Args]:
    found: dict[str, Args] = {}
    for token in tokens:
        if token[4]:  # a type name; its bracket follows
            next(tokens)
            found[token[4]] = _list(tokens)
    return found


def _list(tokens: Iterator[re.Match[str]]) -> Args:
    values: Args = []
    for token in tokens:
        reference, text, enum, name, number, other = token.groups()
        if reference:
            values.append(int(reference[1:]))
        elif text is not None:
            values.append(text[1:-1].replace("''", "'"))
        elif enum:
            values.append(enum)
        elif name:  # a typed value such as LENGTH_MEASURE(1.)
            next(tokens)
            values += _list(tokens)
        elif number:
            values.append(float(number))
        elif other == "(":
            values.append(_list(tokens))
        elif other == ")":
            return values
        elif other in "$*":
            values.append(None)
    raise ValueError("a bracket is not closed")


def _arc(axes: Frame, major: float, minor: float, a: Vec, b: Vec, same: bool) -> list[Vec]:
    start, end = (math.atan2(p.y / minor, p.x / major) for p in (axes.local(a), axes.local(b)))
    if not same:
        start, end = end, start
    width = (end - start) % math.tau
    if width < 1e-9 or (a - b).length < 1e-7:
        width = math.tau
    steps = 32
    return [
        axes.point(Vec(major * math.cos(t), minor * math.sin(t), 0.0))
        for t in (start + width * k / steps for k in range(steps + 1))
    ]


def _between(knots: list[float], low: float, high: float) -> Iterator[float]:
    """Parameters of a curve: its knots from ``low`` to ``high``, and three more in each interval."""
    for start, end in pairwise(knot for knot in knots if low <= knot <= high):
        yield from (start + (end - start) * k / 4 for k in range(4))
    yield high


def _de_boor(degree: int, knots: list[float], poles: list[Vec], weights: list[float], t: float) -> Vec:
    """A point of a B-spline (de Boor's scheme), weights carried along."""
    k = degree
    while k < len(poles) - 1 and knots[k + 1] <= t:
        k += 1
    work = [(poles[i] * weights[i], weights[i]) for i in range(k - degree, k + 1)]
    for r in range(1, degree + 1):
        for j in range(degree, r - 1, -1):
            low, high = knots[j + k - degree], knots[j + 1 + k - r]
            part = (t - low) / (high - low) if high > low else 0.0
            (p, u), (q, v) = work[j - 1], work[j]
            work[j] = (p * (1 - part) + q * part, u * (1 - part) + v * part)
    point, weight = work[degree]
    return point * (1 / weight)
