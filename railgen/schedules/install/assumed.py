"""What the checks lean on because the job says so, and nobody has proved yet: listed for the hand-over."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from typing import get_args

from railgen.fields import Length, Number, Table
from railgen.job.file import FlightTable, LandingTable
from railgen.job.model import Flight, Job, Landing, Turn
from railgen.job.strength_model import GroundLayer, WoodSpecies
from railgen.schedules.install.model import RecordRow
from railgen.units import Figures

__all__ = ["stated_by_the_job"]

_INSTEAD = "instead: "  # how the file's own words for one of two keys begin
_BLANK = "provided or proved by"


def stated_by_the_job(job: Job) -> tuple[RecordRow, ...]:
    """Every value of the job about what this rail does not provide, in the words of the job file's own keys.

    Dimensions of the stair that nobody typed come first. Other values left at their default are not listed: the
    checks take the worse case there.
    """
    figures = Figures(style=job.order.dimensions)
    parts: tuple[Flight | Landing, ...] = (*job.flights, *job.landings)
    return (
        *_untyped(job, figures),
        *_rows(job.rules.surroundings, "surroundings", figures),
        *(row for part in parts for row in _rows(part.surroundings, part.key("surroundings"), figures)),
        *_rows(job.ground, "ground", figures),
        *_rows(job.strength.stated, "strength.stated", figures),
    )


def _rows(table: Table, above: str, figures: Figures) -> Iterator[RecordRow]:
    for key, info in type(table).model_fields.items():
        value = getattr(table, key)
        if value == info.default or isinstance(value, WoodSpecies):  # of a species, the gravity it stands for is told
            continue
        if isinstance(value, Table):
            yield from _rows(value, f"{above}.{key}", figures)
            continue
        words = (info.description or "").removeprefix(_INSTEAD)
        mark = next(_marks(info.annotation), next(iter(info.metadata), None))
        yield RecordRow(what=f"{words} ({above}.{key})", given=_told(value, mark, figures), blank=_BLANK)


def _untyped(job: Job, figures: Figures) -> Iterator[RecordRow]:
    """Dimensions of flights and landings that are defaults of the job file; flights and landings take turns there."""
    parts: list[tuple[int, type[Table], str, float]] = []
    for index, flight in enumerate(job.flights):
        parts += [
            (2 * index, FlightTable, "nosing_overhang", flight.overhang),
            (2 * index, FlightTable, "tread_thickness", flight.tread_thickness),
        ]
    for index, landing in enumerate(job.landings):
        parts.append((2 * index + 1, LandingTable, "thickness", landing.thickness))
        if landing.turn is not Turn.STRAIGHT:
            parts.append((2 * index + 1, LandingTable, "upper_offset", landing.upper_offset))
    for place, table, name, value in sorted(parts, key=lambda part: part[0]):
        key = f"stair[{place}].{name}"
        if job.left_out(key):
            words = table.model_fields[name].description
            given = f"{figures.named(value)}, a guess: the job does not say"
            yield RecordRow(what=f"{words} ({key})", given=given, blank="measured, by")


def _marks(kind: object) -> Iterator[Length | Number]:
    """What a key's type says of its unit."""
    for part in get_args(kind):
        if isinstance(part, Length | Number):
            yield part
        else:
            yield from _marks(part)


def _told(value: object, mark: object, figures: Figures) -> str:
    match value:
        case bool():
            return "yes" if value else "no"
        case Enum():
            return str(value.value)
        case GroundLayer():
            return f"{value.kind.value} {figures.named(value.thickness)}"
        case tuple():
            return ", ".join(_told(part, mark, figures) for part in value)
        case int() | float() if isinstance(mark, Length):
            return figures.named(value)
        case int() | float() if isinstance(mark, Number):
            return f"{value / mark.scale:g} {mark.unit}".strip()
    return str(value)
