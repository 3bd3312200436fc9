"""Lengths for people: nearest grain, safe bounds, and distances that add up to what is written from the datum."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from railgen.units import MM_PER_INCH, Dimensions, Figures, Rounding, Unit, parse_length

PLAIN = [Dimensions.MM, Dimensions.INCH, Dimensions.SIXTEENTH]
GRAIN = {Dimensions.MM: 0.1, Dimensions.INCH: 0.0254, Dimensions.SIXTEENTH: 25.4 / 16}
running = st.lists(st.integers(0, 6_000_000), min_size=2, max_size=12).map(lambda um: [n / 1000 for n in sorted(um)])
lengths = st.integers(0, 6_000_000).map(lambda um: um / 1000)


def back(text: str) -> float:
    """The length again, by the reader of job files."""
    return parse_length(text, Unit.MM)


def read(text: str, style: Dimensions) -> float:
    """A length without its unit, read again."""
    return parse_length(text, Unit.MM if style is Dimensions.MM else Unit.INCH)


@pytest.mark.parametrize(
    ("mm", "text"),
    [(0, '0"'), (25.4, '1"'), (12.7, '1/2"'), (34 * 25.4 + 1.5875, '34-1/16"'), (-123.2, '-4-7/8"'), (0.7, '0"')],
)
def test_sixteenths_are_reduced(mm: float, text: str) -> None:
    assert Figures(style=Dimensions.SIXTEENTH).named(mm) == text


@given(lengths, st.sampled_from(PLAIN))
def test_written_lengths_are_within_half_a_grain(mm: float, style: Dimensions) -> None:
    assert abs(back(Figures(style=style).named(mm)) - mm) <= GRAIN[style] / 2 + 1e-4


@given(running)
def test_running_sixteenths_are_never_more_than_a_thirty_second_off(stops: list[float]) -> None:
    """However many come before: each is rounded from the datum by itself, and gaps are derived from them."""
    to = Figures(style=Dimensions.SIXTEENTH)
    written = [Fraction(read(to.length(mm), Dimensions.SIXTEENTH)) for mm in stops]
    for mm, said in zip(stops, written, strict=True):
        assert abs(said - Fraction(mm)) <= Fraction(MM_PER_INCH) / 32 + Fraction(1, 10_000)
    gaps = [Fraction(read(text, Dimensions.SIXTEENTH)) for text in to.gaps(stops)]
    for index in range(1, len(stops)):
        assert float(sum(gaps[:index])) == pytest.approx(float(written[index] - written[0]), abs=1e-9)


@given(lengths, st.sampled_from(PLAIN))
def test_bounds_are_rounded_inwards(mm: float, style: Dimensions) -> None:
    to = Figures(style=style)
    assert -1e-4 <= back(to.named(mm, Rounding.UP)) - mm <= GRAIN[style]
    assert -1e-4 <= mm - back(to.named(mm, Rounding.DOWN)) <= GRAIN[style]


@given(running, st.sampled_from(PLAIN))
def test_written_distances_add_up_to_the_written_running_lengths(stops: list[float], style: Dimensions) -> None:
    to = Figures(style=style)
    total = sum(Fraction(read(text, style)) for text in to.gaps(stops))
    first, last = (read(to.length(mm), style) for mm in (stops[0], stops[-1]))
    assert float(total) == pytest.approx(last - first, abs=1e-6)


def test_distances_rounded_one_by_one_would_not() -> None:
    to, ten = Figures(style=Dimensions.MM), [n * 10.04 for n in range(11)]
    assert to.length(ten[-1]) == "100.4"
    assert to.gaps(ten).count("10.1") == 4


@pytest.mark.parametrize("style", [Dimensions.BOTH, Dimensions.BOTH_SIXTEENTH])
@given(mm=lengths, rounding=st.sampled_from(Rounding))
def test_two_units_are_those_of_each_alone(style: Dimensions, mm: float, rounding: Rounding) -> None:
    """Millimetres first, inches in brackets."""
    one, other = (Figures(style=part) for part in style.parts)
    both = Figures(style=style)
    assert one.style is Dimensions.MM
    assert both.length(mm, rounding) == f"{one.length(mm, rounding)} [{other.length(mm, rounding)}]"
    assert both.named(mm, rounding) == f"{one.named(mm, rounding)} [{other.named(mm, rounding)}]"
    assert both.drill(mm) == f"{one.drill(mm)} [{other.drill(mm)}]"
    assert both.rounded(mm) == one.rounded(mm)
