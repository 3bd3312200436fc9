"""Nominal strengths: chosen by the tube's own standard or certificate, never by its grade alone."""

from __future__ import annotations

import math
from functools import cache

from pydantic import Field

from railgen.checks.model import Certainty
from railgen.checks.strength.result import DataFile, Source, read_data
from railgen.fields import Table
from railgen.job.strength_model import FastenerClass, TubeStandard

__all__ = ["BoltSteel", "Steel", "bolt_steel", "certified", "secant_modulus", "steel"]


class Steel(Table):
    """Nominal strength of a product: 0.2 % proof (yield) and tensile strength, MPa; ``standard`` None: certified."""

    grade: str
    standard: TubeStandard | None
    proof: float = Field(gt=0)
    tensile: float = Field(gt=0)
    source: Source


class BoltSteel(Table):
    """Nominal strength of a stainless bolt, MPa."""

    property_class: FastenerClass = Field(alias="class")
    proof: float = Field(gt=0)
    tensile: float = Field(gt=0)
    source: Source


class _SteelFile(DataFile):
    steel: tuple[Steel, ...]
    bolt: tuple[BoltSteel, ...]


@cache
def _tables() -> _SteelFile:
    return read_data("steel.toml", _SteelFile)


def steel(grade: str, standard: TubeStandard) -> Steel | None:
    """Nominal strength of ``grade`` in ``standard``; None where that standard lists no such grade here.

    A strip value is given only where strip is named:

    >>> steel("1.4301", TubeStandard.EN_WELDED_TUBE).proof
    195.0
    >>> steel("1.4301", TubeStandard.A554) is None
    True
    """
    found = (row for row in _tables().steel if (row.grade, row.standard) == (grade, standard))
    return next(found, None)


def bolt_steel(property_class: FastenerClass) -> BoltSteel:
    """Nominal strength of stainless bolts of ``property_class`` (ISO 3506-1)."""
    return next(row for row in _tables().bolt if row.property_class is property_class)


def certified(grade: str, *, proof: float, tensile: float, certificate: str) -> Steel:
    """A strength (MPa) read off an inspection certificate, named so that the record can be traced."""
    origin = Source(document=certificate, certainty=Certainty.JOB, note="as given in the job")
    return Steel(grade=grade, standard=None, proof=proof, tensile=tensile, source=origin)


def secant_modulus(*, modulus: float, stress: float, proof: float, n: float) -> float:
    """Secant modulus (MPa) of stainless steel at ``stress``, for deflections in use: E / (1 + 0.002 E/s (s/fy)^n).

    ``n`` is about 6 for 1.4301 and 7 for 1.4401. EN 1993-1-4:2006, 4.2(5), from memory.

    >>> round(secant_modulus(modulus=200_000, stress=150, proof=230, n=6) / 1000, 1)
    165.9
    """
    if stress == 0:
        return modulus
    return modulus / (1 + 0.002 * modulus / stress * math.pow(stress / proof, n))
