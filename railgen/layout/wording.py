"""How refusals of the layout are worded: lengths in the job's unit, and what would help by the key to change."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from railgen.catalogue.models import Entry
from railgen.job.model import Job
from railgen.units import Dimensions, Figures, Rounding

__all__ = ["between", "by_default", "instead", "least", "most", "said"]

AnyEntry = TypeVar("AnyEntry", bound=Entry)

_SHOWN = 3  # entries proposed at most


def said(job: Job, mm: float, rounding: Rounding = Rounding.NEAREST) -> str:
    """A length as the job prints it."""
    return Figures(style=Dimensions.of(job.output_unit)).named(mm, rounding)


def least(job: Job, mm: float) -> str:
    """A lower bound, rounded up."""
    return f"at least {said(job, mm, Rounding.UP)}"


def most(job: Job, mm: float) -> str:
    """An upper bound, rounded down."""
    return f"at most {said(job, mm, Rounding.DOWN)}"


def between(job: Job, low: float, high: float) -> str:
    """Both bounds."""
    return f"{said(job, low)} to {said(job, high)}"


def by_default(job: Job, key: str) -> str:
    """A remark where the value behind a key is a default that nobody typed; else nothing."""
    return f" (the default: {key} is not in the job)" if job.left_out(key) else ""


def instead(job: Job, option: str, kind: type[AnyEntry], suits: Callable[[AnyEntry], bool]) -> str:
    """Entries of the catalogue that fit in the chosen one's place and suit, as the job would name them.

    Where there are none, that one of the user's own is wanted.
    """
    found = [entry.id for entry in job.others.get(option, ()) if isinstance(entry, kind) and suits(entry)]
    if not found:
        what = option.replace("_", " ")
        return f"another {what}, of your own (hardware.catalogue): the catalogue has none that would do here"
    return f"hardware.{option} = " + " or ".join(f'"{ident}"' for ident in found[:_SHOWN])
