"""No text on another, nothing outside the frame, for every sheet of every job."""

from __future__ import annotations

import dataclasses
import itertools
from datetime import date

import pytest

from railgen.drawings import Paper, Setting, Sheet
from railgen.drawings.lettering import corners
from railgen.drawings.sheet import Arc, Circle, Line, Path, Point
from railgen.job.model import Project
from railgen.job.order_model import Finish, Projection
from railgen.units import Dimensions, Figures
from tests.drawings.conftest import Made, make
from tests.jobs import worked_job


def polygons_meet(one: tuple[Point, ...], other: tuple[Point, ...]) -> bool:
    """Overlap of two convex polygons by more than 0.05 mm: no edge's normal separates them."""
    for polygon in (one, other):
        for a, b in itertools.pairwise((*polygon, polygon[0])):
            normal = (a[1] - b[1], b[0] - a[0])
            size = (normal[0] ** 2 + normal[1] ** 2) ** 0.5
            first = [(normal[0] * p[0] + normal[1] * p[1]) / size for p in one]
            second = [(normal[0] * p[0] + normal[1] * p[1]) / size for p in other]
            if max(first) < min(second) + 0.05 or max(second) < min(first) + 0.05:
                return False
    return True


def overlaps(sheet: Sheet) -> list[tuple[str, str]]:
    shapes = [(label.text, corners(label)) for label in sheet.labels()]
    return [(a, b) for (a, one), (b, other) in itertools.combinations(shapes, 2) if polygons_meet(one, other)]


def outside(sheet: Sheet) -> list[str]:
    left, low, right, high = sheet.frame.left, sheet.frame.bottom, sheet.frame.right, sheet.frame.top

    def out(x: float, y: float) -> bool:
        return not (left - 1e-6 <= x <= right + 1e-6 and low - 1e-6 <= y <= high + 1e-6)

    found = [label.text for label in sheet.labels() if any(out(x, y) for x, y in corners(label))]
    for item in sheet.flat():
        if isinstance(item, Line):
            spots = [item.a, item.b]
        elif isinstance(item, Path):
            spots = list(item.points)
        elif isinstance(item, Circle | Arc):
            (x, y), r = item.centre, item.radius
            spots = [(x - r, y - r), (x + r, y + r)]
        else:
            continue
        # centring marks stand on the frame from outside (ISO 5457)
        mark = isinstance(item, Line) and item.pen.layer == "FRAME"
        found += [f"{item}" for x, y in spots if out(x, y) and not mark]
    return found


def test_no_two_texts_overlap(made: Made) -> None:
    assert {sheet.name: found for sheet in made.sheets if (found := overlaps(sheet))} == {}


def test_nothing_leaves_the_frame(made: Made) -> None:
    assert {sheet.name: found for sheet in made.sheets if (found := outside(sheet))} == {}


def test_names_of_sheets_are_distinct(made: Made) -> None:
    names = [sheet.name for sheet in made.sheets]
    assert len(set(names)) == len(names)


def test_every_made_piece_has_its_shop_drawing(made: Made) -> None:
    tubes = {mark for mark, piece in made.fabrication.pieces.items() if type(piece).__name__ == "Tube"}
    drawn = {sheet.name.removeprefix("shop-") for sheet in made.shop}
    assert tubes | {made.job.hardware.base_plate.id} <= drawn


def test_sheets_are_numbered_through(made: Made) -> None:
    for group in (made.shop, made.set_out):
        for number, sheet in enumerate(group, start=1):
            assert f"{number} of {len(group)}" in [label.text for label in sheet.labels()]
    for number, sheet in enumerate(made.templates, start=1):
        assert any(label.text.endswith(f"page {number} of {len(made.templates)}") for label in sheet.labels())


def test_title_block_says_all_it_must(half: Made) -> None:
    project = Project(id="w", title="Mill stair", client="Friends", revision="C", date=date(2026, 3, 14))
    given = dataclasses.replace(worked_job(), project=project)
    made = make(given, dataclasses.replace(Setting.of(given), status="CHECKS NOT MET"))
    for sheet in (*made.shop, *made.set_out):
        texts = {label.text for label in sheet.labels()}
        assert {"Mill stair", "Friends", "C", "2026-03-14", str(sheet.scale), "first angle", "CHECKS NOT MET"} <= texts
        assert any("mm" in text for text in texts)
        assert "Verify all dimensions on site before cutting or drilling." in texts
    for sheet in made.templates:
        texts = " ".join(label.text for label in sheet.labels())
        assert "CHECKS NOT MET" in texts
        assert "Mill stair; revision C; 2026-03-14" in texts
    assert not any(label.text == "CHECKS NOT MET" for sheet in half.sheets for label in sheet.labels())


@pytest.mark.parametrize("style", Dimensions)
@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("projection", Projection)
def test_other_settings_stay_clear_too(style: Dimensions, paper: Paper, projection: Projection) -> None:
    given = worked_job()
    finish = Finish(surface="s" * 80, weep_holes="w e " * 30, welds="TIG " * 20, protection="film until hand-over")
    figures = Figures(style=style)
    setting = Setting(figures=figures, paper=paper, projection=projection, finish=finish, status="CHECKS NOT MET")
    made = make(given, setting)
    assert {s.name: found for s in made.sheets if (found := overlaps(s) + outside(s))} == {}
    assert {(s.width, s.height) for s in (*made.shop, *made.set_out)} == {paper.sheet}
    assert all(tuple(sorted((s.width, s.height))) == tuple(sorted(paper.page)) for s in made.templates)


@pytest.mark.parametrize(
    "name",
    ['<b>bold</b> & "quoted" %%u ^J \\P {\\H3;x}', "W" * 200, "Żółć Łódź ÅØ µ 階段 лестница", "-", "a b " * 50],
)
def test_odd_names_stay_within_their_cells(name: str) -> None:
    given = dataclasses.replace(worked_job(), project=Project(id="w", title=name, client=name, revision=name))
    made = make(given, dataclasses.replace(Setting.of(given), status=name))
    assert {s.name: found for s in made.sheets if (found := overlaps(s) + outside(s))} == {}
