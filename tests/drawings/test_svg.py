"""A sheet as SVG is the sheet of the PDF: the same lines, widths, dashes and texts at the same places."""

from __future__ import annotations

import dataclasses
import math
import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from xml.etree.ElementTree import Element, fromstring

import html5lib
import numpy as np
import pdfplumber
import pytest
from numpy.typing import NDArray
from pdfplumber.page import Page
from scipy.spatial import cKDTree

from railgen.drawings import Setting, Sheet, svg_text, write_pdf
from railgen.drawings.sheet import Arc, Box, Dimension, Item, Label, Line, Pen, Scale
from railgen.drawings.sheet import Path as Corners
from railgen.job.model import Project
from tests.drawings.conftest import JOBS, Made, make
from tests.jobs import worked_job

POINT = 25.4 / 72  # mm
NEAR = 0.05  # mm
TAGS = {"svg", "title", "desc", "rect", "g", "path", "circle", "text"}
Row = tuple[float, ...]


def tree(sheet: Sheet) -> Element:
    """The picture as XML reads it, without its name space."""
    root = fromstring(svg_text(sheet))  # noqa: S314 - our own text
    for element in root.iter():
        element.tag = element.tag.rpartition("}")[2]
    return root


def texts(sheet: Sheet) -> list[str]:
    return [text.text or "" for text in tree(sheet).iter("text")]


def strokes(root: Element) -> Iterator[tuple[float, tuple[float, ...], Element]]:
    """Width and dashes of each line drawn, with the line."""
    for group in root.iter("g"):
        if group.get("stroke") != "none":
            dashes = tuple(map(float, group.get("stroke-dasharray", "").split()))
            for element in group:
                yield float(group.attrib["stroke-width"]), dashes, element


def runs(data: str) -> Iterator[list[tuple[float, float]]]:
    """The corners of each run of straight lines in path data."""
    for part in re.findall(r"M[^MA]*", re.sub(r"M[^MA]*A[^M]*", "", data)):
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", part)]
        corners = list(zip(numbers[::2], numbers[1::2], strict=True))
        yield [*corners, corners[0]] if part.endswith("Z") else corners


def edge(width: float, dashes: tuple[float, ...], a: tuple[float, float], b: tuple[float, float]) -> Row:
    """A straight line as numbers to compare: which of its ends was first does not count."""
    (x, y), (u, v) = a, b
    slope = (u - x) * (v - y) / max(math.dist(a, b), 1e-9)
    return (x + u) / 2, (y + v) / 2, abs(u - x), abs(v - y), slope, width, math.fsum(dashes)


def svg_edges(root: Element) -> list[Row]:
    return [
        edge(width, dashes, a, b)
        for width, dashes, element in strokes(root)
        if element.tag == "path"
        for run in runs(element.attrib["d"])
        for a, b in pairwise(run)
    ]


def svg_circles(root: Element) -> list[Row]:
    return [
        (float(e.attrib["cx"]), float(e.attrib["cy"]), float(e.attrib["r"]), width, math.fsum(dashes))
        for width, dashes, e in strokes(root)
        if e.tag == "circle"
    ]


def svg_arcs(root: Element) -> list[Row]:
    """Both ends of each arc and its middle, from the rule of SVG 2, appendix B.2.4, for circles."""
    found = []
    for width, dashes, element in strokes(root):
        for data in re.findall(r"M[^M]*A[^M]*", element.get("d", "")):
            x, y, r, _, _, large, sweep, u, v = (float(n) for n in re.findall(r"-?[\d.]+", data))
            half = math.hypot(u - x, v - y) / 2
            rise = math.sqrt(max(r * r - half * half, 0.0))
            bulge = r + rise if large else r - rise
            side = 1 if sweep else -1  # y runs down: sweep 1 bulges to the left of the way from start to end
            across = ((v - y) / (2 * half), -(u - x) / (2 * half))
            middle = ((x + u) / 2 + side * bulge * across[0], (y + v) / 2 + side * bulge * across[1])
            found.append((*edge(width, dashes, (x, y), (u, v)), *middle))
    return found


def svg_labels(root: Element) -> list[tuple[str, Row]]:
    """Text, where it starts and ends, and its size where it is level."""
    found: list[tuple[str, Row]] = []
    for group in root.iter("g"):
        for text in group.findall("text"):
            x, y, wide = (float(text.attrib[name]) for name in ("x", "y", "textLength"))
            turn = re.fullmatch(rf"rotate\((\S+) {text.attrib['x']} {text.attrib['y']}\)", text.get("transform", ""))
            angle = math.radians(float(turn[1])) if turn else 0.0
            back = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.get("text-anchor", "start")] * wide
            ends = [(x + s * math.cos(angle), y + s * math.sin(angle)) for s in (-back, wide - back)]
            size = 0.0 if turn else float(group.attrib["font-size"])
            found.append((text.text or "", (*ends[0], *ends[1], size)))
    return found


def pdf_items(page: Page) -> tuple[list[Row], list[Row], list[Row]]:
    """Straight lines, circles and arcs as the PDF has them."""
    edges: list[Row] = []
    circles: list[Row] = []
    arcs: list[Row] = []
    for item in (*page.lines, *page.curves, *page.rects):
        if not item["stroke"]:
            continue
        width = item["linewidth"] * POINT
        dashes = tuple((item["dash"] or ([], 0))[0])  # as they stand in the file, which draws in mm
        way = [(name, [(x * POINT, y * POINT) for x, y in points]) for name, *points in item["path"]]
        here = way[0][1][0]
        if any(name == "c" for name, _ in way):
            ends = [here, *(points[-1] for name, points in way if name == "c")]
            xs, ys = zip(*ends, strict=True)
            if math.dist(ends[0], ends[-1]) < NEAR:
                middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
                circles.append((*middle, (max(xs) - min(xs)) / 2, width, math.fsum(dashes)))
            else:
                arcs.append((*edge(width, dashes, here, ends[-1]), *middle_of(way)))
            continue
        first = here
        for name, points in way[1:]:
            there = first if name == "h" else points[-1]
            edges.append(edge(width, dashes, here, there))
            here = there
    return edges, circles, arcs


def middle_of(way: list[tuple[str, list[tuple[float, float]]]]) -> tuple[float, float]:
    """The point half way along an arc made of equal cubic curves."""
    spots = [points for _, points in way]
    half, odd = divmod(len(spots) - 1, 2)
    if not odd:
        return spots[half][-1]
    p = (spots[half][-1], *spots[half + 1])
    x, y = ((a + 3 * b + 3 * c + d) / 8 for a, b, c, d in zip(*p, strict=True))
    return x, y


def pdf_labels(page: Page, sheet: Sheet) -> list[tuple[str, Row]]:
    """The labels, which stand in the PDF in the order of the sheet; the last letter's own advance tells the end."""
    chars, found = iter(page.chars), []
    for label in sheet.labels():
        letters = [next(chars) for _ in label.text]
        a, b, _, _, x, y = letters[0]["matrix"]
        *_, u, v = letters[-1]["matrix"]
        ahead = letters[-1]["adv"]
        ends = (x, page.height - y, u + ahead * a, page.height - v - ahead * b)
        size = letters[0]["size"] if label.angle == 0 else 0.0
        found.append(("".join(letter["text"] for letter in letters), tuple(n * POINT for n in (*ends, size))))
    assert next(chars, None) is None
    return found


def compare(ours: list[Row], theirs: list[Row]) -> None:
    """Each of ours is one of theirs and the other way round, every number within 0.05."""
    assert len(ours) == len(theirs)
    if not ours:
        return
    one: NDArray[np.float64] = np.array(ours)
    other: NDArray[np.float64] = np.array(theirs)
    for a, b in ((one, other), (other, one)):
        far, _ = cKDTree(b).query(a, p=math.inf)
        assert far.max() <= NEAR, a[far.argmax()]


@pytest.fixture(params=["mill_half_turn", "mill_weir_steps_inch", "quarter-inner"])
def some(request: pytest.FixtureRequest) -> Made:
    return make(JOBS[request.param]())


def test_every_text_stands_in_the_picture_once(made: Made) -> None:
    for sheet in made.sheets:
        assert Counter(texts(sheet)) == Counter(label.text for label in sheet.labels())
        for dimension in (item for item in sheet.items if isinstance(item, Dimension)):
            values = [part.text for part in dimension.drawn if isinstance(part, Label)]
            assert dimension.text == " ".join(values)  # inches stand by themselves, under the line
            assert set(values) <= set(texts(sheet))


def test_lines_and_texts_lie_where_the_pdf_has_them(some: Made, tmp_path: Path) -> None:
    drawn: Counter[str] = Counter()
    sheets = (*some.set_out, *some.shop)
    write_pdf(sheets, tmp_path / "a.pdf")
    with pdfplumber.open(tmp_path / "a.pdf") as pdf:
        for sheet, page in zip(sheets, pdf.pages, strict=True):
            root = tree(sheet)
            edges, circles, arcs = pdf_items(page)
            compare(svg_edges(root), edges)
            compare(svg_circles(root), circles)
            compare(svg_arcs(root), arcs)
            ours, theirs = sorted(svg_labels(root)), sorted(pdf_labels(page, sheet))
            assert [text for text, _ in ours] == [text for text, _ in theirs]
            for text in {text for text, _ in ours}:
                compare([row for t, row in ours if t == text], [row for t, row in theirs if t == text])
            drawn += Counter(edges=len(edges), circles=len(circles), arcs=len(arcs), texts=len(ours))
    assert all(drawn[kind] > 0 for kind in ("edges", "circles", "arcs", "texts"))


def test_filled_shapes_are_filled_and_have_no_outline(half: Made) -> None:
    for sheet in half.sheets:
        filled = [item for item in sheet.flat() if isinstance(item, Corners) and item.filled]
        groups = [g for g in tree(sheet).iter("g") if g.get("fill") == "#000" and g.find("path") is not None]
        assert {group.get("stroke") for group in groups} <= {"none"}
        for item, path in zip(filled, [path for group in groups for path in group], strict=True):
            (run,) = runs(path.attrib["d"])
            for (x, y), (u, v) in zip(item.points, run[:-1], strict=True):
                assert (u, v) == pytest.approx((x, sheet.height - y), abs=0.005 + 1e-9)


def test_it_stands_alone_and_beside_others(made: Made) -> None:
    for sheet in made.sheets:
        root = tree(sheet)
        assert {element.tag for element in root.iter()} <= TAGS
        assert root.get("role") == "img"
        assert root.attrib["viewBox"] == f"0 0 {sheet.width:g} {sheet.height:g}"
        assert root.get("width") == "100%"
        assert [element.tag for element in root][:3] == ["title", "desc", "rect"]
        assert root.findtext("title") == sheet.title
        ground = root[2]
        assert (ground.get("fill"), ground.get("width"), ground.get("height")) == (
            "#fff",
            f"{sheet.width:g}",
            f"{sheet.height:g}",
        )
        names = {name for element in root.iter() for name in element.attrib}
        assert not names & {"id", "class", "style", "href"}
        assert not any(name.startswith("on") for name in names)


@pytest.mark.parametrize(
    "name",
    [
        "\"'><script>document.title='gone'</script><img src=x onerror=alert(1)></svg></text>&amp;<!--",
        "<![CDATA[ ]]> </title><foreignObject><p>",
        "Żółć 階段 лестница \u202eturned\u202c \x00\x0b",
    ],
)
def test_markup_in_names_stays_text(name: str) -> None:
    given = dataclasses.replace(worked_job(), project=Project(id="w", title=name, client=name, revision=name))
    made = make(given, dataclasses.replace(Setting.of(given), status=name))
    shown = "".join(char if char.isprintable() else "?" for char in name)
    for sheet in (*made.set_out, *made.shop):
        page = f"<!DOCTYPE html><html><head><title>t</title></head><body>{svg_text(sheet)}</body></html>"
        parser = html5lib.HTMLParser(tree=html5lib.getTreeBuilder("etree"), strict=True)
        found = parser.parse(page)
        tags = Counter(str(element.tag).rpartition("}")[2] for element in found.iter())
        assert set(tags) <= TAGS | {"html", "head", "body"}
        assert tags["title"] == 2
        assert tags["text"] == sum(1 for label in sheet.labels() if label.text.strip())
        assert any(len(text) > 9 and shown.startswith(text.rstrip("…")) for text in texts(sheet))
        assert not re.search(r"[\x00-\x08\x0b-\x1f\u202a-\u202e]", svg_text(sheet))


def corner_sheet(*items: Item) -> Sheet:
    frame = Box(left=0, bottom=0, right=200, top=100)
    return Sheet(
        name="s", title="S", width=200, height=100, scale=Scale(paper=1, real=1), frame=frame, bar=(0, 0), items=items
    )


def test_the_sheets_y_runs_up_and_the_pictures_down() -> None:
    root = tree(corner_sheet(Line(pen=Pen.OUTLINE, a=(10, 20), b=(30.006, 99.999))))
    (path,) = [g.find("path") for g in root.iter("g") if g.get("stroke-width") == "0.5"]
    assert path is not None
    assert path.get("d") == "M10 80L30.01 0"


@pytest.mark.parametrize("end", [0.3, 2.0, 4.5, 6.0])
def test_an_arc_goes_the_right_way_round(end: float) -> None:
    arc = Arc(pen=Pen.HOLE, centre=(100, 50), radius=30, start=0.1, end=end)
    ((*_, x, y),) = svg_arcs(tree(corner_sheet(arc)))
    half = (0.1 + end) / 2
    assert (x, y) == pytest.approx((100 + 30 * math.cos(half), 50 - 30 * math.sin(half)), abs=NEAR)
