"""What is asked of a part, what the part can bear, and the check that sets one against the other.

A demand and a resistance know their measure and their basis (factored after which system, unfactored against
allowable values, in use). Setting one against another of a different basis is refused: an allowable load never meets a
factored one. The verdict and the utilisation are derived, never stored, and missing data is never a pass.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from importlib.resources import files
from typing import Literal, TypeVar

from railgen.checks.model import Certainty, Verdict, outside, places
from railgen.fields import Table

__all__ = [
    "STATICS",
    "Basis",
    "DataFile",
    "Demand",
    "Measure",
    "Resistance",
    "Source",
    "StrengthCheck",
    "check",
    "num",
    "read_data",
    "show",
    "unverified",
]

_WEAKEST_LAST = (
    Certainty.MECHANICS,
    Certainty.JOB,
    Certainty.READ,
    Certainty.SECONDARY,
    Certainty.PRACTICE,
    Certainty.MEMORY,
)


class Source(Table):
    """Where a value or a formula is written, and how sure we are of the text."""

    document: str
    edition: str = ""
    clause: str = ""
    certainty: Certainty
    note: str = ""

    def __str__(self) -> str:
        """One line for a report.

        >>> print(Source(document="EN 1993-1-4", edition="2006", clause="5.1", certainty=Certainty.MEMORY))
        EN 1993-1-4:2006, 5.1 (from memory)
        """
        name = f"{self.document}:{self.edition}" if self.edition else self.document
        place = f"{name}, {self.clause}" if self.clause else name
        return f"{place} ({self.certainty})" + (f"; {self.note}" if self.note else "")


STATICS = Source(document="statics", certainty=Certainty.MECHANICS)


class DataFile(Table):
    """A file of values with their sources."""

    format: Literal[1]


_File = TypeVar("_File", bound=DataFile)


def read_data(name: str, kind: type[_File]) -> _File:
    """The data file ``name`` of the package as ``kind``. Raises pydantic's ValidationError where it is wrong."""
    text = files(__package__).joinpath("data", name).read_text(encoding="utf-8")
    return kind.model_validate(tomllib.loads(text))


class Measure(StrEnum):
    """The unit a demand and its resistance are held in."""

    FORCE = "N"
    MOMENT = "N mm"
    STRESS = "MPa"
    LENGTH = "mm"
    RATIO = ""


class Basis(StrEnum):
    """What was multiplied or divided by a safety factor."""

    EUROCODE = "factored, EN 1990"
    LRFD = "factored, ASCE 7 strength design"
    ASD = "unfactored, against allowable values"
    AS_NZS = "factored, AS/NZS 1170.0"
    SERVICE = "unfactored, in use"
    GEOMETRY = "as built"


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What is asked: ``value`` in ``measure`` for one load case, with the sum that gave it. None where unknown."""

    value: float | None
    measure: Measure
    basis: Basis
    case: str
    formula: str
    sources: tuple[Source, ...]
    missing: str = ""

    def __post_init__(self) -> None:
        if self.value is not None and not self.value >= 0:
            raise ValueError(f"a demand is a magnitude, not {self.value}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Resistance:
    """What can be borne: None where it cannot be told, which ``missing`` then explains."""

    value: float | None
    measure: Measure
    basis: Basis
    formula: str
    sources: tuple[Source, ...]
    missing: str = ""
    caution: str = ""

    def __post_init__(self) -> None:
        if self.value is not None and math.isnan(self.value):
            raise ValueError("a resistance is a number or None")
        if self.value is None and not self.missing:
            raise ValueError("a resistance that cannot be told says what is missing")


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthCheck:
    """One link of the chain: demand and capacity in one measure, with the load case, the formulas and the sources."""

    name: str
    demand: float | None
    capacity: float | None
    measure: Measure
    case: str
    formula: str
    sources: tuple[Source, ...]
    missing: str = ""
    caution: str = ""

    def __post_init__(self) -> None:
        if not self.sources:
            raise ValueError(f"{self.name}: a check names its source")
        if self.demand is not None and not self.demand >= 0:
            raise ValueError(f"{self.name}: a demand is a magnitude, not {self.demand}")
        if self.capacity is not None and math.isnan(self.capacity):
            raise ValueError(f"{self.name}: a capacity is a number or None")

    @property
    def utilisation(self) -> float | None:
        """Demand over capacity; None where either is unknown, infinite where nothing can be borne."""
        if self.demand is None or self.capacity is None or self.missing:
            return None
        if self.capacity <= 0:
            return math.inf
        return self.demand / self.capacity if math.isfinite(self.demand) else math.inf

    @property
    def verdict(self) -> Verdict:
        used = self.utilisation
        if used is None:
            return Verdict.CANNOT_SAY
        return Verdict.FAILS if outside(used, most=1.0) else Verdict.MEETS

    @property
    def certainty(self) -> Certainty:
        """The least sure of everything the check rests on."""
        return max((source.certainty for source in self.sources), key=_WEAKEST_LAST.index)

    def line(self) -> str:
        """One line for whoever works with links alone."""
        used = self.utilisation
        end = f"cannot say: {self.missing}" if used is None else f"{places(used, most=1.0)} {self.verdict.said}"
        return f"{self.name} ({self.case}): {end}" if self.case else f"{self.name}: {end}"


def check(name: str, demand: Demand, resistance: Resistance) -> StrengthCheck:
    """``demand`` set against ``resistance``. Raises ValueError where measure or basis differ: they must not be mixed.

    >>> from dataclasses import replace
    >>> load = Demand(value=3.0, measure=Measure.FORCE, basis=Basis.ASD, case="point load", formula="3 N",
    ...     sources=(STATICS,))
    >>> able = Resistance(value=4.0, measure=Measure.FORCE, basis=Basis.ASD, formula="4 N", sources=(STATICS,))
    >>> check("peg", load, able).line()
    'peg (point load): 0.75 met'
    >>> check("peg", load, replace(able, basis=Basis.LRFD))
    Traceback (most recent call last):
    ...
    ValueError: peg: demand is unfactored, against allowable values, resistance factored, ASCE 7 strength design
    """
    if demand.measure is not resistance.measure:
        raise ValueError(f"{name}: demand in {demand.measure}, resistance in {resistance.measure}")
    if demand.basis is not resistance.basis:
        raise ValueError(f"{name}: demand is {demand.basis}, resistance {resistance.basis}")
    return StrengthCheck(
        name=name,
        demand=demand.value,
        capacity=resistance.value,
        measure=demand.measure,
        case=demand.case,
        formula=f"{demand.formula}; {resistance.formula}",
        sources=demand.sources + resistance.sources,
        missing="; ".join(text for text in (demand.missing, resistance.missing) if text),
        caution=resistance.caution,
    )


def combined(
    name: str,
    used: float | None,
    text: str,
    parts: tuple[Demand | StrengthCheck, *tuple[Demand | Resistance | StrengthCheck, ...]],
    *sources: Source,
    caution: str = "",
) -> StrengthCheck:
    """What is asked of one part in two ways at once, ``used`` of what it bears by the rule in ``sources``.

    The first of ``parts`` is what is asked, and knows the load case; None and ``text`` where a part cannot be told.

    >>> pull = unverified("bolt pulled", "the class of the bolt")
    >>> combined("bolt", None, "N and V", (pull, pull), STATICS).line()
    'bolt: cannot say: the class of the bolt'
    """
    return StrengthCheck(
        name=name,
        demand=used,
        capacity=1.0,
        measure=Measure.RATIO,
        case=parts[0].case,
        formula=text,
        sources=(*(source for part in parts for source in part.sources), *sources),
        missing="; ".join(dict.fromkeys(part.missing for part in parts if part.missing)),
        caution=caution,
    )


def unverified(name: str, missing: str, *, caution: str = "") -> StrengthCheck:
    """A link for which no capacity is known: said out loud, never passed over.

    >>> unverified("weld of the socket", "strength stated by the maker").line()
    'weld of the socket: cannot say: strength stated by the maker'
    """
    return StrengthCheck(
        name=name,
        demand=None,
        capacity=None,
        measure=Measure.RATIO,
        case="",
        formula="not verified",
        sources=(STATICS,),
        missing=missing,
        caution=caution,
    )


_NOTHING = 1e-12


@lru_cache(maxsize=8192)
def num(value: float, digits: int = 4) -> str:
    """A number to ``digits`` significant digits without exponent; what is left over by rounding is 0.

    >>> num(0.81), num(4290.4), num(123456.0), num(0), num(1.2e-17)
    ('0.81', '4290', '123456', '0', '0')
    """
    if abs(value) < _NOTHING or not math.isfinite(value):
        return "0" if abs(value) < _NOTHING else str(value)
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def show(value: float, measure: Measure) -> str:
    """A value with its unit as people read it: kN, kNm, MPa, mm.

    >>> show(801000.0, Measure.MOMENT), show(890.0, Measure.FORCE)
    ('0.801 kNm', '0.89 kN')
    """
    if measure is Measure.FORCE:
        return f"{num(value / 1e3)} kN"
    if measure is Measure.MOMENT:
        return f"{num(value / 1e6)} kNm"
    return f"{num(value)} {measure}".rstrip()
