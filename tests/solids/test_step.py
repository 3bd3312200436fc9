"""STEP files say what the fabrication says, read back without the kernel, and are the same bytes in every process."""

from __future__ import annotations

import datetime
import hashlib
import math
import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from cadquery import Shape, Solid, Vector
from cadquery.occ_impl.importers import importStep

from railgen import solids
from railgen.errors import OutputError
from railgen.geometry import Frame, Vec
from railgen.job.model import Job, Side, site_frame
from railgen.layout import solve
from railgen.members import Fabrication, fabricate
from railgen.members.pieces import Fitting, FittingKind, Group, Hole, StairBody, Tube
from railgen.solids.palette import colours
from railgen.solids.products import product_names
from railgen.survey import survey_job
from tests import jobs
from tests.readback import Cylinder, StepFile, read_step
from tests.solids.demo import fitting, tube

K = FittingKind


def made(job: Job) -> tuple[Fabrication, Mapping[str, Solid]]:
    fabrication = fabricate(job, solve(job, survey_job(job)))
    return fabrication, solids.build_all(fabrication)


@pytest.fixture(scope="module")
def job() -> Job:
    placed = jobs.worked_job()
    return replace(placed, project=replace(placed.project, date=datetime.date(2031, 5, 17)))


@pytest.fixture(scope="module")
def rail(job: Job) -> tuple[Fabrication, Mapping[str, Solid]]:
    return made(job)


@pytest.fixture(scope="module")
def written(job: Job, rail: tuple[Fabrication, Mapping[str, Solid]], tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("step") / "assembly.step"
    solids.write_step(path, job, *rail)
    return path


@pytest.fixture(scope="module")
def read(written: Path) -> StepFile:
    return read_step(written)


def same_frame(a: Frame, b: Frame) -> bool:
    """Within the digits a STEP file prints."""
    return all((p - q).length < 1e-6 for p, q in ((a.origin, b.origin), (a.x, b.x), (a.z, b.z), (a.y, b.y)))


def test_each_occurrence_stands_where_the_fabrication_puts_it(rail: tuple[Fabrication, object], read: StepFile) -> None:
    fabrication, _ = rail
    assert read.root.name == "test"
    assert [group.name for group in read.root.children] == [group.value for group in Group]
    found = {occurrence.name: (occurrence.product, frame) for occurrence, frame in read.root.walk()}
    names = product_names(fabrication)
    for place in fabrication.placed:
        product, frame = found[place.id]
        assert product == names[place.mark]
        assert same_frame(frame, place.frame), place.id
    assert len(found) == len(fabrication.placed) + 1 + len(Group)


def test_each_distinct_solid_is_stored_once(rail: tuple[Fabrication, object], written: Path, read: StepFile) -> None:
    fabrication, _ = rail
    products = set(product_names(fabrication).values())
    assert written.read_text().count("MANIFOLD_SOLID_BREP(") == len(products)
    assert {mark for mark, piece in fabrication.pieces.items() if not isinstance(piece, StairBody)} < products
    assert all(read.products[name].solids == 1 for name in products)


def test_each_product_has_its_colour(rail: tuple[Fabrication, object], read: StepFile) -> None:
    fabrication, _ = rail
    for mark, colour in colours(fabrication).items():
        (found,) = read.products[mark].colours
        assert found == pytest.approx(colour, abs=1e-6)


def holes_on(cylinders: tuple[Cylinder, ...], hole: Hole, point: Vec, axis: Vec) -> Cylinder:
    """The one hollow cylinder of the hole's diameter about the hole's axis."""
    (found,) = (
        cylinder
        for cylinder in cylinders
        if cylinder.hollow
        and abs(2 * cylinder.radius - hole.diameter) < 1e-6
        and cylinder.off_axis(point) < 1e-4
        and abs(abs(cylinder.direction.dot(axis)) - 1) < 1e-9
    )
    return found


def test_every_hole_is_a_cylinder_of_its_piece(rail: tuple[Fabrication, object], read: StepFile) -> None:
    fabrication, _ = rail
    counted = 0
    names = product_names(fabrication)
    for mark, piece in fabrication.pieces.items():
        for hole in piece.holes:
            if isinstance(piece, Tube):
                frame = piece.hole_frame(hole)  # type: ignore[arg-type]
                point, axis = frame.origin, frame.z
            else:
                point, axis = hole.point, hole.axis  # type: ignore[union-attr]
            cylinder = holes_on(read.products[names[mark]].cylinders, hole, point, axis)
            assert cylinder.whole
            sign = 1 if cylinder.direction.dot(axis) > 0 else -1
            surface = sign * (point - cylinder.point).dot(cylinder.direction)
            reached = [sorted((sign * low, sign * high)) for low, high in cylinder.spans]
            sunk = (hole.countersink - hole.diameter) / 2 if hole.countersink else 0.0
            assert any(
                abs(high - (surface - sunk)) < 0.02 and low < surface - hole.depth + 0.5 for low, high in reached
            )
            counted += 1
    assert counted > 50


def test_nothing_is_bored_that_is_no_hole(rail: tuple[Fabrication, object], read: StepFile) -> None:
    """Hollow cylinders of tubes: the bore, and one for each axis of a hole."""
    fabrication, _ = rail
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, Tube):
            axes = {(round(h.distance, 4), round(h.clock % math.pi, 6), h.diameter) for h in piece.holes}
            hollow = [cylinder for cylinder in read.products[mark].cylinders if cylinder.hollow]
            assert len(hollow) == len(axes) + 1


@pytest.mark.parametrize(
    "piece",
    [tube((120, 30, 6.4, 2), (300, 200, 5, 1)), fitting(K.BASE_PLATE), fitting(K.ELBOW_FORK), fitting(K.SADDLE_CRADLE)],
    ids=lambda piece: piece.mark,
)
def test_a_single_piece_is_one_product_named_by_its_mark(piece: Tube | Fitting, tmp_path: Path) -> None:
    path = tmp_path / f"{piece.mark}.step"
    solid = solids.build_solid(piece)
    solids.write_part_step(path, piece, solid)
    product = read_step(path).products[piece.mark]
    assert product.solids == 1
    assert len(product.colours) == 1
    again = importStep(str(path)).val()
    assert isinstance(again, Shape)
    assert again.isValid()
    assert again.Volume() == pytest.approx(solid.Volume(), rel=3e-5)  # the kernel's own integration is no finer


def test_wall_and_far_wall_are_told_apart(tmp_path: Path) -> None:
    piece = tube((120, 30, 6.4, 2), (300, 200, 5, 1))
    solids.write_part_step(tmp_path / "R1.step", piece, solids.build_solid(piece))
    found = {round(c.radius, 3): c for c in read_step(tmp_path / "R1.step").products["R1"].cylinders if c.hollow}
    assert len(found[3.2].spans) == 2
    assert len(found[2.5].spans) == 1
    assert found[22.15].spans == ((0.0, 600.0),)


def test_a_base_plate_has_its_countersinks(tmp_path: Path) -> None:
    piece = fitting(K.BASE_PLATE)
    solids.write_part_step(tmp_path / "plate.step", piece, solids.build_solid(piece))
    cones = read_step(tmp_path / "plate.step").products[piece.mark].cones
    assert len(cones) == 4
    for cone in cones:
        assert cone.half_angle == pytest.approx(math.pi / 4)
        assert 2 * cone.largest == pytest.approx(12.6, abs=1e-6)
        assert 2 * cone.smallest == pytest.approx(6.6, abs=1e-6)


@pytest.mark.parametrize("side", list(Side))
def test_both_hands_keep_their_hand(side: Side, tmp_path: Path) -> None:
    """Read back with the kernel, each solid has its centre where its frame puts it: none came out as its mirror."""
    job = jobs.worked_job(side=side)
    fabrication, shapes = made(job)
    solids.write_step(tmp_path / "a.step", job, fabrication, shapes)
    compound = importStep(str(tmp_path / "a.step")).val()
    assert isinstance(compound, Shape)
    found = [solid.Center() for solid in compound.Solids()]
    assert len(found) == len(fabrication.placed)
    for place in fabrication.placed:
        centre = Vector(*place.frame.point(Vec(*shapes[place.mark].Center().toTuple())))
        assert min((centre - other).Length for other in found) < 1e-3, place.id


def test_the_assembly_stands_on_the_site(
    job: Job, rail: tuple[Fabrication, Mapping[str, Solid]], tmp_path: Path
) -> None:
    site = site_frame(Vec(12000, -3000, 450), math.radians(30))
    solids.write_step(tmp_path / "a.step", replace(job, site=site), *rail)
    found = {occurrence.name: frame for occurrence, frame in read_step(tmp_path / "a.step").root.walk()}
    for place in rail[0].placed:
        assert same_frame(found[place.id], place.frame.placed_in(site))


def test_the_file_is_ascii_in_millimetres_and_dated_by_the_job(written: Path) -> None:
    text = written.read_bytes()
    assert text.isascii()
    assert b"SI_UNIT(.MILLI.,.METRE.)" in text
    assert b"'2031-05-17T00:00:00'" in text
    assert text.rstrip().endswith(b"END-ISO-10303-21;")


def test_occurrences_are_numbered_from_one(written: Path, rail: tuple[Fabrication, object]) -> None:
    count = len(rail[0].placed) + len(Group)
    text = written.read_text()
    assert all(f"NEXT_ASSEMBLY_USAGE_OCCURRENCE('{number}'," in text for number in (1, 2, count))
    assert f"NEXT_ASSEMBLY_USAGE_OCCURRENCE('{count + 1}'," not in text


def test_what_cannot_be_written_is_an_error_and_leaves_nothing(
    job: Job, rail: tuple[Fabrication, Mapping[str, Solid]], tmp_path: Path
) -> None:
    fabrication, shapes = rail
    (tmp_path / "file").write_text("in the way")
    for name in ("file/a.step", "missing/a.step"):
        with pytest.raises(OutputError):
            solids.write_step(tmp_path / name, job, fabrication, shapes)
        with pytest.raises(OutputError):
            solids.write_stl(tmp_path / name, fabrication, shapes)
        with pytest.raises(OutputError):
            solids.write_glb(tmp_path / name, job, fabrication, shapes)
        with pytest.raises(OutputError):
            solids.write_part_step(tmp_path / name, fabrication.pieces["R1"], shapes["R1"])
    (tmp_path / "folder").mkdir()
    with pytest.raises(OutputError):  # a folder stands at the file's own place
        solids.write_step(tmp_path / "folder", job, fabrication, shapes)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "folder"]


SCRIPT = """
import sys
from pathlib import Path
from railgen import solids
from railgen.layout import solve
from railgen.members import fabricate
from railgen.survey import survey_job
from tests import jobs
folder, close = Path(sys.argv[1]), sys.argv[2] == "close"
turn = jobs.Turn.STRAIGHT if close else jobs.Turn.HALF_LEFT
job = jobs.worked_job(turn, fittings=jobs.hardware(close=close))
rail = fabricate(job, solve(job, survey_job(job)))
shapes = solids.build_all(rail)
solids.write_step(folder / "assembly.step", job, rail, shapes)
solids.write_stl(folder / "assembly.stl", rail, shapes)
solids.write_glb(folder / "assembly.glb", job, rail, shapes)
for mark, piece in rail.pieces.items():
    solids.write_part_step(folder / f"{mark}.step", piece, shapes[mark])
    solids.write_part_stl(folder / f"{mark}.stl", piece, shapes[mark])
"""


@pytest.mark.parametrize("family", ["far", "close"])
def test_two_processes_write_the_same_bytes(family: str, tmp_path: Path) -> None:
    digests = []
    for seed in ("1", "4711"):
        folder = tmp_path / seed
        folder.mkdir()
        path = os.pathsep.join([str(Path(__file__).parents[2]), *filter(None, sys.path)])
        setting = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": path}
        subprocess.run([sys.executable, "-c", SCRIPT, str(folder), family], env=setting, check=True)
        digests.append({f.name: hashlib.sha256(f.read_bytes()).hexdigest() for f in sorted(folder.iterdir())})
    assert digests[0] == digests[1]
    assert len(digests[0]) > 40
