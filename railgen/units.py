"""Lengths as people type them, turned into millimetres once, at the edge of the program."""

from __future__ import annotations

import datetime
import math
import re
from enum import StrEnum

__all__ = ["LENGTH_PATTERN", "MM_PER_INCH", "Unit", "format_length", "kind_of", "parse_length"]

MM_PER_INCH = 25.4  # exact: international inch


class Unit(StrEnum):
    """Unit of the lengths in a job file, and of printed lengths."""

    MM = "mm"
    INCH = "inch"


_SUFFIX = re.compile(r"^(?P<body>.*?)\s*(?P<unit>mm|in|inch|inches|\"|''|″|”)?$")
_DECIMAL = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)")
_FRACTION = re.compile(r"(?P<sign>[+-]?)(?:(?P<whole>[0-9]+)(?:-|\s+))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)")
_LONGEST = 40  # characters

LENGTH_PATTERN = (
    r"^\s*[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+|([0-9]+(-|\s+))?[0-9]+/[0-9]+)\s*(mm|in|inch|inches|\"|''|″|”)?\s*$"
)
"""What text that :func:`parse_length` reads looks like, for the JSON Schema."""


def parse_length(value: object, unit: Unit) -> float:
    """Length in mm of a number, or of text such as ``7-3/4``, ``7 3/4"``, ``7.75 in`` or ``180 mm``.

    A bare number, or text without a unit, is in ``unit``; a fraction is always inches, so in a mm job it must
    say so. Raises ValueError with a sentence for the reader.

    >>> parse_length("7-3/4", Unit.INCH)
    196.85
    >>> parse_length(180, Unit.MM)
    180.0
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        message = f'expected a length, a number or text such as "7-3/4", got {kind_of(value)}'
        raise ValueError(message)  # noqa: TRY004 - pydantic gathers ValueError, and lets TypeError pass
    if isinstance(value, int | float):
        if abs(value) > 1e15 or math.isnan(value):  # an int may be too large for a float
            raise ValueError(f"expected a length, got {value if isinstance(value, float) else 'an absurd number'}")
        return float(value) * (MM_PER_INCH if unit is Unit.INCH else 1.0)
    if len(value) > _LONGEST:
        raise ValueError(f'cannot read {len(value)} characters as a length; write 197, 7.75 or "7-3/4"')
    found = _SUFFIX.match(value.strip())
    body, mark = (found["body"].strip(), found["unit"]) if found else (value, None)
    given = unit if mark is None else Unit.MM if mark == "mm" else Unit.INCH
    fraction = _FRACTION.fullmatch(body)
    if fraction:
        if given is Unit.MM:
            raise ValueError(f"{value!r} is a fraction, but lengths here are in mm; write the inch mark: '{body} in'")
        if int(fraction["bottom"]) == 0:
            raise ValueError(f"{value!r} divides by zero")
        if fraction["whole"] and int(fraction["top"]) >= int(fraction["bottom"]):
            raise ValueError(f"{value!r} is no mixed number: {fraction['top']}/{fraction['bottom']} is not below 1")
        number = int(fraction["whole"] or 0) + int(fraction["top"]) / int(fraction["bottom"])
        number = -number if fraction["sign"] == "-" else number
    elif _DECIMAL.fullmatch(body):
        number = float(body)
    else:
        raise ValueError(f'cannot read {value!r} as a length; write 197, 7.75 or "7-3/4"')
    return number * MM_PER_INCH if given is Unit.INCH else number


def format_length(mm: float, unit: Unit) -> str:
    """A length for people, in ``unit``.

    >>> format_length(196.85, Unit.INCH)
    '7.75 in'
    """
    if unit is Unit.INCH:
        return f"{mm / MM_PER_INCH:.3f}".rstrip("0").rstrip(".") + " in"
    return f"{mm:.1f}".rstrip("0").rstrip(".") + " mm"


def kind_of(value: object) -> str:
    """What a value of a TOML file is, in plain words."""
    names = {bool: "true or false", list: "a list", dict: "a table", str: "text", int: "a whole number"}
    names |= {float: "a number", datetime.date: "a date", datetime.datetime: "a date and time", datetime.time: "a time"}
    return names.get(type(value), "nothing")
