"""The GLB file in the eyes of another reader: metres, +Y up, a named node for each occurrence, one mesh a piece."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import trimesh

from railgen import solids
from railgen.layout import solve
from railgen.members import Fabrication, fabricate
from railgen.solids.products import product_names
from railgen.survey import survey_job
from tests import jobs


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Fabrication]:
    job = jobs.worked_job()
    rail = fabricate(job, solve(job, survey_job(job)))
    path = tmp_path_factory.mktemp("glb") / "assembly.glb"
    solids.write_glb(path, job, rail, solids.build_all(rail))
    return path, rail


def test_every_occurrence_is_a_node_in_its_place(written: tuple[Path, Fabrication]) -> None:
    path, rail = written
    scene = trimesh.load_scene(path)
    for place in rail.placed:
        matrix, _ = scene.graph.get(place.id)
        frame = place.frame
        # glTF's x, y, z are the stair's x, z, -y, in metres
        expected = np.array([frame.origin.x, frame.origin.z, -frame.origin.y]) / 1000
        assert matrix[:3, 3] == pytest.approx(expected, abs=1e-6)
        assert np.linalg.det(matrix[:3, :3]) == pytest.approx(1, abs=1e-5)
        up = matrix[:3, :3] @ [0, 1, 0]  # a piece's z is the mesh's y
        assert up == pytest.approx([frame.z.x, frame.z.z, -frame.z.y], abs=1e-5)


def rail_level(rail: Fabrication, mark: str) -> float:
    return next(place.frame.origin.z for place in rail.placed if place.mark == mark)


def test_it_is_as_large_as_the_stair_in_metres(written: tuple[Path, Fabrication]) -> None:
    path, rail = written
    scene = trimesh.load_scene(path)
    floor, top = (
        next(p.frame.origin.z for p in rail.placed if p.mark == mark) for mark in ("FLOOR-BOTTOM", "FLOOR-TOP")
    )
    assert scene.bounds[0][1] == pytest.approx((floor - 40) / 1000, abs=1e-4)
    assert top / 1000 + 0.8 < scene.bounds[1][1] < top / 1000 + 1.4


def test_one_mesh_for_each_piece_and_no_node_without_triangles(written: tuple[Path, Fabrication]) -> None:
    path, rail = written
    content, names = path.read_bytes(), product_names(rail)
    scene = json.loads(content[20 : 20 + int.from_bytes(content[12:16], "little")])
    assert sorted(mesh["name"] for mesh in scene["meshes"]) == sorted(set(names.values()))
    shown = {node["name"]: scene["meshes"][node["mesh"]]["name"] for node in scene["nodes"] if "mesh" in node}
    assert shown == {place.id: names[place.mark] for place in rail.placed}
    assert all(scene["accessors"][m["primitives"][0]["indices"]]["count"] > 0 for m in scene["meshes"])


def test_the_chunks_are_as_the_standard_asks(written: tuple[Path, Fabrication]) -> None:
    """glTF 2.0 (Khronos Group, 2021) 4.4: magic, version 2, whole length, chunks padded to four bytes."""
    content = written[0].read_bytes()
    assert content[:8] == b"glTF" + (2).to_bytes(4, "little")
    assert int.from_bytes(content[8:12], "little") == len(content)
    at, kinds = 12, []
    while at < len(content):
        length = int.from_bytes(content[at : at + 4], "little")
        assert length % 4 == 0
        kinds.append(content[at + 4 : at + 8])
        at += 8 + length
    assert (at, kinds) == (len(content), [b"JSON", b"BIN\0"])
