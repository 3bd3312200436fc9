"""Lengths as the job's sheets print them; running lengths are each rounded from one datum, so errors do not add up."""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum
from itertools import pairwise

from railgen.job.order_model import Dimensions
from railgen.units import MM_PER_INCH

__all__ = ["Rounding", "dimension", "gaps"]

_GRAINS = {Dimensions.MM: 0.1, Dimensions.INCH: MM_PER_INCH / 1000, Dimensions.SIXTEENTH: MM_PER_INCH / 16}
_HAIR = 1e-6  # of a grain: what arithmetic may leave over


class Rounding(Enum):
    """Which way a length is rounded: a least value up and a most value down, so that neither is given away."""

    NEAREST = "nearest"
    UP = "up"
    DOWN = "down"


def dimension(mm: float, style: Dimensions, rounding: Rounding = Rounding.NEAREST) -> str:
    """A length for people.

    >>> dimension(1982.657, Dimensions.SIXTEENTH)
    '78 1/16"'
    >>> dimension(1982.657, Dimensions.BOTH)
    '1982.7 mm (78.057 in)'
    >>> dimension(864, Dimensions.SIXTEENTH, Rounding.UP)
    '34 1/16"'
    """
    if style is Dimensions.BOTH:
        return f"{dimension(mm, Dimensions.MM, rounding)} ({dimension(mm, Dimensions.INCH, rounding)})"
    return _written(_count(mm, style, rounding), style)


def gaps(running: Sequence[float], style: Dimensions) -> tuple[str, ...]:
    """The distances between running lengths (mm, rising), as differences of the rounded ones.

    They add up to what is printed from the datum, which distances rounded one by one need not.

    >>> gaps((0.0, 10.04, 20.08, 30.12), Dimensions.MM)
    ('10 mm', '10.1 mm', '10 mm')
    """
    if style is Dimensions.BOTH:
        both = zip(gaps(running, Dimensions.MM), gaps(running, Dimensions.INCH), strict=True)
        return tuple(f"{mm} ({inch})" for mm, inch in both)
    counts = [_count(mm, style, Rounding.NEAREST) for mm in running]
    return tuple(_written(b - a, style) for a, b in pairwise(counts))


def _count(mm: float, style: Dimensions, rounding: Rounding) -> int:
    """Whole grains of the style; a half is rounded away from nothing."""
    grains = mm / _GRAINS[style]
    if rounding is Rounding.UP:
        return math.ceil(grains - _HAIR)
    if rounding is Rounding.DOWN:
        return math.floor(grains + _HAIR)
    return int(math.copysign(math.floor(abs(grains) + 0.5 + _HAIR), grains))


def _written(count: int, style: Dimensions) -> str:
    if style is Dimensions.SIXTEENTH:
        return _fraction(count)
    decimals, unit = (1, "mm") if style is Dimensions.MM else (3, "in")
    text = f"{abs(count) / 10**decimals:.{decimals}f}".rstrip("0").rstrip(".")
    return f"{'-' if count < 0 else ''}{text} {unit}"


def _fraction(sixteenths: int) -> str:
    sign, (whole, rest), below = "-" if sixteenths < 0 else "", divmod(abs(sixteenths), 16), 16
    if not rest:
        return f'{sign}{whole}"'
    while rest % 2 == 0:
        rest, below = rest // 2, below // 2
    return f'{sign}{whole} {rest}/{below}"' if whole else f'{sign}{rest}/{below}"'
