"""A small stair as a job file, with whatever strength and ground a test asks for."""

from __future__ import annotations

from pathlib import Path

import railgen
from railgen.checks.model import Verdict
from railgen.checks.strength.chain import strength_links
from railgen.checks.strength.link import Link
from railgen.checks.strength.systems import System, system
from railgen.job.model import Job
from railgen.job.strength_model import DesignSystem
from railgen.layout.model import Layout, Span
from tests.packs import copy_catalogues

__all__ = [
    "CONCRETE",
    "STATED",
    "STEEL",
    "TIMBER",
    "links",
    "load",
    "nominal_wall",
    "of",
    "spans_of",
    "text",
    "verdict",
    "worst",
]

STEEL = """
tube = { standard = "en-welded-tube" }
plate = { standard = "en-hot-strip" }
fastener_class = "70"
"""
STATED = """
[strength.stated]
document = "data sheet"
rivet_shear = 9000
socket_moment = 9000
saddle_force = 9000
elbow_moment = 9000
anchor_tension = 50000
anchor_shear = 50000
tread_moment = 9000
"""
TIMBER = """
[ground]
species = "red-oak"
wet = false
fixing_root = 4.4
timber_bearing = 5
[[ground.layers]]
kind = "timber"
thickness = 60
"""
CONCRETE = """
[ground]
concrete_strength = 25
[[ground.layers]]
kind = "concrete"
thickness = 200
"""


def text(
    *,
    loads: str = '["asce-7"]',
    strength: str = STEEL,
    stated: str = STATED,
    ground: str = TIMBER,
    substrate: str = "timber",
    fitting_set: str = "wide-42.4",
    hardware: str = "",
    largest_span: float = 1300,
) -> str:
    """Eleven risers of 170 on goings of 270."""
    return f"""
format = 1
[project]
id = "scene"
[hardware]
set = "{fitting_set}"
{hardware}
[rail]
side = "left"
least_height = 900
[posts]
edge_offset = 150
largest_span = {largest_span}
substrate = "{substrate}"
[[stair]]
kind = "flight"
rise = 170
going = 270
riser_count = 11
width = 1000
tread_thickness = 80
[strength]
loads = {loads}
{strength}
{stated}
{ground}
"""


def load(folder: Path, content: str) -> Job:
    copy_catalogues(folder)
    path = folder / "scene.toml"
    path.write_text(content, encoding="utf-8")
    return railgen.load(path)


def links(job: Job, layout: Layout | None = None) -> tuple[Link, ...]:
    return strength_links(job, layout or railgen.solve(job))


def of(found: tuple[Link, ...], code: str) -> list[Link]:
    chosen = [link for link in found if link.code == code]
    assert chosen, code
    return chosen


def worst(found: tuple[Link, ...], code: str) -> float:
    """Largest utilisation of a kind of link."""
    used = [link.outcome.utilisation for link in of(found, code)]
    assert None not in used, code
    return max(value for value in used if value is not None)


def verdict(found: tuple[Link, ...], code: str) -> set[Verdict]:
    return {link.outcome.verdict for link in of(found, code)}


def spans_of(layout: Layout, length: float) -> Layout:
    """The same rail, its bays said to be of one length."""
    from dataclasses import replace

    return replace(
        layout,
        spans=tuple(Span(from_post=s.from_post, to_post=s.to_post, length=length) for s in layout.spans),
    )


def nominal_wall(name: DesignSystem) -> System:
    """A design system that counts the wall as ordered, as worked examples do."""
    return system(name).model_copy(update={"wall_share": 1.0})
