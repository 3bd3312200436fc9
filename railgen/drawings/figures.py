"""Numbers as the workshop reads them: mm, decimal inches, or inches to the sixteenth, each rounded from one datum."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from railgen.units import MM_PER_INCH, Unit

__all__ = ["Figures", "Style", "degrees"]


class Style(StrEnum):
    """How lengths are written."""

    MM = "mm"
    INCH_DECIMAL = "inch, decimal"
    INCH_SIXTEENTH = "inch, to 1/16"

    @classmethod
    def of(cls, unit: Unit) -> Style:
        """The style of an output unit; inches are decimal unless sixteenths are asked for."""
        return cls.MM if unit is Unit.MM else cls.INCH_DECIMAL


_STEP = {Style.MM: 0.1, Style.INCH_DECIMAL: MM_PER_INCH / 1000, Style.INCH_SIXTEENTH: MM_PER_INCH / 16}


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """Writes lengths given in mm.

    >>> f = Figures(style=Style.INCH_SIXTEENTH)
    >>> f.length(196.85), f.length(25.4), f.length(3.2), f.length(-0.2)
    ('7-3/4', '1', '1/8', '0')
    >>> Figures(style=Style.MM).length(1982.6566), Figures(style=Style.INCH_DECIMAL).length(25.4)
    ('1982.7', '1')
    """

    style: Style

    def rounded(self, mm: float) -> float:
        """The length as it will be written (mm)."""
        step = _STEP[self.style]
        return math.floor(mm / step + 0.5) * step

    def length(self, mm: float) -> str:
        steps = math.floor(mm / _STEP[self.style] + 0.5)
        if self.style is Style.INCH_SIXTEENTH:
            return _sixteenths(steps)
        decimals = 1 if self.style is Style.MM else 3
        return _trimmed(steps / 10**decimals, decimals)

    def between(self, start: float, end: float) -> str:
        """The length from ``start`` to ``end``, both measured from one datum: written values add up."""
        return self.length(self.rounded(end) - self.rounded(start))

    def drill(self, mm: float) -> str:
        """A drill's diameter, a wall or a thickness: in inches decimal, since a sixteenth would be another drill."""
        if self.style is Style.MM:
            return _trimmed(mm, 2)
        return _trimmed(mm / MM_PER_INCH, 3)

    @property
    def unit(self) -> str:
        return "mm" if self.style is Style.MM else "inch"

    def mass(self, kilograms: float) -> str:
        if self.style is Style.MM:
            return f"{kilograms:.2f} kg"
        return f"{kilograms / 0.45359237:.2f} lb"  # exact: international pound


def degrees(angle: float, decimals: int = 1) -> str:
    """An angle in degrees, without needless decimals.

    >>> degrees(math.radians(35.6774), 2), degrees(math.tau)
    ('35.68°', '360°')
    """
    return _trimmed(math.degrees(angle), decimals) + "°"


def _trimmed(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _sixteenths(steps: int) -> str:
    sign, (whole, top) = ("-" if steps < 0 else ""), divmod(abs(steps), 16)
    bottom = 16
    while top and top % 2 == 0:
        top, bottom = top // 2, bottom // 2
    if not top:
        return f"{sign}{whole}"
    return f"{sign}{whole}-{top}/{bottom}" if whole else f"{sign}{top}/{bottom}"
