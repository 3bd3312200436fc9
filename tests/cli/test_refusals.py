"""What a refusal by the layout says, through the command line: the job's unit, the key to change, what would do."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import railgen
from tests.says import Say, changed, lines

INCH = """
format = 1
units = "inch"
project.id = "granary"
hardware.set = "close-2in"
rail = { side = "right", least_height = 36 }
posts = { edge_offset = 3.5, setback = 5, setback_band = [3, 7], largest_span = 72, substrate = "concrete" }
[[stair]]
kind = "flight"
risers = [7, 7, 7, 7, 7, 7, 7]
goings = [11, 11, 11, 11, 11, 11]
width = 42
tread_thickness = 6
"""
LANDED = """[[stair]]
kind = "landing"
length = 42
turn = "quarter-right"
[[stair]]
kind = "flight"
risers = [7, 7, 7, 7, 7, 7, 7]
goings = [11, 11, 11, 11, 11, 11]
width = 42
tread_thickness = 6
"""


SETBACK = "setback = 5, setback_band = [3, 7]"
STEEP = ("[7, 7, 7, 7, 7, 7, 7]", "[7, 12, 3, 12, 3, 12, 7]\nposts = [1, 2, 3, 4, 5, 6]")
CORNER = ("\ntread_thickness = 6\n", f"\ntread_thickness = 6\n{LANDED}")
CLIMB = ('turn = "quarter-right"', 'turn = "quarter-right"\ncorner = "climb"')
WIDE = ("close-2in", "wide-2in")


@pytest.mark.parametrize(
    ("code", "changes", "words"),
    [
        ("", [], ()),
        ("anchor-depth", [("tread_thickness = 6\n", "")], ("a thickness of 1.575 in (the default: stair[0].tread",)),
        ("anchor-edge", [("edge_offset = 3.5", "edge_offset = 2.5")], ("posts.edge_offset of at least",)),
        ("plate-over-edge", [("edge_offset = 3.5", "edge_offset = 1.5")], ("in wide",)),
        ("plate-over-nosing", [(SETBACK, "setback = 1, setback_band = [1, 7]")], ("a setback of at least 2",)),
        ("plate-into-riser", [(SETBACK, "setback = 10, setback_band = [3, 11]")],
         ("nosing overhang of 0.787 in (the default: stair[0].nosing_overhang is not in the job)",)),
        ("setback-band", [STEEP], ("3 in to 7 in",)),
        ("corner-mismatch", [CORNER, WIDE],
         ("miss each other by 2.545 in", "posts.edge_offset = 5.5 in would close it and leave this: flight 1,",
          "stair[1].upper_offset = 4 in",
          'stair[1].corner = "climb" accepts it')),
        ("elbow-range", [CORNER, CLIMB], ('hardware.elbow = "wide-elbow-2in"',)),
        ("span", [("largest_span = 72", "largest_span = 12")], ("above 12 in",)),
        ("hole-near-end", [("least_height = 36", "least_height = 36, top.overhang = 1")], ("rail.top.overhang of at",)),
        ("level-extension", [("least_height = 36", "least_height = 36, top.level_extension = 3")], ("3 in has no ",)),
    ],
)  # fmt: skip
def test_refusals_of_an_inch_job_are_in_inches_and_name_the_keys(
    check: Say, code: str, changes: list[tuple[str, str]], words: tuple[str, ...]
) -> None:
    text = INCH
    for change in changes:
        assert text.count(change[0]) == 1
        text = text.replace(*change)
    left, told = check(text)
    faults = [line for line in lines(told) if line.endswith(f"[{code}]")]
    assert left == (2 if code else 0), told
    assert bool(faults) == bool(code), told
    assert code == "" or not re.search(r"[0-9] mm\b", told), told
    assert not words or any(all(word in fault for word in words) for fault in faults), told


def test_a_wanted_value_is_asked_for_in_the_jobs_unit(check: Say) -> None:
    text = f"{INCH}{LANDED}".replace("quarter-right", "half-right")
    assert "stair[1].well: a half turn wants its well; allowed: 0 in to 118.11 in" in check(text)[1]


@pytest.mark.parametrize("stage", ["job", "layout", "survey", "members"])
def test_no_refusal_has_millimetres_written_into_it(stage: str) -> None:
    """A length in a message is worded by the job's unit, so no text put together there has a unit of its own."""
    for path in (Path(railgen.__file__).parent / stage).glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.JoinedStr):
                parts = [part.value for part in node.values if isinstance(part, ast.Constant)]
                assert not [part for part in parts if re.search(r"\bmm\b", str(part))], f"{path.name}:{node.lineno}"


def test_an_anchor_too_deep_is_told_with_what_there_is(check: Say) -> None:
    timber = changed(('set = "wide-48.3"', 'set = "wide-48.3"\nanchor = "timber-screw-6.3x70"'))
    _, told = check(timber)
    assert 'hardware.anchor = "timber-screw-6.3x45"' in told
    assert "the default: stair[0].tread_thickness is not in the job" in told
    _, told = check(changed(('substrate = "timber"', 'substrate = "concrete"')))
    assert "another anchor, of your own (hardware.catalogue): the catalogue has none that would do here" in told
    assert "type stair[0].tread_thickness if it is thicker" in told
    assert "type stair[1].thickness if it is thicker" in told
    assert 'hardware.anchor = "' not in told


ANCHOR = '[[anchor]]\nid = "{id}"\nsubstrate = "concrete"\ndiameter = 6\nlength = {depth}\nhead_diameter = 12\n'
ANCHOR += "hole_diameter = 8\nhole_depth = {depth}\nedge_distance = 45\n"


def test_only_entries_that_would_do_are_proposed(check: Say) -> None:
    """In 40 mm of concrete, with 2 mm left under the hole: an anchor 36 mm deep does, one 50 mm deep does not."""
    mine = "format = 1\n" + ANCHOR.format(id="short", depth=36) + ANCHOR.format(id="still-long", depth=50)
    text = INCH.replace("tread_thickness = 6\n", "").replace(
        'hardware.set = "close-2in"', 'hardware = { set = "close-2in", catalogue = ["mine.toml"] }'
    )
    code, told = check(text, mine=mine)
    assert code == 2
    assert 'hardware.anchor = "short" [anchor-depth]' in told.replace(")", "")
    assert "still-long" not in told
    code, told = check(text.replace('["mine.toml"]', '["mine.toml"], anchor = "short"'), mine=mine)
    assert code == 0, told
