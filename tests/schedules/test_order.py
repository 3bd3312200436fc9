"""Order and cost: nothing that the rail is made of is missing, masses and sums agree with the members."""

from __future__ import annotations

import csv
import io
import math
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, reject

from railgen import fabricate, solve
from railgen.catalogue.models import Substrate
from railgen.errors import ImpossibleError
from railgen.job.model import Job
from railgen.job.order_model import (
    Finish,
    Labour,
    Operation,
    OrderInput,
    Prices,
    RackPiece,
    Stock,
    StockLength,
)
from railgen.members import Fabrication
from railgen.members.pieces import Fitting, FittingKind, Group, StairBody, Tube
from railgen.schedules.book import Book, make_book
from railgen.schedules.labels import labels
from railgen.schedules.nesting.nest import blanks
from railgen.schedules.order import Supply
from railgen.schedules.table import Column, Table
from tests import jobs
from tests.strategies import stairs

CHECKS = Table(name="Checks", columns=(Column(name="verdict"),), rows=(("meets",),))


def made(job: Job, order: OrderInput | None = None, *, solids: bool = False) -> tuple[Fabrication, Book]:
    fabrication = fabricate(job, solve(job))
    volumes = dict.fromkeys(fabrication.pieces, 1e6) if solids else None
    return fabrication, make_book(job, fabrication, order or OrderInput(), CHECKS, volumes)


@given(stairs())
def test_every_piece_of_the_rail_is_ordered(job: Job) -> None:
    try:
        fabrication, book = made(job)
    except ImpossibleError:
        reject()  # the stair is refused, or a rail is longer than a bar
    placed = Counter(place.mark for place in fabrication.placed)
    ordered = Counter({line.item: line.quantity for line in book.lines if line.kind != "tube stock"})
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, Tube):
            assert ordered[mark] == placed[mark]
    fittings = [piece for piece in fabrication.pieces.values() if isinstance(piece, Fitting)]
    half = (FittingKind.SADDLE_CRADLE, FittingKind.ELBOW_FORK, FittingKind.ELBOW_PIN)
    for item in {piece.item.id for piece in fittings}:
        whole = [piece for piece in fittings if piece.item.id == item and piece.kind not in half]
        assert ordered[item] == sum(placed[piece.mark] for piece in whole)
    assert len([line for line in book.lines if line.kind in {"rivet", "screw", "anchor"}]) == 3
    stock = math.fsum(bar.length for bar in book.nesting.bars)
    waste = book.cost.waste
    assert stock == pytest.approx(waste.pieces + waste.kerf + waste.trim + waste.kept + waste.scrap, abs=1e-6)


def test_masses_are_volume_times_density() -> None:
    job = jobs.worked_job()
    fabrication, book = made(job, solids=True)
    quantities = fabrication.quantities()
    tube = next(line for line in book.lines if line.item == "R2")
    ring = math.pi / 4 * (48.3**2 - 44.3**2) * 178.003
    drilled = 2 * math.pi / 4 * 6.4**2 * 2.0  # two screw holes through one wall
    assert tube.total_kg == pytest.approx((ring - drilled) * 7900e-9, rel=1e-5)
    # every fitting has a litre here: what is bought weighs 7.9 kg for each piece it consists of
    bought = [line for line in book.lines if line.kind not in ("tube stock", "tube", "consumable")]
    pieces = sum(quantities[mark] for mark, piece in fabrication.pieces.items() if isinstance(piece, Fitting))
    assert math.fsum(line.total_kg or 0 for line in bought) == pytest.approx(7.9 * pieces)
    bars = next(line for line in book.lines if line.kind == "tube stock")
    # EN 10219-2 table of sections: 48.3 x 2.0, A 2.91 cm2
    assert bars.each_kg == pytest.approx(2.91e-4 * 6.0 * 7900, rel=2e-3)


def test_masses_that_need_the_solids_are_said_to_be_missing_without_them() -> None:
    _, with_solids = made(jobs.worked_job(), solids=True)
    _, without = made(jobs.worked_job())
    assert not [note for note in with_solids.table("Order").notes if "not given" in note]
    assert [note for note in without.table("Order").notes if "not given" in note]


def test_spares_are_rounded_up_for_each_kind() -> None:
    _, book = made(jobs.worked_job(), OrderInput(stock=Stock(spares=0.1)))
    spare = {line.kind: (line.quantity, line.spare) for line in book.lines if line.spare}
    assert spare == {"anchor": (24, 3), "rivet": (24, 3), "screw": (12, 2)}
    _, none = made(jobs.worked_job(), OrderInput(stock=Stock(spares=0)))
    assert not any(line.spare for line in none.lines)


def test_costs_add_up_and_missing_prices_are_named() -> None:
    items = {"plate": 20.0, "rivet-3.2": 0.1}
    stock = Stock(lengths=(StockLength(length=6000, price=90),), rack=(RackPiece(length=1000),))
    order = OrderInput(stock=stock, prices=Prices(currency="EUR", items=items), labour=Labour(rate=30))
    _, book = made(jobs.worked_job(), order)
    # two bars, six plates, 24 rivets and 3 spares
    assert book.cost.bought == pytest.approx(2 * 90 + 6 * 20 + 27 * 0.1)
    assert "elbow" in book.cost.unpriced
    assert "plate" not in book.cost.unpriced
    assert book.cost.total is None
    rack = [line for line in book.lines if line.supply is Supply.RACK]
    assert all(line.cost == 0 for line in rack)
    everything = {line.item: 1.0 for line in book.lines if line.supply is Supply.BUY}
    _, priced = made(jobs.worked_job(), replace(order, prices=Prices(items=everything)))
    assert priced.cost.unpriced == ()
    assert priced.cost.total == pytest.approx(priced.cost.bought + priced.cost.minutes / 60 * 30)
    waste = priced.cost.waste
    lost = sum(
        bar.kerf + bar.trim + (0 if bar.kept else bar.offcut) for bar in priced.nesting.bars if not bar.from_rack
    )
    assert waste.cost == pytest.approx(lost / 6000 * 90)


def test_minutes_follow_the_members() -> None:
    job = jobs.worked_job()
    labour = Labour.model_validate({operation.name.lower(): 1.0 for operation in Operation})
    fabrication, book = made(job, OrderInput(labour=labour))
    count = {line.operation: line.count for line in book.cost.labour}
    groups = Counter(place.group for place in fabrication.placed)
    assert count[Operation.STAND] == count[Operation.SET_OUT] == groups[Group.POSTS] == 6
    assert count[Operation.FIT_RAIL] == groups[Group.RAIL] == 3
    assert count[Operation.ELBOW] == 2
    bodies = [piece for piece in fabrication.pieces.values() if isinstance(piece, StairBody)]
    assert count[Operation.ANCHOR] == sum(len(body.holes) for body in bodies) == 24
    assert count[Operation.RIVET] == 24
    assert count[Operation.DRILL] == len(fabrication.joints) - 24  # every joint but an anchor's is a hole in a tube
    assert count[Operation.SAW] == 9 + len(book.nesting.bars)  # nine tubes, and each bar squared once
    assert book.cost.minutes == pytest.approx(sum(count.values()))


def test_plates_on_steel_are_isolated() -> None:
    job = jobs.worked_job()
    steel = replace(job, posts=replace(job.posts, substrate=Substrate.STEEL))
    pads = [line.quantity for line in made(steel)[1].lines if line.item == "isolating-pad"]
    assert pads == [6]
    assert not [line for line in made(job)[1].lines if line.item == "isolating-pad"]


def test_every_tube_has_its_own_label() -> None:
    job = jobs.worked_job()
    fabrication, _ = made(job)
    printed = labels(job, fabrication, Finish(surface="grit 320", weep_holes="6 mm at the lowest point"))
    assert Counter(label.mark for label in printed) == Counter(
        {m: n for m, n in fabrication.quantities().items() if isinstance(fabrication.pieces[m], Tube)}
    )
    assert [label.copy for label in printed if label.mark == "P1"] == [1, 2, 3, 4, 5, 6]
    assert len({label.goes_to for label in printed}) == len(printed)
    assert printed[0].notes == ("finish: grit 320", "weep holes: 6 mm at the lowest point")


def test_order_csv_reads_back() -> None:
    _, book = made(jobs.worked_job())
    rows = list(csv.DictReader(io.StringIO(book.order_csv())))
    assert len(rows) == len(book.lines)
    assert {row["kind"] for row in rows} >= {"tube stock", "tube", "base plate", "anchor", "rivet", "screw"}
    assert all(set(row) == set(rows[0]) and None not in row for row in rows)


def test_what_comes_in_parts_is_counted_by_one_of_them() -> None:
    """A kind that no count knew fell out of the delivery in silence: each whole has one part that counts."""
    wholes = Counter[str]()
    for kind in FittingKind:
        wholes[kind.whole] += kind.counts
    assert set(wholes.values()) == {1}


def test_a_raking_cut_reaches_the_saw_list() -> None:
    """Blade angles stood beside ends that were told to be square whatever they were."""
    fabrication, book = made(jobs.worked_job())
    mark, tube = next((mark, piece) for mark, piece in fabrication.pieces.items() if isinstance(piece, Tube))
    raking = replace(tube, end_b=replace(tube.end_b, angle=math.radians(30)))
    changed = replace(fabrication, pieces={**fabrication.pieces, mark: raking})
    assert str(raking.end_b).startswith("30° off square; ")
    assert {(blank.mark, blank.angle_b) for blank in blanks(changed) if blank.angle_b} == {(mark, math.radians(30))}
    assert not any(cut.angle_a or cut.angle_b for bar in book.nesting.bars for cut in bar.cuts)
