"""Lengths for people: nearest grain, safe bounds, and distances that add up to what is printed from the datum."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from railgen.job.order_model import Dimensions
from railgen.schedules.dimension import Rounding, dimension, gaps
from railgen.units import Unit, parse_length

PLAIN = [Dimensions.MM, Dimensions.INCH, Dimensions.SIXTEENTH]
GRAIN = {Dimensions.MM: 0.1, Dimensions.INCH: 0.0254, Dimensions.SIXTEENTH: 25.4 / 16}
running = st.lists(st.integers(0, 6_000_000), min_size=2, max_size=12).map(lambda um: [n / 1000 for n in sorted(um)])


def back(text: str) -> float:
    """The length again, by the reader of job files (which wants a sign before a fraction only)."""
    return parse_length(text.replace('"', " in"), Unit.MM)


@pytest.mark.parametrize(
    ("mm", "text"),
    [(0, '0"'), (25.4, '1"'), (12.7, '1/2"'), (34 * 25.4 + 1.5875, '34 1/16"'), (-123.2, '-4 7/8"'), (0.7, '0"')],
)
def test_sixteenths_are_reduced(mm: float, text: str) -> None:
    assert dimension(mm, Dimensions.SIXTEENTH) == text


@given(st.integers(0, 6_000_000).map(lambda um: um / 1000), st.sampled_from(PLAIN))
def test_printed_lengths_are_within_half_a_grain(mm: float, style: Dimensions) -> None:
    assert abs(back(dimension(mm, style)) - mm) <= GRAIN[style] / 2 + 1e-4


@given(st.integers(0, 6_000_000).map(lambda um: um / 1000), st.sampled_from(PLAIN))
def test_bounds_are_rounded_inwards(mm: float, style: Dimensions) -> None:
    assert -1e-4 <= back(dimension(mm, style, Rounding.UP)) - mm <= GRAIN[style]
    assert -1e-4 <= mm - back(dimension(mm, style, Rounding.DOWN)) <= GRAIN[style]


@given(running, st.sampled_from(PLAIN))
def test_printed_distances_add_up_to_the_printed_running_lengths(lengths: list[float], style: Dimensions) -> None:
    first, last = (back(dimension(mm, style)) for mm in (lengths[0], lengths[-1]))
    total = sum(Fraction(back(text)) for text in gaps(lengths, style))
    assert float(total) == pytest.approx(last - first, abs=1e-6)


def test_distances_rounded_one_by_one_would_not() -> None:
    ten = [n * 10.04 for n in range(11)]
    assert dimension(ten[-1], Dimensions.MM) == "100.4 mm"
    assert gaps(ten, Dimensions.MM).count("10.1 mm") == 4


def test_both_units_are_printed_together() -> None:
    assert dimension(863.6, Dimensions.BOTH) == "863.6 mm (34 in)"
