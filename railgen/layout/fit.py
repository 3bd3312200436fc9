"""The straight line whose largest miss is least: exact, and quick for many points.

Each point (a, c) asks for ``a * w - beta = c``. How far the points are missed at best is convex in w and made of
straight pieces, so its lowest place is where two of them cross: from the outermost two inwards, the piece on top at
each crossing takes the place of one of the two (J. E. Kelley, Journal of SIAM 8 (1960) 703-712, from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

__all__ = ["fit_free", "fit_through"]

Point = tuple[float, float]
Piece = tuple[float, float]
"""Slope, and what is taken off: its height at w is ``slope * w - offset``."""


def fit_free(points: Sequence[Point]) -> tuple[float, float]:
    """(w, beta) with the least largest ``|a w - beta - c|``. Raises ValueError unless two points differ in ``a``.

    >>> fit_free([(0, 0), (1, 3), (2, 0)])
    (0.0, -1.5)
    """
    first, last = min(points), max(points)
    if first[0] == last[0]:
        raise ValueError("a line needs two points at different levels")

    def top(w: float) -> Piece:
        """Width of the strip that holds all points."""
        above = max(points, key=lambda point: point[0] * w - point[1])
        below = min(points, key=lambda point: point[0] * w - point[1])
        return above[0] - below[0], above[1] - below[1]

    w = _lowest((first[0] - last[0], first[1] - last[1]), (last[0] - first[0], last[1] - first[1]), top)
    misses = [a * w - c for a, c in points]
    return w, (max(misses) + min(misses)) / 2


def fit_through(fixed: Sequence[Point], points: Sequence[Point]) -> tuple[float, float]:
    """As :func:`fit_free`, but exact at one or two ``fixed`` points. Raises ValueError where no line is defined."""
    if len(fixed) == 2:
        w, beta = fit_free(fixed)
        return w, beta
    (a0, c0) = fixed[0]
    rows = [(a - a0, c - c0) for a, c in points if a != a0]
    if not rows:
        raise ValueError("a line needs two points at different levels")
    pieces = rows + [(-a, -c) for a, c in rows]

    def top(w: float) -> Piece:
        """The largest miss."""
        return max(pieces, key=lambda piece: piece[0] * w - piece[1])

    w = _lowest(min(pieces), max(pieces), top)
    return w, a0 * w - c0


def _lowest(falling: Piece, rising: Piece, top: Callable[[float], Piece]) -> float:
    """Where a convex function is least, from the pieces that are on top far out on either side and at any place."""
    while True:
        w = (rising[1] - falling[1]) / (rising[0] - falling[0])
        piece = top(w)
        here = falling[0] * w - falling[1]
        if piece[0] * w - piece[1] <= here + 1e-12 * max(1.0, abs(here)) or piece in (falling, rising) or not piece[0]:
            return w
        falling, rising = (piece, rising) if piece[0] < 0 else (falling, piece)
