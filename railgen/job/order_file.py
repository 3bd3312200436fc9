"""The job file's tables about buying and making: ``[stock]``, ``[prices]``, ``[labour]``, ``[finish]``, ``[print]``."""

from __future__ import annotations

import math
from typing import Annotated, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from railgen.fields import MOST_ENTRIES, MOST_NAMES, Ident, Length, Most, Number, Table, Text
from railgen.job.order_model import (
    Finish,
    ItemPrice,
    Labour,
    Operation,
    OrderInput,
    Paper,
    Prices,
    Projection,
    RackPiece,
    Stock,
    StockLength,
)
from railgen.units import Dimensions, Unit

__all__ = [
    "FinishTable",
    "LabourTable",
    "PricesTable",
    "PrintTable",
    "RackTable",
    "StockLengthTable",
    "StockTable",
    "order_input",
]

_USUAL = OrderInput()
_MINUTES = _USUAL.labour.of

BarLength = Annotated[float, Length(ge=100, le=20_000)]
Money = Annotated[float, Number(ge=0, le=1_000_000, unit="in the currency")]
Count = Annotated[int, Field(ge=1, le=10_000, strict=True)]
Minutes = Annotated[float, Number(ge=0, le=1_000, unit="minutes")]


class StockLengthTable(Table):
    """One length of tube the merchant sells."""

    length: BarLength = Field(description="length of the bar as bought")
    section: Ident | None = Field(default=None, description="tube section sold in it; leave out: every section")
    price: Annotated[float, Number(ge=0.01, le=1_000_000, unit="in the currency")] | None = Field(
        default=None, description="price of one bar; the plan that costs least is sought where every bar has one"
    )
    limit: Count | None = Field(default=None, description="most bars to be had; leave out: as many as wanted")


class RackTable(Table):
    """Offcuts on the rack."""

    length: Annotated[float, Length(ge=10, le=20_000)] = Field(
        description="usable length between good ends; no trim is taken from it"
    )
    section: Ident | None = Field(default=None, description="its tube section; leave out: fits every section")
    quantity: Count = Field(default=1, description="how many of this length")


class StockTable(Table):
    """Bars, rack and saw."""

    lengths: Annotated[tuple[StockLengthTable, ...], Most(MOST_NAMES)] = Field(
        default=(),
        description="lengths to buy; leave out: bars of 6000 mm, as many as wanted",
    )
    rack: Annotated[tuple[RackTable, ...], Most(MOST_ENTRIES)] = Field(
        default=(), description="offcuts on the rack, used before new bars"
    )
    kerf: Annotated[float, Length(ge=0, le=10)] = Field(default=_USUAL.stock.kerf, description="width of the saw cut")
    trim: Annotated[float, Length(ge=0, le=200)] = Field(
        default=_USUAL.stock.trim,
        description="lost at each end of a bought bar, saw cut included; 0: ends are used as bought",
    )
    keep: Annotated[float, Length(ge=0, le=6_000)] = Field(
        default=_USUAL.stock.keep, description="shortest offcut that goes back to the rack"
    )
    seconds: Annotated[float, Number(ge=1, le=600, unit="s")] = Field(
        default=_USUAL.stock.seconds, description="longest time spent on nesting one tube section"
    )
    spares: Annotated[float, Number(ge=0, le=1)] = Field(
        default=_USUAL.spares, description="share of rivets, screws and anchors ordered on top, rounded up"
    )

    @model_validator(mode="after")
    def _trim_holds_the_cut(self) -> Self:
        if 0 < self.trim < self.kerf:
            raise PydanticCustomError(
                "trim-under-kerf",
                "trim is less than the saw cut it includes",
                {"allowed": "0, or kerf and more", "hint": "the saw cut that squares a bar's end is part of trim"},
            )
        return self


class PricesTable(Table):
    """What things cost; whatever has no price is listed without one, and the total says so."""

    currency: Text = Field(default="", description="printed behind amounts, such as EUR")
    items: Annotated[dict[Ident, Money], Most(MOST_ENTRIES)] = Field(
        default_factory=dict,
        description="price of one piece by catalogue id, or of one unit of a consumable",
    )


class LabourTable(Table):
    """Minutes for each operation: replace these guesses by your own times."""

    rate: Money | None = Field(default=None, description="price of one hour")
    set_up: Minutes = Field(default=_MINUTES(Operation.SET_UP), description=Operation.SET_UP.value)
    saw: Minutes = Field(default=_MINUTES(Operation.SAW), description=Operation.SAW.value)
    deburr: Minutes = Field(default=_MINUTES(Operation.DEBURR), description=Operation.DEBURR.value)
    drill: Minutes = Field(default=_MINUTES(Operation.DRILL), description=Operation.DRILL.value)
    tap: Minutes = Field(default=_MINUTES(Operation.TAP), description=Operation.TAP.value)
    set_out: Minutes = Field(default=_MINUTES(Operation.SET_OUT), description=Operation.SET_OUT.value)
    anchor: Minutes = Field(default=_MINUTES(Operation.ANCHOR), description=Operation.ANCHOR.value)
    stand: Minutes = Field(default=_MINUTES(Operation.STAND), description=Operation.STAND.value)
    fit_rail: Minutes = Field(default=_MINUTES(Operation.FIT_RAIL), description=Operation.FIT_RAIL.value)
    elbow: Minutes = Field(default=_MINUTES(Operation.ELBOW), description=Operation.ELBOW.value)
    rivet: Minutes = Field(default=_MINUTES(Operation.RIVET), description=Operation.RIVET.value)
    screw: Minutes = Field(default=_MINUTES(Operation.SCREW), description=Operation.SCREW.value)
    end: Minutes = Field(default=_MINUTES(Operation.END), description=Operation.END.value)
    clean: Minutes = Field(default=_MINUTES(Operation.CLEAN), description=Operation.CLEAN.value)


class FinishTable(Table):
    """Notes printed on the sheets and labels they concern, and how far made pieces may be off."""

    surface: Text = Field(default="", description="surface finish, such as: grit 320, brushed along the tube")
    weep_holes: Text = Field(default="", description="where and how large drain holes are, if any")
    welds: Text = Field(default="", description="note on welds, if any")
    protection: Text = Field(default="", description="how surfaces are protected until hand-over")
    general_tolerance: Text = Field(
        default=_USUAL.finish.general_tolerance, description="tolerances of dimensions that state none"
    )
    hole_tolerance: Annotated[float, Length(ge=0.1, le=5)] = Field(
        default=_USUAL.finish.hole_tolerance, description="how far a hole may be off, along a tube and around it"
    )
    angle_tolerance: Annotated[float, Number(ge=0.05, le=5, unit="degrees")] = Field(
        default=0.5, description="how far a cut may be off its angle"
    )


class PrintTable(Table):
    """How the papers print lengths, and how sheets are drawn; what is left out follows output.units."""

    dimensions: Dimensions | None = Field(
        default=None, description="how lengths are printed wherever a person reads them; leave out: as output.units"
    )
    projection: Projection | None = Field(
        default=None, description="how views stand on sheets; leave out: first-angle in mm, third-angle in inches"
    )
    paper: Paper | None = Field(
        default=None, description="A3 and A4, or US tabloid and letter; leave out: A in mm, US in inches"
    )


def order_input(
    stock: StockTable,
    prices: PricesTable,
    labour: LabourTable,
    finish: FinishTable,
    print_: PrintTable,
    unit: Unit,
) -> OrderInput:
    """The tables, read; how papers look follows from the output's ``unit`` where ``[print]`` does not say."""
    metric = unit is Unit.MM
    lengths = tuple(StockLength(**dict(entry)) for entry in stock.lengths)
    return OrderInput(
        stock=Stock(
            lengths=lengths or _USUAL.stock.lengths,
            rack=tuple(RackPiece(**dict(entry)) for entry in stock.rack),
            kerf=stock.kerf,
            trim=stock.trim,
            keep=stock.keep,
            seconds=stock.seconds,
        ),
        prices=Prices(
            currency=prices.currency,
            items=tuple(ItemPrice(id=item, price=price) for item, price in prices.items.items()),
        ),
        labour=Labour(
            rate=labour.rate,
            minutes=tuple((operation, getattr(labour, operation.name.lower())) for operation in Operation),
        ),
        finish=Finish(**{**dict(finish), "angle_tolerance": math.radians(finish.angle_tolerance)}),
        spares=stock.spares,
        dimensions=print_.dimensions or Dimensions.of(unit),
        projection=print_.projection or (Projection.FIRST_ANGLE if metric else Projection.THIRD_ANGLE),
        paper=print_.paper or (Paper.ISO if metric else Paper.US),
    )
