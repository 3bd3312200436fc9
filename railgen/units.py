"""Lengths as people type and read them: turned into mm at one edge of the program, and into figures at the other."""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from enum import StrEnum
from itertools import pairwise

from railgen.errors import printable

__all__ = [
    "LENGTH_PATTERN",
    "LENGTH_WORDS",
    "MM_PER_INCH",
    "Dimensions",
    "Figures",
    "Rounding",
    "Unit",
    "degrees",
    "fixed",
    "format_length",
    "kind_of",
    "parse_length",
    "printed",
    "shown",
]

MM_PER_INCH = 25.4  # exact: international inch


class Unit(StrEnum):
    """Unit of the lengths in a job file, and of printed lengths."""

    MM = "mm"
    INCH = "inch"


_SUFFIX = re.compile(r"^(?P<body>.*?)\s*(?P<unit>mm|in|inch|inches|\"|''|″|”)?$")
_DECIMAL = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)")
_FRACTION = re.compile(r"(?P<sign>[+-]?)(?:(?P<whole>[0-9]+)(?:-|\s+))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)")
_FEET = re.compile(
    r"(?P<sign>[+-]?)(?P<feet>[0-9]+(?P<point>\.[0-9]+)?)\s*(?:'|′|’|ft|foot|feet)"
    r"(?:(?:\s*-\s*|\s*)(?P<inches>[0-9.][0-9./\s-]*)\s*(?:in|inch|inches|\"|''|″|”))?"
)
_LONGEST = 40  # characters

LENGTH_PATTERN = (
    r"^\s*[+-]?(([0-9]+(\.[0-9]*)?|\.[0-9]+|([0-9]+(-|\s+))?[0-9]+/[0-9]+)\s*(mm|in|inch|inches|\"|''|″|”)?"
    r"|[0-9]+(\.[0-9]+)?\s*('|′|’|ft|foot|feet)"
    r"((\s*-\s*|\s*)([0-9]+(\.[0-9]*)?|\.[0-9]+|([0-9]+(-|\s+))?[0-9]+/[0-9]+)\s*(in|inch|inches|\"|''|″|”))?)\s*$"
)
"""What text that :func:`parse_length` reads looks like, for the JSON Schema."""

LENGTH_WORDS = (
    "a number in the file's unit, or text: a fraction of inches such as 7-3/4, feet and inches such as 4' 11-1/2\" or "
    "4 ft 11 in, or a number with its unit such as 180 mm or 7.75 in"
)
"""What may be typed for a length, for the reader of the JSON Schema."""


def parse_length(value: object, unit: Unit) -> float:
    """Length in mm of a number, or of text such as ``7-3/4``, ``7 3/4"``, ``4' 11-1/2"``, ``7.75 in`` or ``180 mm``.

    A bare number, or text without a unit, is in ``unit``; a fraction is always inches, so in a mm job it must
    say so. Inches behind feet are below 12. Raises ValueError with a sentence for the reader.

    >>> parse_length("7-3/4", Unit.INCH), parse_length("4 ft 11-1/2 in", Unit.MM)
    (196.85, 1511.3)
    >>> parse_length(180, Unit.MM)
    180.0
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        message = f'expected a length, a number or text such as "7-3/4", got {kind_of(value)}'
        raise ValueError(message)  # noqa: TRY004 - pydantic gathers ValueError, and lets TypeError pass
    if isinstance(value, int | float):
        if abs(value) > 1e15 or math.isnan(value):  # an int may be too large for a float
            raise ValueError(f"expected a length, got {shown(value)}")
        return float(value) * (MM_PER_INCH if unit is Unit.INCH else 1.0)
    if len(value) > _LONGEST:
        raise ValueError(f'cannot read {len(value)} characters as a length; write 197, 7.75 or "7-3/4"')
    feet = _FEET.fullmatch(value.strip())
    if feet:
        return _feet(value, feet) * MM_PER_INCH
    found = _SUFFIX.match(value.strip())
    body, mark = (found["body"].strip(), found["unit"]) if found else (value, None)
    given = unit if mark is None else Unit.MM if mark == "mm" else Unit.INCH
    if given is Unit.MM and _FRACTION.fullmatch(body):
        raise ValueError(f"{value!r} is a fraction, but lengths here are in mm; write the inch mark: '{body} in'")
    number = _number(value, body)
    return number * MM_PER_INCH if given is Unit.INCH else number


def _number(value: str, body: str) -> float:
    """A decimal or a fraction, from ``body``, the part of ``value`` without its unit."""
    fraction = _FRACTION.fullmatch(body)
    if fraction is None:
        if _DECIMAL.fullmatch(body):
            return float(body)
        raise ValueError(f'cannot read {value!r} as a length; write 197, 7.75 or "7-3/4"; in feet: "4 ft 11-1/2 in"')
    if int(fraction["bottom"]) == 0:
        raise ValueError(f"{value!r} divides by zero")
    if fraction["whole"] and int(fraction["top"]) >= int(fraction["bottom"]):
        raise ValueError(f"{value!r} is no mixed number: {fraction['top']}/{fraction['bottom']} is not below 1")
    number = int(fraction["whole"] or 0) + int(fraction["top"]) / int(fraction["bottom"])
    return -number if fraction["sign"] == "-" else number


def _feet(value: str, found: re.Match[str]) -> float:
    """Inches of feet, or of whole feet and inches."""
    inches = 0.0 if found["inches"] is None else _number(value, found["inches"].strip())
    if found["inches"] is not None and (found["point"] or inches >= 12):
        raise ValueError(f"{value!r} is no length: feet are whole before inches, and inches behind feet are below 12")
    number = 12 * float(found["feet"]) + inches
    return -number if found["sign"] == "-" else number


def format_length(mm: float, unit: Unit) -> str:
    """A length for people, in ``unit``.

    >>> format_length(196.85, Unit.INCH)
    '7.75 in'
    """
    return Figures(style=Dimensions.of(unit)).named(mm)


class Dimensions(StrEnum):
    """How lengths are printed for people."""

    MM = "mm"
    INCH = "inch"  # decimal
    SIXTEENTH = "inch-1/16"
    BOTH = "mm and inch"
    BOTH_SIXTEENTH = "mm and inch-1/16"

    @classmethod
    def of(cls, unit: Unit) -> Dimensions:
        """The usual style of a unit."""
        return cls.MM if unit is Unit.MM else cls.INCH

    @property
    def parts(self) -> tuple[Dimensions, ...]:
        """The single styles it is made of, the one that governs first."""
        inch = {Dimensions.BOTH: Dimensions.INCH, Dimensions.BOTH_SIXTEENTH: Dimensions.SIXTEENTH}.get(self)
        return (self,) if inch is None else (Dimensions.MM, inch)


class Rounding(StrEnum):
    """Which way a length is rounded: a least value up and a most value down, so that neither is given away."""

    NEAREST = ROUND_HALF_UP
    UP = ROUND_CEILING
    DOWN = ROUND_FLOOR


def _to(value: float | Decimal, decimals: int) -> Decimal:
    """``value`` to so many decimals, a half away from nothing; what arithmetic left behind the sixth is no part of it.

    The same rounding everywhere, by the decimals that people read: 657.25 is 657.3, and 2.675 is 2.68.
    """
    exact = value if isinstance(value, Decimal) else Decimal(repr(round(float(value), 6)))
    return exact.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP) + 0  # never -0


def fixed(value: float, decimals: int = 3) -> str:
    """A number with a fixed count of decimals, a half rounded away from nothing, never ``-0``.

    >>> fixed(-0.0001), fixed(2.675, 2)
    ('0.000', '2.68')
    """
    return f"{_to(value, decimals):f}"


def printed(mm: float) -> Decimal:
    """A length (mm) as it is fabricated for print: to 0.001 mm. Whatever is printed of it is rounded from there.

    >>> printed(657.2495), printed(-0.0004)
    (Decimal('657.250'), Decimal('0.000'))
    """
    return _to(mm, 3)


_INCH = Decimal("25.4")
_GRAINS = {Dimensions.MM: Decimal("0.1"), Dimensions.INCH: _INCH / 1000, Dimensions.SIXTEENTH: _INCH / 16}
_MARKS = {Dimensions.MM: " mm", Dimensions.INCH: " in", Dimensions.SIXTEENTH: '"'}
_WORDS = {Dimensions.MM: "mm", Dimensions.INCH: "inch", Dimensions.SIXTEENTH: "inch, to 1/16"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """Writes lengths (mm) as a job's papers show them; with two units, inches follow in brackets.

    Each length is rounded by itself from its own datum, so running lengths carry no error on to the next.

    >>> to = Figures(style=Dimensions.BOTH_SIXTEENTH)
    >>> to.length(1982.657), to.named(1982.657), to.drill(6.4)
    ('1982.7 [78-1/16]', '1982.7 mm [78-1/16"]', '6.4 [0.252]')
    >>> Figures(style=Dimensions.SIXTEENTH).named(864, Rounding.UP)
    '34-1/16"'
    """

    style: Dimensions

    def length(self, mm: float, rounding: Rounding = Rounding.NEAREST) -> str:
        """A length without its unit, for papers that name it once."""
        return _joined([_written(_count(mm, part, rounding), part) for part in self.style.parts])

    def named(self, mm: float, rounding: Rounding = Rounding.NEAREST) -> str:
        """A length with its unit."""
        return _joined([_written(_count(mm, part, rounding), part) + _MARKS[part] for part in self.style.parts])

    def between(self, start: float, end: float) -> str:
        """The length from ``start`` to ``end``, both from one datum, as the difference of what is written of them.

        >>> Figures(style=Dimensions.MM).between(10.04, 20.08)
        '10.1'
        """
        return _joined([_written(_count(end, part) - _count(start, part), part) for part in self.style.parts])

    def gaps(self, running: Sequence[float]) -> tuple[str, ...]:
        """The distances between running lengths (rising): they add up to what is written from the datum."""
        return tuple(self.between(a, b) for a, b in pairwise(running))

    def rounded(self, mm: float, rounding: Rounding = Rounding.NEAREST) -> float:
        """The length (mm) that is written, in the unit that governs."""
        return float(_count(mm, self.style.parts[0], rounding) * _GRAINS[self.style.parts[0]])

    @property
    def grain(self) -> float:
        """The step (mm) that lengths are written to, in the unit that governs."""
        return float(_GRAINS[self.style.parts[0]])

    def drill(self, mm: float) -> str:
        """A drill's diameter, a wall or a thickness: in inches decimal, since a sixteenth would be another drill."""
        true, inches = printed(mm), _trimmed(printed(mm) / _INCH, 3)
        return _joined([_trimmed(true, 2) if part is Dimensions.MM else inches for part in self.style.parts])

    @property
    def dual(self) -> bool:
        """Whether lengths are written in two units."""
        return len(self.style.parts) > 1

    @property
    def unit(self) -> str:
        """What lengths are written in.

        >>> Figures(style=Dimensions.BOTH).unit, Figures(style=Dimensions.SIXTEENTH).unit
        ('mm [inch]', 'inch')
        """
        return _joined(["mm" if part is Dimensions.MM else "inch" for part in self.style.parts])

    @property
    def words(self) -> str:
        """What lengths are written in, and how finely.

        >>> Figures(style=Dimensions.BOTH_SIXTEENTH).words
        'mm [inch, to 1/16]'
        """
        return _joined([_WORDS[part] for part in self.style.parts])

    def mass(self, kilograms: float) -> str:
        """A mass, in the units that go with the lengths."""
        pounds = f"{fixed(kilograms / 0.45359237, 2)} lb"  # exact: international pound
        return _joined([f"{fixed(kilograms, 2)} kg" if part is Dimensions.MM else pounds for part in self.style.parts])


def _joined(written: Sequence[str]) -> str:
    first, *rest = written
    return " ".join([first, *(f"[{text}]" for text in rest)])


def _count(mm: float, style: Dimensions, rounding: Rounding = Rounding.NEAREST) -> int:
    """Whole grains of the style: of a length from what is printed of it, of a bound from all there is of it."""
    true = printed(mm) if rounding is Rounding.NEAREST else _to(mm, 6)
    return int((true / _GRAINS[style]).to_integral_value(rounding))


def _written(count: int, style: Dimensions) -> str:
    if style is not Dimensions.SIXTEENTH:
        return _trimmed(count / 10, 1) if style is Dimensions.MM else _trimmed(count / 1000, 3)
    sign, (whole, top), bottom = "-" if count < 0 else "", divmod(abs(count), 16), 16
    while top and top % 2 == 0:
        top, bottom = top // 2, bottom // 2
    if not top:
        return f"{sign}{whole}"
    return f"{sign}{whole}-{top}/{bottom}" if whole else f"{sign}{top}/{bottom}"


def degrees(angle: float, decimals: int = 1) -> str:
    """An angle (radians) in degrees, without needless decimals.

    >>> degrees(math.radians(35.6774), 2), degrees(math.tau)
    ('35.68°', '360°')
    """
    return _trimmed(math.degrees(angle), decimals) + "°"


def _trimmed(value: float | Decimal, decimals: int) -> str:
    text = f"{_to(value, decimals):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def shown(value: object) -> str:
    """A value of a TOML file in a message: text and numbers as typed, cut short; of all else, what it is.

    >>> shown("abc"), shown(7.5), shown(1 << 70000), shown([])
    ('"abc"', '7.5', 'an absurd number', 'a list')
    """
    if isinstance(value, str):
        return f'"{printable(value, 60)}"'
    if isinstance(value, bool) or not isinstance(value, int | float):
        return kind_of(value)
    if isinstance(value, float):
        return f"{value:g}"
    return str(value) if abs(value) < 10**20 else "an absurd number"  # Python refuses to write what is much longer


def kind_of(value: object) -> str:
    """What a value of a TOML file is, in plain words."""
    names = {bool: "true or false", list: "a list", dict: "a table", str: "text", int: "a whole number"}
    names |= {float: "a number", datetime.date: "a date", datetime.datetime: "a date and time", datetime.time: "a time"}
    return names.get(type(value), "nothing")
