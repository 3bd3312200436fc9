"""The least largest miss against a general linear programme (scipy's HiGHS)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from railgen.layout.fit import fit_free, fit_through

_points = st.lists(
    st.tuples(st.integers(0, 9000), st.integers(-50, 50)), min_size=2, max_size=9, unique_by=lambda p: p[0]
).map(lambda rows: [(float(a), 1.39 * a + e / 10) for a, e in rows])


def linear_programme(points: list[tuple[float, float]], held: list[tuple[float, float]]) -> float:
    """Least largest ``|a w - beta - c|`` by linear programming, exact at ``held``."""
    rows, limits = [], []
    for a, c in points:
        rows += [[a, -1, -1], [-a, 1, -1]]
        limits += [c, -c]
    equal = {"A_eq": [[a, -1, 0] for a, _ in held], "b_eq": [c for _, c in held]} if held else {}
    result = linprog([0, 0, 1], A_ub=rows, b_ub=limits, bounds=[(None, None), (None, None), (0, None)], **equal)
    return float(result.fun)


def largest_miss(w: float, beta: float, points: list[tuple[float, float]]) -> float:
    return max(abs(a * w - beta - c) for a, c in points)


@given(_points)
def test_the_free_line_is_as_good_as_a_linear_programme(points: list[tuple[float, float]]) -> None:
    assert largest_miss(*fit_free(points), points) == pytest.approx(linear_programme(points, []), abs=1e-6)


@given(_points)
def test_a_line_held_to_a_point_is_as_good_as_a_linear_programme(points: list[tuple[float, float]]) -> None:
    held = points[:1]
    w, beta = fit_through(held, points)
    assert largest_miss(w, beta, held) < 1e-6
    assert largest_miss(w, beta, points) == pytest.approx(linear_programme(points, held), abs=1e-6)


def test_points_at_one_level_define_no_line() -> None:
    with pytest.raises(ValueError, match="different levels"):
        fit_free([(1.0, 2.0), (1.0, 5.0)])
    with pytest.raises(ValueError, match="different levels"):
        fit_through([(1.0, 2.0)], [(1.0, 2.0)])
