"""Templates measured in the PDF with another library, in mm from what it finds on the page."""

from __future__ import annotations

import math
from pathlib import Path

import ezdxf
import pdfplumber
import pytest

from railgen.drawings import Paper, write_dxf, write_pdf
from railgen.drawings.references import references
from railgen.drawings.sheet import Circle, Label, Line, Pen
from railgen.job.model import Side
from railgen.members.pieces import Purpose, StairBody, Tube
from tests.drawings.conftest import Made, make
from tests.jobs import setbacks, worked_job

MM = 72 / 25.4
NEAR = 0.1  # mm


def centres(page: object) -> list[tuple[float, float, float]]:
    """x, y (down) and diameter of every circle on a page, mm."""
    found = []
    for curve in page.curves:  # type: ignore[attr-defined]
        wide, high = curve["x1"] - curve["x0"], curve["bottom"] - curve["top"]
        if abs(wide - high) < 0.05 and len(curve["pts"]) >= 4:
            middle = ((curve["x0"] + curve["x1"]) / 2 / MM, (curve["top"] + curve["bottom"]) / 2 / MM)
            found.append((*middle, wide / MM))
    return found


def lines(page: object, *, upright: bool, thick: float) -> list[tuple[float, float]]:
    """Place and length (mm) of straight lines of a width (mm), upright or level."""
    found = []
    for line in page.lines:  # type: ignore[attr-defined]
        if abs(line["linewidth"] / MM - thick) > 0.02:
            continue
        wide, high = abs(line["x1"] - line["x0"]) / MM, abs(line["bottom"] - line["top"]) / MM
        if upright and wide < 0.01:
            found.append((line["x0"] / MM, high))
        if not upright and high < 0.01:
            found.append((line["top"] / MM, wide))
    return found


@pytest.fixture
def book(made: Made, tmp_path: Path) -> pdfplumber.PDF:
    write_pdf(made.templates, tmp_path / "t.pdf")
    with pdfplumber.open(tmp_path / "t.pdf") as pdf:
        yield pdf


def test_check_bar_measures_100(book: pdfplumber.PDF) -> None:
    for page in book.pages:
        assert any(abs(long - 100.0) < NEAR for _, long in lines(page, upright=False, thick=0.7))


def test_strips_are_true(made: Made, book: pdfplumber.PDF) -> None:
    """Around is pi times the diameter, holes of one clock position are as far apart as the members say."""
    pages = list(zip(made.templates, book.pages, strict=True))
    for tube in (p for p in made.fabrication.pieces.values() if isinstance(p, Tube) and p.holes):
        around = math.pi * tube.section.od
        mine = [(s, p) for s, p in pages if s.title.split(",")[0] == tube.mark and "strip" in s.title]
        assert mine
        shown: set[str] = set()
        for sheet, page in mine:
            edges = sorted({round(y, 3) for y, long in lines(page, upright=False, thick=0.5) if long > 20})
            if "tile" not in sheet.title:
                assert edges[-1] - edges[0] == pytest.approx(around, abs=NEAR)
                ends = sorted(x for x, high in lines(page, upright=True, thick=0.5) if high > 20)
                assert ends[-1] - ends[0] == pytest.approx(tube.length, abs=NEAR)
            names = {hole.id: hole for hole in tube.holes}
            words = [w["text"] for w in page.extract_words()]
            here = [names[w] for w in words if w in names]
            shown |= {hole.id for hole in here}
            assert {"0°", "90°", "180°", "270°"} <= set(words)
            circles = centres(page)
            for hole in here:
                assert any(abs(d - hole.diameter) < NEAR for _, _, d in circles)
            for one in here:  # every pair: along by distance, around by arc
                for other in here:
                    dx = other.distance - one.distance
                    turn = (other.clock - one.clock) % math.tau
                    arcs = [turn * tube.section.od / 2, turn * tube.section.od / 2 - around]
                    assert any(
                        abs(b[0] - a[0] - dx) < NEAR
                        and any(abs(b[1] - a[1] - arc) < NEAR for arc in arcs)
                        and abs(a[2] - one.diameter) < NEAR
                        and abs(b[2] - other.diameter) < NEAR
                        for a in circles
                        for b in circles
                    ), (sheet.title, one.id, other.id)
        assert shown == {hole.id for hole in tube.holes}


def test_drilling_templates_are_true(made: Made, book: pdfplumber.PDF) -> None:
    """Holes from nosing and edge as the members measure them (posts of a flight), by circles and thick lines."""
    pages = list(zip(made.templates, book.pages, strict=True))
    checked = 0
    for body in (p for p in made.fabrication.pieces.values() if isinstance(p, StairBody)):
        for post in made.layout.posts:
            holes = [h for h in body.holes if h.id.rsplit(".", 1)[0] == post.id]
            found = [(s, p) for s, p in pages if s.title.startswith(f"{post.id} on {body.mark},")]
            if not holes or len(found) != 1 or post.setback is None or post.setback.tread == 0:
                continue
            page = found[0][1]
            nosing = [x for x, high in lines(page, upright=True, thick=0.7) if high > 20]
            edge = [y for y, wide in lines(page, upright=False, thick=0.7) if wide > 101]
            assert len(nosing) == len(edge) == 1
            for hole in holes:
                assert any(
                    abs(abs(x - nosing[0]) - hole.from_nosing) < NEAR
                    and abs(abs(y - edge[0]) - hole.from_edge) < NEAR
                    and abs(d - hole.diameter) < NEAR
                    for x, y, d in centres(page)
                ), (found[0][0].title, hole.id)
                checked += 1
    tiled = all("tile 1" in s.title or "tile 2" in s.title for s, _ in pages if "drilling template" in s.title)
    assert checked >= 8 or tiled  # wide plates far from the edge come on two sheets each


def test_gauges_are_as_long_as_the_setbacks(half: Made, tmp_path: Path) -> None:
    sheets = [s for s in half.templates if "gauges" in s.title]
    write_pdf(sheets, tmp_path / "g.pdf")
    with pdfplumber.open(tmp_path / "g.pdf") as pdf:
        found = []
        for page in pdf.pages:
            butts = [x for x, high in lines(page, upright=True, thick=0.7) if high > 20]
            assert butts
            found += [x - butts[0] for x, _ in lines(page, upright=True, thick=0.35)]
    wanted = []
    for at in setbacks(half.layout):
        wanted += [250.0 - at.distance if at.tread == 0 else at.distance, 60.0]  # the job's edge offset
    assert found == pytest.approx(wanted, abs=NEAR)


def test_pages_are_of_the_paper_named(made: Made, book: pdfplumber.PDF) -> None:
    for sheet, page in zip(made.templates, book.pages, strict=True):
        assert (page.width / MM, page.height / MM) == pytest.approx((sheet.width, sheet.height), abs=0.01)


def test_corner_posts_are_measured_from_the_landings_outer_edges() -> None:
    given = worked_job(side=Side.RIGHT)
    made = make(given)
    corners = [post for post in made.layout.posts if post.setback is None]
    assert len(corners) == 2
    for post in corners:
        lines = references(given, made.layout, made.fabrication, post)
        assert [line.distance for line in lines] == pytest.approx([60.0, 60.0], abs=1e-6)  # the job's edge offset
        assert abs(lines[0].towards.dot(lines[1].towards)) < 1e-9


def test_templates_as_dxf_are_sound_and_true(half: Made, tmp_path: Path) -> None:
    for sheet in half.templates:
        write_dxf(sheet, tmp_path / "t.dxf")
        doc = ezdxf.readfile(tmp_path / "t.dxf")
        auditor = doc.audit()
        assert (auditor.errors, auditor.fixes) == ([], [])
        assert not doc.modelspace().query("SPLINE ELLIPSE")
        drawn = sorted(c.radius * 2 for c in sheet.items if isinstance(c, Circle) and c.pen is Pen.HOLE)
        found = sorted(c.dxf.radius * 2 for c in doc.modelspace().query("CIRCLE[layer=='HOLE']"))
        assert found == pytest.approx(drawn)


def test_papers_are_the_published_sizes() -> None:
    """ISO 216:2007, A3 and A4; ANSI/ASME Y14.1, sizes B and A: 11 by 17 and 8-1/2 by 11 inches (from memory)."""
    assert (Paper.ISO.sheet, Paper.ISO.page) == ((420.0, 297.0), (210.0, 297.0))
    assert Paper.US.sheet == pytest.approx((17 * 25.4, 11 * 25.4))
    assert Paper.US.page == pytest.approx((8.5 * 25.4, 11 * 25.4))


def test_a_strip_draws_each_witness_mark_from_the_end_to_its_hole(half: Made) -> None:
    for tube in (piece for piece in half.fabrication.pieces.values() if isinstance(piece, Tube)):
        screws = [hole for hole in tube.holes if hole.purpose is Purpose.ELBOW_SCREW]
        tiles = [s for s in half.templates if f"{s.name}-".startswith(f"template-{tube.mark}-")]
        items = [item for tile in tiles for item in tile.items]
        told = [item for item in items if isinstance(item, Label) and item.text.endswith("witness mark")]
        assert len(told) == len(screws)
        for hole in screws:
            inset = min(hole.distance, tube.length - hole.distance)
            drawn = [math.dist(item.a, item.b) for item in items if isinstance(item, Line) and item.pen is Pen.HOLE]
            assert any(abs(long - inset) < 1e-6 for long in drawn)
