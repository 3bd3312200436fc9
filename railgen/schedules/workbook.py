"""One workbook of many tables: the same tables give the same bytes, and no cell is ever run or followed."""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Sequence

from railgen.schedules.table import Cell, Column, Table

__all__ = ["workbook"]

_NO_DATE = datetime.date(1980, 1, 1)  # where the job names none; the earliest a zip file can hold
_LONGEST = 32_767  # characters in a cell, by the limits of the format (ECMA-376 part 1, 18.18.4, from memory)
_WIDEST = 60
_RED = "#C00000"
_FORBIDDEN = re.compile(r"[\[\]:*?/\\']")


def workbook(tables: Sequence[Table], title: str, date: datetime.date | None, mark: str = "", build: str = "") -> bytes:
    """An XLSX file with a sheet for each table; ``date`` is the job's, and the only one in the file.

    ``mark`` stands on a line of its own above the column names of every sheet, and on every page printed of it.
    ``build`` is the last column of every sheet and stands at the foot of every page.
    """
    from xlsxwriter import Workbook

    out = io.BytesIO()
    with Workbook(out, {"in_memory": True}) as book:
        day = date or _NO_DATE
        created = datetime.datetime(day.year, day.month, day.day)  # noqa: DTZ001 - a date of the job, of no zone
        book.set_properties({"title": title[:255], "created": created})
        head = book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
        text = book.add_format({"num_format": "@"})
        loud = book.add_format({"num_format": "@", "bold": True, "font_size": 14, "font_color": _RED})
        top = 1 if mark else 0  # the line of the column names
        for table in (each.stamped(build) for each in tables):
            sheet = book.add_worksheet(_FORBIDDEN.sub(" ", table.name)[:31])
            if mark:
                sheet.write_string(0, 0, _short(mark), loud)
                sheet.set_tab_color(_RED)
            for at, column in enumerate(table.columns):
                sheet.write_string(top, at, column.name[:_LONGEST], head)
                numbers = book.add_format({"num_format": _format(column)})
                for line, row in enumerate(table.rows, start=top + 1):
                    cell = column.value(row[at])
                    if isinstance(cell, str):
                        sheet.write_string(line, at, _short(cell), text)
                    elif cell is not None:
                        sheet.write_number(line, at, cell, numbers if isinstance(cell, float) else None)
                sheet.set_column(at, at, _width(column, [row[at] for row in table.rows]))
            for line, note in enumerate(table.notes, start=top + len(table.rows) + 2):
                sheet.write_string(line, 0, _short(note), text)
            sheet.freeze_panes(top + 1, 0)
            if table.rows:
                sheet.autofilter(top, 0, top + len(table.rows), len(table.columns) - 1)
            sheet.set_landscape()
            sheet.set_paper(9)  # A4
            sheet.fit_to_pages(1, 0)
            sheet.set_footer(f"&Lbuild {build or '-'}&RPage &P of &N")
            sheet.repeat_rows(0, top)
    return out.getvalue()


def _format(column: Column) -> str:
    return "0." + "0" * column.decimals if column.decimals else "0"


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."


def _width(column: Column, cells: Sequence[Cell]) -> float:
    longest = max([len(column.name), *(len(cell) if isinstance(cell, str) else 9 for cell in cells)])
    return min(longest, _WIDEST) + 1.5
