"""Claims of the templates: what their lines and circles measure against the ruler and the reference lines on them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import combinations

from railgen.units import Dimensions
from tests.agreement.claims import Claim, lengths
from tests.agreement.drawn import Drawn, Line, Text
from tests.agreement.tables import Row

__all__ = ["drilling_page", "gauge_page", "strip_page", "title_of"]

_DRAWN = 0.03  # mm
_CLOCK = 0.05  # degrees


def title_of(sheet: Drawn) -> str:
    """The text highest up on the sheet's left half, where no clock line has its figure."""
    middle = max(text.end for text in sheet.texts) / 2
    return max((t for t in sheet.texts if t.start < middle / 2), key=lambda t: t.low).words


def strip_page(sheet: Drawn, source: str, style: Dimensions) -> Iterator[Claim]:
    """Holes on one tile of a tube's strip: along from the ruler's named ticks, around from the clock lines."""
    mark = title_of(sheet).split(",")[0]
    top = max(line.y0 for line in sheet.thick(0.5) if line.level)
    ticks = [t for t in sheet.thick(0.25) if t.upright and abs(t.length - 3.5) < 0.01 and abs(_high(t) - top) < 0.01]
    named = {
        tick.x0: lengths(text.words, style)[0][0]
        for tick in ticks
        for text in sheet.texts
        if re.fullmatch(r"[\d./-]+", text.words) and abs(text.x - tick.x0) < 1.5 and abs(text.low - (top - 6.0)) < 0.1
    }
    lines = sorted({round(line.y0, 4) for line in sheet.thick(0.18, 6.0) if line.level}, reverse=True)
    clocks = [_clock_over(sheet, y) for y in lines]
    quarter = (lines[0] - lines[-1]) / (len(lines) - 1)
    for hole in sheet.holes():
        tick = min(named, key=lambda x: abs(x - hole.x))
        nearest = min(range(len(lines)), key=lambda i: abs(lines[i] - hole.y))
        clock = (clocks[nearest] + (lines[nearest] - hole.y) / quarter * 90.0) % 360.0
        words = _callout(sheet, hole.x, hole.y, hole.diameter / 2)
        if not words:
            continue  # shown whole, with its callout, on the neighbouring tile
        name, *told = words
        station = named[tick] + hole.x - tick
        turn = _DRAWN / quarter * 90.0
        for feature, value, near in (
            ("station", station, _DRAWN),
            ("clock", clock, turn),
            ("diameter", hole.diameter, _DRAWN),
        ):
            yield Claim(source=f"{source}, measured", piece=mark, feature=f"{name} {feature}", value=value, near=near)
        for (value, near), feature in zip(
            (*lengths(told[0], style)[:1], *lengths(told[1].split(",")[0], style)[:1]),
            ("diameter", "station"),
            strict=True,
        ):
            yield Claim(source=f"{source}, text", piece=mark, feature=f"{name} {feature}", value=value, near=near)
        told_clock = float(told[1].split(",")[1].rstrip("°"))
        yield Claim(source=f"{source}, text", piece=mark, feature=f"{name} clock", value=told_clock, near=_CLOCK)
    ends = [line for line in sheet.thick(0.5) if line.upright]
    for line in ends:
        tick = min(named, key=lambda x: abs(x - line.x0))
        at = named[tick] + line.x0 - tick
        if at > 1.0:
            yield Claim(source=f"{source}, measured", piece=mark, feature="length", value=at, near=_DRAWN)


def _high(line: Line) -> float:
    return max(line.y0, line.y1)


def _clock_over(sheet: Drawn, level: float) -> float:
    """The clock position written just over a clock line."""
    over = [t for t in sheet.texts if re.fullmatch(r"[\d.]+°", t.words) and abs(t.low - level - 0.8) < 0.1]
    return float(over[0].words.rstrip("°"))


def _callout(sheet: Drawn, x: float, y: float, radius: float) -> list[str]:
    """Name, size and place written in one of the quarters around a hole."""

    def beside(text: Text) -> bool:
        return abs(text.start - x - 1.0) < 0.05 or abs(text.end - x + 1.0) < 0.05

    for text in filter(beside, sheet.texts):
        found = re.fullmatch(r"(H\d+) +(Ø\S+).*", text.words)
        if not found or not any(
            abs(text.low - y - rise) < 0.05 for rise in (-radius - 6.6, radius + 4.0, radius + 7.8)
        ):
            continue
        below = [t.words for t in sheet.texts if beside(t) and abs(t.low - text.low + 3.8) < 0.05]
        return [found[1], found[2], *below]
    return []


def drilling_page(sheet: Drawn, source: str, style: Dimensions, schedule: list[Row]) -> Iterator[Claim]:
    """Holes of one post's plate, measured from the two thick lines, under the names written beside them."""
    post, body = re.match(r"(\S+) on ([^,]+),", title_of(sheet)).groups()  # type: ignore[union-attr]
    bars = sheet.thick(0.7)
    (upright,) = {round(line.x0, 2) for line in bars if line.upright and line.length > 20}
    (level,) = {round(line.y0, 2) for line in bars if line.level and abs(line.length - 100.0) > 0.5}
    names = {t.words: lengths(t.words.split("axis")[1], style)[0] for t in sheet.texts if "axis" in t.words}
    assert len(names) == 2
    rows = [row for row in schedule if row["part"] == body and row["hole"].rsplit(".", 1)[0] == post]
    holes = sheet.holes()
    yield Claim(source=source, piece=post, feature="plate holes", value=len(holes), near=0)
    yield Claim(source="drill_schedule", piece=post, feature="plate holes", value=len(rows), near=0)
    middle_x = sum(h.x for h in holes) / len(holes)
    middle_y = sum(h.y for h in holes) / len(holes)
    for text, (value, near) in names.items():
        turned = next(t for t in sheet.texts if t.words == text).turned
        measured = abs(middle_x - upright) if turned else abs(middle_y - level)
        feature = f"axis from {text.split(':')[0]}"
        yield Claim(source=f"{source}, text", piece=post, feature=feature, value=value, near=near)
        yield Claim(source=f"{source}, measured", piece=post, feature=feature, value=measured, near=_DRAWN)
    yield from _pattern(source, post, [(hole.x, hole.y) for hole in holes])
    yield from _pattern("drill_schedule", post, [(float(r["from_nosing_mm"]), float(r["from_edge_mm"])) for r in rows])
    if any(" edge of landing" in text for text in names):
        return  # a corner post's lines are not those of its rows
    for hole in holes:
        nosing, edge = abs(hole.x - upright), abs(hole.y - level)
        name, size = _callout(sheet, hole.x, hole.y, hole.diameter / 2)
        row = next(row for row in rows if row["hole"] == f"{post}.{name}")
        ((said, near),) = lengths(size, style)[:1]
        yield Claim(source=source, piece=body, feature=f"{row['hole']} diameter", value=said, near=near)
        for feature, value in (
            ("from nosing", math.copysign(nosing, float(row["from_nosing_mm"]))),
            ("from edge", edge),
            ("diameter", hole.diameter),
        ):
            name = f"{row['hole']} {feature}"
            yield Claim(source=f"{source}, measured", piece=body, feature=name, value=value, near=_DRAWN)


def _pattern(source: str, post: str, spots: list[tuple[float, float]]) -> Iterator[Claim]:
    """Distances between the holes of a plate, shortest first."""
    apart = sorted(math.dist(a, b) for a, b in combinations(spots, 2))
    for number, value in enumerate(apart, start=1):
        yield Claim(source=source, piece=post, feature=f"hole distance {number}", value=value, near=_DRAWN)


def gauge_page(sheet: Drawn, source: str) -> Iterator[Claim]:
    """Each gauge's long mark, measured from its thick end."""
    butts = [line for line in sheet.thick(0.7) if line.upright and line.length > 20]
    for butt in butts:
        low, high = sorted((butt.y0, butt.y1))
        (axis,) = [line for line in sheet.thick(0.35) if line.upright and low - 0.01 <= min(line.y0, line.y1) < high]
        (title,) = [t for t in sheet.texts if " from " in t.words and low < t.low < high and t.words[0] != "C"]
        post, line = title.words.split(" from ", 1)
        feature = f"axis from {line}"
        yield Claim(source=f"{source}, measured", piece=post, feature=feature, value=axis.x0 - butt.x0, near=_DRAWN)
