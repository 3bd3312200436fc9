"""A job file becomes a job: values as typed, defaults with their origin, in mm whatever the unit."""

from __future__ import annotations

import dataclasses
import hashlib
import math
from collections.abc import Callable
from pathlib import Path

import pytest

from railgen.errors import InputError
from railgen.geometry import Vec
from railgen.job.model import EndFinish, Job, Origin, PostLengths, Side, Turn
from railgen.job.read import load_job
from railgen.job.strength_model import Ground, Stated, StrengthInput, WoodSpecies
from railgen.units import Unit

HEAD = """
format = 1
project.id = "granary"
hardware.set = "wide-48.3"
rail = { side = "left", least_height = 900 }
posts.edge_offset = 60
"""
STEPS = "risers = [176, 181, 178, 183]\ngoings = [251, 248, 250]\nwidth = 900"
FLIGHT = f'[[stair]]\nkind = "flight"\n{STEPS}\n'

Load = Callable[..., Job]


@pytest.fixture
def load(tmp_path: Path) -> Load:
    def write_and_load(text: str | bytes, **files: str) -> Job:
        path = tmp_path / "job.toml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        for name, content in files.items():
            (tmp_path / f"{name}.toml").write_text(content, encoding="utf-8")
        return load_job(path)

    return write_and_load


def with_steps(steps: str) -> str:
    return f'{HEAD}[[stair]]\nkind = "flight"\nwidth = 900\n{steps}\n'


def faults(load: Load, text: str | bytes, **files: str) -> list[tuple[str, str]]:
    with pytest.raises(InputError) as caught:
        load(text, **files)
    return [(fault.code, fault.where) for fault in caught.value.faults]


def test_what_is_typed_is_what_the_job_says(load: Load) -> None:
    job = load(HEAD + FLIGHT)
    (flight,) = job.flights
    assert flight.risers == (176, 181, 178, 183)
    assert flight.goings == (251, 248, 250)
    assert (job.rail.side, job.rail.least_height, job.posts.edge_offset) == (Side.LEFT, 900, 60)
    assert job.hardware.tube.bore == pytest.approx(44.3)


def test_what_is_left_out_comes_from_the_definition_and_says_so(load: Load) -> None:
    job = load(HEAD + FLIGHT)
    assert job.posts.lengths is PostLengths.EQUAL
    assert (job.posts.setback, job.posts.setback_min, job.posts.setback_max) == (125, 70, 180)
    assert (job.rail.bottom.finish, job.rail.top.overhang) == (EndFinish.CAP, 150)
    assert job.flights[0].design_going == pytest.approx((251 + 248 + 250) / 3)
    origins = {
        "posts.setback": Origin.DEFAULT,
        "posts.edge_offset": Origin.FILE,
        "stair[0].risers": Origin.FILE,
        "stair[0].design_going": Origin.DEFAULT,
        "hardware.set": Origin.FILE,
        "hardware.elbow": Origin.CATALOGUE,
        "rail.bottom.finish": Origin.DEFAULT,
    }
    assert {key: job.origins[key] for key in origins} == origins
    assert "stair[0].nosings" not in job.origins


def test_nosings_from_a_datum_are_the_same_flight(load: Load) -> None:
    measured = load(with_steps("nosings = [[400, 176], [651, 357], [899, 535], [1149, 718]]"))
    assert measured.flights == load(with_steps(STEPS.replace("width = 900", ""))).flights


def test_a_nominal_flight_is_taken_as_nominal_and_the_job_says_so(load: Load) -> None:
    job = load(with_steps("rise = 178\ngoing = 250\nriser_count = 4"))
    assert (job.flights[0].risers, job.flights[0].goings) == ((178,) * 4, (250,) * 3)
    assert any("flight 1" in note and "nominal" in note for note in job.notes)
    assert not any("nominal" in note for note in load(HEAD + FLIGHT).notes)


def test_a_flight_of_one_riser_needs_a_design_going(load: Load) -> None:
    assert faults(load, with_steps("risers = [170]")) == [("missing-key", "stair[0].design_going")]
    job = load(with_steps("risers = [170]\ndesign_going = 260"))
    assert (job.flights[0].goings, job.flights[0].design_going) == ((), 260)


def test_inches_and_millimetres_give_the_same_lengths(load: Load) -> None:
    inch = load("""
        format = 1
        units = "inch"
        project.id = "granary"
        hardware.set = "close-2in"
        rail = { side = "right", least_height = 36, bottom.overhang = "5-1/2", top.overhang = "6 in" }
        posts = { edge_offset = '2 1/2"', setback = 5, setback_band = ["2-7/8", "177.8 mm"], largest_span = 72 }
        [[stair]]
        kind = "flight"
        risers = ["6-3/4", 7, "7-1/16"]
        goings = [11, "10-15/16"]
        total_rise = "20-13/16"
        nosing_overhang = "3/4"
        width = 42
        tread_thickness = "1 1/2"
        """)
    mm = load("""
        format = 1
        project.id = "granary"
        hardware.set = "close-2in"
        rail = { side = "right", least_height = 914.4, bottom.overhang = 139.7, top.overhang = 152.4 }
        posts = { edge_offset = 63.5, setback = 127, setback_band = [73.025, 177.8], largest_span = 1828.8 }
        output.units = "inch"
        [[stair]]
        kind = "flight"
        risers = [171.45, 177.8, 179.3875]
        goings = [279.4, 277.8125]
        total_rise = 528.6375
        nosing_overhang = 19.05
        width = 1066.8
        tread_thickness = 38.1
        """)
    assert inch.output_unit is Unit.INCH
    assert numbers(inch) == pytest.approx(numbers(mm), abs=1e-9)
    assert dataclasses.replace(inch, **rest(mm)) == dataclasses.replace(mm, **rest(mm))


def numbers(job: Job) -> list[float]:
    flight, posts, rail = job.flights[0], job.posts, job.rail
    return [
        *flight.risers,
        *flight.goings,
        *(flight.total_rise or 0, flight.overhang, flight.width, flight.design_going, flight.tread_thickness),
        *(rail.least_height, rail.bottom.overhang, rail.top.overhang),
        *(posts.setback, posts.setback_min, posts.setback_max, posts.edge_offset, posts.largest_span),
    ]


def rest(job: Job) -> dict[str, object]:
    return {key: getattr(job, key) for key in ("flights", "posts", "rail", "origins", "digest")}


def test_a_landing_is_read_with_what_its_turn_wants(load: Load) -> None:
    job = load(f'{HEAD}{FLIGHT}[[stair]]\nkind = "landing"\nlength = 950\nturn = "half-right"\nwell = 110\n{FLIGHT}')
    (landing,) = job.landings
    assert (landing.turn, landing.well, landing.upper_offset, landing.length) == (Turn.HALF_RIGHT, 110, 0, 950)
    assert [flight.number for flight in job.flights] == [1, 2]


def test_the_site_is_a_place_and_a_direction(load: Load) -> None:
    job = load(f"{HEAD}site = {{ origin = [12_000, -3_000, 450], rotation = 90 }}\n{FLIGHT}")
    # turned a quarter anticlockwise, walking up (x) runs along the site's y
    assert (job.site.point(Vec(1000, 0, 0)) - Vec(12_000, -2_000, 450)).length < 1e-9
    assert math.isclose(job.site.z.z, 1)


def test_a_single_entry_takes_the_place_of_the_sets(load: Load) -> None:
    job = load(HEAD + 'hardware.material = "1.4404"\nhardware.cover_plate = "none"\n' + FLIGHT)
    assert (job.hardware.material.density, job.hardware.cover_plate) == (8000, None)
    assert job.origins["hardware.material"] is Origin.FILE


def test_a_loose_rivet_hole_is_drilled_and_noted(load: Load) -> None:
    """Rivet hole 3.3 mm for a rivet of 3.2 mm: public rivet hole tables (secondary source)."""
    job = load(HEAD + FLIGHT)
    assert job.hardware.rivets["rivet-3.2"].hole_diameter == 3.5
    assert any("rivet-3.2" in note and "3.3 mm" in note for note in job.notes)


def test_a_catalogue_file_beside_the_job_is_read(load: Load) -> None:
    text = HEAD + 'hardware.catalogue = ["mine.toml"]\nhardware.end_cap = "flush-cap"\n' + FLIGHT
    cap = 'format = 1\n[[end_cap]]\nid = "flush-cap"\nthickness = 2\nspigot_od = 43.8\nspigot_length = 18\n'
    job = load(text, mine=cap)
    assert job.hardware.end_cap.thickness == 2
    assert job.digest == hashlib.sha256(text.encode() + cap.encode()).hexdigest()


def test_the_digest_is_that_of_the_job_file_alone(load: Load) -> None:
    assert load(HEAD + FLIGHT).digest == hashlib.sha256((HEAD + FLIGHT).encode()).hexdigest()


def test_a_byte_order_mark_and_windows_line_ends_change_nothing(load: Load) -> None:
    plain = load(HEAD + FLIGHT)
    marked = load(b"\xef\xbb\xbf" + (HEAD + FLIGHT).replace("\n", "\r\n").encode())
    assert dataclasses.replace(marked, digest=plain.digest) == plain


def test_every_fault_is_told_at_once(load: Load) -> None:
    text = (HEAD + FLIGHT).replace("least_height = 900", "least_height = 36").replace('"left"', '"lift"')
    text = text.replace("[251, 248, 250]", '[251, "248 mm", "x"]')
    assert faults(load, text) == [
        ("unknown-word", "rail.side"),
        ("out-of-range", "rail.least_height"),
        ("not-a-length", "stair[0].goings[2]"),
    ]


def test_with_an_unknown_unit_no_bound_is_judged(load: Load) -> None:
    text = (HEAD + FLIGHT).replace("edge_offset = 60", "edge_offset = 6").replace('"left"', '"lift"')
    assert faults(load, f'units = "cm"\n{text}') == [("unknown-word", "units"), ("unknown-word", "rail.side")]


def test_strength_is_typed_in_the_units_of_data_sheets_and_held_in_those_of_the_job() -> None:
    assert Stated(elbow_moment=250, rivet_shear=3000).elbow_moment == 250_000  # Nm, N mm
    assert Stated(elbow_moment=250, rivet_shear=3000).rivet_shear == 3000
    # NDS 2018, Table 12.3.3A, from memory
    assert [Ground(species=one).gravity for one in (None, WoodSpecies.RED_OAK)] == [None, 0.67]
    assert Ground(species=WoodSpecies.RED_OAK, gravity=0.5).gravity == 0.5


def test_a_load_named_twice_is_one_and_a_grade_left_out_is_the_materials() -> None:
    given = StrengthInput.model_validate({"loads": ["irc", "en-b", "irc"], "plate": {"grade": "1.4404"}})
    assert given.loads == ("irc", "en-b")
    made = given.regraded(None, "1.4301")
    assert (made.tube.grade, made.plate.grade) == ("1.4301", "1.4404")
    other = made.regraded("1.4301", "1.4462")
    assert (other.tube.grade, other.plate.grade) == ("1.4462", "1.4404")
