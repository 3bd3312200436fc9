"""The workbook: the same bytes each time, every sheet as its table, and nothing in it that runs."""

from __future__ import annotations

import datetime
import io
import subprocess
import sys
import zipfile
from dataclasses import replace

import openpyxl
import pytest

from railgen import fabricate, solve
from railgen.job.order_model import OrderInput
from railgen.schedules.book import make_book
from railgen.schedules.table import Column, Table
from railgen.schedules.workbook import workbook
from tests import jobs

NASTY = (
    "=1+1",
    '=HYPERLINK("http://example.invalid","x")',
    "+49 30 1234",
    "-2+3",
    "@SUM(A1)",
    "\t=1",
    "http://example.invalid/",
    "<script>alert(1)</script> & \"quotes\" 'single'",
    "]]> <!-- %s {0} ${x}",
    "Geländer ü 柱",
    "x" * 40_000,
    "0042",
)
CHECKS = Table(
    name="Checks",
    columns=(Column(name="verdict"), Column(name="value", decimals=1)),
    rows=tuple((text, 1.5) for text in NASTY),
)


def test_cells_are_text_whatever_they_look_like() -> None:
    data = workbook((CHECKS,), "=title <b>", None)
    sheet = openpyxl.load_workbook(io.BytesIO(data)).active
    assert sheet is not None
    cells = [cell for (cell,) in sheet.iter_rows(min_row=2, max_row=len(NASTY) + 1, max_col=1)]
    for cell, text in zip(cells, NASTY, strict=True):
        assert cell.data_type == "s"
        assert cell.hyperlink is None
        assert cell.value == (text if len(text) <= 32_767 else "x" * 32_764 + "...")
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert not any(b"<f>" in archive.read(name) for name in archive.namelist())


def test_a_mark_stands_above_the_columns_of_every_sheet_and_takes_part_in_no_filter() -> None:
    cold = replace(CHECKS, name="Cold", notes=("a note",))
    book = openpyxl.load_workbook(io.BytesIO(workbook((CHECKS, cold), "t", None, "NOT YET")))
    for sheet in book:
        assert sheet["A1"].value == "NOT YET"
        assert [cell.value for cell in sheet[2]] == ["verdict", "value", "build"]
        assert sheet["A3"].value == NASTY[0]
        assert sheet.auto_filter.ref == f"A2:C{len(NASTY) + 2}"
        assert sheet.freeze_panes == "A3"
        assert sheet.print_title_rows == "$1:$2"
    assert book["Cold"].cell(len(NASTY) + 4, 1).value == "a note"


def test_csv_cells_do_not_run() -> None:
    lines = CHECKS.csv().splitlines()
    for text in ("=1+1", "+49 30 1234", "-2+3", "@SUM(A1)"):
        assert any(line.startswith(f"'{text}") for line in lines)
    assert any(line.startswith("0042,1.5") for line in lines)


def test_every_sheet_is_its_table() -> None:
    job = jobs.worked_job()
    job = replace(job, project=replace(job.project, date=datetime.date(2025, 3, 9)))
    book = make_book(job, fabricate(job, solve(job)), OrderInput(), CHECKS)
    read = openpyxl.load_workbook(io.BytesIO(book.xlsx()))
    assert read.sheetnames == [table.name for table in book.tables]
    assert {"Order", "Cut list", "Saw list", "Drill schedule", "Checks"} <= set(read.sheetnames)
    for table in book.tables[:-1]:
        sheet = read[table.name]
        assert [cell.value for cell in sheet[1]] == [*(column.name for column in table.columns), "build"]
        values = [[c.value(cell) for c, cell in zip(table.columns, row, strict=True)] for row in table.rows]
        for row, cells in zip(values, sheet.iter_rows(min_row=2, max_col=len(table.columns)), strict=False):
            for cell, got in zip(row, cells, strict=True):
                if isinstance(cell, str):
                    assert (got.value or "") == cell
                else:
                    assert got.value == (None if cell is None else pytest.approx(cell))
    assert read.properties.created == datetime.datetime(2025, 3, 9)  # noqa: DTZ001


def test_two_processes_write_the_same_bytes() -> None:
    script = (
        "import hashlib; from tests import jobs; from railgen import fabricate, solve;"
        "from railgen.job.order_model import OrderInput; from railgen.schedules.book import make_book;"
        "from tests.schedules.test_workbook import CHECKS;"
        "job = jobs.worked_job(); book = make_book(job, fabricate(job, solve(job)), OrderInput(), CHECKS);"
        "print(hashlib.sha256(book.xlsx() + book.order_csv().encode()).hexdigest())"
    )
    printed = {
        subprocess.run(
            [sys.executable, "-c", script],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(path for path in sys.path if path) + ":."},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(printed) == 1


def test_a_table_refuses_a_ragged_row() -> None:
    with pytest.raises(ValueError, match="one cell for each"):
        Table(name="t", columns=(Column(name="a"), Column(name="b")), rows=((1,),))
