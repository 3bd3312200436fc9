"""Cutting stock in whole numbers, as the solver sees it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

__all__ = ["BarKind", "Pattern", "Problem", "Solution"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BarKind:
    """Bars of one kind: room for ``capacity``, each weighing ``cost`` in the sum to be made least."""

    capacity: int
    cost: int
    limit: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """What one bar of kind ``bar`` gives: (item, number of pieces) by rising item, at least one piece of each."""

    bar: int
    cuts: tuple[tuple[int, int], ...]

    def within(self, demands: Sequence[int]) -> Pattern:
        """The pattern without pieces that are not asked for."""
        cuts = tuple((item, min(n, demands[item])) for item, n in self.cuts if demands[item] > 0)
        return Pattern(bar=self.bar, cuts=cuts)

    def fits(self, problem: Problem) -> bool:
        return sum(n * problem.sizes[item] for item, n in self.cuts) <= problem.bars[self.bar].capacity


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """``demands[i]`` pieces of ``sizes[i]``, to be cut from bars; sizes distinct; 0 only among demands and costs."""

    sizes: tuple[int, ...]
    demands: tuple[int, ...]
    bars: tuple[BarKind, ...]

    @property
    def grain(self) -> int:
        """Every plan's cost is a multiple of this."""
        return math.gcd(*(bar.cost for bar in self.bars)) or 1

    def least(self) -> int:
        """What every plan costs at least, by the summed length of the pieces alone."""
        left = Fraction(sum(size * demand for size, demand in zip(self.sizes, self.demands, strict=True)))
        cost = Fraction(0)
        for bar in sorted(self.bars, key=lambda bar: Fraction(bar.cost, bar.capacity)):
            bars = left / bar.capacity if bar.limit is None else min(Fraction(bar.limit), left / bar.capacity)
            cost, left = cost + bars * bar.cost, left - bars * bar.capacity
        return math.ceil(cost / self.grain) * self.grain

    def without(self, plan: Iterable[Pattern]) -> Problem | None:
        """What is left to cut, and of which bars, after some patterns; None where nothing is left to cut."""
        left, limits = list(self.demands), [bar.limit for bar in self.bars]
        for pattern in plan:
            for item, n in pattern.cuts:
                left[item] -= n
            limit = limits[pattern.bar]
            limits[pattern.bar] = None if limit is None else limit - 1
        if max(left) <= 0:
            return None
        bars = tuple(replace(bar, limit=limit) for bar, limit in zip(self.bars, limits, strict=True))
        return replace(self, demands=tuple(max(0, have) for have in left), bars=bars)

    def most(self, item: int) -> int:
        """How many of an item the longest bar could give, and are asked for."""
        return min(self.demands[item], max(bar.capacity for bar in self.bars) // self.sizes[item])


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """Patterns, one for each bar used; every plan costs at least ``bound``. ``quick``: nothing better was sought."""

    patterns: tuple[Pattern, ...]
    cost: int
    bound: int
    quick: bool
