"""What a malformed file is to its test, and the good files that the malformed ones are made from.

A case changes a good job by replacing parts of its text; its line is found by what stands on it, counted in the text
as written to the file, or given as a number where nothing stands there.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = ["GOOD", "GOOD_CATALOGUE", "Case", "bad_catalogue", "bad_job", "line_of"]

GOOD = """\
# A good job, in millimetres.
format = 1
units = "mm"

[project]
id = "granary"
date = 2026-03-14

[hardware]
set = "wide-48.3"

[rail]
side = "left"
least_height = 900
bottom = { finish = "cap", overhang = 150 }

[posts]
lengths = "equal"
setback = 125
setback_band = [70, 180]
edge_offset = 60
substrate = "timber"

[[stair]] # lower flight
kind = "flight"
risers = [
  176,
  181,
  178,
]
goings = [251, 248]
total_rise = 536
width = 900
posts = [1, 3]

[[stair]] # landing
kind = "landing"
length = 950
turn = "half-left"
well = 120

[[stair]] # upper flight
kind = "flight"
rise = 178
going = 250
riser_count = 4
width = 900
"""

GOOD_CATALOGUE = """\
# Fittings measured with a caliper.
format = 1

[[rivet]]
id = "my-rivet"
diameter = 4.0
hole_diameter = 4.1
length = 12
head_diameter = 8
head_height = 1.5
edge_distance = 10

[[base_plate]]
id = "my-plate"
length = 110
width = 100
thickness = 8
corner_radius = 10
socket_od = 43.9
socket_wall = 5
socket_height = 60
hole_spacing_length = 74
hole_spacing_width = 70
hole_diameter = 6.6
countersink_diameter = 12.6
rivet_height = 30
rivet = "my-rivet"

[[adjustable_saddle]]
id = "my-saddle"
spigot_od = 43.9
spigot_wall = 4
spigot_length = 50
cap_diameter = 48.3
cap_thickness = 4
stem_diameter = 14
rivet_depth = 25
rivet = "rivet-3.2"
cradle_length = 70
cradle_thickness = 4
cradle_angle = 100
cradle_clearance = 0.1
hole_spacing = 44
screw = "screw-M6"
pivot_height = 38
pivot_to_centre = 36
pivot_diameter = 5
tongue_thickness = 10
cheek_thickness = 4
pitch_min = 0
pitch_max = 45

[[elbow_saddle]]
id = "my-elbow-saddle"
spigot_od = 43.9
spigot_wall = 4
spigot_length = 50
cap_diameter = 48.3
cap_thickness = 4
stem_diameter = 12
rivet_depth = 25
rivet = "rivet-3.2"
node_height = 82
stem_offset = 0
pitch_max = 40

[[elbow]]
id = "my-elbow"
take_off = 31
hinge_min = 0
hinge_max = 100
hub_diameter = 36
neck_diameter = 16
tongue_thickness = 10
pin_diameter = 8
collar_thickness = 2
spigot_od = 43.9
spigot_length = 45
screw_distance = 20
screw = "screw-M6"

[[end_scroll]]
id = "my-scroll"
bend_radius = 60
turn = 200
spigot_od = 43.9
spigot_length = 30

[[set]]
id = "mine"
tube = "48.3x2.0"
post_tube = "48.3x2.0"
material = "1.4301"
base_plate = "my-plate"
cover_plate = "none-yet"
fixed_saddle = "fixed-saddle-48.3"
adjustable_saddle = "my-saddle"
elbow_saddle = "my-elbow-saddle"
elbow = "my-elbow"
end_cap = "cap-48.3"
end_scroll = "my-scroll"
anchors = { timber = "timber-screw-6.3x45" }

[[cover_plate]]
id = "none-yet"
length = 118
width = 108
height = 14
thickness = 1.5
bore = 49.1
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One malformed file: ``files`` are written beside the job; ``at`` names the file the fault is told of."""

    name: str
    job: str | bytes | None  # None: no job file at all
    code: str
    where: str = ""
    line: int | None = None
    words: tuple[str, ...] = ()
    files: Mapping[str, str] = field(default_factory=dict)
    at: str = "job.toml"


def line_of(text: str, begins: str) -> int:
    """The only line that begins so."""
    found = [number for number, line in enumerate(text.splitlines(), start=1) if line.strip().startswith(begins)]
    assert len(found) == 1, f"lines {found} begin with {begins!r}"
    return found[0]


def _changed(text: str, change: Mapping[str, str]) -> str:
    for old, new in change.items():
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the good text"
        text = text.replace(old, new)
    return text


def bad_job(
    name: str,
    change: Mapping[str, str],
    code: str,
    where: str,
    line: str,
    *words: str,
    files: Mapping[str, str] | None = None,
) -> Case:
    text = _changed(GOOD, change)
    return Case(name=name, job=text, code=code, where=where, line=line_of(text, line), words=words, files=files or {})


def bad_catalogue(name: str, change: Mapping[str, str], code: str, where: str, line: str, *words: str) -> Case:
    """A fault in the catalogue file beside a job that uses its set."""
    text = _changed(GOOD_CATALOGUE, change)
    return Case(
        name=name,
        job=_changed(GOOD, {'set = "wide-48.3"': 'set = "mine"\ncatalogue = ["mine.toml"]'}),
        code=code,
        where=where,
        line=line_of(text, line),
        words=words,
        files={"mine.toml": text},
        at="mine.toml",
    )
