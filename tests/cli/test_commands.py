"""The commands as the outside relies on them: what they print, what they leave, their exit status."""

from __future__ import annotations

import csv
import json
import os
import resource
import subprocess
import sys
from pathlib import Path

import pdfplumber
import pytest

import railgen
from railgen.checks.rules import RULES_CAUTION
from railgen.checks.rules.load import shipped_rule_sets
from railgen.checks.strength.loads import load_names
from railgen.cli import main
from tests.job.malformed import CASES, Case, write_case
from tests.packs import CONFIGS

MAIN = str(CONFIGS / "mill_half_turn.toml")
LOFT = CONFIGS / "mill_loft_timber.toml"


def run(monkeypatch: pytest.MonkeyPatch, *words: str) -> int:
    """Exit status of a command, in this process."""
    monkeypatch.setattr(sys, "argv", ["railgen", *words])
    try:
        main()
    except SystemExit as leave:
        return int(leave.code or 0)
    return 0


def run_apart(*words: str, code: str = "", **options: object) -> subprocess.CompletedProcess[str]:
    """A command in a process of its own, after some ``code``."""
    start = f"import sys\nsys.argv = ['railgen', *{list(words)!r}]\n{code}\nfrom railgen.cli import main\nmain()\n"
    return subprocess.run(
        [sys.executable, "-c", start],
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
        **options,  # type: ignore[call-overload]
    )


@pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])
def test_a_malformed_file_ends_with_two_and_leaves_nothing(
    case: Case, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write_case(case, tmp_path)
    before = sorted(tmp_path.rglob("*"))
    assert run(monkeypatch, "build", str(path), "--out", str(tmp_path / "out")) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "Traceback" not in told.err
    assert all(line.startswith("railgen: ") for line in told.err.splitlines())
    assert f"[{case.code}]" in told.err
    assert sorted(tmp_path.rglob("*")) == before


def test_more_than_forty_malformed_files_are_tried() -> None:
    assert len(CASES) >= 40


def test_check_tells_every_check_and_ends_with_zero(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "check", MAIN, "--all") == 0
    told = capsys.readouterr().out
    assert "not met" not in told
    assert "flight 2, nosing 7" in told
    assert "licensed engineer" in told
    assert run(monkeypatch, "check", MAIN) == 0
    short = capsys.readouterr().out
    assert "rail height above the nosing" in short
    assert len(short) < len(told)


def test_check_for_machines_is_json(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(monkeypatch, "check", MAIN, "--json") == 0
    content = json.loads(capsys.readouterr().out)
    assert content["verdict"] == "meets as far as judged"
    assert {"code", "where", "verdict", "value", "least", "most"} <= set(content["checks"][0])


def test_a_check_that_is_not_met_ends_with_one_and_still_builds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "job.toml"
    job.write_text(LOFT.read_text(encoding="utf-8").replace("total_rise = 1880", "total_rise = 1910"), encoding="utf-8")
    assert run(monkeypatch, "check", str(job)) == 1
    told = capsys.readouterr().out
    assert "not met" in told
    assert "measure the flight again" in told
    assert run(monkeypatch, "build", str(job), "--out", str(tmp_path / "out")) == 1
    with pdfplumber.open(tmp_path / "out" / "mill_loft_timber" / "drawings" / "shop.pdf") as sheets:
        assert all("CHECKS NOT MET" in page.extract_text() for page in sheets.pages)
    manifest = json.loads((tmp_path / "out" / "mill_loft_timber" / "manifest.json").read_text(encoding="utf-8"))
    assert manifest["checks_met"] is False


def test_one_artefact_can_be_asked_for_alone_and_joins_the_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    there = {"checks.json", "layout.json", "manifest.json"}
    alone = {
        "schedules": {"cut_list.csv", "drill_schedule.csv", "parts_list.csv"},
        "drawings": {"drawings"},
        "job-sheet": {"job_sheet.html"},
        "order": {"order.csv", "saw_list.csv", "workbook.xlsx"},
        "labels": {"labels.csv", "labels.pdf"},
        "installation": {"installation.txt", "installation.pdf"},
        "hand-over": {"hand_over.txt", "hand_over.pdf"},
        "pack": {"pack.pdf"},
    }
    pack = tmp_path / "mill_loft_timber"
    for only, files in alone.items():
        there |= files
        assert run(monkeypatch, "build", str(LOFT), "--out", str(tmp_path), "--only", only) == 0
        assert {path.name for path in pack.iterdir()} == there
        if only == "schedules":  # masses come from the solids, which were not built
            with (pack / "parts_list.csv").open(encoding="utf-8", newline="") as file:
                parts = list(csv.DictReader(file))
            assert {(row["mass_kg"], row["total_kg"]) for row in parts} == {("not given", "not given")}
            assert {row["source"] for row in parts} == {"made", "bought"}
    assert "older" not in capsys.readouterr().out
    assert json.loads((pack / "manifest.json").read_text(encoding="ascii"))["older"] == []
    assert run(monkeypatch, "build", str(LOFT), "--out", str(tmp_path), "--only", "everything") == 2
    assert "solids" in capsys.readouterr().err


def test_a_build_of_a_part_tells_what_is_older_and_what_was_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    job, pack = tmp_path / "job.toml", tmp_path / "mill_loft_timber"
    text = LOFT.read_text(encoding="utf-8")
    job.write_text(text, encoding="utf-8")

    def build(*only: str) -> str:
        words = [word for name in only for word in ("--only", name)]
        assert run(monkeypatch, "build", str(job), "--out", str(tmp_path), *words) == 0
        return capsys.readouterr().out

    assert "older" not in build("schedules", "labels")
    (pack / "note.txt").write_text("mine", encoding="utf-8")
    (pack / "cut_list.csv").write_text("by hand", encoding="utf-8")
    labels = (pack / "labels.csv").read_bytes()
    told = build("schedules")
    assert f"kept: {pack / 'cut_list.csv'}, made or changed by hand, is now {pack / 'kept' / 'cut_list.csv'}" in told
    assert "older" not in told
    job.write_text("# a remark\n" + text, encoding="utf-8")
    assert "older" not in build("schedules")
    assert "least_height = 900" in text
    job.write_text(text.replace("least_height = 900", "least_height = 905"), encoding="utf-8")
    told = build("schedules")
    assert f"older than the job, do not work from it: labels.csv, labels.pdf; listed in {pack / 'OLDER.txt'}" in told
    assert "kept:" not in told
    assert "  labels.pdf\n" in (pack / "OLDER.txt").read_text(encoding="ascii")
    manifest = json.loads((pack / "manifest.json").read_text(encoding="ascii"))
    assert manifest["older"] == ["labels.csv", "labels.pdf"]
    assert manifest["written_for"]["labels.csv"] != manifest["written_for"]["cut_list.csv"] == manifest["state"]
    build("job-sheet")
    page = (pack / "job_sheet.html").read_text(encoding="utf-8")
    assert "labels.csv, labels.pdf: OLDER THAN THIS PAGE" in page
    assert page.count("OLDER THAN THIS PAGE") == 1
    assert (pack / "labels.csv").read_bytes() == labels
    assert "older" not in build("labels")
    assert not (pack / "OLDER.txt").exists()
    assert (pack / "note.txt").read_text(encoding="utf-8") == "mine"
    assert (pack / "kept" / "cut_list.csv").read_text(encoding="utf-8") == "by hand"


def test_a_job_called_previous_would_be_the_last_pack_of_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "job.toml"
    job.write_text(LOFT.read_text(encoding="utf-8").replace('"mill_loft_timber"', '"mill.previous"'), encoding="utf-8")
    assert run(monkeypatch, "check", str(job)) == 2
    assert "project.id" in capsys.readouterr().err


def test_a_rail_longer_than_any_bar_is_not_met_and_what_could_not_be_made_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (
        'format = 1\nproject.id = "long"\nhardware.set = "wide-48.3"\nposts.edge_offset = 62\n'
        'rail = { side = "left", least_height = 900 }\n'
        '[[stair]]\nkind = "flight"\nrise = 170\ngoing = 280\nriser_count = 24\nwidth = 1000\n'
    )
    job = tmp_path / "long.toml"
    job.write_text(text, encoding="utf-8")
    for stock in ("", "[[stock.lengths]]\nlength = 7000\n"):  # 23 goings of 280 and risers of 170 are 7534 mm of rail
        job.write_text(text + stock, encoding="utf-8")
        assert run(monkeypatch, "check", str(job)) == 1
        assert "which railgen does not lay out" in capsys.readouterr().out
        assert run(monkeypatch, "build", str(job), "--out", str(tmp_path / "out"), "--only", "order") == 1
        assert "not made: order, saw list, installation and workbook" in capsys.readouterr().out
        assert "longer than any bar" in (tmp_path / "out" / "long" / "order_not_made.txt").read_text(encoding="utf-8")
    job.write_text(text + "[[stock.lengths]]\nlength = 9000\n", encoding="utf-8")
    assert run(monkeypatch, "check", str(job)) == 0


@pytest.mark.parametrize("name", ["bad_wandering_treads", "bad_mixed_units"])
def test_a_bad_job_ends_with_two(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "build", str(CONFIGS / f"{name}.toml"), "--out", str(tmp_path / "out")) == 2
    assert "allowed" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_fault_of_the_program_ends_with_three(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(_: object) -> None:
        raise RuntimeError("no such luck")

    monkeypatch.setattr(railgen, "solve", broken)
    assert run(monkeypatch, "check", MAIN) == 3
    assert "a fault of the program" in capsys.readouterr().err


@pytest.mark.parametrize("words", [["chek", MAIN], ["check"], ["check", MAIN, "--jsno"], ["build", MAIN, "--out"]])
def test_words_that_are_off_end_with_two(
    words: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, *words) == 2
    assert "Error: " in capsys.readouterr().err


def test_new_never_overwrites(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "mine.toml"
    assert run(monkeypatch, "new", str(job)) == 0
    assert run(monkeypatch, "check", str(job)) == 0
    job.write_text("precious", encoding="utf-8")
    assert run(monkeypatch, "new", str(job)) == 2
    assert job.read_text(encoding="utf-8") == "precious"
    assert run(monkeypatch, "new", str(tmp_path / "no" / "such" / "folder.toml")) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_version_schema_and_catalogue(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(monkeypatch, "--version") == 0
    assert railgen.__version__ in capsys.readouterr().out
    assert run(monkeypatch, "schema") == 0
    assert json.loads(capsys.readouterr().out)["type"] == "object"
    assert run(monkeypatch, "catalogue") == 0
    assert "wide-elbow-48.3" in capsys.readouterr().out
    assert run(monkeypatch, "catalogue", "wide-elbow-48.3") == 0
    told = capsys.readouterr().out
    assert "take_off" in told
    assert "31 mm" in told
    assert run(monkeypatch, "catalogue", "wide-elbow-48") == 2
    assert "did you mean wide-elbow-48.3?" in capsys.readouterr().err


def test_the_catalogue_shows_rule_sets_and_loads(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "catalogue") == 0
    listed = capsys.readouterr().out
    for name in (*shipped_rule_sets(), *load_names()):
        assert f"  {name} " in listed
    assert run(monkeypatch, "catalogue", "us-ada-2010") == 0
    told = capsys.readouterr().out
    assert "505.4: height of the rail above the nosing (at least 34 in, at most 38 in" in told
    assert RULES_CAUTION.split(".", maxsplit=1)[0] in " ".join(told.split())
    assert run(monkeypatch, "catalogue", "us-irc-2021") == 0
    assert (
        "R301.5: loads worked out that the document accepts (one of irc, ibc-dwelling, asce-7"
        in capsys.readouterr().out
    )
    assert run(monkeypatch, "catalogue", "us-ibc-2021") == 0
    told = capsys.readouterr().out
    assert "International Building Code 2021" in told
    assert "1014.6 Handrail extensions: level rail beyond the top of the flight (at least 12 in, read in a" in told
    assert run(monkeypatch, "catalogue", "ibc-dwelling") == 0
    assert "enough for one-family, two-family" in capsys.readouterr().out  # IBC 2021, 1607.9.1, exception 1
    assert run(monkeypatch, "catalogue", "asce-7") == 0
    assert "0.73 kN/m or 0.89 kN at a point" in capsys.readouterr().out  # 50 lb/ft and 200 lb, ASCE 7-16, 4.5.1
    assert run(monkeypatch, "catalogue", "us-ada-201") == 2
    assert "did you mean us-ada-2010?" in capsys.readouterr().err


def test_an_output_folder_that_is_a_file_ends_with_two(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "out").write_text("a file", encoding="utf-8")
    assert run(monkeypatch, "build", str(LOFT), "--out", str(tmp_path / "out")) == 2
    assert "cannot write here" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize("size", [2_000, 60_000])
def test_an_output_that_breaks_off_ends_with_two_and_leaves_nothing(size: int, tmp_path: Path) -> None:
    """A limit on file size stands in for a full disk: writes fail part of the way, also the kernel's own."""
    done = run_apart(
        "build",
        str(LOFT),
        "--out",
        str(tmp_path / "out"),
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size)),
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
    )
    assert done.returncode == 2, done.stderr
    assert "Traceback" not in done.stderr
    assert "mill_loft_timber" in done.stderr
    assert ".railgen" not in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_missing_system_library_is_named_and_checking_does_without(tmp_path: Path) -> None:
    block = (
        "class Block:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name.split('.')[0] in ('OCP', 'cadquery'):\n"
        "            raise ImportError('libGL.so.1: cannot open shared object file')\n"
        "sys.meta_path.insert(0, Block())\n"
    )
    done = run_apart("build", MAIN, "--out", str(tmp_path / "out"), code=block)
    assert done.returncode == 2
    assert "libgl1" in done.stderr
    assert "Traceback" not in done.stderr
    assert list(tmp_path.iterdir()) == []
    assert run_apart("check", MAIN, code=block).returncode == 0
