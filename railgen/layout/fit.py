"""The straight line whose largest miss is least: exact, by enumeration.

Each point (a, c) asks for ``a * w - beta = c``. The narrowest strip that holds all points has one edge through two
of them, so trying every pair finds it; a line held to a point is decided by two others in the same way.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

__all__ = ["fit_free", "fit_through"]

Point = tuple[float, float]


def fit_free(points: Sequence[Point]) -> tuple[float, float]:
    """(w, beta) with the least largest ``|a w - beta - c|``. Raises ValueError unless two points differ in ``a``.

    >>> fit_free([(0, 0), (1, 3), (2, 0)])
    (0.0, -1.5)
    """
    best: tuple[float, float, float] | None = None
    for (a1, c1), (a2, c2) in combinations(points, 2):
        if a1 == a2:
            continue
        w = (c2 - c1) / (a2 - a1)
        misses = [a * w - c for a, c in points]
        low, high = min(misses), max(misses)
        if best is None or high - low < best[0] - 1e-12:
            best = (high - low, w, (high + low) / 2)
    if best is None:
        raise ValueError("a line needs two points at different levels")
    return best[1], best[2]


def fit_through(fixed: Sequence[Point], points: Sequence[Point]) -> tuple[float, float]:
    """As :func:`fit_free`, but exact at one or two ``fixed`` points. Raises ValueError where no line is defined."""
    if len(fixed) == 2:
        w, beta = fit_free(fixed)
        return w, beta
    (a0, c0) = fixed[0]
    rows = [(a - a0, c - c0) for a, c in points if a != a0]
    candidates = [c / a for a, c in rows]
    for (a1, c1), (a2, c2) in combinations(rows, 2):
        candidates += [(c1 - s * c2) / (a1 - s * a2) for s in (1, -1) if a1 != s * a2]
    if not candidates:
        raise ValueError("a line needs two points at different levels")
    w = min(candidates, key=lambda w: (max(abs(a * w - c) for a, c in rows), w))
    return w, a0 * w - c0
