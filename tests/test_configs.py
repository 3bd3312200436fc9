"""What every shipped job promises, read back from its written pack by readers that are not ours."""

from __future__ import annotations

import csv
import hashlib
import json
import math
import re
import struct
from pathlib import Path

import cadquery
import gmsh
import numpy as np
import pytest
import trimesh

import railgen
from railgen.members.pieces import Fitting, FittingKind, Group, StairBody, Tube
from tests.holes import missing_holes
from tests.overlap import overlaps
from tests.packs import BAD, CONFIGS, GOOD, BuiltPack, built_pack
from tests.readback import read_step

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")


@pytest.fixture(params=GOOD)
def pack(request: pytest.FixtureRequest) -> BuiltPack:
    return built_pack(request.param)


def rows(pack: BuiltPack, name: str) -> list[dict[str, str]]:
    with (pack.folder / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def shoelace(outline: tuple[tuple[float, float], ...]) -> float:
    turned = [*outline[1:], outline[0]]
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(outline, turned, strict=True)) / 2


def closed_form(piece: object) -> float | None:
    """Volume from dimensions alone, where a closed form is short (mm3)."""
    if isinstance(piece, Tube):
        od, wall = piece.section.od, piece.section.wall
        ring = math.pi / 4 * (od**2 - (od - 2 * wall) ** 2) * piece.length
        return ring - sum(math.pi / 4 * h.diameter**2 * wall for h in piece.holes)
    if isinstance(piece, StairBody):
        return shoelace(piece.outline) * piece.thickness - sum(
            math.pi / 4 * h.diameter**2 * h.depth for h in piece.holes
        )
    if isinstance(piece, Fitting) and piece.kind is FittingKind.BASE_PLATE:
        item = piece.item
        corner = (4 - math.pi) * item.corner_radius**2
        deep = (item.countersink_diameter - item.hole_diameter) / 2
        wide, small = item.countersink_diameter / 2, item.hole_diameter / 2
        cone = math.pi * deep / 3 * (wide**2 + wide * small + small**2) - math.pi * small**2 * deep
        hole = math.pi * small**2 * item.thickness + cone
        socket = math.pi * (item.socket_od - item.socket_wall) * item.socket_wall * item.socket_height
        rivets = 2 * math.pi / 4 * piece.holes[-1].diameter ** 2 * item.socket_wall
        return (item.length * item.width - corner) * item.thickness - 4 * hole + socket - rivets
    return None


def test_the_step_file_has_each_piece_once_and_each_occurrence_by_name(pack: BuiltPack) -> None:
    file = read_step(pack.folder / "assembly.step")
    assert file.root.product == pack.job.project.id
    marks = {mark for mark in file.products if file.products[mark].solids}
    slabs = {mark for mark in marks if mark.startswith("slab-")}
    assert marks - slabs == {m for m, piece in pack.fabrication.pieces.items() if not isinstance(piece, StairBody)}
    assert all(file.products[mark].solids == 1 for mark in marks)
    assert {child.name for child in file.root.children} == {group.value for group in Group}
    found = {occurrence.name: occurrence.product for group in file.root.children for occurrence in group.children}
    assert set(found) == {place.id for place in pack.fabrication.placed}
    for place in pack.fabrication.placed:
        if place.group is Group.STAIR:
            assert found[place.id] in slabs
        else:
            assert found[place.id] == place.mark


def test_the_step_file_is_plain_ascii_in_millimetres(pack: BuiltPack) -> None:
    text = (pack.folder / "assembly.step").read_bytes().decode("ascii")
    shapes = {
        (p.outline, p.thickness, p.holes) if isinstance(p, StairBody) else m for m, p in pack.fabrication.pieces.items()
    }
    assert text.count("MANIFOLD_SOLID_BREP(") == len(shapes)  # each distinct solid once
    assert text.count("NEXT_ASSEMBLY_USAGE_OCCURRENCE(") == len(pack.fabrication.placed) + len(Group)
    units = set(re.findall(r"SI_UNIT\(([^)]*)\.METRE\.\)", text))
    assert units == {".MILLI.,"}


def test_every_occurrence_sits_where_the_members_say(pack: BuiltPack) -> None:
    file = read_step(pack.folder / "assembly.step")
    placed = {place.id: place for place in pack.fabrication.placed}
    seen = 0
    for occurrence, frame in file.root.walk():
        if occurrence.name not in placed:
            continue
        expected = placed[occurrence.name].frame.placed_in(pack.job.site)
        assert (frame.origin - expected.origin).length < 0.001
        for mine, theirs in ((frame.x, expected.x), (frame.y, expected.y), (frame.z, expected.z)):
            assert (mine - theirs).length < 1e-6
        seen += 1
    assert seen == len(placed)


def test_every_scheduled_hole_is_a_cylinder_at_its_place(pack: BuiltPack) -> None:
    checked = missing_holes(
        pack.folder / "assembly.step", rows(pack, "drill_schedule.csv"), pack.layout, pack.fabrication
    )
    assert checked == []


def test_no_tube_has_a_hole_that_is_not_scheduled(pack: BuiltPack) -> None:
    file = read_step(pack.folder / "assembly.step")
    for mark, piece in pack.fabrication.pieces.items():
        if isinstance(piece, Tube):
            holes = [c for c in file.products[mark].cylinders if c.hollow and abs(c.direction.z) < 0.5]
            assert sum(len(c.spans) for c in holes) == len(piece.holes), mark


def test_cadquery_reads_the_assembly_and_volumes_hold_to_a_thousandth(pack: BuiltPack) -> None:
    assembly = cadquery.Assembly.importStep(str(pack.folder / "assembly.step"))
    solids: dict[str, cadquery.Shape] = {}
    for child in assembly.objects.values():
        if child.obj is not None:
            solids[child.name.rsplit("/", 1)[-1]] = child.obj
    assert len(solids) == len(pack.fabrication.placed)
    checked = 0
    for place in pack.fabrication.placed:
        shape = solids[place.id]
        assert len(shape.Solids()) == 1
        assert shape.isValid()
        expected = closed_form(pack.fabrication.pieces[place.mark])
        if expected is not None:
            assert shape.Volume() == pytest.approx(expected, rel=1e-3), place.id
            checked += 1
    assert checked > len(pack.layout.posts) * 2


def test_gmsh_reads_as_many_volumes_at_true_size(pack: BuiltPack) -> None:
    gmsh.initialize(interruptible=False)
    try:
        gmsh.option.setNumber("General.Terminal", 0)
        gmsh.option.setString("Geometry.OCCTargetUnit", "MM")
        gmsh.model.occ.importShapes(str(pack.folder / "assembly.step"))
        gmsh.model.occ.synchronize()
        volumes = gmsh.model.getEntities(3)
        assert len(volumes) == len(pack.fabrication.placed)
        x0, _, z0, x1, _, z1 = gmsh.model.getBoundingBox(-1, -1)
    finally:
        gmsh.finalize()
    top = max(rail.end.z for rail in pack.layout.rails)
    assert z1 > top
    assert z1 < top + 400
    assert -400 < z0 < 0
    assert 1000 < x1 - x0 < 12000


def test_every_fabricated_piece_has_its_own_step_file(pack: BuiltPack) -> None:
    tubes = {mark for mark, piece in pack.fabrication.pieces.items() if isinstance(piece, Tube)}
    files = {path.stem: path for path in (pack.folder / "parts").iterdir()}
    assert tubes < set(files)
    for mark in sorted(tubes):
        file = read_step(files[mark])
        (product,) = [p for p in file.products.values() if p.solids]
        assert (product.name, product.solids) == (mark, 1)


def test_the_stl_is_watertight_piece_by_piece(pack: BuiltPack, tmp_path: Path) -> None:
    from railgen.solids import build_all, volumes, write_part_stl

    shapes = build_all(pack.fabrication)
    volume = volumes(shapes)
    for mark, shape in shapes.items():
        write_part_stl(tmp_path / "piece.stl", pack.fabrication.pieces[mark], shape)
        mesh = trimesh.load_mesh(tmp_path / "piece.stl")
        assert mesh.is_watertight, mark
        assert mesh.body_count == 1, mark
        assert mesh.volume == pytest.approx(volume[mark], rel=5e-3), mark
    whole = trimesh.load_mesh(pack.folder / "assembly.stl")
    shown = [p.mark for p in pack.fabrication.placed if p.group not in (Group.STAIR, Group.FIXINGS)]
    assert whole.volume == pytest.approx(sum(volume[mark] for mark in shown), rel=2e-2)


def test_the_glb_is_in_metres_with_y_up(pack: BuiltPack) -> None:
    scene = trimesh.load_scene(pack.folder / "assembly.glb")
    low, high = scene.bounds
    top = max(rail.end.z for rail in pack.layout.rails) / 1000
    assert top < high[1] < top + 0.4
    assert -0.4 < low[1] < 0.0
    assert max(high - low) < 20
    content = (pack.folder / "assembly.glb").read_bytes()
    assert content[:4] == b"glTF"
    (length,) = struct.unpack_from("<I", content, 12)
    names = {node.get("name") for node in json.loads(content[20 : 20 + length])["nodes"]}
    assert {place.id for place in pack.fabrication.placed} <= names


def test_the_manifest_names_every_file_with_its_hash(pack: BuiltPack) -> None:
    content = json.loads((pack.folder / "manifest.json").read_text(encoding="utf-8"))
    files = {p.relative_to(pack.folder).as_posix() for p in pack.folder.rglob("*") if p.is_file()}
    assert set(content["files"]) == files - {"manifest.json"}
    for name, digest in content["files"].items():
        assert hashlib.sha256((pack.folder / name).read_bytes()).hexdigest() == digest
    source = (CONFIGS / f"{pack.job.project.id}.toml").read_bytes()
    assert content["input_sha256"] == hashlib.sha256(source).hexdigest() or pack.job.digest == content["input_sha256"]


def test_no_two_solids_overlap(pack: BuiltPack) -> None:
    tried, clashes = overlaps(pack.fabrication)
    assert clashes == []
    assert tried > 10


@pytest.mark.parametrize("name", BAD)
def test_a_bad_job_is_refused(name: str, tmp_path: Path) -> None:
    with pytest.raises(railgen.InputError):
        railgen.build(railgen.load(CONFIGS / f"{name}.toml"), tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_there_are_jobs_of_every_kind() -> None:
    jobs = [built_pack(name).job for name in GOOD]
    assert len(jobs) >= 4
    assert {landing.turn.quarters for job in jobs for landing in job.landings} == {0, 1, 2}
    assert any(not job.landings for job in jobs)
    assert len(BAD) >= 2
    for job in jobs:  # uneven, as real stairs are
        assert all(len(set(flight.risers)) > 1 and len(set(flight.goings)) > 1 for flight in job.flights)
    assert np.all([job.project.date is not None for job in jobs])
