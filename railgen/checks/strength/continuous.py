"""What a rail that runs on over its posts puts on each of them: more, on wide bays, than half of the bays beside it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

__all__ = ["reactions", "run_factors"]


def reactions(
    places: Sequence[float], rail: tuple[float, float], loaded: tuple[float, float], give: Sequence[float]
) -> tuple[float, ...]:
    """Reaction (mm of rail, of a load of 1 per mm) of each support of a straight rail of one stiffness.

    ``places`` along the rail, ascending; the rail from end to end, the load over ``loaded``; ``give`` E I / k of each
    support (mm3), 0 where it is rigid. Closed form of the bent line: E I y = a + b x + sum <x - s>^4 / 24 -
    sum R <x - x_i>^3 / 6, with E I y = give R at each support, and both sums of forces.

    >>> [round(r, 6) for r in reactions((0, 1, 2), (0, 2), (0, 2), (0, 0, 0))]  # 3/8, 5/4, 3/8
    [0.375, 1.25, 0.375]
    """
    size = max(rail[1] - rail[0], 1e-9)
    at = [(x - rail[0]) / size for x in places]
    low, high = ((x - rail[0]) / size for x in loaded)
    count = len(at)

    def power(x: float, n: int) -> float:
        return x**n if x > 0 else 0.0

    rows = [
        [power(x - other, 3) / 6 for other in at] + [-1.0, -x, (power(x - low, 4) - power(x - high, 4)) / 24]
        for x in at
    ]
    for number, row in enumerate(rows):
        row[number] += give[number] / size**3
    rows.append([1.0] * count + [0.0, 0.0, high - low])
    rows.append([*at, 0.0, 0.0, (high**2 - low**2) / 2])
    return tuple(value * size for value in _solved(rows)[:count])


@lru_cache(maxsize=256)
def run_factors(
    places: tuple[float, ...], rail: tuple[float, float], give: tuple[float, ...]
) -> tuple[tuple[float, float], ...]:
    """For each support of a run: the most it takes of a line load, and what it takes were the rail hinged over it.

    The line load stands on the whole run or on the bays beside the support alone, whichever is more.
    """
    ends = (rail[0], *places[1:-1], rail[1])
    whole = reactions(places, rail, rail, give)
    found = []
    for number, place in enumerate(places):
        before = places[number - 1] if number else rail[0]
        after = places[number + 1] if number + 1 < len(places) else rail[1]
        low = rail[0] if number <= 1 else before
        high = rail[1] if number + 2 >= len(places) else after
        beside = reactions(places, rail, (low, high), give)[number]
        found.append((max(whole[number], beside), _hinged(places, ends, number, place)))
    return tuple(found)


def _hinged(places: Sequence[float], ends: Sequence[float], number: int, place: float) -> float:
    """Half of each bay beside a support; at an end (L + a)^2 / 2 L with the overhang a."""
    if 0 < number < len(places) - 1:
        return (places[number + 1] - places[number - 1]) / 2
    bay = abs(places[1] - places[0]) if number == 0 else abs(places[-1] - places[-2])
    return (bay + abs(ends[number] - place)) ** 2 / (2 * bay)


def _solved(rows: list[list[float]]) -> list[float]:
    """Gauss with the largest pivot; the last column is the right side."""
    size = len(rows)
    for column in range(size):
        pivot = max(range(column, size), key=lambda row: abs(rows[row][column]))
        rows[column], rows[pivot] = rows[pivot], rows[column]
        for row in range(column + 1, size):
            share = rows[row][column] / rows[column][column]
            if share:
                rows[row] = [a - share * b for a, b in zip(rows[row], rows[column], strict=True)]
    found = [0.0] * size
    for row in reversed(range(size)):
        known = sum(rows[row][k] * found[k] for k in range(row + 1, size))
        found[row] = (rows[row][size] - known) / rows[row][row]
    return found
