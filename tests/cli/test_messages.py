"""What a new user is told, through the command line: the one cause, where it stands, and what would mend it."""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path

import pytest

import railgen
from railgen.catalogue.models import CatalogueFile
from railgen.checks import Certainty, Check
from railgen.checks.rules import RuleSet
from railgen.cli import main
from railgen.cli.show import show_checks
from railgen.fields import Table
from railgen.fields.filekind import KEYS, FileKind
from railgen.job.file import JobFile
from tests.job.cases import GOOD, GOOD_CATALOGUE, line_of
from tests.packs import CONFIGS
from tests.says import Say, changed, lines

HELD = ("[rail]", '[rules]\nsets = ["us-ibc-2021"]\n[rail]')


def test_a_measure_that_was_never_typed_passes_no_code(check: Say) -> None:
    code, told = check(changed(HELD), "--all")
    assert code == 1
    assert "missing: stair[0].nosing_overhang" in told
    assert "missing: stair[2].nosing_overhang" in told
    assert "missing: stair[1].upper_offset" in told
    typed = changed(HELD, ("well = 120", "well = 120\nupper_offset = 0"))
    typed = typed.replace("width = 900\n", "width = 900\nnosing_overhang = 20\n")
    assert not re.findall(r"missing: stair\[\d\]\.(?!surroundings)", check(typed, "--all")[1])


def test_a_landing_too_short_along_what_was_measured_fails_all_the_same(check: Say) -> None:
    """IBC 2021, 1011.6: as long as the stair is wide, here 900 mm."""
    _, told = check(changed(HELD, ("length = 950", "length = 880")), "--all")
    assert "missing: stair[1].upper_offset" not in told
    assert "not met     landing 1 " in told


def test_what_is_over_its_limit_by_a_little_does_not_read_as_if_it_kept_it(capsys: pytest.CaptureFixture[str]) -> None:
    job = railgen.load(CONFIGS / "mill_half_turn.toml")
    used = Check(
        code="strength-x", title="peg", where="post", value=1.004, unit="", most=1.0, certainty=Certainty.MECHANICS
    )
    show_checks(job, railgen.solve(job), [used], full=False)
    told = capsys.readouterr().out
    assert re.search(r"not met +post +peg +1\.004 used +at most 1 ", told)
    assert "1 check: 1 not met" in told


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


@pytest.mark.parametrize(("file", "key"), [("job", "stair"), ("catalogue", "base_plate"), ("rules", "not_judged")])
def test_each_file_has_a_schema_that_tells_how_lengths_are_typed(
    file: str, key: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "argv", ["railgen", "schema", "--for", file])
    main()
    told = capsys.readouterr().out
    assert key in json.loads(told)["properties"]
    assert "4 ft 11 in" in told
