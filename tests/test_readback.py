"""The reader of STEP text is right about solids of known make, written by the kernel's own exporter."""

from __future__ import annotations

import math
from pathlib import Path

import cadquery as cq
import pytest

from railgen.geometry import Vec
from tests.readback import Occurrence, read_step


def assembly(path: Path, *parts: tuple[str, cq.Workplane, cq.Location]) -> Path:
    whole = cq.Assembly(name="whole")
    for name, shape, at in parts:
        whole.add(shape, name=name, loc=at, color=cq.Color(0.2, 0.4, 0.6))
    whole.export(str(path))
    return path


def named(root: Occurrence, name: str) -> Occurrence:
    return next(occurrence for occurrence, _ in root.walk() if occurrence.name.startswith(name))


def test_holes_and_bosses_of_a_block(tmp_path: Path) -> None:
    block = cq.Workplane().box(60, 40, 20, centered=False).faces(">Z").workplane(origin=(0, 0, 20))
    block = (
        block.pushPoints([(15, 20), (45, 20)]).hole(8).faces(">Z").workplane(origin=(30, 20, 20)).circle(5).extrude(7)
    )
    read = read_step(assembly(tmp_path / "a.step", ("block", block, cq.Location())))
    (product,) = [product for product in read.products.values() if product.solids]
    holes = sorted((c for c in product.cylinders if c.hollow), key=lambda c: c.point.x)
    (boss,) = [c for c in product.cylinders if not c.hollow]
    assert [round(c.radius, 9) for c in holes] == [4, 4]
    assert [c.point for c in holes] == [Vec(15, 20, 0), Vec(45, 20, 0)]
    assert all(c.whole and c.spans == ((0, 20),) for c in holes)
    assert (boss.radius, boss.spans, boss.whole) == (5, ((20, 27),), True)
    (colour,) = product.colours
    assert colour == pytest.approx((0.2, 0.4, 0.6), abs=2e-3)


def test_a_cross_hole_has_two_walls_and_a_half_pipe_half_its_angles(tmp_path: Path) -> None:
    pipe = cq.Workplane().circle(20).circle(17).extrude(100)
    drilled = pipe.cut(cq.Workplane("YZ").workplane(offset=-30).center(0, 50).circle(4).extrude(60))
    half = pipe.cut(cq.Workplane().box(100, 50, 300).translate((0, -25, 0)))
    path = assembly(tmp_path / "a.step", ("drilled", drilled, cq.Location()), ("half", half, cq.Location()))
    products = {name.split("_")[0]: product for name, product in read_step(path).products.items()}
    (hole,) = [c for c in products["drilled"].cylinders if c.radius == 4]
    assert hole.hollow
    assert hole.whole
    assert len(hole.spans) == 2
    (low, high) = hole.spans
    assert (low[0], high[1]) == pytest.approx((-20, 20), abs=1e-2)
    assert (low[1], high[0]) == pytest.approx((-math.sqrt(17**2 - 16), math.sqrt(17**2 - 16)), abs=1e-2)
    for cylinder in products["half"].cylinders:
        assert not cylinder.whole
        assert sum(width for _, width in cylinder.angles) == pytest.approx(math.pi)


def test_placements_are_read_through_sub_assemblies(tmp_path: Path) -> None:
    part = cq.Workplane().box(10, 20, 30)
    inner = cq.Assembly(name="inner")
    inner.add(part, name="part", loc=cq.Location((0, 0, 50), (0, 0, 1), 90))
    outer = cq.Assembly(name="outer")
    outer.add(inner, name="inner", loc=cq.Location((100, 0, 0), (1, 0, 0), 90))
    outer.export(str(tmp_path / "a.step"))
    read = read_step(tmp_path / "a.step")
    frames = {occurrence.name: frame for occurrence, frame in read.root.walk()}
    frame = frames["part"]
    # 50 up, then the whole tipped about x: up becomes -y; the part's x (inner y) becomes up
    assert tuple(frame.origin) == pytest.approx((100, -50, 0), abs=1e-9)
    assert tuple(frame.x) == pytest.approx((0, 0, 1), abs=1e-9)
    assert tuple(frame.y) == pytest.approx((-1, 0, 0), abs=1e-9)
    assert tuple(frame.z) == pytest.approx((0, -1, 0), abs=1e-9)


def test_a_countersink_is_a_cone(tmp_path: Path) -> None:
    plate = cq.Workplane().box(40, 40, 10).faces(">Z").workplane().cskHole(6, 12, 90)
    read = read_step(assembly(tmp_path / "a.step", ("plate", plate, cq.Location())))
    (cone,) = [cone for product in read.products.values() for cone in product.cones]
    assert cone.half_angle == pytest.approx(math.pi / 4)
    assert (cone.smallest, cone.largest) == pytest.approx((3, 6), abs=1e-6)


def test_text_that_is_no_whole_file_is_refused(tmp_path: Path) -> None:
    path = assembly(tmp_path / "a.step", ("part", cq.Workplane().box(1, 2, 3), cq.Location()))
    (tmp_path / "cut.step").write_text(path.read_text()[:-40])
    with pytest.raises(ValueError, match="not a whole STEP file"):
        read_step(tmp_path / "cut.step")
