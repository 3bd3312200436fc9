"""Wherever a verdict is printed, the cautions and the deferral to licensed practice are printed too."""

from __future__ import annotations

import html
import json
import re
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import ezdxf
import openpyxl
import pdfplumber
import pytest

import railgen
from railgen.checks.rules import load_rule_sets
from railgen.checks.table import cautions
from railgen.drawings.frame import CAUTIONS
from tests.packs import CONFIGS, BuiltPack, built_pack

WEAK = CONFIGS / "weak_mezzanine.toml"
SAID = re.compile(r"not met|does not meet|cannot say|checks incomplete", re.IGNORECASE)
BINARY = {".step", ".stl", ".glb"}  # solids print nothing
DATA = {*BINARY, ".csv", ".json"}  # read by programs, which find the verdict in checks.json
BRIEF = ("installation.pdf", "installation.txt", "labels.pdf", "order_not_made.txt")  # no more than the verdict on all
LONG = """
format = 1
project.id = "long"
hardware.set = "wide-48.3"
posts.edge_offset = 62
rail = { side = "left", least_height = 900 }
rules.sets = ["us-osha-1910"]
[[stair]]
kind = "flight"
rise = 170
going = 280
riser_count = 24
width = 1000
"""


def squeezed(text: str) -> str:
    """Text without white space: lines break differently everywhere."""
    return re.sub(r"\s+", "", text)


def printed(path: Path) -> Iterator[str]:
    """What a file shows to people: a PDF page by page, everything else as a whole."""
    if path.suffix == ".pdf":
        with pdfplumber.open(path) as pdf:
            for page in pdf.pages:
                yield page.extract_text() or ""
    elif path.suffix == ".xlsx":
        with zipfile.ZipFile(path) as book:
            yield html.unescape(re.sub(r"<[^>]+>", " ", book.read("xl/sharedStrings.xml").decode("utf-8")))
    elif path.suffix == ".html":
        text = re.sub(r"(?s)<(script|style)\b.*?</\1>", " ", path.read_text(encoding="utf-8"))
        yield html.unescape(re.sub(r"<[^>]+>", " ", text))
    elif path.suffix == ".dxf":
        space = ezdxf.readfile(path).modelspace()
        yield "\n".join(text.dxf.text for text in space.query("TEXT"))
    elif path.suffix == ".json":
        yield json.dumps(json.loads(path.read_text(encoding="utf-8")), ensure_ascii=False).replace("\\n", "\n")
    else:
        yield path.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def weak() -> BuiltPack:
    return built_pack(WEAK.stem)


def test_every_file_that_prints_a_verdict_prints_the_cautions(weak: BuiltPack) -> None:
    sentences = [squeezed(sentence) for sentence in cautions(weak.checks)]
    deferral = [squeezed(sentence) for sentence in CAUTIONS]
    assert len(sentences) == 3  # on the numbers, on the rules, on strength
    told: set[str] = set()
    for path in sorted(p for p in weak.folder.rglob("*") if p.is_file() and p.suffix not in BINARY):
        pages = list(printed(path))
        if not any(SAID.search(page) for page in pages):
            continue
        name = path.relative_to(weak.folder).as_posix()
        told.add(name)
        if name.startswith("drawings/"):  # each sheet goes its own way: the deferral stands on every one
            for page in pages:
                assert all(sentence in squeezed(page) for sentence in deferral), name
        elif name in BRIEF:
            for page in pages:
                assert squeezed("Local codes and licensed practice decide.") in squeezed(page), name
        else:
            assert all(sentence in squeezed("".join(pages)) for sentence in sentences), name
    assert {"checks.json", "job_sheet.html", "hand_over.txt", "workbook.xlsx", "drawings/shop.pdf"} <= told


def heads(path: Path) -> list[str]:
    """What stands on every page, sheet or head of a file; of a workbook the first line of each sheet."""
    if path.suffix == ".xlsx":
        return [str(sheet["A1"].value) for sheet in openpyxl.load_workbook(path)]
    if path.suffix == ".txt":
        return [path.read_text(encoding="utf-8").partition("\n")[0]]
    return list(printed(path))


def assert_marked(folder: Path, mark: str, some: set[str]) -> None:
    """Everything for people bears the mark, ``some`` among it."""
    papers = {p.relative_to(folder).as_posix(): p for p in folder.rglob("*") if p.is_file() and p.suffix not in DATA}
    assert some <= set(papers)
    for name, path in papers.items():
        pages = heads(path)
        assert pages, name
        for number, page in enumerate(pages, start=1):
            assert squeezed(mark) in squeezed(page).upper(), f"{name}, {number}"


def test_every_sheet_of_a_pack_whose_checks_fail_is_marked(weak: BuiltPack) -> None:
    assert_marked(weak.folder, "CHECKS NOT MET", {"installation.txt", "hand_over.txt", "workbook.xlsx", "pack.pdf"})


@pytest.mark.parametrize(
    ("stock", "mark", "some"),
    [
        ("", "CHECKS NOT MET", {"order_not_made.txt", "hand_over.txt", "job_sheet.html"}),
        (
            "[[stock.lengths]]\nlength = 9000\n",
            "CHECKS INCOMPLETE",
            {"workbook.xlsx", "hand_over.txt", "job_sheet.html"},
        ),
    ],
)
def test_every_sheet_of_a_pack_with_open_checks_is_marked(
    tmp_path: Path, stock: str, mark: str, some: set[str]
) -> None:
    (tmp_path / "long.toml").write_text(LONG + stock, encoding="utf-8")
    pack = railgen.build(railgen.load(tmp_path / "long.toml"), tmp_path, only=("order", "hand-over", "job-sheet"))
    assert_marked(pack.folder, mark, some)


def test_the_terminal_prints_the_cautions_with_check_and_with_build(tmp_path: Path) -> None:
    for options in (("check", str(WEAK)), ("build", str(WEAK), "--out", str(tmp_path), "--only", "schedules")):
        done = subprocess.run([sys.executable, "-m", "railgen", *options], capture_output=True, text=True, check=False)
        assert "not met" in done.stdout
        for sentence in cautions(railgen.check(job := railgen.load(WEAK), railgen.solve(job))):
            assert sentence in done.stdout


def test_what_a_document_asks_and_we_do_not_judge_stands_beside_the_verdicts(weak: BuiltPack) -> None:
    """Notes and open questions of each rule set: on the terminal, in checks.json, on the job sheet."""
    job = railgen.load(WEAK)
    (rule_set,) = load_rule_sets(job.rules)
    wanted = [squeezed(text) for text in (*rule_set.notes, *rule_set.not_judged)]
    assert wanted
    terminal = subprocess.run(
        [sys.executable, "-m", "railgen", "check", str(WEAK)], capture_output=True, text=True, check=False
    )
    places = {
        "terminal": terminal.stdout,
        "checks.json": "\n".join(json.loads((weak.folder / "checks.json").read_text(encoding="utf-8"))["notes"]),
        "job_sheet.html": "".join(printed(weak.folder / "job_sheet.html")),
    }
    for place, text in places.items():
        assert all(sentence in squeezed(text) for sentence in wanted), place
