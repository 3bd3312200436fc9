"""What a new user is told, through the command line: the one cause, where it stands, and what would mend it."""

from __future__ import annotations

import ast
import json
import re
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import railgen
from railgen.catalogue.models import CatalogueFile
from railgen.checks.rules import RuleSet
from railgen.cli import main
from railgen.fields import Table
from railgen.fields.filekind import KEYS, FileKind
from railgen.job.file import JobFile
from tests.job.cases import GOOD, GOOD_CATALOGUE, line_of
from tests.packs import CONFIGS

Told = tuple[int, str]
Say = Callable[..., Told]


@pytest.fixture
def check(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Say:
    """Exit status of ``railgen check`` on a job's text, and all it says."""

    def run(text: str, *words: str, **files: str) -> Told:
        (tmp_path / "job.toml").write_text(text, encoding="utf-8")
        for name, content in files.items():
            (tmp_path / f"{name}.toml").write_text(content, encoding="utf-8")
        monkeypatch.setattr(sys, "argv", ["railgen", "check", str(tmp_path / "job.toml"), *words])
        with pytest.raises(SystemExit) as leave:
            main()
        told = capsys.readouterr()
        return int(leave.value.code or 0), told.out + told.err

    return run


def changed(*changes: tuple[str, str]) -> str:
    """The good job with parts of its text replaced."""
    text = GOOD
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


HELD = ("[rail]", '[rules]\nsets = ["us-ibc-2021"]\n[rail]')


def test_a_measure_that_was_never_typed_passes_no_code(check: Say) -> None:
    code, told = check(changed(HELD), "--all")
    assert code == 1
    assert "missing: stair[0].nosing_overhang" in told
    assert "missing: stair[2].nosing_overhang" in told
    assert "missing: stair[1].upper_offset" in told
    typed = changed(HELD, ("well = 120", "well = 120\nupper_offset = 0"))
    typed = typed.replace("width = 900\n", "width = 900\nnosing_overhang = 20\n")
    assert "missing: stair[" not in check(typed, "--all")[1]


def test_a_landing_too_short_along_what_was_measured_fails_all_the_same(check: Say) -> None:
    """IBC 2021, 1011.6: as long as the stair is wide, here 900 mm."""
    _, told = check(changed(HELD, ("length = 950", "length = 880")), "--all")
    assert "missing: stair[1].upper_offset" not in told
    assert "does not meet  landing 1 " in told


def lines(told: str) -> list[str]:
    return [line for line in told.splitlines() if line.startswith("railgen: ")]


def test_units_misspelt_are_the_only_fault_of_a_job_in_inches(check: Say) -> None:
    text = (CONFIGS / "mill_weir_steps_inch.toml").read_text(encoding="utf-8")
    fittings = (CONFIGS / "millrace_fittings.toml").read_text(encoding="utf-8")
    code, told = check(text.replace('units = "inch"', 'units = "in"'), millrace_fittings=fittings)
    (fault,) = lines(told)
    assert code == 2
    assert '"in" is not known here; allowed: mm or inch (did you mean inch?)' in fault


def test_units_left_out_of_a_job_in_inches_are_told_once(check: Say) -> None:
    text = (CONFIGS / "mill_weir_steps_inch.toml").read_text(encoding="utf-8")
    fittings = (CONFIGS / "millrace_fittings.toml").read_text(encoding="utf-8")
    code, told = check(text.replace('units = "inch"\n', ""), millrace_fittings=fittings)
    (fault,) = lines(told)
    assert code == 2
    assert re.search(r"\d\d more lengths \(in this file\)", fault)
    assert 'they all look like inches: set units = "inch"' in fault


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("4-1/2", 'stands in quotes: "4-1/2"'),
        ("4 1/2 # of it", 'stands in quotes: "4 1/2"'),
        ("5'", 'stands in quotes: "5\'"'),
        ("4ft 11in", 'stands in quotes: "4ft 11in"'),
        ('7 3/4"', "stands in quotes: '7 3/4\"'"),
        ("180 mm", 'stands in quotes: "180 mm"'),
        ("124,5", "decimals stand behind a point: 124.5"),
        ("“4-1/2”", "straight quotes"),
    ],
)
def test_a_length_without_its_quotes_is_told_with_them(check: Say, typed: str, hint: str) -> None:
    code, told = check(changed(("setback = 125", f"setback = {typed}")))
    (fault,) = lines(told)
    assert code == 2
    assert f"job.toml:{line_of(changed(), 'setback = ')}: " in fault
    assert hint in fault


def test_a_fraction_in_a_list_is_told_with_its_quotes(check: Say) -> None:
    _, told = check(changed(("[251, 248]", "[251, 9-3/4]")))
    assert 'stands in quotes: "9-3/4"' in told


def test_feet_are_read(check: Say) -> None:
    code, told = check(changed(("total_rise = 536", 'total_rise = "1\' 9-1/8\\""')), "--json")
    assert code == 0, told
    (closure,) = (one for one in json.loads(told)["checks"] if one["code"] == "closure-rise")
    assert closure["value"] == pytest.approx(21.125 * 25.4 - (176 + 181 + 178), abs=1e-6)


@pytest.mark.parametrize(
    ("change", "where", "form"),
    [
        (("[[stair]] # lower flight", "[stair]"), "stair: ", "[[stair]]"),
        (
            ("[rail]", '[ground.layers]\nkind = "timber"\nthickness = 40\n[rail]'),
            "ground.layers: ",
            "[[ground.layers]]",
        ),
        (("[rail]", "[stock.lengths]\nlength = 6000\n[rail]"), "stock.lengths: ", "[[stock.lengths]]"),
        (("[rail]", "[stock.rack]\nlength = 900\n[rail]"), "stock.rack: ", "[[stock.rack]]"),
        (("[rail]", "[[rail]]"), "rail: ", "[rail]"),
    ],
)
def test_brackets_of_another_number_are_told(check: Say, change: tuple[str, str], where: str, form: str) -> None:
    text = changed(change)
    if "[stair]" in change[1]:
        text = text[: text.index("[[stair]] # landing")]
    code, told = check(text)
    (fault,) = lines(told)
    assert code == 2
    assert where in fault
    assert f", {form})" in fault


def test_a_list_begun_with_one_bracket_twice_is_told(check: Say) -> None:
    code, told = check(changed().replace("[[stair]]", "[stair]"))
    (fault,) = lines(told)
    assert code == 2
    assert "each wants two brackets: [[stair]]" in fault


RULES = 'format = 1\nid = "our-shop"\ntitle = "Rules of our shop"\n[[rule]]\nid = "grip"\n'
RULES += 'kind = "grip"\nunit = "length"\nmost = 50\ncertainty = "own"\nsays = "no rail thicker than 50 mm"\n'
MINE = ('set = "wide-48.3"', 'set = "wide-48.3"\ncatalogue = ["mine.toml"]')
OWN_RULES = ("[rail]", '[rules]\nfiles = ["mine.toml"]\n[rail]')


@pytest.mark.parametrize(
    ("job", "mine", "words"),
    [
        (GOOD_CATALOGUE, "", ("looks like a catalogue file (rivet, base_plate,", "job file is wanted", "hardware.cat")),
        (RULES, "", ("looks like a rule set file (id, title, rule)", "job file is wanted", "rules.files")),
        (
            changed(MINE),
            GOOD,
            ("looks like a job file (project,", "catalogue file is wanted", "railgen check mine.toml"),
        ),
        (changed(MINE), RULES, ("looks like a rule set file", "catalogue file is wanted", "rules.files")),
        (changed(OWN_RULES), GOOD, ("looks like a job file (project,", "rule set file is wanted")),
        (
            changed(OWN_RULES),
            GOOD_CATALOGUE,
            ("looks like a catalogue file", "rule set file is wanted", "hardware.cat"),
        ),
    ],
)
def test_a_file_in_anothers_place_is_told_as_that_and_nothing_else(
    check: Say, job: str, mine: str, words: tuple[str, ...]
) -> None:
    code, told = check(job, mine=mine)
    (fault,) = lines(told)
    assert code == 2
    assert ("mine.toml:" if mine else "job.toml:") in fault
    assert all(word in fault for word in words), fault


def test_a_job_is_no_catalogue_to_list(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "mine.toml").write_text(GOOD, encoding="utf-8")
    monkeypatch.setattr(sys, "argv", ["railgen", "catalogue", "--file", str(tmp_path / "mine.toml")])
    with pytest.raises(SystemExit) as leave:
        main()
    assert leave.value.code == 2
    (fault,) = lines(capsys.readouterr().err)
    assert "looks like a job file" in fault


def test_the_keys_that_tell_files_apart_are_those_of_their_tables() -> None:
    tables: dict[FileKind, type[Table]] = {
        FileKind.JOB: JobFile,
        FileKind.CATALOGUE: CatalogueFile,
        FileKind.RULES: RuleSet,
    }
    for kind, table in tables.items():
        assert KEYS[kind] == set(table.model_fields) - {"format", "units"}
    assert sum(map(len, KEYS.values())) == len(frozenset[str]().union(*KEYS.values()))


@pytest.mark.parametrize(
    ("tables", "begins", "words"),
    [
        ('[rules]\nsets = [\n  "us-ibc-2021",\n  "us-irc-2012",\n]\n', '"us-irc-2012"', "did you mean us-irc-2021?"),
        ('[strength]\nloads = ["asce-8"]\n', "loads", "did you mean asce-7?"),
        ('[rules]\nfiles = ["our-shop.toml"]\n', "files", 'there is no file "our-shop.toml"'),
        ('[strength]\nloads = ["asce-7"]\nline_load = 0.9\n', "line_load", "leave it out for this load"),
    ],
)
def test_what_only_the_checks_refuse_has_its_line_in_the_job_too(
    check: Say, tables: str, begins: str, words: str
) -> None:
    text = changed(("[rail]", f"{tables}[rail]"))
    code, told = check(text)
    (fault,) = lines(told)
    assert code == 2
    assert f"job.toml:{line_of(text, begins)}: " in fault
    assert words in fault


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
        ("setback-band", [CORNER, WIDE, ("[3, 7]", "[4.8, 5.2]")],
         ("miss each other", "stair[1].upper_offset", 'stair[1].corner = "rise-piece"')),
        ("elbow-range", [CORNER], ('hardware.elbow = "wide-elbow-2in"',)),
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


@pytest.mark.parametrize(("file", "key"), [("job", "stair"), ("catalogue", "base_plate"), ("rules", "not_judged")])
def test_each_file_has_a_schema_that_tells_how_lengths_are_typed(
    file: str, key: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "argv", ["railgen", "schema", "--for", file])
    main()
    told = capsys.readouterr().out
    assert key in json.loads(told)["properties"]
    assert "4 ft 11 in" in told


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
