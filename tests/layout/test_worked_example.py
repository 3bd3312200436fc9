"""A worked half-turn stair with uneven steps, calculated by hand and by an independent script, to 0.01 mm.

The stair is typed as a job file with hardware in a catalogue of its own and goes in through the public entry point.
"""

from __future__ import annotations

import csv
import io
import math
from pathlib import Path

import pytest

import railgen
from railgen.schedules import cut_table, drill_table
from tests.jobs import setbacks

HERE = Path(__file__).parent
NEAR = 0.01  # mm
FINE = 0.0005  # degrees: half of the last digit printed


@pytest.fixture(scope="module")
def half_turn() -> tuple[railgen.Job, railgen.Layout]:
    job = railgen.load(HERE / "worked_half_turn.toml")
    return job, railgen.solve(job)


def test_post_length_and_setbacks(half_turn: tuple[railgen.Job, railgen.Layout]) -> None:
    _, layout = half_turn
    assert layout.post_length == 872
    assert [post.length for post in layout.posts] == pytest.approx([872] * 6, abs=1e-6)
    found = [at.distance for at in setbacks(layout)]
    assert found == pytest.approx([122.050, 127.950, 122.050, 126.798, 123.202, 126.798], abs=NEAR)
    moves = [max(abs(at.move) for at in setbacks(layout) if at.flight == number) for number in (1, 2)]
    assert moves == pytest.approx([2.950, 1.798], abs=NEAR)


def test_pitch_and_heights(half_turn: tuple[railgen.Job, railgen.Layout]) -> None:
    _, layout = half_turn
    pitches = [math.degrees(rail.pitch) for rail in layout.rails]
    assert pitches == pytest.approx([35.6774, 0.0, 35.6097], abs=0.00005)
    for number, least in ((1, 900.183), (2, 900.796)):
        found = {h.nosing: h.height for h in layout.heights if h.flight == number and h.height is not None}
        lowest = min(found, key=found.__getitem__)
        assert lowest == 4
        assert found[lowest] == pytest.approx(least, abs=NEAR)


def test_nodes_elbows_and_the_level_rail(half_turn: tuple[railgen.Job, railgen.Layout]) -> None:
    _, layout = half_turn
    a, b = layout.nodes
    assert tuple(a.at) == pytest.approx((1623.050, -60.0, 2216.0), abs=NEAR)
    assert tuple(b.at) == pytest.approx((1624.202, 180.0, 2216.0), abs=NEAR)
    assert [math.degrees(n.deflection) for n in (a, b)] == pytest.approx([89.7767, 90.2235], abs=0.00005)


def test_cut_list(half_turn: tuple[railgen.Job, railgen.Layout]) -> None:
    job, layout = half_turn
    rows = list(csv.DictReader(io.StringIO(cut_table(job, railgen.fabricate(job, layout)).csv())))
    lengths = {row["mark"]: float(row["length_mm"]) for row in rows}
    assert lengths == pytest.approx({"P1": 872, "R1": 1982.657, "R2": 178.003, "R3": 1888.232}, abs=NEAR)
    assert {row["mark"]: row["quantity"] for row in rows} == {"P1": "6", "R1": "1", "R2": "1", "R3": "1"}


def test_saddle_holes_from_the_lower_cut_end(half_turn: tuple[railgen.Job, railgen.Layout]) -> None:
    job, layout = half_turn
    rows = list(csv.DictReader(io.StringIO(drill_table(railgen.fabricate(job, layout)).csv())))

    def saddles(mark: str) -> list[float]:
        mine = [row for row in rows if row["part"] == mark and row["purpose"] == "screw, saddle to rail"]
        assert {float(row["clock_deg"]) for row in mine} == {0.0}
        return [float(row["distance_mm"]) for row in mine]

    assert saddles("R1") == pytest.approx([118.000, 162.000, 1047.321, 1091.321], abs=NEAR)
    assert saddles("R3") == pytest.approx([840.530, 884.530, 1766.232, 1810.232], abs=NEAR)


def test_witness_marks(half_turn: tuple[railgen.Job, railgen.Layout]) -> None:
    """Clock position of the screw's side of the hinge axis on both tubes of each elbow.

    The elbow plane's normal points up, at 179.840 and 144.322, 215.610 and 179.840; the screws are on the lower side.
    """
    import json

    from railgen.schedules import layout_json

    job, layout = half_turn
    content = json.loads(layout_json(job, layout, railgen.fabricate(job, layout)))
    marks = [node["witness_deg"] for node in content["nodes"]]
    assert marks[0] == pytest.approx({"R1": 359.840, "R2": 324.322}, abs=FINE)
    assert marks[1] == pytest.approx({"R2": 35.610, "R3": 359.840}, abs=FINE)


def test_the_same_flights_straight_on(tmp_path: Path) -> None:
    text = (HERE / "worked_half_turn.toml").read_text(encoding="utf-8")
    text = text.replace('turn = "half-left"\nwell = 120', 'turn = "straight"')
    text = text.replace("length = 900 #", "length = 1000 #")
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    (tmp_path / "worked_hardware.toml").write_bytes((HERE / "worked_hardware.toml").read_bytes())
    layout = railgen.solve(railgen.load(tmp_path / "job.toml"))
    a, b = layout.nodes
    assert (b.at - a.at).length == pytest.approx(754.748, abs=NEAR)
    level = next(rail for rail in layout.rails if rail.flight is None)
    assert level.length == pytest.approx(692.748, abs=NEAR)
    assert [math.degrees(n.deflection) for n in (a, b)] == pytest.approx([35.677, 35.610], abs=FINE)
    assert [rail.length for rail in layout.rails if rail.flight] == pytest.approx([1982.657, 1888.232], abs=NEAR)


def test_an_even_stair_still_moves_a_little(tmp_path: Path) -> None:
    """Because the fixed 82 equals 38 + 36 / cos(pitch) only at 35.097 degrees."""
    text = (HERE / "worked_half_turn.toml").read_text(encoding="utf-8")
    lines = []
    for line in text.splitlines():
        if line.startswith(("risers", "goings")):
            key, count = line.split(" =")[0], line.count(",") + 1
            lines.append(f"{key} = {[178 if key == 'risers' else 250] * count}")
        else:
            lines.append(line)
    (tmp_path / "job.toml").write_text("\n".join(lines), encoding="utf-8")
    (tmp_path / "worked_hardware.toml").write_bytes((HERE / "worked_hardware.toml").read_bytes())
    layout = railgen.solve(railgen.load(tmp_path / "job.toml"))
    moves = [max(abs(at.move) for at in setbacks(layout) if at.flight == number) for number in (1, 2)]
    assert moves == pytest.approx([0.067, 0.069], abs=FINE)
    assert math.degrees(layout.nodes[0].deflection) == pytest.approx(89.974, abs=FINE)
