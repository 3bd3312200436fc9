"""Quick plans to start from: they are good, and say nothing about how good."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from railgen.schedules.nesting.pricing import Pricing, steps
from railgen.schedules.nesting.problem import BarKind, Pattern, Problem

__all__ = ["best_fill", "first_fit", "thrifty"]


def first_fit(problem: Problem) -> list[Pattern] | None:
    """First fit, longest pieces first, into the bars that are cheapest for their length; None where they run out."""
    order = _cheapest_first(problem)
    bars: list[tuple[int, Counter[int], int]] = []
    count = [0] * len(problem.bars)
    for item in sorted(range(len(problem.sizes)), key=lambda i: -problem.sizes[i]):
        size = problem.sizes[item]
        for _ in range(problem.demands[item]):
            place = next((n for n, bar in enumerate(bars) if bar[2] >= size), None)
            if place is None:
                kind = next((k for k in order if problem.bars[k].capacity >= size and _left(problem, k, count)), None)
                if kind is None:
                    return None
                count[kind] += 1
                place = len(bars)
                bars.append((kind, Counter(), problem.bars[kind].capacity))
            kind, counts, room = bars[place]
            counts[item] += 1
            bars[place] = (kind, counts, room - size)
    return [Pattern(bar=kind, cuts=tuple(sorted(counts.items()))) for kind, counts, _ in bars]


def _left(problem: Problem, kind: int, count: Sequence[int]) -> bool:
    limit = problem.bars[kind].limit
    return limit is None or count[kind] < limit


def best_fill(problem: Problem) -> list[Pattern] | None:
    """Bar by bar: the longest piece left, and with it what fills the rest of the bar best; None where bars run out."""
    plan: list[Pattern] = []
    step = steps(problem)[0]
    rest: Problem | None = problem
    count = [0] * len(problem.bars)
    while rest is not None:
        longest = next(item for item in _longest_first(rest) if rest.demands[item])
        size = rest.sizes[longest]
        kind = next(
            (k for k in _cheapest_first(rest) if rest.bars[k].capacity >= size and _left(problem, k, count)), None
        )
        if kind is None:
            return None
        count[kind] += 1
        room = BarKind(capacity=rest.bars[kind].capacity - size, cost=1)
        left = tuple(n - (item == longest) for item, n in enumerate(rest.demands))
        filled = Pricing(replace(rest, demands=left, bars=(room,)), [float(s) for s in rest.sizes], step).pattern(0)
        cuts = Counter(dict(filled.cuts)) + Counter([longest])
        plan.append(Pattern(bar=kind, cuts=tuple(sorted(cuts.items()))))
        rest = rest.without(plan[-1:])
    return plan


def thrifty(problem: Problem, plan: Iterable[Pattern]) -> tuple[Pattern, ...]:
    """The plan with fewer and shorter of the bars that cost nothing: emptied into the rest, else exchanged."""
    bars = [(pattern.bar, Counter(dict(pattern.cuts))) for pattern in plan]
    free = sorted((k for k, bar in enumerate(problem.bars) if not bar.cost), key=lambda k: problem.bars[k].capacity)

    def size(cuts: Counter[int]) -> int:
        return sum(n * problem.sizes[item] for item, n in cuts.items())

    for place in sorted((n for n, bar in enumerate(bars) if bar[0] in free), key=lambda n: size(bars[n][1])):
        kind, cuts = bars[place]
        rooms = {n: problem.bars[k].capacity - size(c) for n, (k, c) in enumerate(bars) if c and n != place}
        moves = []
        for item in sorted(cuts.elements(), key=lambda item: -problem.sizes[item]):
            to = next((n for n, room in rooms.items() if room >= problem.sizes[item]), None)
            if to is None:
                break
            rooms[to] -= problem.sizes[item]
            moves.append((to, item))
        else:
            for to, item in moves:
                bars[to][1][item] += 1
            bars[place] = (kind, Counter())
            continue
        used = Counter(k for k, c in bars if c)
        for other in free[: free.index(kind)]:
            if problem.bars[other].capacity >= size(cuts) and used[other] < (problem.bars[other].limit or 0):
                bars[place] = (other, cuts)
                break
    return tuple(Pattern(bar=kind, cuts=tuple(sorted(cuts.items()))) for kind, cuts in bars if cuts)


def _cheapest_first(problem: Problem) -> list[int]:
    return sorted(range(len(problem.bars)), key=lambda k: (problem.bars[k].cost / problem.bars[k].capacity, k))


def _longest_first(problem: Problem) -> list[int]:
    return sorted(range(len(problem.sizes)), key=lambda item: -problem.sizes[item])
