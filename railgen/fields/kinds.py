"""The kinds of value a job or catalogue file may hold, each with its bounds and its sentence for the reader.

One definition feeds the reader, the message, the JSON Schema and the option table of the README.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, StringConstraints
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from railgen.errors import DEVICES
from railgen.units import LENGTH_PATTERN, LENGTH_WORDS, MM_PER_INCH, Unit, format_length, kind_of, parse_length, shown

__all__ = [
    "MOST_ENTRIES",
    "MOST_FILES",
    "MOST_NAMES",
    "PATTERN_WORDS",
    "SLIPS",
    "Angle",
    "Ident",
    "Length",
    "Most",
    "Number",
    "Slug",
    "Table",
    "Text",
]


MOST_FILES = 10
"""Catalogue files, or rule set files, that one job names."""

MOST_NAMES = 50
"""Words, names or short texts in one list."""

MOST_ENTRIES = 200
"""Entries of one kind in one file, and whatever else there may be many of."""


@dataclass(frozen=True, slots=True)
class Most:
    """At most ``count`` values in a list or table: counted first, so that no longer one is looked through."""

    count: int

    def _read(self, value: object) -> object:
        if isinstance(value, list | dict) and len(value) > self.count:
            found = {"actual_length": len(value), "max_length": self.count}
            raise PydanticCustomError("too_long", "too many", found)
        return value

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self._read, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        node: dict[str, Any] = handler(schema)
        return {**node, "maxItems" if node["type"] == "array" else "maxProperties": self.count}


class Table(BaseModel):
    """A TOML table: unknown keys are refused, nothing changes later."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


SLIPS = {
    "in": 'this looks like inches: set units = "inch" or write the inch mark',
    "mm": 'this looks like millimetres: set units = "mm" or write mm behind it',
    "cm": "this looks like centimetres: lengths here are in mm or inches",
    "m": "this looks like metres: lengths here are in mm or inches",
}
"""What to do about a length out of range, by the unit in which it would be within."""

_SIZES = {"in": MM_PER_INCH, "mm": 1.0, "cm": 10.0, "m": 1000.0}
_COMMA = re.compile(r"\s*([+-]?[0-9]+),([0-9]+)(.*)")
_METRIC = re.compile(r"\s*([0-9]+(?:[.,][0-9]+)?)\s*(cm|m)\s*")


@dataclass(frozen=True, slots=True)
class Length:
    """A length between two bounds (mm); as typed in the unit of the file, held in mm."""

    ge: float
    le: float
    beyond: str = ""  # what is asked about a value above ``le``

    def allowed(self, unit: Unit = Unit.MM) -> str:
        return f"{format_length(self.ge, unit)} to {format_length(self.le, unit)}"

    def slip(self, mm: float, unit: Unit) -> str:
        """What may have been meant by a value out of range: the unit in which it is within, best in the middle of it.

        >>> Length(ge=60, le=400).slip(17.5, Unit.MM)
        'this looks like centimetres: lengths here are in mm or inches; 17.5 cm is 175 mm'
        """
        own = "in" if unit is Unit.INCH else "mm"
        typed, middle = mm / _SIZES[own], math.sqrt(max(self.ge, 1.0) * max(self.le, 1.0))
        within = [
            (abs(math.log(typed * size / middle)), name)
            for name, size in _SIZES.items()
            if name != own and typed > 0 and self.ge <= typed * size <= self.le
        ]
        asked = [self.beyond] if self.beyond and mm > self.le else []
        if within:
            names = [name for _, name in sorted(within)]
            are = " or ".join(f"{typed:.6g} {n} is {format_length(typed * _SIZES[n], unit)}" for n in names)
            asked.insert(0, f"{SLIPS[names[0]]}; {are}")
        return ", or: ".join(asked)

    def _text_slip(self, value: object, unit: Unit) -> str:
        """What to do about text that would be a length with a point for its comma, in mm, or in an inch file."""
        if not isinstance(value, str):
            return ""
        if metric := _METRIC.fullmatch(value):
            mm = float(metric[1].replace(",", ".")) * _SIZES[metric[2]]
            return f'write it in mm or inches: "{mm:.6g} mm"'
        if comma := _COMMA.fullmatch(value):
            pointed, plain = (f"{comma[1]}{mark}{comma[2]}{comma[3]}" for mark in (".", ""))
            if len(comma[2]) == 3 and not self._holds(pointed, unit) and self._holds(plain, unit):
                return f'nothing stands between thousands: "{plain}"'
            meant = "" if self._holds(pointed, unit) else self._slip_of(pointed, unit)
            return f'decimals stand behind a point: "{pointed}"' + (f"; and {meant}" if meant else "")
        return SLIPS["in"] if self._holds(value, Unit.INCH) else ""

    def _holds(self, text: str, unit: Unit) -> bool:
        """Whether a text is a length within bounds."""
        try:
            return self.ge <= parse_length(text, unit) <= self.le
        except ValueError:
            return False

    def _slip_of(self, text: str, unit: Unit) -> str:
        try:
            return self.slip(parse_length(text, unit), unit)
        except ValueError:
            return ""

    def _read(self, value: object, info: core_schema.ValidationInfo) -> float:
        unit = Unit((info.context or {}).get("unit", Unit.MM))
        try:
            mm = parse_length(value, unit)
        except ValueError as error:
            hint = self._text_slip(value, unit)
            raise PydanticCustomError("length", "{reason}", {"reason": str(error), "hint": hint}) from None
        if not self.ge <= mm <= self.le:
            raise PydanticCustomError(
                "range",
                "{given} is out of range",
                {"given": _as_typed(value, unit), "allowed": self.allowed(unit), "hint": self.slip(mm, unit)},
            )
        return mm

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        low, high = min(self.ge, self.ge / MM_PER_INCH), max(self.le, self.le / MM_PER_INCH)  # the unit is not known
        return {
            "anyOf": [
                {"type": "number", "minimum": low, "maximum": high},
                {"type": "string", "pattern": LENGTH_PATTERN, "description": LENGTH_WORDS},
            ],
            "x-kind": "length",
            "x-allowed": self.allowed(),
        }


def _as_typed(value: object, unit: Unit) -> str:
    number = f"{value:g}" if isinstance(value, float) else str(value)
    return f'"{number}"' if isinstance(value, str) else f"{number} {'in' if unit is Unit.INCH else 'mm'}"


@dataclass(frozen=True, slots=True)
class Number:
    """A plain number between two bounds, in the unit its description names."""

    ge: float
    le: float
    unit: str = ""
    scale: float = 1.0  # what one of the unit is held as

    def allowed(self) -> str:
        return f"{self.ge:g} to {self.le:g} {self.unit}".strip()

    def _read(self, value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise PydanticCustomError("number", "expected a number, got {kind}", {"kind": kind_of(value)})
        if not self.ge <= value <= self.le:  # not a number is never between
            raise PydanticCustomError(
                "range", "{given} is out of range", {"given": shown(value), "allowed": self.allowed(), "hint": ""}
            )
        return value * self.scale

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        return {"type": "number", "minimum": self.ge, "maximum": self.le, "x-unit": self.unit}


@dataclass(frozen=True, slots=True)
class Angle(Number):
    """An angle typed in degrees between two bounds, held in radians."""

    unit: str = "degrees"
    scale: float = math.radians(1)


_HIDDEN = r"\x00-\x1f\x7f-\x9f\xad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
"""Control characters, and those that turn the direction of writing or show nothing (general categories Cc, Cf, Zl, Zp
of the Unicode Character Database, its Basic Multilingual Plane)."""

_LINE, _IDENT, _SLUG = (
    rf"^[^{_HIDDEN}]*$",
    r"^[A-Za-z0-9][A-Za-z0-9._-]*$",
    r"^[A-Za-z0-9][A-Za-z0-9_-]*$",
)

PATTERN_WORDS = {
    _LINE: "one line of text, without control characters or others that are not seen",
    _IDENT: "letters, digits, dots, dashes and underscores, a letter or digit first",
    _SLUG: "letters, digits, dashes and underscores, a letter or digit first: it names a folder, so it is no path",
}
"""What each pattern lets pass, for the reader."""

Text = Annotated[str, StringConstraints(max_length=200, pattern=_LINE)]
"""One line of text, at most 200 characters, each of which is seen."""

Ident = Annotated[str, StringConstraints(max_length=40, pattern=_IDENT)]
"""Name of a catalogue entry: ASCII letters, digits, dot, dash, underscore."""


def _no_device(name: str) -> str:
    if name.upper() in DEVICES:
        message, hint = f"Windows keeps {name} for a device, so no folder can be called that", f"for example {name}-1"
        raise PydanticCustomError("reserved-name", "{message}", {"message": message, "allowed": "", "hint": hint})
    return name


Slug = Annotated[str, StringConstraints(max_length=60, pattern=_SLUG), AfterValidator(_no_device)]
"""Name that becomes a folder: ASCII letters, digits, dash, underscore."""
