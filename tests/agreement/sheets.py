"""Claims of the shop and set-out sheets: what their texts say, and what their lines and circles measure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from railgen.units import Dimensions
from tests.agreement.claims import Claim, lengths
from tests.agreement.drawn import Circle, Drawn, Text

__all__ = ["mark_of", "plate_sheet", "posts_row", "table_rows", "tube_sheet"]

_DRAWN = 0.03  # mm on paper: what a line may be off
_CLOCK = 0.05  # degrees: half the last digit written
_ALIKE = 1e-3  # mm: what belongs to one row or column


def mark_of(sheet: Drawn) -> str:
    """The largest text's first word: the mark on a shop sheet, the mark in its title on a further page."""
    return max(sheet.texts, key=lambda text: text.height).words.split()[0]


def table_rows(sheet: Drawn, first: str) -> list[dict[str, str]]:
    """Rows of the table whose first heading is ``first``, cells under the headings they stand under."""
    near = 0.2 * sheet.paper
    corners = [text for text in sheet.texts if text.words == first]
    if not corners:
        return []
    (corner,) = corners
    headings = {text.words: text.start for text in sheet.texts if abs(text.low - corner.low) < near}
    left = [t for t in sheet.texts if abs(t.start - corner.start) < near and t.low < corner.low]
    found = []
    for text in sorted(left, key=lambda t: -t.low):
        cells = [t for t in sheet.texts if abs(t.low - text.low) < near]
        found.append({name: t.words for name, x in headings.items() for t in cells if abs(t.start - x) < near})
    return found


def tube_sheet(sheet: Drawn, source: str, style: Dimensions) -> Iterator[Claim]:
    """Hole table, running dimensions, unrolled circles, length and ends of one tube's sheet."""
    mark = mark_of(sheet)

    def said(feature: str, text: str) -> Iterator[Claim]:
        for value, near in lengths(text, style):
            yield Claim(source=f"{source}, text", piece=mark, feature=feature, value=value, near=near)

    rows = table_rows(sheet, "Hole")
    for row in rows:
        yield from said(f"{row['Hole']} station", row["From datum"])
        clock = float(row["Clock"].rstrip("°"))
        yield Claim(
            source=f"{source}, text", piece=mark, feature=f"{row['Hole']} clock", value=clock, near=_CLOCK + 1e-9
        )
        yield from said(f"{row['Hole']} diameter", row["Ø"])
    if not any(text.words == "Datum end" and text.turned for text in sheet.texts):
        return  # a further page of the table
    words = _facts(sheet)
    yield from said("length", words["Length"])
    for end, name in (("a", "Datum end"), ("b", "Far end")):
        found = re.search(r"([\d.]+)° from square, ([\d.]+)° from the axis", words[name])
        assert found, words[name]
        for value in (float(found[1]), 90.0 - float(found[2])):
            yield Claim(source=source, piece=mark, feature=f"end {end} from square", value=value, near=_CLOCK)
    yield from _measured(sheet, source, mark, style)


def _facts(sheet: Drawn) -> dict[str, str]:
    """Captions and the words beside them, down to the next caption."""
    near = 0.2 * sheet.paper
    section = next(text for text in sheet.texts if text.words == "Section")
    captions = sorted((t for t in sheet.texts if abs(t.start - section.start) < near), key=lambda t: -t.low)
    captions = [t for t in captions if t.low <= section.low + near and abs(t.height - section.height) < near]
    found = {}
    for caption, below in zip(captions, [*captions[1:], None], strict=True):
        low = below.low if below else float("-inf")
        beside = [
            t
            for t in sheet.texts
            if abs(t.start - section.start - 21 * sheet.paper) < near and low + near < t.low <= caption.low + near
        ]
        found[caption.words] = " ".join(t.words for t in sorted(beside, key=lambda t: -t.low))
    return found


def _measured(sheet: Drawn, source: str, mark: str, style: Dimensions) -> Iterator[Claim]:
    """Circles of the unrolled surface: along by the running dimension above them, around by the clock lines."""
    lines = sorted({round(line.y0, 4) for line in sheet.thick(0.18, 6.0) if line.level}, reverse=True)
    clocks = [_clock_beside(sheet, y) for y in lines]
    quarter = (lines[0] - lines[-1]) / (len(lines) - 1)
    holes = [c for c in sheet.holes() if lines[-1] - 1.01 * quarter < c.y < lines[0] + 1.01 * quarter]
    values = sorted(value for text in _running(sheet) for value in lengths(text.words, style)[:1])
    assert values[0][0] == 0.0
    stops, columns = values[1:], _columns(holes)
    yield Claim(source=f"{source}, running", piece=mark, feature="length", value=stops[-1][0], near=stops[-1][1])
    assert len(stops) - 1 == len(columns), (source, mark)
    found = []
    for (value, near), column in zip(stops, columns, strict=False):
        for hole in column:
            nearest = min(range(len(lines)), key=lambda i: abs(lines[i] - hole.y))
            clock = (clocks[nearest] + (lines[nearest] - hole.y) / quarter * 90.0) % 360.0
            found.append((value, round(clock, 3), near, hole))
    turn = _DRAWN * sheet.paper / quarter * 90.0
    yield Claim(source=source, piece=mark, feature="holes", value=len(found), near=0)
    for number, (value, clock, near, hole) in enumerate(sorted(found, key=lambda f: f[:2]), start=1):
        yield Claim(source=f"{source}, running", piece=mark, feature=f"H{number} station", value=value, near=near)
        yield Claim(source=f"{source}, circle", piece=mark, feature=f"H{number} clock", value=clock, near=turn)
        yield Claim(
            source=f"{source}, circle", piece=mark, feature=f"H{number} diameter", value=hole.diameter, near=_DRAWN
        )


def _columns(holes: Sequence[Circle]) -> list[list[Circle]]:
    found: list[list[Circle]] = []
    for hole in sorted(holes, key=lambda c: c.x):
        if found and hole.x - found[-1][0].x < _ALIKE:
            found[-1].append(hole)
        else:
            found.append([hole])
    return found


def _clock_beside(sheet: Drawn, level: float) -> float:
    """The clock position written at the left of a clock line."""
    beside = [t for t in sheet.texts if re.fullmatch(r"[\d.]+°", t.words) and abs(t.y - level) < 2.0 * sheet.paper]
    return float(min(beside, key=lambda t: t.x).words.rstrip("°"))


def _running(sheet: Drawn) -> list[Text]:
    """Values at the ends of upright extension lines: turned, in the larger of the two heights of dimensions."""
    return [t for t in sheet.texts if t.turned and abs(t.height / sheet.paper - 3.5) < 0.1]


def plate_sheet(sheet: Drawn, source: str, style: Dimensions) -> Iterator[Claim]:
    """Hole table of a base plate, and its plan measured from the middle of its outline."""
    mark, rows = mark_of(sheet), table_rows(sheet, "Hole")
    for row in rows:
        for feature, cell in (
            ("x", row["x"]),
            ("y", row["y"]),
            ("station", row["Height"]),
            ("diameter", row["Ø"]),
            ("countersink", row["Csk Ø"]),
        ):
            if cell != "-":
                for value, near in lengths(cell, style):
                    name = f"{row['Hole']} {feature}"
                    yield Claim(source=f"{source}, text", piece=mark, feature=name, value=value, near=near)
        if row["Clock"] != "-":
            clock = float(row["Clock"].rstrip("°"))
            yield Claim(source=source, piece=mark, feature=f"{row['Hole']} clock", value=clock, near=_CLOCK)
    yield Claim(source=f"{source}, text", piece=mark, feature="holes", value=len(rows), near=0)
    edges = sheet.thick(0.5)
    left, right = (f(line.x0 for line in edges if line.upright) for f in (min, max))
    low, high = (f(line.y0 for line in edges if line.level) for f in (min, max))
    middle = ((left + right) / 2, (low + high) / 2)
    inside = [c for c in sheet.holes() if left < c.x < right and low < c.y < high]
    spots = sorted({(-round(middle[0] - c.x, 2), -round(middle[1] - c.y, 2)) for c in inside})
    near = _DRAWN * sheet.paper
    for number, (x, y) in enumerate(spots, start=1):
        here = [
            c.diameter for c in inside if abs(middle[0] - c.x + x) < 2 * near and abs(middle[1] - c.y + y) < 2 * near
        ]
        for feature, value in (("x", -x), ("y", -y), ("diameter", min(here)), ("countersink", max(here))):
            if feature != "countersink" or len(here) > 1:
                name = f"H{number} {feature}"
                yield Claim(source=f"{source}, circle", piece=mark, feature=name, value=value, near=near)


def posts_row(sheet: Drawn, source: str, style: Dimensions, posts: Sequence[str]) -> Iterator[Claim]:
    """Running lengths of the posts along an elevation, in walking order."""
    label = next(text for text in sheet.texts if text.words == "Posts")
    row = [t for t in sheet.texts if t.turned and -5.5 < (t.high - label.low) / sheet.paper < -2.5]
    values = sorted(lengths(text.words, style)[0] for text in row)
    values.remove(next(said for said in values if said[0] == 0.0))  # the datum's own
    assert len(values) == len(posts), (source, values, posts)
    for post, (value, near) in zip(posts, values, strict=True):
        yield Claim(source=source, piece=post, feature="along the flight", value=value, near=near)
