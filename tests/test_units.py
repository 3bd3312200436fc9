"""Lengths as the trade writes them become millimetres exactly, and nothing else is taken for a length."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from railgen.units import LENGTH_PATTERN, Dimensions, Figures, Unit, format_length, parse_length

# 1 in = 25.4 mm exactly: international yard and pound agreement of 1959
INCH = Fraction(254, 10)

WRITTEN = [
    ("7-3/4", Fraction(31, 4)),
    ("7 3/4", Fraction(31, 4)),
    ('7 3/4"', Fraction(31, 4)),
    ("7-3/4 in", Fraction(31, 4)),
    ("7  3/4  inches", Fraction(31, 4)),
    ("7 3/4''", Fraction(31, 4)),
    ("7-3/4″", Fraction(31, 4)),
    ("31/4", Fraction(31, 4)),
    ("3/4", Fraction(3, 4)),
    ("0-1/2", Fraction(1, 2)),
    ("-7-3/4", Fraction(-31, 4)),
    ("- 1/2", None),
    ("-1/2", Fraction(-1, 2)),
    ("+1/2", Fraction(1, 2)),
    ("7.75", Fraction(31, 4)),
    ("7.75in", Fraction(31, 4)),
    ("7.", Fraction(7)),
    (".75", Fraction(3, 4)),
    ("  7.75  ", Fraction(31, 4)),
    ("10-15/16", Fraction(175, 16)),
    ("1-1/64", Fraction(65, 64)),
    ("36 inch", Fraction(36)),
    ("25.4 mm", Fraction(1)),
    ("-254mm", Fraction(-10)),
]


@pytest.mark.parametrize(("text", "inches"), WRITTEN)
def test_what_the_trade_writes_is_read_in_an_inch_job(text: str, inches: Fraction | None) -> None:
    if inches is None:
        with pytest.raises(ValueError, match="cannot read"):
            parse_length(text, Unit.INCH)
        return
    assert parse_length(text, Unit.INCH) == pytest.approx(float(inches * INCH), abs=1e-12)
    assert re.match(LENGTH_PATTERN, text)


# 1 ft = 12 in: international yard and pound agreement of 1959
IN_FEET = [
    ("5'", Fraction(60)),
    ("5 ft", Fraction(60)),
    ("5ft", Fraction(60)),
    ("1 foot", Fraction(12)),
    ("5.5 feet", Fraction(66)),
    ("4' 11-1/2\"", Fraction(119, 2)),
    ("4'-11 1/2\"", Fraction(119, 2)),
    ("4' - 11 1/2 in", Fraction(119, 2)),
    ("4ft 11in", Fraction(59)),
    ("4 ft 11.5 inches", Fraction(119, 2)),
    ("4’ 11”", Fraction(59)),
    ("4′11″", Fraction(59)),
    ("4' 11''", Fraction(59)),
    ("0' 3/4\"", Fraction(3, 4)),
    ("-4' 2\"", Fraction(-50)),
    ("4' -2\"", Fraction(50)),
]


@pytest.mark.parametrize(("text", "inches"), IN_FEET)
@pytest.mark.parametrize("unit", list(Unit))
def test_feet_and_inches_are_read_in_any_job(text: str, inches: Fraction, unit: Unit) -> None:
    assert parse_length(text, unit) == pytest.approx(float(inches * INCH), abs=1e-12)
    assert re.match(LENGTH_PATTERN, text)


@pytest.mark.parametrize("text", ["4' 12\"", "4' 12-1/2\"", "4.5' 6\"", "4 ft 13 in"])
def test_inches_that_make_a_foot_or_stand_behind_a_part_of_one_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="inches behind feet are below 12"):
        parse_length(text, Unit.INCH)


@pytest.mark.parametrize(
    "text",
    [
        "4' 11",
        "4' 11 mm",
        "4 ft ft",
        "ft",
        "'",
        "4' 3' 2\"",
        "4-1/2'",
        "4'' 11'",
        "4 yd",
        "4f",
        "4' 1 2\"",
        "4' .\"",
    ],
)
def test_feet_are_read_strictly(text: str) -> None:
    with pytest.raises(ValueError, match=r"cannot read .* as a length; .*in feet"):
        parse_length(text, Unit.INCH)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("7-3/4", "inch mark"),
        ("3/4 mm", "inch mark"),
        ("7 3/4 mm", "inch mark"),
    ],
)
def test_a_fraction_in_millimetres_is_refused(text: str, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        parse_length(text, Unit.MM)


@pytest.mark.parametrize(
    "text",
    [
        *("", " ", "in", "mm", '"', "-", "/", "1/", "/2", "7-", "7-3", "7 3", "7 - 3/4", "7--3/4", "7 -3/4", "--7"),
        *("7,75", "7.7.5", "1e3", "0x10", "1_000", "nan", "inf", "seven", "18 cm", "0.18 m"),
        *("7-3/4 in in", "7-3.5/4", "7/3/4", "7¾", "\u0667", "7-3/4\n8", "7 mm 3", "3/4-7", "mm 7"),
    ],
)
@pytest.mark.parametrize("unit", list(Unit))
def test_anything_else_is_refused_with_an_example(text: str, unit: Unit) -> None:
    with pytest.raises(ValueError, match=r"cannot read .* as a length; write 197, 7\.75 or"):
        parse_length(text, unit)
    assert not re.match(LENGTH_PATTERN, text) or "\n" in text


def test_a_fraction_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="divides by zero"):
        parse_length("7-3/0", Unit.INCH)
    with pytest.raises(ValueError, match="4/3 is not below 1"):
        parse_length("7-4/3", Unit.INCH)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (True, "true or false"),
        ([7], "a list"),
        ({"a": 1}, "a table"),
        (None, "nothing"),
        (math.nan, "nan"),
        (math.inf, "inf"),
        (-math.inf, "-inf"),
        (10**400, "absurd"),
        ("9" * 5000, "5000 characters"),
        ("9" * 300 + "/1 in", "characters"),
    ],
)
def test_what_is_no_number_is_named(value: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        parse_length(value, Unit.MM)


def test_a_bare_number_is_in_the_unit_of_the_file() -> None:
    assert parse_length(7.75, Unit.INCH) == parse_length("7.75", Unit.INCH) == parse_length("7.75 in", Unit.MM)
    assert parse_length(180, Unit.MM) == parse_length("180", Unit.MM) == parse_length("180 mm", Unit.INCH) == 180


@given(
    whole=st.integers(0, 500),
    bottom=st.sampled_from([2, 4, 8, 16, 32, 64]),
    top=st.integers(1, 63),
    sign=st.sampled_from(["", "-"]),
    joint=st.sampled_from(["-", " "]),
    mark=st.sampled_from(["", " in", '"', "in", " inches"]),
)
def test_every_mark_of_a_tape_is_read_exactly(
    whole: int, bottom: int, top: int, sign: str, joint: str, mark: str
) -> None:
    top %= bottom
    exact = Fraction(whole) + Fraction(top, bottom)
    mm = parse_length(f"{sign}{whole}{joint}{top}/{bottom}{mark}", Unit.INCH)
    # independent: rational arithmetic, rounded once
    assert mm == pytest.approx(float(exact * INCH) * (-1 if sign else 1), rel=1e-15, abs=1e-300)


@given(st.text(max_size=12) | st.text("0379-+/ .inmchft\"'", max_size=9), st.sampled_from(list(Unit)))
def test_any_text_is_a_finite_length_or_refused_and_the_schema_agrees(text: str, unit: Unit) -> None:
    try:
        value = parse_length(text, unit)
    except ValueError:
        return
    assert math.isfinite(value)
    assert re.match(LENGTH_PATTERN, text)


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [(196.85, Unit.INCH, "7.75 in"), (914.4, Unit.INCH, "36 in"), (900, Unit.MM, "900 mm"), (0.04, Unit.MM, "0 mm")],
)
def test_a_length_is_printed_in_its_unit(mm: float, unit: Unit, text: str) -> None:
    assert format_length(mm, unit) == text


@pytest.mark.parametrize("text", ["7 8/8", "7-8/8", "7-9/8", "4 ft 11 16/16 in"])
def test_a_mixed_number_whose_fraction_is_one_or_more_is_no_length(text: str) -> None:
    with pytest.raises(ValueError, match="is no mixed number"):
        parse_length(text, Unit.INCH)


@pytest.mark.parametrize(("text", "inches"), [("7 7/8", 7.875), ("8/8", 1.0), ("9/8", 1.125)])
def test_a_fraction_alone_may_be_one_or_more(text: str, inches: float) -> None:
    assert parse_length(text, Unit.INCH) == pytest.approx(inches * 25.4, abs=1e-12)


def test_sixteenths_are_written_in_lowest_terms() -> None:
    to = Figures(style=Dimensions.SIXTEENTH)
    for sixteenths in range(1, 64):
        whole, rest = divmod(sixteenths, 16)
        lowest = Fraction(rest, 16)
        wanted = "-".join(part for part in (str(whole) if whole else "", str(lowest) if rest else "") if part)
        assert to.length(sixteenths * 25.4 / 16) == wanted
    assert to.length(4 * 25.4 / 16) == "1/4"
    assert to.length(-20 * 25.4 / 16) == "-1-1/4"
