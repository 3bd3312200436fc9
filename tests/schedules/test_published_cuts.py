"""Published cutting-stock and bin-packing examples reach their known optimum, and the proof that it is one."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from railgen.schedules.nesting.columns import Columns
from railgen.schedules.nesting.fill import first_fit, thrifty
from railgen.schedules.nesting.problem import BarKind, Pattern, Problem, Solution
from railgen.schedules.nesting.solve import _dive, solve

PUBLISHED = Path(__file__).parent / "published"


def problem(capacity: int, demands: dict[int, int]) -> Problem:
    sizes = tuple(sorted(demands, reverse=True))
    return Problem(
        sizes=sizes, demands=tuple(demands[size] for size in sizes), bars=(BarKind(capacity=capacity, cost=1),)
    )


def given(name: str, first: int | None = None, last: int | None = None) -> dict[int, int]:
    return dict(Counter(map(int, (PUBLISHED / name).read_text().split()[first:last])))


def holds(asked: Problem, plan: Solution) -> bool:
    """Every bar takes what it was given, and every piece is cut exactly as often as asked."""
    cut: Counter[int] = Counter()
    for pattern in plan.patterns:
        cut.update(dict(pattern.cuts))
    return all(p.fits(asked) for p in plan.patterns) and cut == Counter(dict(enumerate(asked.demands)))


EXAMPLES = {
    # R. Fourer, D. M. Gay, B. W. Kernighan: AMPL, a modeling language for mathematical programming, second edition,
    # section 14.4, figures 14-2 to 14-5: 47 rolls in whole numbers
    "AMPL book, roll trim": (110, {20: 48, 45: 35, 50: 24, 55: 10, 75: 8}, 47),
    # Wikipedia, "Cutting stock problem": the paper machine of 13 widths, 73 master rolls
    "paper rolls": (
        5600,
        {
            1380: 22,
            1520: 25,
            1560: 12,
            1710: 14,
            1820: 18,
            1880: 18,
            1930: 20,
            2000: 10,
            2050: 12,
            2100: 14,
            2140: 16,
            2150: 18,
            2200: 20,
        },
        73,
    ),
    # V. Chvatal, Linear Programming, chapter 13, as restated in the GAMS model library, model CUTSTOCK: LP 452.25
    "Chvatal": (100, {45: 97, 36: 610, 31: 395, 14: 211}, 453),
    # the cutting stock example that comes with F. Brandao's VPSolver 3.1.4 (BSD licence), csp.vbp; optimum 33
    "VPSolver csp": (5180, {1120: 9, 1250: 5, 520: 91, 1066: 18, 1000: 11, 1150: 64}, 33),
    # the same, bpp.vbp; optimum 18
    "VPSolver bpp": (1000, given("bpp.txt"), 18),
    # E. Falkenauer, Journal of Heuristics 2 (1996) 5-30, instances of the OR-Library, file binpack1 and binpack3, with
    # the numbers of bins printed there (u500_00 begins with u120_00, u120_01, u120_02 and u120_03)
    "u120_00": (150, given("u500_00.txt", 0, 120), 48),
    "u120_01": (150, given("u500_00.txt", 120, 240), 49),
    "u120_02": (150, given("u500_00.txt", 240, 360), 46),
    "u120_03": (150, given("u500_00.txt", 360, 480), 49),
    "u500_00": (150, given("u500_00.txt"), 198),
}


@pytest.mark.parametrize("name", EXAMPLES)
def test_published_optimum_is_reached_and_proven(name: str) -> None:
    capacity, demands, optimum = EXAMPLES[name]
    asked = problem(capacity, demands)
    plan = solve(asked)
    assert plan is not None
    assert holds(asked, plan)
    assert (plan.cost, plan.bound, plan.quick) == (optimum, optimum, False)


def test_lists_are_copied_whole() -> None:
    # the sum of u120_00 and the numbers of items are those of the OR-Library's files
    assert sum(size * n for size, n in given("u500_00.txt", 0, 120).items()) == 7078
    assert [sum(given(name).values()) for name in ("u500_00.txt", "hard0.txt", "bpp.txt")] == [500, 200, 100]


def test_a_plan_of_very_many_lengths_is_a_quick_one_and_states_its_gap() -> None:
    # A. Scholl, R. Klein, C. Juergens, Computers & Operations Research 24 (1997) 627-645: HARD0, optimum 56
    asked = problem(100_000, given("hard0.txt"))
    plan = solve(asked)
    assert plan is not None
    assert plan.quick
    assert holds(asked, plan)
    assert 55 <= plan.bound <= 56 <= plan.cost <= 60


def test_rounding_of_the_tables_proves_nothing_false() -> None:
    # six bars, each cut into three parts without a remainder and at uneven micrometres: no table of cells sees that
    # they fit, yet the answer is six
    room = 6_000_000
    parts = [(2_000_401 + 7_919 * n, 2_500_101 - 104_729 * n) for n in range(6)]
    sizes = [size for a, b in parts for size in (a, b, room - a - b)]
    asked = problem(room, dict(Counter(sizes)))
    plan = solve(asked)
    assert plan is not None
    assert holds(asked, plan)
    assert (plan.cost, plan.bound) == (6, 6)


def test_two_lengths_of_bar_are_mixed_where_that_is_cheaper() -> None:
    # three pieces of 3 and two of 4: bars of 10 and of 7 at their length's price; 17 = 10 (3 + 3 + 4) + 7 (3 + 4)
    bars = (BarKind(capacity=10, cost=10), BarKind(capacity=7, cost=7))
    asked = Problem(sizes=(4, 3), demands=(2, 3), bars=bars)
    plan = solve(asked)
    assert plan is not None
    assert holds(asked, plan)
    assert (plan.cost, plan.bound) == (17, 17)


def test_bars_that_run_out_are_not_overdrawn() -> None:
    bars = (BarKind(capacity=10, cost=1, limit=1), BarKind(capacity=4, cost=9, limit=2))
    asked = Problem(sizes=(4,), demands=(4,), bars=bars)
    plan = solve(asked)
    assert plan is not None
    assert sorted(pattern.bar for pattern in plan.patterns) == [0, 1, 1]
    assert solve(Problem(sizes=(4,), demands=(5,), bars=bars)) is None


def test_no_plan_can_cost_less_than_the_summed_lengths_say() -> None:
    bars = (BarKind(capacity=6, cost=0, limit=2), BarKind(capacity=10, cost=10))
    assert Problem(sizes=(3,), demands=(4,), bars=bars).least() == 0
    assert Problem(sizes=(3,), demands=(7,), bars=bars).least() == 10  # 21 less 12 that the rack takes, in whole bars
    assert Problem(sizes=(3,), demands=(8,), bars=bars).least() == 20


def test_bars_that_cost_nothing_are_emptied_or_exchanged() -> None:
    bars = (BarKind(capacity=5, cost=0, limit=1), BarKind(capacity=9, cost=0, limit=2), BarKind(capacity=20, cost=20))
    asked = Problem(sizes=(12, 4, 3), demands=(1, 2, 1), bars=bars)
    bought = Pattern(bar=2, cuts=((0, 1),))
    wasteful = (bought, Pattern(bar=1, cuts=((1, 2),)), Pattern(bar=1, cuts=((2, 1),)))
    # the 3 goes behind the 12; then only 5 are left there, too few for 4 + 4, which need the bar of 9
    assert thrifty(asked, wasteful) == (Pattern(bar=2, cuts=((0, 1), (2, 1))), Pattern(bar=1, cuts=((1, 2),)))
    long = Problem(sizes=(18, 4), demands=(1, 1), bars=bars)
    found = thrifty(long, (Pattern(bar=2, cuts=((0, 1),)), Pattern(bar=1, cuts=((1, 1),))))
    assert found == (Pattern(bar=2, cuts=((0, 1),)), Pattern(bar=0, cuts=((1, 1),)))


def test_a_dive_is_a_plan_by_itself() -> None:
    asked = problem(150, given("u500_00.txt", 0, 120))
    plan, bound = _dive(Columns(asked, first_fit(asked) or ()), 48, 60)
    assert plan is not None
    cut: Counter[int] = Counter()
    for pattern in plan:
        cut.update(dict(pattern.cuts))
    assert all(pattern.fits(asked) for pattern in plan)
    assert all(cut[item] >= demand for item, demand in enumerate(asked.demands))
    assert (bound, len(plan) < 55) == (48, True)


def test_the_bound_holds_whatever_the_values() -> None:
    bars = (BarKind(capacity=10, cost=0, limit=1), BarKind(capacity=10, cost=10))
    asked = Problem(sizes=(9,), demands=(2,), bars=bars)  # one lies on the rack, one is bought: one dearest bar
    columns = Columns(asked, first_fit(asked) or ())
    assert [columns._bound([value]) for value in (0.0, 0.5, 1.0, 3.0)] == pytest.approx([0, 0.5, 1, 1])
