"""What the job costs: what is bought, what of it is waste, and the minutes of each operation."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from railgen.job.order_model import Operation, OrderInput
from railgen.members import Fabrication
from railgen.members.pieces import Fitting, FittingRole, Group, StairBody, Tube
from railgen.schedules.nesting import Nesting
from railgen.schedules.order import OrderLine, Supply
from railgen.schedules.table import Cell, Column, Quantity, Table

__all__ = ["CostSheet", "LabourLine", "Waste", "cost_sheet", "cost_table"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Waste:
    """Where the length of all bars goes (mm): in pieces, back to the rack, or lost; ``cost``: the lost part's price."""

    stock: float
    pieces: float
    kerf: float
    trim: float
    kept: float
    scrap: float
    cost: float | None

    @property
    def share(self) -> float:
        """Kerf, trim and scrap as a share of the bars used."""
        return (self.kerf + self.trim + self.scrap) / self.stock if self.stock else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourLine:
    """How often an operation is done, and the minutes it takes each time."""

    operation: Operation
    count: float
    each: float

    @property
    def minutes(self) -> float:
        return self.count * self.each


@dataclass(frozen=True, slots=True, kw_only=True)
class CostSheet:
    """Sums of the order and of the labour; ``unpriced`` names what is bought and has no price."""

    bought: float
    waste: Waste
    labour: tuple[LabourLine, ...]
    rate: float | None
    unpriced: tuple[str, ...]

    @property
    def minutes(self) -> float:
        return math.fsum(line.minutes for line in self.labour)

    @property
    def labour_cost(self) -> float | None:
        return None if self.rate is None else self.minutes / 60 * self.rate

    @property
    def total(self) -> float | None:
        """Everything; None while a price or the rate is missing."""
        return None if self.unpriced or self.labour_cost is None else self.bought + self.labour_cost


def cost_sheet(lines: Sequence[OrderLine], fabrication: Fabrication, nesting: Nesting, order: OrderInput) -> CostSheet:
    """The sums behind an order."""
    bought = [line for line in lines if line.supply is Supply.BUY]
    return CostSheet(
        bought=math.fsum(line.cost or 0.0 for line in bought),
        waste=_waste(nesting),
        labour=_labour(fabrication, nesting, order),
        rate=order.labour.rate,
        unpriced=tuple(line.item for line in bought if line.price is None),
    )


def _waste(nesting: Nesting) -> Waste:
    bars = nesting.bars
    lost = [(bar, bar.kerf + bar.trim + (0.0 if bar.kept else bar.offcut)) for bar in bars]
    priced = all(bar.price is not None for bar in bars if not bar.from_rack)
    return Waste(
        stock=math.fsum(bar.length for bar in bars),
        pieces=math.fsum(bar.used for bar in bars),
        kerf=math.fsum(bar.kerf for bar in bars),
        trim=math.fsum(bar.trim for bar in bars),
        kept=math.fsum(bar.offcut for bar in bars if bar.kept),
        scrap=math.fsum(bar.offcut for bar in bars if not bar.kept),
        cost=math.fsum((bar.price or 0.0) * mm / bar.length for bar, mm in lost) if priced else None,
    )


def _labour(fabrication: Fabrication, nesting: Nesting, order: OrderInput) -> tuple[LabourLine, ...]:
    quantities = fabrication.quantities()
    tubes = [(piece, quantities[mark]) for mark, piece in fabrication.pieces.items() if isinstance(piece, Tube)]

    def fitted(role: FittingRole) -> int:
        kinds = [(mark, p.kind) for mark, p in fabrication.pieces.items() if isinstance(p, Fitting)]
        return sum(quantities[mark] * kind.counts for mark, kind in kinds if kind.role is role)

    def stands(group: Group) -> int:
        return sum(place.group is group for place in fabrication.placed)

    bodies = [piece for piece in fabrication.pieces.values() if isinstance(piece, StairBody)]
    counts = {
        Operation.SET_UP: 1,
        Operation.SAW: sum(len(bar.cuts) + (bar.trim > 0) for bar in nesting.bars),
        Operation.DEBURR: 2 * sum(count for _, count in tubes),
        Operation.DRILL: sum(hole.walls * count for tube, count in tubes for hole in tube.holes),
        Operation.TAP: sum(bool(hole.thread) * count for tube, count in tubes for hole in tube.holes),
        Operation.SET_OUT: fitted(FittingRole.SUPPORT),
        Operation.ANCHOR: sum(len(body.holes) for body in bodies),
        Operation.STAND: stands(Group.POSTS),
        Operation.FIT_RAIL: stands(Group.RAIL),
        Operation.ELBOW: fitted(FittingRole.JOINT),
        Operation.RIVET: fitted(FittingRole.RIVET),
        Operation.SCREW: fitted(FittingRole.SCREW),
        Operation.END: fitted(FittingRole.END),
        Operation.CLEAN: math.fsum(tube.length * count for tube, count in tubes) / 1000,
    }
    return tuple(LabourLine(operation=op, count=counts[op], each=order.labour.of(op)) for op in Operation)


def cost_table(lines: Sequence[OrderLine], sheet: CostSheet, currency: str = "") -> Table:
    """Bought lines, waste, labour by operation, sums."""
    rows: list[tuple[Cell, ...]] = [
        ("bought", f"{line.item}, {line.description}".rstrip(", "), line.ordered, line.unit, line.price, line.cost)
        for line in lines
        if line.supply is Supply.BUY
    ]
    waste = sheet.waste
    rows += [
        ("waste", name, mm / 1000, "m", None, cost)
        for name, mm, cost in (
            ("tube in pieces", waste.pieces, None),
            ("offcuts for the rack", waste.kept, None),
            ("saw cuts", waste.kerf, None),
            ("ends trimmed off", waste.trim, None),
            ("scrap", waste.scrap, None),
            ("lost in all (its price is within the bars)", waste.share * waste.stock, waste.cost),
        )
    ]
    rate = None if sheet.rate is None else sheet.rate / 60
    rows += [
        ("labour", line.operation.value, line.minutes, "min", rate, None if rate is None else line.minutes * rate)
        for line in sheet.labour
    ]
    rows += [
        ("sum", "bought" + (" so far: prices are missing" if sheet.unpriced else ""), None, "", None, sheet.bought),
        ("sum", "labour", sheet.minutes, "min", rate, sheet.labour_cost),
        ("sum", "total", None, "", None, sheet.total),
    ]
    columns = (
        Column(name="part"),
        Column(name="item"),
        Column(name="quantity", quantity=Quantity.COUNT, decimals=2),
        Column(name="unit"),
        Column(name="price_each", quantity=Quantity.MONEY, decimals=2),
        Column(name=f"amount {currency}".strip(), quantity=Quantity.MONEY, decimals=2),
    )
    notes = [f"lost: {waste.share * 100:.1f} % of the bars", "minutes are guesses until you give your own"]
    if sheet.unpriced:
        notes.append(f"no price: {', '.join(sheet.unpriced)}")
    return Table(name="Cost", columns=columns, rows=tuple(rows), notes=tuple(notes))
