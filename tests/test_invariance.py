"""Moving or turning the stair, or typing it in inches, changes no length, hole or angle; random rails do not clash."""

from __future__ import annotations

import csv
import io
import json
import math
import re
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings

import railgen
from railgen.errors import ImpossibleError
from railgen.geometry import Vec
from railgen.job.model import Job
from railgen.members import Fabrication
from railgen.members.pieces import Tube
from tests.holes import missing_holes
from tests.jobs import mirrored, worked_job
from tests.overlap import overlaps
from tests.packs import CONFIGS, GOOD, built_pack, copy_catalogues
from tests.readback import read_step
from tests.strategies import stairs


def test_a_stair_on_site_is_the_same_stair_elsewhere(tmp_path: Path) -> None:
    """Origin and rotation of the site move the assembly as a whole; every list stays the same to the byte."""
    text = (CONFIGS / "mill_quarter_turn.toml").read_text(encoding="utf-8")
    copy_catalogues(tmp_path)
    job = tmp_path / "moved.toml"
    job.write_text(text + "\n[site]\norigin = [12345.5, -67890.25, 3250]\nrotation = 37.5\n", encoding="utf-8")
    moved = railgen.build(railgen.load(job), tmp_path / "out").folder
    here = built_pack("mill_quarter_turn").folder
    marks = {pack: json.loads((pack / "manifest.json").read_text())["build"].encode() for pack in (moved, here)}
    assert len(set(marks.values())) == 2
    lists = ["cut_list.csv", "drill_schedule.csv", "parts_list.csv", "assembly.stl"]
    for name in (*lists, *(f"parts/{part.name}" for part in (here / "parts").iterdir())):
        one, other = ((pack / name).read_bytes().replace(mark, b"") for pack, mark in marks.items())
        assert one == other, name
    turn = math.radians(37.5)
    cos, sin = math.cos(turn), math.sin(turn)
    at_home = {o.name: frame for o, frame in read_step(here / "assembly.step").root.walk()}
    for occurrence, frame in read_step(moved / "assembly.step").root.walk():
        if occurrence.children or occurrence.name not in at_home:
            continue
        old = at_home[occurrence.name]
        for new_vec, vec, shift in (
            (frame.origin, old.origin, Vec(12345.5, -67890.25, 3250)),
            (frame.x, old.x, Vec(0, 0, 0)),
            (frame.z, old.z, Vec(0, 0, 0)),
        ):
            expected = Vec(cos * vec.x - sin * vec.y, sin * vec.x + cos * vec.y, vec.z) + shift
            assert (new_vec - expected).length < 0.001


def in_inches(text: str) -> str:
    """A job in mm typed again in inches: every length written as a decimal, exact to far below a micrometre."""
    keys = "risers|goings|total_rise|total_run|nosing_overhang|width|design_going|tread_thickness|length|well|thickness"
    keys += "|least_height|overhang|level_extension|setback|setback_band|edge_offset|largest_span|upper_offset"
    keys += "|ground_level|wall_distance|guard_height|guard_opening|headroom|tread_gap|nosing_radius|floor_bottom"
    keys += "|floor_top|fixing_root|washer|edge_front|edge_side|uniform_within"

    def line(found: re.Match[str]) -> str:
        return found[1] + re.sub(r"-?\d+(\.\d+)?", lambda n: repr(float(n[0]) / 25.4), found[2])

    text = re.sub(rf"(?m)^((?:{keys}) = )(.*)$", line, text)
    text = re.sub(r"(, (?:overhang|level_extension) = )(\d+)", line, text)
    return text.replace('units = "mm"', 'units = "inch"\n[output]\nunits = "mm"')


def numbers(fabrication: Fabrication) -> list[float]:
    found = []
    for piece in fabrication.pieces.values():
        if isinstance(piece, Tube):
            found += [piece.length, *(v for h in piece.holes for v in (h.distance, h.clock, h.diameter, h.depth))]
    for place in fabrication.placed:
        found += [*place.frame.origin, *place.frame.x, *place.frame.z]
    return found


@pytest.mark.parametrize("name", [name for name in GOOD if not name.endswith("inch")])
def test_a_job_typed_in_inches_gives_the_same_pieces(name: str, tmp_path: Path) -> None:
    text = (CONFIGS / f"{name}.toml").read_text(encoding="utf-8")
    (tmp_path / "job.toml").write_text(in_inches(text), encoding="utf-8")
    copy_catalogues(tmp_path)
    job = railgen.load(tmp_path / "job.toml")
    layout, pack = railgen.solve(job), built_pack(name)
    again = railgen.fabricate(job, layout)
    assert list(again.pieces) == list(pack.fabrication.pieces)
    assert numbers(again) == pytest.approx(numbers(pack.fabrication), abs=2e-6)
    checks = railgen.check(job, layout)
    assert [(c.code, c.where, c.verdict) for c in checks] == [(c.code, c.where, c.verdict) for c in pack.checks]
    assert [c.value for c in checks] == pytest.approx([c.value for c in pack.checks], abs=1e-5)


@given(stairs())
@settings(max_examples=8, suppress_health_check=list(HealthCheck))
def test_no_random_rail_clashes_with_itself_or_its_stair(job: Job) -> None:
    try:
        fabrication = railgen.fabricate(job, railgen.solve(job))
    except ImpossibleError:
        return
    assert overlaps(fabrication)[1] == []


@given(stairs(most_flights=2))
@settings(max_examples=6, suppress_health_check=list(HealthCheck))
def test_the_step_file_of_a_random_stair_has_the_scheduled_holes(job: Job) -> None:
    from railgen.schedules import drill_table
    from railgen.solids import build_all, write_step

    try:
        layout = railgen.solve(job)
    except ImpossibleError:
        return
    fabrication = railgen.fabricate(job, layout)
    rows = list(csv.DictReader(io.StringIO(drill_table(fabrication).csv())))
    with TemporaryDirectory() as folder:
        write_step(Path(folder) / "a.step", job, fabrication, build_all(fabrication))
        assert missing_holes(Path(folder) / "a.step", rows, layout, fabrication) == []
        shifted = [
            {**row, "distance_mm": str(float(row["distance_mm"] or 0) + 0.01)} for row in rows if row["distance_mm"]
        ]
        assert len(missing_holes(Path(folder) / "a.step", shifted, layout, fabrication)) == len(shifted)


def test_a_clash_is_found_where_there_is_one() -> None:
    """The overlap test itself: a cover bored 2 mm smaller than its post is told, pair by pair."""
    job = worked_job()
    assert job.hardware.cover_plate is not None
    tight = replace(job.hardware, cover_plate=job.hardware.cover_plate.model_copy(update={"bore": 46.3}))
    job = replace(job, hardware=tight)
    clashes = overlaps(railgen.fabricate(job, railgen.solve(job)))[1]
    assert {(a, b) for a, b, _ in clashes} == {(f"F{f}-P{p}", f"F{f}-P{p}.cover") for f in (1, 2) for p in (1, 2, 3)}
    ring = math.pi / 4 * (48.3**2 - 46.3**2) * 1.5
    assert all(volume == pytest.approx(ring, rel=1e-3) for _, _, volume in clashes)


def test_the_mirrored_assembly_has_its_own_handed_pieces() -> None:
    """Reading back the STEP of both hands: centres of all solids are mirror images (no part is a rotated stand-in)."""
    job = worked_job()
    width = job.flights[0].width
    centres = []
    for hand in (job, mirrored(job)):
        from railgen.solids import build_all
        from railgen.solids.shapes import location

        fabrication = railgen.fabricate(hand, railgen.solve(hand))
        shapes = build_all(fabrication)
        centres.append(
            {p.id: shapes[p.mark].moved(location(p.frame)).Center() for p in fabrication.placed if ".H" not in p.id}
        )
    left, right = centres
    for name, centre in left.items():
        if "anchor" in name:
            continue  # the four anchors of a plate change places
        twin = right[name]
        assert (twin.x, twin.y, twin.z) == pytest.approx((centre.x, -width - centre.y, centre.z), abs=0.01), name
