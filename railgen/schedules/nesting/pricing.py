"""The most valuable pattern for given values of the pieces: a bounded knapsack, for all bar kinds in one table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from railgen.schedules.nesting.problem import Pattern, Problem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = ["Pricing", "steps"]

_COARSE, _FINE = 6_000, 120_000  # cells of the longest bar
_NOTHING = 1e-12


def steps(problem: Problem) -> tuple[int, ...]:
    """Cell sizes to price with, coarse first; 1 is exact."""
    longest = max(bar.capacity for bar in problem.bars)
    return tuple(sorted({max(1, -(-longest // cells)) for cells in (_COARSE, _FINE)}, reverse=True))


class Pricing:
    """The knapsack table of one set of values.

    Sizes are rounded up to whole cells, so that every pattern found fits; with ``relaxed`` they are rounded down, and
    the values are at least those of any pattern that fits.
    """

    def __init__(self, problem: Problem, values: Sequence[float], step: int, *, relaxed: bool = False) -> None:
        import numpy as np

        self._problem = problem
        self._cells = [bar.capacity // step for bar in problem.bars]
        self._table: NDArray[np.float64] = np.zeros(max(self._cells) + 1)
        self._taken: list[tuple[int, int, int, NDArray[np.bool_]]] = []
        for item, copies in self._bundles(values):
            size = problem.sizes[item] * copies
            width = size // step if relaxed else -(-problem.sizes[item] // step) * copies
            if width >= len(self._table):
                continue
            with_it = self._table[: len(self._table) - width] + values[item] * copies
            rest = self._table[width:]
            self._taken.append((item, copies, width, with_it > rest))
            np.maximum(rest, with_it, out=rest)

    def _bundles(self, values: Sequence[float]) -> Iterator[tuple[int, int]]:
        """Items in powers of two that together make up every count that may be asked for."""
        for item, value in enumerate(values):
            left, size = self._problem.most(item), 1
            while value > _NOTHING and left > 0:
                yield item, min(size, left)
                left -= size
                size *= 2

    def value(self, bar: int) -> float:
        """Value of the best pattern for a bar kind."""
        return float(self._table[self._cells[bar]])

    def pattern(self, bar: int) -> Pattern:
        """The best pattern for a bar kind."""
        counts: Counter[int] = Counter()
        cell = self._cells[bar]
        for item, copies, width, taken in reversed(self._taken):
            if cell >= width and taken[cell - width]:
                counts[item] += copies
                cell -= width
        return Pattern(bar=bar, cuts=tuple(sorted(counts.items())))
