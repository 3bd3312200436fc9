"""What a step of the installation says: what to do, with which pieces and tools, what to measure, what to beware of."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from railgen.schedules.table import Quantity
from railgen.units import Dimensions, Figures, Rounding, fixed

__all__ = ["Asked", "Caution", "Limit", "Measure", "Phase", "Quantity", "RecordRow", "Step", "StepPiece"]


_HAIR = 1e-6  # mm


class Phase(StrEnum):
    """Where a step is done."""

    WORKSHOP = "workshop"
    SITE = "site"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A warning at the step it belongs to; ``source`` names the document, or says that it is common practice."""

    text: str
    source: str


class Asked(StrEnum):
    """What codes bound and the site measures, by the code of the check that knows the bound."""

    HEIGHT = "rule-handrail-height"
    LANDING_HEIGHT = "rule-handrail-height-landing"
    TOP = "rule-extension-top"
    TOP_LEVEL = "rule-extension-top-level"
    BOTTOM = "rule-extension-bottom"
    WALL_CLEARANCE = "rule-wall-clearance"
    PROJECTION = "rule-projection"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """Bounds (mm) that a code sets to what is asked at a place; None where it sets none.

    ``value``: what the design comes to as the code measures it, which may be from another edge than the site does.
    """

    asked: Asked
    where: str
    least: float | None
    most: float | None
    value: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A value to measure: ``designed`` in mm or radians; ``least`` and ``most`` bound what is accepted.

    None for a bound: none is set here. ``strict``: the bounds are limits, and not one graduation of the tape is given
    away; else they are a tolerance, which is at least one graduation to each side of what is printed.
    """

    what: str
    where: str
    designed: float
    least: float | None
    most: float | None
    quantity: Quantity = Quantity.LENGTH
    strict: bool = False

    def target(self, style: Dimensions) -> str:
        """The designed value for people: a length as the tape shows it, within the bounds that are printed."""
        if self.quantity is Quantity.ANGLE:
            return f"{fixed(math.degrees(self.designed), 1)}°"
        return _dual(style, lambda tape: self._on(tape)[1])

    def accepted(self, style: Dimensions) -> str:
        """The bounds in words, rounded inwards as far as a tape can show them; empty where there are none."""
        if self.quantity is Quantity.ANGLE:
            least, most = (None if b is None else f"{fixed(math.degrees(b), 1)}°" for b in (self.least, self.most))
        else:
            least = None if self.least is None else _dual(style, lambda tape: self._on(tape)[0])
            most = None if self.most is None else _dual(style, lambda tape: self._on(tape)[2])
        if least is not None and most is not None:
            return f"{least} to {most}"
        return f"at least {least}" if least is not None else f"at most {most}" if most is not None else ""

    def _on(self, tape: Figures) -> tuple[float, float, float]:
        """Least, designed and most (mm) as a tape in one unit shows them; a bound that is not set is infinite."""
        step, target = tape.grain, tape.rounded(self.designed)
        least = -math.inf if self.least is None else tape.rounded(self.least, Rounding.UP)
        most = math.inf if self.most is None else tape.rounded(self.most, Rounding.DOWN)
        if not self.strict:
            return min(least, target - step), target, max(most, target + step)
        inside = self.least is None or self.designed >= self.least - _HAIR
        inside = inside and (self.most is None or self.designed <= self.most + _HAIR)
        return least, min(max(target, least), most) if inside else target, most


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


def _dual(style: Dimensions, of: Callable[[Figures], float]) -> str:
    """A length in each unit of a style, worked out on a tape of that unit."""
    tapes = [Figures(style=part) for part in style.parts]
    first, *rest = [tape.named(of(tape)) for tape in tapes]
    return " ".join([first, *(f"[{text}]" for text in rest)])
