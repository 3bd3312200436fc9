"""Dimensions that make no fitting are refused in a sentence; a missing system library is named."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from railgen.errors import InputError
from railgen.geometry import ORIGIN, Frame, Vec
from railgen.members.pieces import FittingKind
from railgen.solids.build import build_solid
from railgen.solids.shapes import BadShapeError, location
from tests.solids.demo import fitting, tube

K = FittingKind


@pytest.mark.parametrize(
    ("kind", "change", "says"),
    [
        (K.BASE_PLATE, {"socket_od": 101.0}, "wider than the plate"),
        (K.BASE_PLATE, {"corner_radius": 50.0}, "rounder than the plate"),
        (K.COVER_PLATE, {"bore": 108.0}, "nothing of the cover"),
        (K.FIXED_SADDLE, {"cradle_angle": 0.5}, "narrower than what carries it"),
        (K.FIXED_SADDLE, {"centre_height": 28.0}, "lower than the cap"),
        (K.FIXED_SADDLE, {"cap_diameter": 43.0}, "cap is narrower"),
        (K.SADDLE_STEM, {"pivot_to_centre": 32.0}, "from the pivot's axis to the edge of the tongue"),
        (K.SADDLE_CRADLE, {"pivot_to_centre": 32.0}, "from the pivot's axis to the edge of the tongue"),
        (K.SADDLE_CRADLE, {"pivot_diameter": 12.0}, "from the pivot's axis to the edge of the tongue"),
        (K.SADDLE_CRADLE, {"cheek_thickness": 20.0}, "narrower than what carries it"),
        (K.SADDLE_STEM, {"pivot_height": 11.0}, "turn into the cap"),
        (K.SADDLE_STEM, {"tongue_thickness": 14.0}, "thicker than the stem"),
        (K.ELBOW_SADDLE, {"node_height": 22.0}, "no stem fits"),
        (K.ELBOW_SADDLE, {"stem_offset": 20.0}, "no stem fits"),
        (K.ELBOW_TONGUE, {"take_off": 20.0}, "hub reaches the collar"),
        (K.ELBOW_TONGUE, {"neck_diameter": 36.0}, "neck is as thick as the hub"),
        (K.ELBOW_FORK, {"tongue_thickness": 14.0}, "tongue is nearly as thick as the neck"),
        (K.ELBOW_TONGUE, {"tongue_thickness": 0.3}, "too thin"),
        (K.ELBOW_FORK, {"pin_diameter": 34.0}, "pin leaves nothing"),
        (K.ELBOW_FORK, {"spigot_od": 50.0}, "thicker than the tube"),
        (K.ELBOW_PIN, {"pin_diameter": 36.0}, "thicker than the hub"),
        (K.END_CAP, {"spigot_od": 50.0}, "thicker than the tube"),
        (K.END_SCROLL, {"bend_radius": 24.0}, "tighter than the bar"),
        (K.END_SCROLL, {"bend_radius": 60.0, "turn": 5.0}, "back into its own tube"),
        (K.RIVET, {"head_height": 4.0}, "no dome is so high"),
        (K.ANCHOR, {"head_diameter": 6.4}, "no wider than the shank"),
    ],
)
def test_dimensions_that_make_no_fitting_are_refused(kind: FittingKind, change: dict[str, float], says: str) -> None:
    piece = fitting(kind, **change)  # type: ignore[arg-type]
    with pytest.raises(InputError) as caught:
        build_solid(piece)
    (fault,) = caught.value.faults
    assert says in fault.message
    assert fault.where == piece.item.id
    assert fault.code == "fitting-dimensions"


def test_a_tube_cut_in_two_by_its_holes_is_refused() -> None:
    with pytest.raises(InputError, match="make no sound solid"):
        build_solid(tube((300, 0, 46.5, 2), (300, 90, 46.5, 2)))


def test_a_fitting_made_after_the_wrong_entry_is_a_fault_of_the_program() -> None:
    with pytest.raises(TypeError, match="cannot be made after"):
        build_solid(replace(fitting(K.END_CAP), kind=K.RIVET))


def test_a_frame_that_mirrors_or_stretches_is_not_a_placement() -> None:
    with pytest.raises(BadShapeError):
        location(Frame(origin=ORIGIN, x=Vec(1, 0, 0), z=Vec(0, 0, 1.01)))
    with pytest.raises(BadShapeError):
        location(Frame(origin=ORIGIN, x=Vec(1, 0, 0), z=Vec(0.1, 0, 0.995)))


@pytest.mark.parametrize("library", ["libGL.so.1", "libX11.so.6"])
def test_a_missing_system_library_is_named_with_its_package(library: str, tmp_path: Path) -> None:
    (tmp_path / "cadquery.py").write_text(
        f"raise ImportError('{library}: cannot open shared object file: No such file or directory')\n"
    )
    code = "from railgen.errors import RailgenError\ntry:\n import railgen.solids\nexcept RailgenError as e:\n print(e)"
    path = os.pathsep.join([str(tmp_path), *filter(None, sys.path)])
    done = subprocess.run(
        [sys.executable, "-c", code], env={**os.environ, "PYTHONPATH": path}, capture_output=True, text=True, check=True
    )
    assert library in done.stdout
    assert "apt-get install libgl1 libx11-6" in done.stdout
