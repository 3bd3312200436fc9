"""CSV as spreadsheets and phones read it: one header, points as decimal signs, nothing a spreadsheet would execute."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence

__all__ = ["number", "reading_order", "to_csv"]

_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def number(value: float, decimals: int = 3) -> str:
    """A number with a fixed count of decimals, never ``-0``.

    >>> number(-0.0001)
    '0.000'
    """
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0 else text


def reading_order(mark: str) -> tuple[tuple[str, int], ...]:
    """Sorts marks as people count them.

    >>> sorted(["R10", "P1", "R2"], key=reading_order)
    ['P1', 'R2', 'R10']
    """
    return tuple((text, int(digits or 0)) for text, digits in re.findall(r"(\D*)(\d*)", mark))


def to_csv(columns: Sequence[str], rows: Iterable[Mapping[str, str]]) -> str:
    """CSV text (RFC 4180, CRLF) with ``columns``; missing cells are empty, cells that look like formulas are quoted."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(columns)
    for row in rows:
        writer.writerow([_harmless(row.get(column, "")) for column in columns])
    return out.getvalue()


def _harmless(cell: str) -> str:
    if not cell.startswith(_FORMULA):
        return cell
    try:
        float(cell)
    except ValueError:
        return f"'{cell}"
    return cell
