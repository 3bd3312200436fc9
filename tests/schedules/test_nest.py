"""Tubes nested into bars: nothing is lost, nothing is cut twice, and small plans are the best there are."""

from __future__ import annotations

import subprocess
import sys
import time
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from railgen import fabricate, solve
from railgen.errors import ImpossibleError
from railgen.job.order_model import RackPiece, Stock, StockLength
from railgen.members.pieces import Tube
from railgen.schedules.nesting import Blank, Nesting, blanks, nest, saw_table
from railgen.schedules.order import order_table
from railgen.units import Dimensions, Figures
from tests import jobs

SECTION = "48.3x2.0"


def pieces(*lengths: float) -> tuple[Blank, ...]:
    return tuple(
        Blank(mark=f"R{n}", section=SECTION, length=length, quantity=quantity)
        for n, (length, quantity) in enumerate(Counter(lengths).items(), start=1)
    )


def uneven(count: int, seed: int) -> tuple[Blank, ...]:
    """Pieces of 300 to 2500 mm that are all different, spread by multiples of the golden ratio."""
    parts = ((n + 1000 * seed) * 0.6180339887498949 % 1.0 for n in range(1, count + 1))
    return pieces(*(round(300 + 2200 * part, 3) for part in parts))


def um(mm: float) -> int:
    return round(mm * 1000)


def adds_up(plan: Nesting, asked: tuple[Blank, ...], stock: Stock) -> None:
    """Contract: pieces + kerf + trim + offcuts = stock, exactly; and the cuts lie in the bar, apart by the kerf."""
    for bar in plan.bars:
        assert um(bar.trim) + sum(um(c.length) for c in bar.cuts) + um(bar.kerf) + um(bar.offcut) == um(bar.length)
        assert um(bar.trim) == (0 if bar.from_rack else um(stock.trim))
        end = um(bar.trim)
        for number, cut in enumerate(bar.cuts):
            assert um(cut.start) == end + (um(stock.kerf) if number else 0)
            end = um(cut.start) + um(cut.length)
        assert end <= um(bar.length) - um(bar.trim)
        assert bar.offcut >= 0
    made = Counter((c.mark, um(c.length)) for bar in plan.bars for c in bar.cuts)
    assert made == Counter({(piece.mark, um(piece.length)): piece.quantity for piece in asked})


stocks = st.builds(
    Stock,
    lengths=st.lists(
        st.builds(StockLength, length=st.sampled_from([3000.0, 4500.0, 6000.0, 6400.0])), min_size=1, max_size=2
    ).map(tuple),
    rack=st.lists(
        st.builds(RackPiece, length=st.integers(2000, 30_000).map(lambda n: n / 10), quantity=st.integers(1, 2)),
        max_size=2,
    ).map(tuple),
    kerf=st.sampled_from([0.0, 1.2, 3.175]),
    trim=st.sampled_from([0.0, 5.0, 20.0]),
)
lengths = st.lists(st.integers(20_000, 2_900_000).map(lambda n: n / 1000), min_size=1, max_size=9)


@given(lengths, stocks)
def test_stock_is_pieces_kerf_trim_and_offcuts(wanted: list[float], stock: Stock) -> None:
    asked = pieces(*wanted)
    plan = nest(asked, stock, SECTION)
    adds_up(plan, asked, stock)
    for section in plan.sections:
        assert section.bound <= section.weight
    for rack in stock.rack:
        taken = sum(bar.from_rack and bar.length == rack.length for bar in plan.bars)
        assert taken <= sum(other.quantity for other in stock.rack if other.length == rack.length)


def fewest_bars(sizes: tuple[int, ...], room: int) -> int:
    """By trying everything: the fewest bars for up to nine pieces (subset dynamic programme)."""
    full = (1 << len(sizes)) - 1
    total = [sum(size for n, size in enumerate(sizes) if mask >> n & 1) for mask in range(full + 1)]

    @cache
    def bars(mask: int) -> int:
        if not mask:
            return 0
        low, best, part = mask & -mask, len(sizes), mask
        while part:
            if part & low and total[part] <= room:
                best = min(best, 1 + bars(mask & ~part))
            part = (part - 1) & mask
        return best

    return bars(full)


@given(lengths, st.sampled_from([0.0, 2.0]))
def test_few_pieces_take_the_fewest_bars(wanted: list[float], kerf: float) -> None:
    stock = Stock(lengths=(StockLength(length=6000),), kerf=kerf, trim=10)
    plan = nest(pieces(*wanted), stock, SECTION)
    fewest = fewest_bars(tuple(um(length + kerf) for length in wanted), um(6000 - 20 + kerf))
    assert len(plan.bars) == fewest
    assert plan.sections[0].proven


def least_bought(pieces: tuple[int, ...], bars: tuple[tuple[int, int], ...], rack: tuple[int, ...]) -> int:
    """By trying everything: the least bought length, for bars of (room, length) and single rack pieces of a room."""
    full = (1 << len(pieces)) - 1
    total = [sum(size for n, size in enumerate(pieces) if mask >> n & 1) for mask in range(full + 1)]

    @cache
    def bought(mask: int, left: tuple[int, ...]) -> float:
        if not mask:
            return 0
        low, best, part = mask & -mask, float("inf"), mask
        while part:
            if part & low:
                for room, length in bars:
                    if total[part] <= room:
                        best = min(best, length + bought(mask & ~part, left))
                for n, room in enumerate(left):
                    if total[part] <= room:
                        best = min(best, bought(mask & ~part, left[:n] + left[n + 1 :]))
            part = (part - 1) & mask
        return best

    return int(bought(full, tuple(sorted(rack))))


@given(
    st.lists(st.integers(200_000, 2_900_000), min_size=1, max_size=6),
    st.lists(st.sampled_from([3000, 4500, 6400]), min_size=1, max_size=2, unique=True),
    st.lists(st.integers(200_000, 3_000_000), max_size=2),
)
def test_few_pieces_take_the_least_bought_length(wanted: list[int], bars: list[int], rack: list[int]) -> None:
    stock = Stock(
        lengths=tuple(StockLength(length=length) for length in bars),
        rack=tuple(RackPiece(length=length / 1000) for length in rack),
        kerf=2,
        trim=10,
    )
    (section,) = nest(pieces(*(length / 1000 for length in wanted)), stock, SECTION).sections
    room = tuple((um(length - 20 + 2), um(length)) for length in bars)
    least = least_bought(tuple(length + 2000 for length in wanted), room, tuple(length + 2000 for length in rack))
    assert um(section.weight) == least == sum(um(bar.length) for bar in section.bought)
    assert section.bound <= section.weight


def test_the_rack_is_not_wasted() -> None:
    rack = tuple(RackPiece(length=length) for length in (3000, 1010, 2500))
    bars = nest(pieces(5000, 1000), Stock(rack=rack), SECTION).bars
    # the short piece lies in the shortest rack piece it fits: behind the long one no room is left
    assert [(bar.from_rack, bar.length) for bar in bars] == [(True, 1010), (False, 6000)]
    bars = nest(pieces(4000, 1000), Stock(rack=rack), SECTION).bars
    assert [bar.from_rack for bar in bars] == [False]


def test_pieces_that_fill_a_bar_to_the_last_micrometre_fit() -> None:
    stock = Stock(lengths=(StockLength(length=6000),), kerf=2, trim=10)
    assert len(nest(pieces(2988.0, 2990.0), stock, SECTION).bars) == 1  # 2988 + 2 + 2990 = 6000 - 2 x 10
    assert len(nest(pieces(2988.001, 2990.0), stock, SECTION).bars) == 2
    bare = Stock(lengths=(StockLength(length=6000),), kerf=2, trim=0)
    (bar,) = nest(pieces(6000.0), bare, SECTION).bars
    assert (bar.kerf, bar.offcut) == (0, 0)  # used as bought: nothing to saw


def test_the_rack_is_used_before_new_bars() -> None:
    stock = Stock(rack=(RackPiece(length=2010, section=SECTION, quantity=1), RackPiece(length=2500)))
    bars = nest(pieces(2000, 2000), stock, SECTION).bars
    assert [(bar.from_rack, bar.length) for bar in bars] == [(True, 2010), (True, 2500)]
    for rack_section, expected in ((SECTION, (True, 2500)), ("another section", (False, 6000))):
        bars = nest(pieces(2400, 5000), stock, rack_section).bars
        assert [(bar.from_rack, bar.length) for bar in bars] == [expected, (False, 6000)]
    short = Stock(lengths=(StockLength(length=3000),), rack=(RackPiece(length=6000),))
    assert [bar.length for bar in nest(pieces(2900), short, SECTION).bars] == [6000]


def test_prices_decide_where_every_bar_has_one() -> None:
    cheap = Stock(lengths=(StockLength(length=6000, price=90), StockLength(length=3000, price=30)), trim=0)
    plan = nest(pieces(2900, 2900), cheap, SECTION)
    assert [bar.length for bar in plan.bars] == [3000, 3000]
    assert (plan.sections[0].weight, plan.sections[0].weighed) == (60, "money")
    dear = Stock(lengths=(StockLength(length=6000, price=50), StockLength(length=3000, price=30)), trim=0)
    assert [bar.length for bar in nest(pieces(2900, 2900), dear, SECTION).bars] == [6000]


def test_a_piece_longer_than_every_bar_is_refused_with_the_room_there_is() -> None:
    with pytest.raises(ImpossibleError) as caught:
        nest(pieces(5981.0, 7000.0, 100.0), Stock(), SECTION)
    assert [fault.where for fault in caught.value.faults] == ["piece R1", "piece R2"]
    assert "5980 mm" in caught.value.faults[0].allowed


def test_bars_that_do_not_suffice_are_refused() -> None:
    few = Stock(lengths=(StockLength(length=6000, limit=1),))
    with pytest.raises(ImpossibleError) as caught:
        nest(pieces(5000, 5001), few, SECTION)
    assert caught.value.faults[0].code == "stock-runs-out"


@pytest.mark.parametrize("seed", range(3))
def test_two_hundred_pieces_are_nested_and_the_gap_is_stated(seed: int) -> None:
    asked = uneven(200, seed)
    plan = nest(asked, Stock(), SECTION)
    adds_up(plan, asked, Stock())
    (section,) = plan.sections
    assert section.gap <= 1 / len(section.bars) + 1e-9
    assert ("proven" if section.proven else "not proven: another plan could take up to") in section.says()


def hard(lengths: int) -> tuple[Blank, ...]:
    """Three hundred pieces; up to 120 different lengths the quick plans are bettered, beyond they are the plan."""
    parts = (n * 0.6180339887498949 % 1.0 for n in range(1, lengths + 1))
    return pieces(*[round(600 + 2900 * part, 3) for part in parts] * (300 // lengths))


ON_CORES = """
import os, sys
os.sched_setaffinity(0, set(sorted(os.sched_getaffinity(0))[: int(sys.argv[1])]))
from railgen.job.order_model import Stock
from railgen.schedules.nesting import nest
from tests.schedules.test_nest import SECTION, hard
print([nest(hard(lengths), Stock(), SECTION) for lengths in (25, 300)])
"""


def test_three_hundred_pieces_gave_60_or_61_bars(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same order on one core, on all, and where the clock runs a million times as fast."""
    root = Path(__file__).parents[2]
    runs = [
        subprocess.run([sys.executable, "-c", ON_CORES, cores], cwd=root, capture_output=True, text=True, check=True)
        for cores in ("1", "2")
    ]
    real = time.monotonic
    for name in ("monotonic", "perf_counter", "time"):
        monkeypatch.setattr(time, name, lambda: real() * 1e6)
    here = [nest(hard(lengths), Stock(), SECTION) for lengths in (25, 300)]
    assert {run.stdout.strip() for run in runs} == {str(here)}
    assert [plan.sections[0].proven for plan in here] == [True, True]


def test_a_quick_plan_says_so_on_saw_list_and_order() -> None:
    """HARD0, as in test_published_cuts: two hundred lengths, of which no quick plan is the best."""
    lengths = (Path(__file__).parent / "published" / "hard0.txt").read_text().split()
    stock = Stock(lengths=(StockLength(length=10_000),), kerf=0, trim=0)
    plan = nest(pieces(*(int(length) / 10 for length in lengths)), stock, SECTION)
    (section,) = plan.sections
    assert not section.proven
    for table in (saw_table(plan, Figures(style=Dimensions.MM)), order_table((), plan)):
        assert "of so many different lengths only quick plans were tried" in " ".join(table.notes)


def test_every_tube_of_a_job_is_on_the_saw_list() -> None:
    job = jobs.worked_job()
    fabrication = fabricate(job, solve(job))
    asked = blanks(fabrication)
    plan = nest(asked, Stock(), SECTION)
    adds_up(plan, asked, Stock())
    table = saw_table(plan, Figures(style=Dimensions.MM))
    column = [column.name for column in table.columns].index("mark")
    marks = Counter(row[column] for row in table.rows)
    tubes = {mark for mark, piece in fabrication.pieces.items() if isinstance(piece, Tube)}
    assert marks == Counter({mark: n for mark, n in fabrication.quantities().items() if mark in tubes})
    assert table.csv().count("\n") == len(table.rows) + 1
    assert "proven" in table.text()
