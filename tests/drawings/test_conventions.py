"""Sheets keep the conventions of ISO 129-1:2018 and ISO 128-2:2020 (from memory), and carry the notes of the job."""

from __future__ import annotations

import dataclasses
import math
import re
from itertools import pairwise

import pytest

from railgen.drawings import Setting, Sheet
from railgen.drawings.dims import reach, running
from railgen.drawings.interrupt import interrupted
from railgen.drawings.lettering import SMALL, width
from railgen.drawings.sheet import Align, Circle, Dimension, Label, Line, Measure, Path, Pen, Point
from railgen.job.order_model import Finish
from railgen.members.pieces import Tube
from railgen.units import Dimensions
from tests.drawings.conftest import JOBS, Made, make
from tests.jobs import worked_job


def dims(sheet: Sheet, measure: Measure) -> list[Dimension]:
    return [item for item in sheet.items if isinstance(item, Dimension) and item.measure is measure]


def off_line(point: Point, line: Point, angle: float) -> float:
    """How far a point lies to the left of a line through ``line`` along ``angle``."""
    return (point[1] - line[1]) * math.cos(angle) - (point[0] - line[0]) * math.sin(angle)


def letters(label: Label) -> tuple[Point, Point]:
    """Two corners of a text's letters across it: where they stand, and where they end."""
    up = (-math.sin(label.angle), math.cos(label.angle))
    return label.at, (label.at[0] + up[0] * label.height, label.at[1] + up[1] * label.height)


def test_values_stand_over_their_line_and_inches_under_it(made: Made) -> None:
    """ISO 129-1: parallel to the dimension line, above it and clear of it."""
    seen = 0
    for sheet in (*made.shop, *made.set_out):
        for item in dims(sheet, Measure.LENGTH):
            first, *others = [part for part in item.drawn if isinstance(part, Label)]
            assert all(off_line(p, item.line, first.angle) > 0.5 for p in letters(first)), (sheet.name, item.text)
            assert -math.pi / 2 < first.angle <= math.pi / 2 + 1e-9  # read from below or from the right
            for under in others:
                assert under.text.startswith("[")
                assert all(off_line(p, item.line, first.angle) < -0.5 for p in letters(under)), (sheet.name, item.text)
            seen += 1
    assert seen > 5


def test_running_dimensions_begin_at_a_ring_and_end_in_one_arrow_each(made: Made) -> None:
    """ISO 129-1: the origin is a circle, values stand at the ends of the extension lines."""
    for sheet in (*made.shop, *made.set_out):
        for item in dims(sheet, Measure.RUNNING):
            rings = [part for part in item.drawn if isinstance(part, Circle)]
            arrows = [part for part in item.drawn if isinstance(part, Path) and part.filled]
            assert (len(rings), len(arrows)) == ((1, 0) if item.text == "0" and item.first == item.second else (0, 1))


def test_extension_lines_leave_a_gap_and_go_beyond() -> None:
    spots = [((10.0, 0.0), 10.0, "10"), ((30.0, 5.0), 30.0, "30")]
    items = running((0.0, 0.0), spots, 0.0, (0.0, 12.0))
    for item, (x, y) in zip(items, [(0.0, 0.0), (10.0, 0.0), (30.0, 5.0)], strict=True):
        line = next(p for p in item.drawn if isinstance(p, Line) and abs(p.a[0] - x) < 1e-9 and abs(p.b[0] - x) < 1e-9)
        assert 0.5 <= line.a[1] - y <= 1.5
        assert 0.5 <= line.b[1] - 12.0 <= 3.0
    (ends,) = [max(part.at[1] for part in item.drawn if isinstance(part, Label)) for item in items[-1:]]
    assert ends + 0.1 < 12.0 + reach(["30"])


def test_thin_lines_are_interrupted_under_texts() -> None:
    line = Line(pen=Pen.DIMENSION, a=(0.0, 0.0), b=(100.0, 0.0))
    outline = Line(pen=Pen.OUTLINE, a=(0.0, 0.0), b=(100.0, 0.0))
    label = Label(at=(50.0, -1.0), text="MMMM", height=SMALL, align=Align.CENTRE)
    found = [item for item in interrupted([line, outline, label]) if isinstance(item, Line)]
    (whole,) = [item for item in found if item.pen is Pen.OUTLINE]
    assert whole == outline
    left, right = (item for item in found if item.pen is Pen.DIMENSION)
    assert (left.a, right.b) == ((0.0, 0.0), (100.0, 0.0))
    assert 40.0 < left.b[0] < 50.0 < right.a[0] < 60.0
    assert left.b[0] - 0.0 == pytest.approx(100.0 - right.a[0])
    apart = Label(at=(50.0, 1.0), text="MMMM", height=SMALL, align=Align.CENTRE)
    assert line in interrupted([line, apart])


def through(line: Line, label: Label, around: float | None = None) -> bool:
    """Whether a line has a point well inside the letters of a text, or within ``around`` (mm) of them."""
    wide = width(label.text, label.height, bold=label.bold)
    start = {Align.LEFT: 0.0, Align.CENTRE: -wide / 2, Align.RIGHT: -wide}[label.align]
    cos, sin = math.cos(label.angle), math.sin(label.angle)
    steps = max(2, math.ceil(math.dist(line.a, line.b) / 0.4))
    for n in range(steps + 1):
        x = line.a[0] + (line.b[0] - line.a[0]) * n / steps - label.at[0]
        y = line.a[1] + (line.b[1] - line.a[1]) * n / steps - label.at[1]
        along, up = x * cos + y * sin - start, y * cos - x * sin
        inset, lift = (0.4, 0.2 * label.height) if around is None else (-around, -around)
        if inset < along < wide - inset and lift < up < label.height - lift:
            return True
    return False


def test_no_thin_line_runs_through_a_text(made: Made) -> None:
    for sheet in (*made.shop, *made.set_out):
        labels = sheet.labels()
        for line in sheet.flat():
            if isinstance(line, Line) and line.pen in (Pen.DIMENSION, Pen.CENTRE):
                low, high = (f(line.a[0], line.b[0]) for f in (min, max))
                near = [label for label in labels if low - 60 < label.at[0] < high + 60]
                assert not [label.text for label in near if through(line, label)], sheet.name


def strokes(sheet: Sheet) -> list[Line]:
    """Every straight edge of what is built: stair, plates, posts and tubes."""
    built = [item for item in sheet.items if isinstance(item, Line | Path)]
    built = [item for item in built if item.pen in (Pen.OUTLINE, Pen.PLATE, Pen.STAIR)]
    found = [item for item in built if isinstance(item, Line)]
    for item in built:
        if isinstance(item, Path):
            points = (*item.points, item.points[0]) if item.closed else item.points
            found += [Line(pen=item.pen, a=a, b=b) for a, b in pairwise(points)]
    return found


@pytest.mark.parametrize("name", ["mill_quarter_turn", "quarter-outer", "quarter-inner"])
def test_no_text_of_a_quarter_turns_landing_touches_what_is_built(name: str) -> None:
    (sheet,) = (sheet for sheet in make(JOBS[name]()).set_out if sheet.name.startswith("setout-landing"))
    labels = [label for label in sheet.labels() if "cut length" in label.text or re.fullmatch(r"[\d.]+", label.text)]
    assert len(labels) > 5
    for line in strokes(sheet):
        assert not [label.text for label in labels if through(line, label, around=0.4)]


def test_notes_stand_on_the_sheets_of_the_pieces_they_concern() -> None:
    """General tolerances of ISO 2768-1 (from memory), holes and angles; finish, weep holes, welds as the job says."""
    finish = Finish(
        surface="grit 320, brushed along the tube",
        weep_holes="6 mm at the lowest point of every closed tube",
        welds="none on site",
        protection="film until hand-over",
    )
    given = worked_job()
    made = make(dataclasses.replace(given, order=dataclasses.replace(given.order, finish=finish)))
    tubes = {piece.mark for piece in made.fabrication.pieces.values() if isinstance(piece, Tube)}
    assert tubes
    for sheet in made.shop:
        words = " ".join(label.text for label in sheet.labels())
        assert "ISO 2768-m; holes ±0.5; angles ±0.5°" in words
        for note in (finish.surface, finish.welds, finish.protection):
            assert note in words, (sheet.name, note)
        assert ("6 mm at the lowest point" in words) is (sheet.name.removeprefix("shop-") in tubes)
    plain = make(given)
    assert not any(label.text == "Weep holes" for sheet in plain.shop for label in sheet.labels())


@pytest.mark.parametrize(
    ("style", "words"),
    [
        (Dimensions.MM, ""),
        (Dimensions.SIXTEENTH, "drill from the templates"),
        (Dimensions.BOTH, "mm govern; inches in brackets are rounded"),
    ],
)
def test_sheets_say_where_rounding_takes_more_than_holes_allow(style: Dimensions, words: str) -> None:
    given = worked_job()
    made = make(dataclasses.replace(given, order=dataclasses.replace(given.order, dimensions=style)))
    for sheet in made.shop:
        text = " ".join(label.text for label in sheet.labels())
        assert ("Rounding" in text) is bool(words)
        assert words in text


def test_every_drawing_says_its_standard_and_not_to_be_scaled(half: Made) -> None:
    for sheet in (*half.shop, *half.set_out):
        texts = [label.text for label in sheet.labels()]
        assert "ISO 128, ISO 129-1" in texts
        assert any("do not scale" in text for text in texts)
        assert "mm; angles in degrees" in texts


def test_gaps_between_running_values_are_theirs(half: Made) -> None:
    """Chains are in brackets and differ by what is written from the datum."""
    for sheet in half.shop:
        runs = sorted({round(float(d.text), 1) for d in dims(sheet, Measure.RUNNING)})
        chain = [d for d in dims(sheet, Measure.LENGTH) if d.text.startswith("(")]
        allowed = {round(b - a, 1) for a, b in pairwise(runs)}
        assert all(round(float(d.text.strip("()")), 1) in allowed for d in chain)
    assert Setting.of(half.job).figures.style.value == "mm"
