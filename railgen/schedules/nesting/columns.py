"""Column generation: the linear relaxation over all patterns, and a bound that holds whatever was left unpriced.

P. C. Gilmore and R. E. Gomory, Operations Research 9 (1961) 849-859 and 11 (1963) 863-888; the bound is A. A. Farley's,
Operations Research 38 (1990) 922-923 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from railgen.schedules.nesting.pricing import Pricing, steps
from railgen.schedules.nesting.problem import Pattern, Problem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from scipy.sparse import csc_array

__all__ = ["ROUNDS", "Columns", "limited"]

ROUNDS = 600  # of pricing, where the lengths are not too many
_EXTRA = 12  # patterns of other pieces looked for beside the best one, in the coarse table
_EPS = 1e-9
_LOOK = 5  # turns between two looks at the bound
_PATIENCE, _CLOSE = 50, 3e-3
_STEADY = 0.7
_PENALTY = 10.0  # weight of a piece left uncut, in dearest bars


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """What a piece of each item, and a bar of each kind (never positive), is worth: the dual values."""

    items: tuple[float, ...]
    bars: tuple[float, ...]

    def towards(self, other: Prices) -> Prices:
        """A step from these prices to others."""
        return Prices(items=_mean(self.items, other.items), bars=_mean(self.bars, other.bars))


def _mean(old: Sequence[float], new: Sequence[float]) -> tuple[float, ...]:
    return tuple(_STEADY * a + (1 - _STEADY) * b for a, b in zip(old, new, strict=True))


class Columns:
    """Patterns known so far, and the linear programme over them."""

    def __init__(self, problem: Problem, patterns: Sequence[Pattern]) -> None:
        self.problem = problem
        self.unit = float(max(1, *(bar.cost for bar in problem.bars)))
        self.patterns: list[Pattern] = []
        self._known: set[Pattern] = set()
        for pattern in patterns:
            self.add(pattern)

    def add(self, pattern: Pattern) -> bool:
        """Keep a pattern; False where it is known already."""
        if pattern in self._known:
            return False
        self._known.add(pattern)
        self.patterns.append(pattern)
        return True

    def costs(self) -> NDArray[np.float64]:
        """Cost of each pattern, in dearest bars."""
        import numpy as np

        return np.array([self.problem.bars[pattern.bar].cost / self.unit for pattern in self.patterns])

    def matrix(self) -> csc_array:
        """Row for each item, then for each bar kind with a limit; column for each pattern."""
        import numpy as np
        from scipy.sparse import csc_array

        problem, items = self.problem, len(self.problem.sizes)
        row_of = {bar: items + n for n, bar in enumerate(limited(problem))}
        rows, columns, values = [], [], []
        for column, pattern in enumerate(self.patterns):
            for item, count in pattern.cuts:
                rows.append(item)
                columns.append(column)
                values.append(float(count))
            if pattern.bar in row_of:
                rows.append(row_of[pattern.bar])
                columns.append(column)
                values.append(1.0)
        shape = (items + len(row_of), len(self.patterns))
        return csc_array((np.array(values), (np.array(rows, dtype=int), np.array(columns, dtype=int))), shape=shape)

    def relax(self) -> tuple[list[tuple[Pattern, float]], float, Prices]:
        """The linear programme over the patterns known.

        Returns each with how often it is used, the cost, and what pieces and bars are worth.
        """
        import numpy as np
        from scipy.optimize import linprog
        from scipy.sparse import csc_array, eye_array, hstack

        problem, items = self.problem, len(self.problem.sizes)
        kinds = limited(problem)
        signs = np.array([-1.0] * items + [1.0] * len(kinds))
        uncut = eye_array(items + len(kinds), items, format="csc")
        matrix = csc_array(hstack([self.matrix(), uncut])).multiply(signs[:, None])
        bound = signs * np.array([*problem.demands, *(problem.bars[kind].limit or 0 for kind in kinds)], dtype=float)
        costs = np.concatenate([self.costs(), np.full(items, _PENALTY)])
        found = linprog(costs, A_ub=csc_array(matrix), b_ub=bound, bounds=(0, None), method="highs-ipm")
        duals = found.ineqlin.marginals
        scarce = dict(zip(kinds, duals[items:], strict=True))
        values = [max(0.0, -float(dual)) for dual in duals[:items]]
        weights = [float(scarce.get(kind, 0.0)) for kind in range(len(problem.bars))]
        used = list(zip(self.patterns, map(float, found.x), strict=False))  # behind them come the pieces left uncut
        return used, float(found.fun), Prices(items=tuple(values), bars=tuple(weights))

    def generate(self, turns: int) -> tuple[list[tuple[Pattern, float]], int]:
        """Price until no pattern raises the bound: patterns with their use, and the bound."""
        best = self.problem.least()
        sizes = steps(self.problem)
        steady: Prices | None = None  # a mean of the values so far: it swings less, and so prices better
        for turn in range(turns):
            used, cost, values = self.relax()
            steady = values if steady is None else steady.towards(values)
            found = self._price(steady, values, sizes[0])
            if not found or turn % _LOOK == 0:
                best = max(best, self._round_up(self._bound(steady.items)))
            if not found:
                steady = values
                found = any(self._price(values, values, size) for size in sizes)
                best = best if found else max(best, self._round_up(self._bound(values.items)))
            if not found or best >= self._round_up(self._enough(cost, turn)):
                break
        return used, best

    def _price(self, steady: Prices, prices: Prices, step: int) -> bool:
        """Add the best patterns by ``steady`` that are worth more than their bars by ``prices``.

        With coarse cells the pieces they leave are priced too, for a few more patterns.
        """
        problem, values = self.problem, list(steady.items)
        added = False
        for _ in range(_EXTRA if step == steps(problem)[0] else 1):
            table = Pricing(problem, values, step)
            gains = [
                table.value(kind) + steady.bars[kind] - bar.cost / self.unit for kind, bar in enumerate(problem.bars)
            ]
            best = max(range(len(gains)), key=gains.__getitem__)
            patterns = [table.pattern(kind) for kind in range(len(problem.bars))]
            good = [pattern for pattern in patterns if self._gain(pattern, prices) > _EPS and self.add(pattern)]
            if not good:
                break
            added = True
            for item, _count in patterns[best].cuts:
                values[item] = 0.0
        return added

    def _gain(self, pattern: Pattern, prices: Prices) -> float:
        worth = math.fsum(n * prices.items[item] for item, n in pattern.cuts) + prices.bars[pattern.bar]
        return worth - self.problem.bars[pattern.bar].cost / self.unit

    def _bound(self, values: Sequence[float]) -> float:
        """What every plan costs at least (dearest bars), whatever the values: they are lowered until no bar gains.

        Bars without a limit set by how much; of bars that may run out, all that there are may gain.
        """
        problem = self.problem
        table = Pricing(problem, values, steps(problem)[-1], relaxed=True)
        endless = [kind for kind, bar in enumerate(problem.bars) if bar.limit is None]
        worths = [(problem.bars[kind].cost / self.unit, table.value(kind)) for kind in endless]
        share = min([1.0, *(cost / worth for cost, worth in worths if worth > 0)])
        total = share * math.fsum(value * demand for value, demand in zip(values, problem.demands, strict=True))
        for kind in limited(problem):
            gain = share * table.value(kind) - problem.bars[kind].cost / self.unit
            total -= max(0.0, gain) * (problem.bars[kind].limit or 0)
        return max(0.0, total)

    def _enough(self, cost: float, turn: int) -> float:
        """The bound that need not be raised: the cost itself; after many turns nearly it, if plans differ by little."""
        fine = turn >= _PATIENCE and self.problem.grain < _CLOSE * cost * self.unit
        return cost * (1 - _CLOSE) if fine else cost

    def _round_up(self, bound: float) -> int:
        """The least cost a plan can have that is no less than ``bound`` (dearest bars)."""
        grain = self.problem.grain
        grains = bound * self.unit / grain
        return math.ceil(grains - max(1e-6, 1e-9 * grains)) * grain


def limited(problem: Problem) -> list[int]:
    """The bar kinds that may run out."""
    return [kind for kind, bar in enumerate(problem.bars) if bar.limit is not None]
