"""The exact model: bars as paths through the sums of pieces that fit, each arc a piece.

J. M. Valerio de Carvalho, Annals of Operations Research 86 (1999) 629-659 (from memory). Pieces follow each other in
falling size, which leaves few arcs where few pieces fit a bar.
"""

from __future__ import annotations

from collections import Counter

from railgen.schedules.nesting.problem import Pattern, Problem

__all__ = ["solve_flow"]

_ARCS = 6_000
_NODES = 200  # of the search tree

Arc = tuple[int, int, int]  # from, to, item


def solve_flow(problem: Problem, least: int, most: int) -> tuple[list[Pattern] | None, int]:
    """A plan cheaper than ``most``, and a bound no less than ``least``.

    None where there is no cheaper plan, where none was found, or where the graph is too large to be tried.
    """
    arcs = _arcs(problem)
    if arcs is None:
        return None, least
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csc_array

    items, kinds = len(problem.sizes), len(problem.bars)
    nodes = sorted({arc[0] for arc in arcs} | {arc[1] for arc in arcs} | {0})
    index = {node: n for n, node in enumerate(nodes)}
    rows: list[int] = []
    cols: list[int] = []
    data: list[float] = []

    def put(row: int, col: int, value: float) -> None:
        rows.append(row)
        cols.append(col)
        data.append(value)

    for col, (start, end, item) in enumerate(arcs):
        put(items + index[start], col, -1.0)
        put(items + index[end], col, 1.0)
        put(item, col, 1.0)
    sinks = [(node, kind) for kind, bar in enumerate(problem.bars) for node in nodes[1:] if node <= bar.capacity]
    for number, (node, kind) in enumerate(sinks):
        col = len(arcs) + number
        put(items + index[node], col, -1.0)
        put(items + index[0], col, 1.0)
        put(items + len(nodes) + kind, col, 1.0)
    unit = max(bar.cost for bar in problem.bars)
    costs = np.zeros(len(arcs) + len(sinks))
    for number, (_, kind) in enumerate(sinks):
        costs[len(arcs) + number] = problem.bars[kind].cost / unit
        put(items + len(nodes) + kinds, len(arcs) + number, costs[len(arcs) + number])
    shape = (items + len(nodes) + kinds + 1, len(costs))
    matrix = csc_array((np.array(data), (np.array(rows), np.array(cols))), shape=shape)
    limits = [np.inf if bar.limit is None else float(bar.limit) for bar in problem.bars]
    demands = [float(demand) for demand in problem.demands]
    low = np.array([*demands, *[0.0] * len(nodes), *[0.0] * kinds, least / unit - 1e-9])
    high = np.array([*[np.inf] * items, *[0.0] * len(nodes), *limits, (most - problem.grain) / unit + 1e-9])
    found = milp(
        costs,
        integrality=np.ones(len(costs)),
        bounds=Bounds(0, np.array([float(problem.demands[a[2]]) for a in arcs] + [np.inf] * len(sinks))),
        constraints=LinearConstraint(matrix, low, high),
        options={"node_limit": _NODES},
    )
    if found.status == 2:  # nothing cheaper than ``most``
        return None, most
    if found.x is None:
        return None, least
    flow = {arc: round(value) for arc, value in zip(arcs, found.x, strict=False) if round(value)}
    drain = {sink: round(value) for sink, value in zip(sinks, found.x[len(arcs) :], strict=True) if round(value)}
    return _paths(problem, flow, drain), least


def _arcs(problem: Problem) -> list[Arc] | None:
    """Arcs reachable from the bar's start with pieces in falling size; None where there are too many."""
    room = max(bar.capacity for bar in problem.bars)
    arcs: set[Arc] = set()
    reached = {0}
    for item in sorted(range(len(problem.sizes)), key=lambda i: -problem.sizes[i]):
        size, fresh = problem.sizes[item], set(reached)
        for _ in range(problem.most(item)):
            step = {node for node in fresh if node + size <= room}
            arcs.update((node, node + size, item) for node in step)
            if len(arcs) > _ARCS:
                return None
            fresh = {node + size for node in step}
            reached |= fresh
    return sorted(arcs)


def _paths(problem: Problem, flow: dict[Arc, int], drain: dict[tuple[int, int], int]) -> list[Pattern]:
    """Take the flow apart, bar by bar."""
    leaving: dict[int, list[Arc]] = {}
    for arc in sorted(flow):
        leaving.setdefault(arc[0], []).append(arc)
    patterns = []
    for _ in range(sum(drain.values())):
        counts, node = Counter[int](), 0
        while True:
            kind = next((kind for kind in range(len(problem.bars)) if node and drain.get((node, kind))), None)
            if kind is not None:
                drain[node, kind] -= 1
                break
            arc = next(arc for arc in leaving[node] if flow[arc])
            flow[arc] -= 1
            counts[arc[2]] += 1
            node = arc[1]
        patterns.append(Pattern(bar=kind, cuts=tuple(sorted(counts.items()))))
    return patterns
