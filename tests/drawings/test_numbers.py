"""What the sheets say is what the members say."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import ezdxf
import pdfplumber
import pytest

from railgen.drawings import Sheet, write_dxf, write_pdf
from railgen.drawings.breaks import map_length
from railgen.drawings.ends import finish_outline, free_ends
from railgen.drawings.sheet import Dimension, Measure, Scale
from railgen.drawings.unrolled import arc_length
from railgen.job.model import EndFinish
from railgen.members.facts import plate_volume, tube_volume
from railgen.members.pieces import Fitting, FittingKind, StairBody, Tube
from railgen.survey import FlightSurvey
from railgen.units import MM_PER_INCH, Dimensions, Figures, Unit, parse_length
from tests.drawings.conftest import Made
from tests.jobs import setbacks


def written(text: str, style: Dimensions) -> float:
    """What a text says in the unit that governs."""
    return parse_length(text.partition(" [")[0], Unit.MM if style.startswith("mm") else Unit.INCH)


def tubes(made: Made) -> list[tuple[Tube, Sheet]]:
    sheets = {sheet.name: sheet for sheet in made.shop}
    return [(p, sheets[f"shop-{p.mark}"]) for p in made.fabrication.pieces.values() if isinstance(p, Tube)]


def tolerance(made: Made) -> float:
    """Half the last digit written, from what was rounded to 0.001 before (mm)."""
    style, before = made.job.order.dimensions, 0.0005 + 1e-9
    if style is Dimensions.SIXTEENTH:
        return MM_PER_INCH / 32 + before
    return MM_PER_INCH / 2000 + before if style is Dimensions.INCH else 0.05 + before


def test_running_dimensions_of_every_tube_are_its_holes_and_length(made: Made) -> None:
    for tube, sheet in tubes(made):
        true = sorted({0.0, *(hole.distance for hole in tube.holes), tube.length})
        found = [d for d in sheet.items if isinstance(d, Dimension) and d.measure is Measure.RUNNING]
        assert sorted(d.value for d in found) == pytest.approx(true, abs=1e-9)
        for d in found:
            assert written(d.text, made.job.order.dimensions) == pytest.approx(d.value, abs=tolerance(made))


def test_dxf_says_the_same_and_is_sound(made: Made, tmp_path: Path) -> None:
    pieces = {p.mark: p for p in made.fabrication.pieces.values() if isinstance(p, Tube)}
    for sheet in (*made.shop, *made.set_out):
        path = tmp_path / f"{sheet.name}.dxf"
        write_dxf(sheet, path)
        doc = ezdxf.readfile(path)
        auditor = doc.audit()
        assert (auditor.errors, auditor.fixes) == ([], [])
        assert (doc.header["$INSUNITS"], doc.header["$MEASUREMENT"], doc.modelspace().units) == (4, 1, 4)
        space = doc.modelspace()
        dims = space.query("DIMENSION")
        drawn = [item for item in sheet.items if isinstance(item, Dimension)]
        assert [d.dxf.text for d in dims] == [item.text for item in drawn]
        for entity, item in zip(dims, drawn, strict=True):
            if item.measure is Measure.LENGTH and not item.broken:  # what a reader measures is the true length
                assert entity.get_measurement() == pytest.approx(item.value, abs=2 * tolerance(made)), item
            assert doc.blocks.get(entity.dxf.geometry) is not None
        bars = [line for line in space.query("LINE[layer=='REFERENCE']") if line.dxf.start.y == line.dxf.end.y]
        assert [abs(line.dxf.end.x - line.dxf.start.x) for line in bars] == pytest.approx([100.0], abs=1e-9)
        words = [text.dxf.text for text in space.query("TEXT")]
        assert any("1 unit = 1 mm" in text for text in words)
        off = any(
            abs(entity.get_measurement() - entity.dxf.actual_measurement) > 2 * tolerance(made)
            for entity in dims
            if entity.dimtype == 0
        )
        assert any("do not measure the file" in text for text in words) is off, sheet.name
        tube = pieces.get(sheet.name.removeprefix("shop-"))
        if tube is not None:  # the unrolled surface has one true circle for each hole
            circles = [round(c.dxf.radius * 2, 6) for c in space.query("CIRCLE[layer=='HOLE']")]
            for hole in tube.holes:
                assert circles.count(round(hole.diameter, 6)) >= sum(h.diameter == hole.diameter for h in tube.holes)


def test_pdf_text_has_every_number_of_every_piece(made: Made, tmp_path: Path) -> None:
    figures = Figures(style=made.job.order.dimensions)
    for tube, sheet in tubes(made):
        more = [s for s in made.shop if re.fullmatch(rf"shop-{tube.mark}-\d+", s.name)]
        write_pdf([sheet, *more], tmp_path / "one.pdf")
        with pdfplumber.open(tmp_path / "one.pdf") as pdf:
            text = "\n".join(page.extract_text() for page in pdf.pages)
        for hole in tube.holes:
            start = f"{hole.id} {figures.length(hole.distance)} "
            rest = next(line for line in text.splitlines() if line.startswith(start)).removeprefix(start)
            assert float(rest.split("°")[0]) == pytest.approx(math.degrees(hole.clock) % 360, abs=0.05 + 1e-9)
            assert f" {figures.drill(hole.diameter)} " in rest
        assert figures.named(tube.length) in text
        assert text.count("0° from square, 90° from") == 2  # one cut for each end, told both ways


def free_reaches(made: Made, flight: FlightSurvey, bottom: bool) -> tuple[float, ...]:
    """How far the rail reaches beyond its end post, and beyond its nosing, from what the job asks for.

    An overhang is measured along the tube from the saddle's foot, which stands square to the tube off the pivot over
    the post's axis. Nothing at an end of the flight where the rail goes on.
    """
    flights, hardware, posts = made.layout.survey.flights, made.job.hardware, made.layout.posts
    if flight is not flights[0 if bottom else -1]:
        return ()
    free, post = (made.job.rail.bottom, posts[0]) if bottom else (made.job.rail.top, posts[-1])
    at = (post.base - flight.foot).dot(flight.ahead)
    if free.level is not None:
        nosing = flight.tread_x(0) if bottom else flight.xs[-1]
        return free.level + (at - nosing) * (1 if bottom else -1), free.level
    (pitch,) = (rail.pitch for rail in made.layout.rails if rail.flight == flight.flight.number)
    pivot = hardware.adjustable_saddle.pivot_to_centre * math.sin(pitch)
    beyond = free.overhang * math.cos(pitch) + (pivot if bottom else -pivot)
    return beyond, beyond - at if bottom else beyond + at - flight.xs[-1]


def test_plans_show_how_far_the_rail_reaches_beyond_its_end_posts(made: Made) -> None:
    flights = made.layout.survey.flights
    plans = [s for s in made.set_out if s.name.startswith("setout-plan") and "posts" not in s.name]
    for sheet, flight, bottom in ((plans[0], flights[0], True), (plans[-1], flights[-1], False)):
        beyond, _ = free_reaches(made, flight, bottom)
        values = [item.value for item in sheet.items if isinstance(item, Dimension)]
        assert any(value == pytest.approx(beyond, abs=1e-6) for value in values), (sheet.name, beyond, values)


def test_scrolls_and_caps_are_as_large_as_the_catalogue_says(half: Made) -> None:
    """A curl of 200 degrees reaches the bend's radius and half the bar beyond the cut, and both twice below its top."""
    hardware, bottom = half.job.hardware, free_ends(half.job, half.layout)[0]
    capped = replace(bottom, finish=EndFinish.CAP)
    assert finish_outline(hardware, replace(bottom, finish=EndFinish.OPEN)) == ()
    for end, beyond, deep in (
        (replace(bottom, finish=EndFinish.SCROLL), hardware.end_scroll.bend_radius + hardware.tube.radius, None),
        (capped, hardware.end_cap.thickness, hardware.tube.od),
    ):
        outline = finish_outline(hardware, end)
        across = end.rail.left.cross(end.rail.direction)
        assert across.z < 0  # downwards
        assert max((p - end.tip).dot(end.out) for p in outline) == pytest.approx(beyond, rel=0.005)
        depths = [(p - end.tip).dot(across) for p in outline]
        assert min(depths) == pytest.approx(-hardware.tube.radius, abs=1e-9)
        assert max(depths) - min(depths) == pytest.approx(deep or 2 * beyond, rel=0.005)
        assert all(abs((p - end.tip).dot(end.rail.left)) < 1e-9 for p in outline)


def test_heights_and_setbacks_of_the_elevations_are_the_layouts(made: Made) -> None:
    for flight in made.layout.survey.flights:
        sheet = next(s for s in made.set_out if s.name == f"setout-flight-{flight.flight.number}")
        dims = [d for d in sheet.items if isinstance(d, Dimension)]
        upright = [d.value for d in dims if d.measure is Measure.LENGTH and abs(d.angle - math.pi / 2) < 1e-9]
        heights = [h.height for h in made.layout.heights if h.flight == flight.flight.number and h.height is not None]
        assert upright == pytest.approx(heights, abs=1e-6)
        level = [d.value for d in dims if d.measure is Measure.LENGTH and abs(d.angle) < 1e-9]
        set_back = [
            flight.flight.design_going - at.distance if at.tread == 0 else at.distance
            for at in setbacks(made.layout)
            if at.flight == flight.flight.number
        ]
        reaches = [reach for bottom in (True, False) for reach in sorted(free_reaches(made, flight, bottom))]
        shown = [reach for reach in reaches if reach * sheet.scale.ratio >= 1.0]  # on paper; shorter ones are left out
        assert level == pytest.approx(set_back + shown, abs=1e-6)
        pitch = [d.value for d in dims if d.measure is Measure.ANGLE]
        assert pitch == pytest.approx([r.pitch for r in made.layout.rails if r.flight == flight.flight.number])


def test_plate_sheet_has_the_plates_holes(made: Made) -> None:
    plate = made.job.hardware.base_plate
    sheet = next(s for s in made.shop if s.name == f"shop-{plate.id}")
    running = [d.value for d in sheet.items if isinstance(d, Dimension)]
    for edge, spacing in ((plate.length, plate.hole_spacing_length), (plate.width, plate.hole_spacing_width)):
        for value in (0.0, (edge - spacing) / 2, edge / 2, (edge + spacing) / 2, edge):
            assert any(abs(value - found) < 0.06 for found in running), value
    for value in (plate.thickness, plate.thickness + plate.rivet_height, plate.thickness + plate.socket_height):
        assert any(abs(value - found) < 1e-6 for found in running)


def test_masses_agree_with_the_solids(half: Made) -> None:
    from railgen.solids import build_solid

    for piece in half.fabrication.pieces.values():
        if isinstance(piece, Tube):
            assert tube_volume(piece) == pytest.approx(build_solid(piece).Volume(), rel=2e-4)
        elif isinstance(piece, Fitting) and piece.kind is FittingKind.BASE_PLATE:
            assert plate_volume(half.job.hardware.base_plate, piece.holes) == pytest.approx(
                build_solid(piece).Volume(), rel=2e-3
            )


def test_sixteenths_add_up() -> None:
    """Gaps are differences of rounded running lengths, so that they end where the last of these does."""
    figures = Figures(style=Dimensions.SIXTEENTH)
    stops = [0.0, 30.3, 61.1, 91.9, 122.2, 153.3]
    gaps = [written(figures.between(a, b), Dimensions.SIXTEENTH) for a, b in pairwise(stops)]
    assert sum(gaps) == pytest.approx(written(figures.length(stops[-1]), Dimensions.SIXTEENTH), abs=1e-9)
    for stop in stops:
        assert abs(written(figures.length(stop), Dimensions.SIXTEENTH) - stop) <= MM_PER_INCH / 32 + 1e-9


def test_breaks_shorten_only_what_they_must() -> None:
    scale = Scale(paper=1, real=2)
    found = map_length([0.0, 118.0, 162.0, 1047.0, 1091.0, 1983.0], scale, 10.0, 250.0)
    assert found is not None
    assert found.at(0.0) == 10.0
    assert found.at(1983.0) == pytest.approx(260.0)
    assert found.at(162.0) - found.at(118.0) == pytest.approx(22.0)  # 44 mm at 1:2
    assert found.at(1091.0) - found.at(1047.0) == pytest.approx(22.0)
    assert len(found.breaks) == 2
    assert found.broken(162.0, 1047.0)
    assert not found.broken(118.0, 162.0)


def test_arc_of_a_clock_position() -> None:
    assert arc_length(48.3, math.radians(90)) == pytest.approx(math.pi * 48.3 / 4)
    assert arc_length(48.3, 0.0, math.pi) == pytest.approx(math.pi * 48.3 / 2)


def test_every_stair_hole_is_on_a_template(made: Made) -> None:
    wanted = sum(len(p.holes) for p in made.fabrication.pieces.values() if isinstance(p, StairBody))
    sheets = [s for s in made.templates if "drilling" in s.title]
    from railgen.drawings.sheet import Circle, Pen

    found = [i for s in sheets for i in s.items if isinstance(i, Circle) and i.pen is Pen.HOLE]
    assert len(found) >= wanted > 0
