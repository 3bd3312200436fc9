"""A plan and its bound: quick plans, column generation, whole numbers of its patterns, then the exact model."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from railgen.schedules.nesting.columns import ROUNDS, Columns, limited
from railgen.schedules.nesting.fill import best_fill, first_fit, thrifty
from railgen.schedules.nesting.flow import solve_flow
from railgen.schedules.nesting.problem import Pattern, Problem, Solution

__all__ = ["solve"]

_TURNS = 20  # of pricing, after each step of a dive
_NODES = 100  # of each search tree
_LENGTHS = 120  # different lengths: of more, quick plans alone


def solve(problem: Problem) -> Solution | None:
    """The cheapest plan found, with a bound; None where the bars do not suffice or none was found.

    The work is limited by counts and never by a clock, so that the same job gives the same plan on any machine.
    """
    plans = [plan for plan in (first_fit(problem), best_fill(problem)) if plan is not None]
    best: Sequence[Pattern] | None = min(plans, key=lambda plan: _sum(problem, plan), default=None)
    if best is not None and _sum(problem, best) == problem.least():
        return _solution(problem, best, problem.least())
    if best is not None and len(problem.sizes) > _LENGTHS:
        return _solution(problem, best, problem.least(), quick=True)
    singles = [
        Pattern(bar=kind, cuts=((item, 1),))
        for kind, bar in enumerate(problem.bars)
        for item, size in enumerate(problem.sizes)
        if size <= bar.capacity
    ]
    columns = Columns(problem, [*(pattern for plan in plans for pattern in plan), *singles])
    _, bound = columns.generate(ROUNDS if len(problem.sizes) <= _LENGTHS else _TURNS)
    for improve in (_dive, _dive, _integer, _flow):  # the second dive starts from what the first found
        cost = _worst(problem) if best is None else _sum(problem, best)
        if cost <= bound:
            break
        plan, bound = improve(columns, bound, cost)
        if plan is not None and _sum(problem, plan) < cost:
            best = plan
    return None if best is None else _solution(problem, best, bound)


def _solution(problem: Problem, plan: Sequence[Pattern], bound: int, *, quick: bool = False) -> Solution:
    exact = _in_order(thrifty(problem, _exact(problem, plan)))
    cost = _sum(problem, exact)
    return Solution(patterns=exact, cost=cost, bound=bound, quick=quick)


def _sum(problem: Problem, plan: Iterable[Pattern]) -> int:
    return sum(problem.bars[pattern.bar].cost for pattern in plan)


def _worst(problem: Problem) -> int:
    """More than any plan costs: a dearest bar for every piece, and one over."""
    return (sum(problem.demands) + 1) * max(bar.cost for bar in problem.bars)


Improved = tuple[Sequence[Pattern] | None, int]
"""A plan if one was found, and the bound."""


def _integer(columns: Columns, bound: int, cost: int) -> Improved:
    """The best whole-number use of the patterns known."""
    import numpy as np
    from scipy.optimize import LinearConstraint, milp
    from scipy.sparse import csc_array, vstack

    problem = columns.problem
    costs = columns.costs()
    matrix = csc_array(vstack([columns.matrix(), csc_array(costs[None, :])]))
    limits = [float(problem.bars[kind].limit or 0) for kind in limited(problem)]
    demands = [float(demand) for demand in problem.demands]
    low = np.array([*demands, *[0.0] * len(limits), bound / columns.unit - 1e-9])
    roof = (cost - problem.grain) / columns.unit + 1e-9
    high = np.array([*[np.inf] * len(demands), *limits, roof])
    found = milp(
        costs,
        integrality=np.ones(len(costs)),
        constraints=LinearConstraint(matrix, low, high),
        options={"node_limit": _NODES},
    )
    return (None if found.x is None else _repeat(columns, found.x)), bound


def _repeat(columns: Columns, used: Iterable[float]) -> list[Pattern]:
    return [pattern for pattern, n in zip(columns.patterns, used, strict=True) for _ in range(round(n))]


def _dive(columns: Columns, bound: int, _cost: int) -> Improved:
    """Take the patterns the relaxation is surest of, relax what is left, and so on; new patterns are kept."""
    plan: list[Pattern] = []
    rest, here = columns.problem, columns
    while True:
        used, _ = here.generate(_TURNS)
        sure = [pattern for pattern, n in used for _ in range(int(n + 0.1))]
        if not sure:
            likely, n = max(used, key=lambda pair: pair[1])
            if n <= 0:
                return None, bound
            sure = [likely]
        plan += sure
        for pattern in here.patterns:
            columns.add(pattern)
        left = rest.without(sure)
        if left is None:
            return plan, bound
        rest = left
        here = Columns(rest, _still_good(rest, used))


def _still_good(rest: Problem, used: Iterable[tuple[Pattern, float]]) -> list[Pattern]:
    """Patterns for what is left: those that fit it as they are, and what it leaves of those in use."""
    good = []
    for pattern, n in used:
        shorter = pattern.within(rest.demands)
        if shorter.cuts and rest.bars[pattern.bar].limit != 0 and (n > 0 or shorter == pattern):
            good.append(shorter)
    return good


def _flow(columns: Columns, bound: int, cost: int) -> Improved:
    return solve_flow(columns.problem, bound, cost)


def _in_order(plan: Iterable[Pattern]) -> tuple[Pattern, ...]:
    return tuple(sorted(plan, key=lambda pattern: (pattern.bar, [(item, -n) for item, n in pattern.cuts])))


def _exact(problem: Problem, plan: Iterable[Pattern]) -> tuple[Pattern, ...]:
    """The plan without surplus pieces and without bars left empty; surplus goes from the bars named last."""
    surplus = [-demand for demand in problem.demands]
    plan = _in_order(plan)
    for pattern in plan:
        for item, n in pattern.cuts:
            surplus[item] += n
    kept = []
    for pattern in reversed(plan):
        cuts = []
        for item, n in pattern.cuts:
            drop = min(max(0, surplus[item]), n)
            surplus[item] -= drop
            if n > drop:
                cuts.append((item, n - drop))
        if cuts:
            kept.append(Pattern(bar=pattern.bar, cuts=tuple(cuts)))
    return tuple(reversed(kept))
