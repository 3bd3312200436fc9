"""Meshes are closed, fine enough where it matters, and do not depend on what was written before."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
import trimesh

from railgen import solids
from railgen.layout import solve
from railgen.members import Fabrication, fabricate
from railgen.members.pieces import FittingKind, Group
from railgen.survey import survey_job
from tests import jobs
from tests.solids.demo import fitting, tube


@pytest.fixture(scope="module")
def rail() -> Fabrication:
    job = jobs.worked_job()
    return fabricate(job, solve(job, survey_job(job)))


@pytest.mark.parametrize("kind", list(FittingKind))
def test_the_stl_of_every_fitting_is_watertight(kind: FittingKind, tmp_path: Path) -> None:
    piece = fitting(kind)
    solid = solids.build_solid(piece)
    solids.write_part_stl(tmp_path / "part.stl", piece, solid)
    mesh = trimesh.load_mesh(tmp_path / "part.stl")
    assert mesh.is_watertight
    assert mesh.body_count == 1
    assert mesh.volume == pytest.approx(solid.Volume(), rel=5e-3)


@pytest.mark.parametrize("diameter", [3.5, 6.4, 11.0, 20.0])
def test_holes_in_a_piece_are_not_undersized(diameter: float, tmp_path: Path) -> None:
    """Inscribed diameter: twice the least distance of a chord of the mouth from the hole's axis."""
    piece = tube((300, 0, diameter, 1))
    solids.write_part_stl(tmp_path / "tube.stl", piece, solids.build_solid(piece))
    mesh = trimesh.load_mesh(tmp_path / "tube.stl")
    ends = mesh.vertices[mesh.edges_unique]
    beside = np.hypot(ends[:, :, 1], ends[:, :, 2] - 300)
    around = (abs(beside - diameter / 2) < 1e-3).all(axis=1) & (ends[:, :, 0] > 0).all(axis=1)
    middles = ends[around].mean(axis=1)
    inscribed = 2 * np.hypot(middles[:, 1], middles[:, 2] - 300).min()
    assert around.sum() > 20
    assert diameter - 0.01 <= inscribed < diameter


def test_the_assembly_has_a_body_for_each_tube_post_and_fitting(rail: Fabrication, tmp_path: Path) -> None:
    shapes = solids.build_all(rail)
    solids.write_stl(tmp_path / "assembly.stl", rail, shapes)
    mesh = trimesh.load_mesh(tmp_path / "assembly.stl")
    shown = [place for place in rail.placed if place.group not in (Group.FIXINGS, Group.STAIR)]
    assert sum(shapes[place.mark].Volume() for place in shown) == pytest.approx(mesh.volume, rel=2e-2)
    posts = [place for place in shown if place.group is Group.POSTS]
    lowest = min(place.frame.origin.z - 8 for place in posts)
    assert mesh.bounds[0][2] == pytest.approx(lowest, abs=1e-3)


def test_files_do_not_depend_on_what_was_written_before(rail: Fabrication, tmp_path: Path) -> None:
    job = jobs.worked_job()
    first, second = solids.build_all(rail), solids.build_all(rail)
    solids.write_stl(tmp_path / "a.stl", rail, first)
    solids.write_glb(tmp_path / "a.glb", job, rail, first)
    solids.write_step(tmp_path / "a.step", job, rail, first)
    for mark in ("plate", "R1"):
        solids.write_part_stl(tmp_path / f"{mark}.stl", rail.pieces[mark], second[mark])  # a finer mesh
    solids.write_step(tmp_path / "b.step", job, rail, second)
    solids.write_glb(tmp_path / "b.glb", job, rail, second)
    solids.write_stl(tmp_path / "b.stl", rail, second)
    for suffix in ("stl", "glb", "step"):
        assert (tmp_path / f"a.{suffix}").read_bytes() == (tmp_path / f"b.{suffix}").read_bytes()


def test_normals_point_out(tmp_path: Path) -> None:
    piece = tube((300, 0, 6.4, 1))
    solids.write_part_stl(tmp_path / "tube.stl", piece, solids.build_solid(piece))
    mesh = trimesh.load_mesh(tmp_path / "tube.stl")
    assert mesh.volume == pytest.approx(math.pi * (24.15**2 - 22.15**2) * 600, rel=5e-3)
