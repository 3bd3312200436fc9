"""The build mark: what it counts, what it does not, and that nothing of a pack is without it."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import ezdxf
import openpyxl
import pdfplumber
import pytest

import railgen
from railgen.report.build_mark import build_mark
from tests.packs import CONFIGS, built_pack

MAIN = "mill_half_turn"

JOB = """\
format = 1
units = "mm"
project.id = "one"
hardware = { set = "my-set", catalogue = ["my_fittings.toml"] }
rules.files = ["my_rules.toml"]
[posts]
edge_offset = 63.5
[rail]
side = "left"
least_height = 914.4
[stock]
kerf = 2.54
[[stair]]
kind = "flight"
risers = [171.45, 180.2, 169.9, 170]
goings = [279.4, 281.3, 280]
width = 1000
"""
RULES = """\
format = 1
id = "mine"
title = "House rules"
units = "mm"
[[rule]]
id = "grip"
kind = "grip"
unit = "length"
most = 50.8
certainty = "own"
says = "no thicker than this"
"""


def fittings() -> str:
    readme = (CONFIGS.parent / "README.md").read_text(encoding="utf-8")
    return readme.split("```toml\n")[1].split("```")[0]


def in_inches(text: str, *, but: str = "mm") -> str:
    """The file with every length divided by 25.4, written as Python writes the quotient."""

    def inches(found: re.Match[str]) -> str:
        return found[1] + re.sub(r"\d+(\.\d+)?", lambda number: repr(float(number[0]) / 25.4), found[2])

    line = re.compile(r"^((?!format|density)\w+ = )([\d\[].*)$", re.MULTILINE)
    return line.sub(inches, text).replace(f'units = "{but}"', 'units = "inch"')


def mark(folder: Path, job: str = JOB, hardware: str = "", rules: str = RULES) -> str:
    folder.mkdir(exist_ok=True)
    for name, text in (("job", job), ("my_fittings", hardware or fittings()), ("my_rules", rules)):
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return build_mark(railgen.load(folder / "job.toml"))


def test_a_job_in_mm_and_the_same_job_in_inches_have_one_build_mark(tmp_path: Path) -> None:
    job, hardware, rules = in_inches(JOB), in_inches(fittings()), in_inches(RULES)
    assert "risers = [6.75, " in job
    assert "most = 2.0" in rules
    assert "od = 1.89763" in hardware
    assert mark(tmp_path / "mm") == mark(tmp_path / "inch", job, hardware, rules)


def turned(text: str) -> str:
    """Its tables and the lines above them in another order."""
    head, *tables = re.split(r"^(?=\[)", text, flags=re.MULTILINE)
    first, *lines = head.splitlines()
    return "\n".join([first, *lines[::-1]]) + "\n" + "".join(tables[::-1])


def printed_otherwise(text: str) -> str:
    return f'{text}[print]\ndimensions = "inch-1/16"\npaper = "US"\n[output]\nunits = "inch"\n'


@pytest.mark.parametrize("change", [lambda text: f"# a remark\n{text}", turned, printed_otherwise])
def test_remarks_order_and_how_a_job_is_printed_do_not_count(change: Callable[[str], str], tmp_path: Path) -> None:
    assert change(JOB) != JOB
    assert mark(tmp_path / "a") == mark(tmp_path / "b", change(JOB))


def test_the_order_of_a_catalogue_and_entries_that_are_not_used_do_not_count(tmp_path: Path) -> None:
    head, *entries = re.split(r"^(?=\[\[)", fittings(), flags=re.MULTILINE)
    (cover,) = [entry for entry in entries if entry.startswith("[[cover_plate]]")]
    more = cover.replace("my-cover", "another")  # which fits too
    assert mark(tmp_path / "a") == mark(tmp_path / "b", hardware="".join([head, more, *entries[::-1]]))


@pytest.mark.parametrize(
    ("job", "hardware", "rules"),
    [
        (("170]", "171]"), ("", ""), ("", "")),
        (("170]", "170.001]"), ("", ""), ("", "")),
        (('side = "left"', 'side = "right"'), ("", ""), ("", "")),
        (('"one"', '"one"\nproject.revision = "B"'), ("", ""), ("", "")),
        (("width = 1000", "width = 1000\nnosing_overhang = 20"), ("", ""), ("", "")),
        (("", ""), ("wall = 1.95", "wall = 1.96"), ("", "")),
        (("", ""), ("", ""), ("50.8", "50.9")),
        (("", ""), ("", ""), ("no thicker", "not thicker")),
    ],
)
def test_what_a_job_comes_to_counts(
    job: tuple[str, str], hardware: tuple[str, str], rules: tuple[str, str], tmp_path: Path
) -> None:
    """The default of the overhang, 20 mm, once it is typed: it is a measurement then, and rules ask whether it is."""
    changed = JOB.replace(*job), fittings().replace(*hardware), RULES.replace(*rules)
    assert changed != (JOB, fittings(), RULES)
    assert mark(tmp_path / "a") != mark(tmp_path / "b", *changed)


def test_the_version_counts_and_the_folder_does_not(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here = mark(tmp_path / "a")
    assert here == mark(tmp_path / "b")
    monkeypatch.setattr("railgen.report.build_mark.version", lambda name: f"{version(name)}.1")
    assert mark(tmp_path / "a") != here


def test_a_build_mark_is_eight_letters_and_digits_that_no_spreadsheet_takes_for_a_number(tmp_path: Path) -> None:
    assert re.fullmatch("[A-Z2-7]{8}", mark(tmp_path / "a"))


def test_nothing_in_a_pack_is_without_its_build_mark() -> None:
    """All but STL and GLB, which have no place for it; each page, sheet, label and row for itself."""
    pack = built_pack(MAIN)
    mine, seen = build_mark(pack.job), set()
    for path in sorted(path for path in pack.folder.rglob("*") if path.is_file()):
        seen.add(path.suffix)
        match path.suffix:
            case ".csv":
                head, *rows = csv.reader(io.StringIO(path.read_text(encoding="utf-8")))
                assert (head[-1], {row[-1] for row in rows}) == ("build", {mine}), path
            case ".step":
                assert f"build {mine}" in path.read_text(encoding="ascii").split("ENDSEC;")[0], path
            case ".json":
                assert json.loads(path.read_text(encoding="utf-8"))["build"] == mine, path
            case ".dxf":
                texts = [text.dxf.text for text in ezdxf.readfile(path).modelspace().query("TEXT")]
                assert sum(mine in text for text in texts) == 1, path
            case ".pdf":
                with pdfplumber.open(path) as pdf:
                    bare = [page.page_number for page in pdf.pages if mine not in page.extract_text()]
                assert not bare, path
            case ".xlsx":
                for sheet in openpyxl.load_workbook(path):
                    row = next(row for row in sheet.iter_rows(values_only=True) if "build" in row)
                    assert row[-1] == "build"
                    assert mine in sheet.oddFooter.left.text
            case ".html" | ".txt":
                assert mine in path.read_text(encoding="utf-8"), path
            case _:
                assert path.suffix in (".stl", ".glb"), path
    assert len(seen) == 10
    with pdfplumber.open(pack.folder / "labels.pdf") as pdf:
        cards = "".join(page.extract_text() for page in pdf.pages).count("DATUM END")
        assert sum(page.extract_text().count(mine) for page in pdf.pages) == cards + len(pdf.pages)
