"""What the checks lean on because the job says so, and nobody has proved yet: listed for the hand-over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from enum import Enum
from typing import get_args

from railgen.fields import Length, Number, Table
from railgen.job.model import Job
from railgen.job.rules_file import SurroundingsTable
from railgen.job.rules_model import Surroundings
from railgen.job.strength_file import GroundTable, StatedTable
from railgen.job.strength_model import Ground, GroundLayer, Stated
from railgen.schedules.install.model import RecordRow
from railgen.units import Figures

__all__ = ["stated_by_the_job"]

_INSTEAD = "instead: "  # how the file's own words for one of two keys begin
_BLANK = "provided or proved by"


def stated_by_the_job(job: Job) -> tuple[RecordRow, ...]:
    """Every value of the job about what this rail does not provide, in the words of the job file's own keys.

    A value left at its default is not listed: where it is one, the checks take the worse case.
    """
    figures = Figures(style=job.order.dimensions)
    return (
        *_rows(SurroundingsTable, "surroundings", job.rules.surroundings, Surroundings(), figures),
        *_rows(GroundTable, "ground", job.ground, Ground(), figures),
        *_rows(StatedTable, "strength.stated", job.strength.stated, Stated(), figures),
    )


def _rows(
    table: type[Table],
    above: str,
    given: Surroundings | Ground | Stated,
    plain: Surroundings | Ground | Stated,
    figures: Figures,
) -> Iterator[RecordRow]:
    for field in fields(given):
        value = getattr(given, field.name)
        if value == getattr(plain, field.name):
            continue
        info = table.model_fields[field.name]
        words = (info.description or "").removeprefix(_INSTEAD)
        mark = next(_marks(info.annotation), next(iter(info.metadata), None))
        yield RecordRow(what=f"{words} ({above}.{field.name})", given=_told(value, mark, figures), blank=_BLANK)


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
            shown = value / 1000 if mark.unit == "Nm" else value  # moments are held in N mm
            return f"{shown:g} {mark.unit}".strip()
    return str(value)
