"""Dimensions as they are drawn: extension lines, arrowheads, values (conventions of ISO 129-1:2018, from memory)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from railgen.drawings.lettering import MEDIUM, width
from railgen.drawings.sheet import Align, Arc, Circle, Dimension, Label, Line, Measure, Path, Pen, Point, polar

__all__ = ["arrow", "aside", "corner_angle", "linear", "reach", "readable", "running", "shares", "spread"]

Drawn = list[Line | Path | Circle | Arc | Label]

_GAP, _OVERSHOOT = 0.8, 1.5  # mm from the feature to its extension line, and beyond the dimension line
_ARROW, _HALF = 3.0, math.tan(math.radians(7.5))  # length, and half width for a length of 1
_LIFT = 1.0  # mm between dimension line and value
_KNEE, _HEAD, _CLEAR = 1.5, 4.5, 0.8  # mm from a running line to the bend, the end, and on to the value


def arrow(tip: Point, angle: float) -> Path:
    """A filled arrowhead that points along ``angle``."""
    back = polar(tip, -_ARROW, angle)
    side = _ARROW * _HALF
    return Path(
        pen=Pen.DIMENSION,
        points=(tip, polar(back, side, angle + math.pi / 2), polar(back, -side, angle + math.pi / 2)),
        closed=True,
        filled=True,
    )


def linear(
    first: Point,
    second: Point,
    angle: float,
    through: Point,
    value: float,
    text: str,
    *,
    height: float = MEDIUM,
    broken: bool = False,
    before: bool = False,
    share: float = 0.5,
) -> Dimension:
    """A length from ``first`` to ``second`` along ``angle``, its line through ``through``.

    ``second`` lies ahead of ``first``. A value that has no room between the arrows stands behind ``second``, or
    ``before`` the first; else it stands at ``share`` of the line. What it has in brackets stands under the line.
    """
    across = angle + math.pi / 2
    ends = (_foot(first, through, across), _foot(second, through, across))
    drawn: Drawn = []
    for feature, end in zip((first, second), ends, strict=True):
        drawn += _extension(feature, end)
    above, under = _halves(text)
    room, wide = math.dist(*ends), max(width(above, height), width(under, height))
    inside = room >= 2 * _ARROW + 0.5
    drawn += [arrow(ends[0], angle if not inside else angle + math.pi)]
    drawn += [arrow(ends[1], angle + math.pi if not inside else angle)]
    start, stop = ends
    if not inside:
        start, stop = polar(start, -2 * _ARROW, angle), polar(stop, 2 * _ARROW, angle)
    middle = polar(ends[0], room * share, angle)
    if room < wide + 0.4:
        out = (2 * _ARROW if not inside else 0.0) + wide + 1.5
        if before:
            start = polar(ends[0], -out, angle)
            middle = polar(start, wide / 2 + 0.5, angle)
        else:
            stop = polar(ends[1], out, angle)
            middle = polar(stop, -wide / 2 - 0.5, angle)
    drawn.append(Line(pen=Pen.DIMENSION, a=start, b=stop))
    drawn.append(_value(middle, angle, above, height))
    if under:
        drawn.append(_value(middle, angle, under, height, under=True))
    return Dimension(
        measure=Measure.LENGTH,
        first=first,
        second=second,
        angle=angle,
        line=ends[1],
        value=value,
        text=text,
        drawn=tuple(drawn),
        broken=broken,
    )


def shares(room: float) -> tuple[float, ...]:
    """Where on a dimension line of ``room`` mm its value may stand: on a short one over the tails of its arrows too."""
    tail = _ARROW / room
    return (0.5, 0.6, 0.7) if room >= 2 * _ARROW + 0.5 else (0.5, 1 + tail, -tail)


def running(
    datum: Point,
    features: Sequence[tuple[Point, float, str]],
    angle: float,
    through: Point,
    *,
    height: float = MEDIUM,
    broken: bool = False,
) -> list[Dimension]:
    """Running lengths from ``datum`` along ``angle``: one line, a ring at the datum, values at the extension lines.

    Each feature is its point, its true distance and its value in writing; the datum's own 0 comes first of the
    result. Values that would touch are moved apart along the line.
    """
    across = angle + math.pi / 2
    points = [datum, *(point for point, _, _ in features)]
    values = [0.0, *(value for _, value, _ in features)]
    texts = ["0", *(text for _, _, text in features)]
    feet = [_foot(point, through, across) for point in points]
    side = 1.0 if _along(through, datum, across) >= 0 else -1.0
    along = [_along(foot, feet[0], angle) for foot in feet]
    moved = spread(along, height * 1.45)
    out = []
    for index, (point, foot) in enumerate(zip(points, feet, strict=True)):
        drawn: Drawn = list(_extension(point, foot))
        knee, head = _KNEE * side, _HEAD * side
        shift = moved[index] - along[index]
        bend = polar(foot, knee, across)
        top = polar(polar(foot, head, across), shift, angle)
        drawn.append(Line(pen=Pen.DIMENSION, a=bend, b=top))
        if index == 0:
            drawn.append(Circle(pen=Pen.DIMENSION, centre=foot, radius=0.9))
        else:
            drawn.append(Line(pen=Pen.DIMENSION, a=feet[0], b=foot))
            drawn.append(arrow(foot, angle if along[index] > 0 else angle + math.pi))
        drawn.append(_end_value(polar(top, _CLEAR * side, across), across, side, texts[index], height))
        out.append(
            Dimension(
                measure=Measure.RUNNING,
                first=datum,
                second=point,
                angle=angle,
                line=top,
                value=values[index],
                text=texts[index],
                drawn=tuple(drawn),
                broken=broken,
            )
        )
    return out


def reach(texts: Iterable[str], height: float = MEDIUM) -> float:
    """How far (mm) the longest of these values stands out from the line of a running dimension."""
    return _HEAD + _CLEAR + max((width(text, height) for text in texts), default=0.0) + 0.5


def aside(text: str) -> str:
    """A value for information only: in round brackets.

    >>> aside("44"), aside("44 [1.732]")
    ('(44)', '(44) [1.732]')
    """
    above, under = _halves(text)
    return f"({above}) {under}".strip()


def _halves(text: str) -> tuple[str, str]:
    """What a value says in the unit that governs, and what it has in square brackets."""
    above, bracket, rest = text.partition(" [")
    return above, f"[{rest}" if bracket else ""


def corner_angle(
    corner: Point, start: float, end: float, radius: float, value: float, text: str, *, height: float = MEDIUM
) -> Dimension:
    """An angle at ``corner``, anticlockwise from ``start`` to ``end`` (radians on paper), its value outside the arc."""
    middle = (start + end) / 2
    spot = polar(corner, radius + 2.0, middle)
    align = Align.LEFT if math.cos(middle) > 0.3 else Align.RIGHT if math.cos(middle) < -0.3 else Align.CENTRE
    tilt = _ARROW / radius / 2
    drawn: Drawn = [
        Arc(pen=Pen.DIMENSION, centre=corner, radius=radius, start=start, end=end),
        arrow(polar(corner, radius, start), start - math.pi / 2 + tilt),
        arrow(polar(corner, radius, end), end + math.pi / 2 - tilt),
        Label(at=(spot[0], spot[1] - height / 2), text=text, height=height, align=align),
    ]
    return Dimension(
        measure=Measure.ANGLE,
        first=polar(corner, radius, start),
        second=polar(corner, radius, end),
        angle=0.0,
        line=polar(corner, radius, middle),
        value=value,
        text=text,
        drawn=tuple(drawn),
        corner=corner,
    )


def spread(wanted: Sequence[float], least: float) -> list[float]:
    """Places as near to the wanted ones as a distance of ``least`` between neighbours allows, in the same order.

    >>> spread([0, 10, 11, 12, 30], 4)
    [0.0, 7.0, 11.0, 15.0, 30.0]
    """
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    groups: list[tuple[float, list[int]]] = []  # centre of a run of touching values, and its members
    for index in order:
        groups.append((wanted[index], [index]))
        while len(groups) > 1 and _low(groups[-1], least) - _high(groups[-2], least) < least - 1e-9:
            _, late = groups.pop()
            _, early = groups.pop()
            members = early + late
            offsets = [least * (place - (len(members) - 1) / 2) for place in range(len(members))]
            centre = math.fsum(wanted[i] - o for i, o in zip(members, offsets, strict=True)) / len(members)
            groups.append((centre, members))
    placed = [0.0] * len(wanted)
    for centre, members in groups:
        for place, index in enumerate(members):
            placed[index] = centre + least * (place - (len(members) - 1) / 2)
    return placed


def _low(group: tuple[float, list[int]], least: float) -> float:
    return group[0] - least * (len(group[1]) - 1) / 2


def _high(group: tuple[float, list[int]], least: float) -> float:
    return group[0] + least * (len(group[1]) - 1) / 2


def _along(point: Point, origin: Point, angle: float) -> float:
    return (point[0] - origin[0]) * math.cos(angle) + (point[1] - origin[1]) * math.sin(angle)


def _foot(feature: Point, through: Point, across: float) -> Point:
    """The feature carried square to the dimension line on to it."""
    return polar(feature, _along(through, feature, across), across)


def _extension(feature: Point, end: Point) -> list[Line]:
    length = math.dist(feature, end)
    if length < _GAP + 0.1:
        return []
    angle = math.atan2(end[1] - feature[1], end[0] - feature[0])
    return [Line(pen=Pen.DIMENSION, a=polar(feature, _GAP, angle), b=polar(end, _OVERSHOOT, angle))]


def readable(angle: float) -> float:
    """The same line's angle, read from below or from the right."""
    turned = (angle + math.pi / 2) % math.pi - math.pi / 2
    return math.pi / 2 if turned <= -math.pi / 2 + 1e-9 else turned


def _value(middle: Point, angle: float, text: str, height: float, *, under: bool = False) -> Label:
    turn = readable(angle)
    at = polar(middle, -_LIFT - height if under else _LIFT, turn + math.pi / 2)
    return Label(at=at, text=text, height=height, align=Align.CENTRE, angle=turn)


def _end_value(end: Point, across: float, side: float, text: str, height: float) -> Label:
    """A value that carries on from the end of an extension line."""
    turn = readable(across)
    forward = math.cos(turn - across) * side > 0
    at = polar(end, -height / 2, turn + math.pi / 2)
    return Label(at=at, text=text, height=height, align=Align.LEFT if forward else Align.RIGHT, angle=turn)
