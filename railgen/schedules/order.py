"""What to buy: bars, fittings, fixings and consumables, with masses and, where they are given, prices."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from railgen.catalogue.models import TubeSection
from railgen.job.model import Job
from railgen.job.order_model import Dimensions, OrderInput
from railgen.members import Fabrication
from railgen.members.facts import tube_volume
from railgen.members.pieces import Fitting, Tube
from railgen.schedules.consumables import consumables
from railgen.schedules.lists import reading_order
from railgen.schedules.nesting import Nesting
from railgen.schedules.table import Cell, Column, Quantity, Table
from railgen.units import Figures

__all__ = ["OrderLine", "Supply", "fitting_lines", "order_lines", "order_table"]

_KG = 1e-9  # cubic metres in a cubic millimetre


class Supply(StrEnum):
    """Where something comes from."""

    BUY = "buy"
    RACK = "take from the rack"
    CUT = "cut here"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One line of the order: ``quantity`` is what the job takes, ``spare`` what is ordered on top.

    ``each_kg`` and ``price`` are for one ``unit``; None where they are not known.
    """

    kind: str
    item: str
    description: str
    quantity: float
    unit: str
    spare: int = 0
    each_kg: float | None = None
    price: float | None = None
    supply: Supply = Supply.BUY

    @property
    def ordered(self) -> float:
        return self.quantity + self.spare

    @property
    def total_kg(self) -> float | None:
        """Mass of what the job takes, spares left out."""
        return None if self.each_kg is None else self.each_kg * self.quantity

    @property
    def cost(self) -> float | None:
        """Price of all that is bought on this line; 0 for what is not bought."""
        if self.supply is not Supply.BUY:
            return 0.0
        return None if self.price is None else self.price * self.ordered


def order_lines(
    job: Job, fabrication: Fabrication, nesting: Nesting, order: OrderInput, volumes: Mapping[str, float] | None = None
) -> tuple[OrderLine, ...]:
    """Every line of the order: bars, the tubes cut from them, fittings, fixings, consumables.

    ``volumes`` (mm3) by mark come from the solids; without them bought fittings are listed without a mass.
    """
    density = job.hardware.material.density * _KG
    sections = {piece.section.id: piece.section for piece in fabrication.pieces.values() if isinstance(piece, Tube)}
    return (
        *_bars(nesting, sections, density, order.dimensions),
        *_tubes(fabrication, density, order.dimensions),
        *fitting_lines(fabrication, order, {} if volumes is None else volumes, density),
        *(
            OrderLine(
                kind="consumable",
                item=need.item,
                description=need.description,
                quantity=need.quantity,
                unit=need.unit,
                price=order.prices.of(need.item),
            )
            for need in consumables(job, fabrication, nesting)
        ),
    )


def _bars(
    nesting: Nesting, sections: Mapping[str, TubeSection], density: float, style: Dimensions
) -> Iterator[OrderLine]:
    """One line for each section, length and price; rack pieces on lines of their own."""
    counts: dict[tuple[str, float, bool, float | None], int] = {}
    for bar in nesting.bars:
        key = (bar.section, bar.length, bar.from_rack, bar.price)
        counts[key] = counts.get(key, 0) + 1
    for (name, length, rack, price), count in counts.items():
        section, told = sections[name], Figures(style=style).named(length)
        area = math.pi * (section.od - section.wall) * section.wall
        yield OrderLine(
            kind="tube stock",
            item=name,
            description=f"{section.description or name}, {'piece' if rack else 'bar'} of {told}",
            quantity=count,
            unit="pc",
            each_kg=area * length * density,
            price=price,
            supply=Supply.RACK if rack else Supply.BUY,
        )


def _tubes(fabrication: Fabrication, density: float, style: Dimensions) -> Iterator[OrderLine]:
    quantities = fabrication.quantities()
    for mark, piece in sorted(fabrication.pieces.items(), key=lambda entry: reading_order(entry[0])):
        if isinstance(piece, Tube):
            yield OrderLine(
                kind="tube",
                item=mark,
                description=f"{piece.section.id}, {Figures(style=style).named(piece.length)}, {len(piece.holes)} holes",
                quantity=quantities[mark],
                unit="pc",
                each_kg=tube_volume(piece) * density,
                supply=Supply.CUT,
            )


def fitting_lines(
    fabrication: Fabrication, order: OrderInput, volumes: Mapping[str, float], density: float
) -> Iterator[OrderLine]:
    """One line for each catalogue entry of fittings and fixings, halves together."""
    quantities = fabrication.quantities()
    parts: dict[str, list[Fitting]] = {}
    for piece in fabrication.pieces.values():
        if isinstance(piece, Fitting):
            parts.setdefault(piece.item.id, []).append(piece)
    for item, pieces in parts.items():
        kind = pieces[0].kind
        quantity = sum(quantities[piece.mark] * piece.kind.counts for piece in pieces)
        mass = None
        if all(piece.mark in volumes for piece in pieces):
            mass = math.fsum(volumes[p.mark] * quantities[p.mark] for p in pieces) * density / quantity
        yield OrderLine(
            kind=kind.whole,
            item=item,
            description=pieces[0].item.description,
            quantity=quantity,
            unit="pc",
            spare=math.ceil(quantity * order.stock.spares - 1e-9) if kind.role.fixing else 0,
            each_kg=mass,
            price=order.prices.of(item),
        )


def order_table(lines: tuple[OrderLine, ...], nesting: Nesting, currency: str = "") -> Table:
    """The order as a table, for ``order.csv`` and the workbook; a quick plan's bars say that they are one's."""
    columns = (
        Column(name="kind"),
        Column(name="item"),
        Column(name="description"),
        Column(name="quantity", quantity=Quantity.COUNT, decimals=1),
        Column(name="spare", quantity=Quantity.COUNT),
        Column(name="unit"),
        Column(name="supply"),
        Column(name="each_kg", quantity=Quantity.MASS, decimals=4),
        Column(name="total_kg", quantity=Quantity.MASS),
        Column(name="price_each", quantity=Quantity.MONEY, decimals=2),
        Column(name="cost", quantity=Quantity.MONEY, decimals=2),
    )
    rows: list[tuple[Cell, ...]] = [
        (
            line.kind,
            line.item,
            line.description,
            line.quantity,
            line.spare,
            line.unit,
            line.supply.value,
            line.each_kg,
            line.total_kg,
            line.price,
            line.cost if line.price is not None else None,
        )
        for line in lines
    ]
    notes = ["consumables are estimates" + (f"; prices in {currency}" if currency else "")]
    if any(line.each_kg is None and line.kind != "consumable" for line in lines):
        notes.append("masses of fittings and fixings are not given: they come from the solids, which were not built")
    notes += [section.says() for section in nesting.sections if section.quick]
    return Table(name="Order", columns=columns, rows=tuple(rows), notes=tuple(notes))
