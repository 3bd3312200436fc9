"""What a step of the installation says: what to do, with which pieces and tools, what to measure, what to beware of."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from railgen.units import Dimensions, Figures, Rounding

__all__ = ["Caution", "Measure", "Phase", "Quantity", "RecordRow", "Step", "StepPiece"]


class Phase(StrEnum):
    """Where a step is done."""

    WORKSHOP = "workshop"
    SITE = "site"


class Quantity(StrEnum):
    """What a measured value is."""

    LENGTH = "length"
    ANGLE = "angle"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A warning at the step it belongs to; ``source`` names the document, or says that it is common practice."""

    text: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A value to measure: ``designed`` in mm or radians; ``least`` and ``most`` bound what is accepted.

    None for a bound: none is set here.
    """

    what: str
    where: str
    designed: float
    least: float | None
    most: float | None
    quantity: Quantity = Quantity.LENGTH

    def show(self, value: float, style: Dimensions, rounding: Rounding = Rounding.NEAREST) -> str:
        """A value of this kind for people."""
        if self.quantity is Quantity.ANGLE:
            return f"{math.degrees(value):.1f}°"
        return Figures(style=style).named(value, rounding)

    def accepted(self, style: Dimensions) -> str:
        """The bounds in words, rounded inwards; empty where there are none."""
        least = None if self.least is None else self.show(self.least, style, Rounding.UP)
        most = None if self.most is None else self.show(self.most, style, Rounding.DOWN)
        if least is not None and most is not None:
            return f"{least} to {most}"
        return f"at least {least}" if least is not None else f"at most {most}" if most is not None else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordRow:
    """Something to state and to fill in: ``given`` is known now, ``blank`` says what is written by hand."""

    what: str
    given: str
    blank: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPiece:
    """Pieces a step needs; ``where`` names their places in the rail."""

    mark: str
    quantity: int
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step. ``hold`` is what must be true before the next one begins; empty where nothing need be waited for."""

    number: int
    phase: Phase
    title: str
    do: tuple[str, ...]
    pieces: tuple[StepPiece, ...] = ()
    measures: tuple[Measure, ...] = ()
    tools: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
    hold: str = ""
