"""What a job says about buying and making: ``[stock]``, ``[prices]``, ``[labour]``, ``[finish]``, ``[print]``.

One record each, of the file and of the job alike (mm, radians). Everything has a default.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Annotated, Self

from pydantic import Field, field_validator, model_validator
from pydantic_core import PydanticCustomError

from railgen.fields import MOST_ENTRIES, MOST_NAMES, Angle, Ident, Length, Most, Number, Table, Text
from railgen.units import Dimensions, Unit

__all__ = [
    "Dimensions",
    "Finish",
    "Labour",
    "Operation",
    "OrderInput",
    "Paper",
    "Prices",
    "PrintTable",
    "Projection",
    "RackPiece",
    "Stock",
    "StockLength",
]

BarLength = Annotated[float, Length(ge=100, le=20_000)]
Money = Annotated[float, Number(ge=0, le=1_000_000, unit="in the currency")]
Count = Annotated[int, Field(ge=1, le=10_000, strict=True)]
Minutes = Annotated[float, Number(ge=0, le=1_000, unit="minutes")]


class Projection(StrEnum):
    """How the views of a drawing stand beside each other."""

    FIRST_ANGLE = "first-angle"
    THIRD_ANGLE = "third-angle"


class Paper(StrEnum):
    """Which papers the sheets are drawn for."""

    ISO = "A"
    US = "US"


class StockLength(Table):
    """One length of tube the merchant sells."""

    length: BarLength = Field(description="length of the bar as bought")
    section: Ident | None = Field(default=None, description="tube section sold in it; leave out: every section")
    price: Annotated[float, Number(ge=0.01, le=1_000_000, unit="in the currency")] | None = Field(
        default=None, description="price of one bar; the plan that costs least is sought where every bar has one"
    )
    limit: Count | None = Field(default=None, description="most bars to be had; leave out: as many as wanted")


class RackPiece(Table):
    """Offcuts on the rack."""

    length: Annotated[float, Length(ge=10, le=20_000)] = Field(
        description="usable length between good ends; no trim is taken from it"
    )
    section: Ident | None = Field(default=None, description="its tube section; leave out: fits every section")
    quantity: Count = Field(default=1, description="how many of this length")


class Stock(Table):
    """Bars, rack and saw."""

    lengths: Annotated[tuple[StockLength, ...], Most(MOST_NAMES)] = Field(
        default=(), validate_default=True, description="lengths to buy; leave out: bars of 6000 mm, as many as wanted"
    )
    rack: Annotated[tuple[RackPiece, ...], Most(MOST_ENTRIES)] = Field(
        default=(), description="offcuts on the rack, used before new bars"
    )
    kerf: Annotated[float, Length(ge=0, le=10)] = Field(default=2.0, description="width of the saw cut")
    trim: Annotated[float, Length(ge=0, le=200)] = Field(
        default=10.0, description="lost at each end of a bought bar, saw cut included; 0: ends are used as bought"
    )
    keep: Annotated[float, Length(ge=0, le=6_000)] = Field(
        default=300.0, description="shortest offcut that goes back to the rack"
    )
    seconds: Annotated[float, Number(ge=1, le=600, unit="s")] = Field(
        default=10.0, description="no longer of use, and kept for older jobs: nesting counts its work and no seconds"
    )
    spares: Annotated[float, Number(ge=0, le=1)] = Field(
        default=0.1, description="share of rivets, screws and anchors ordered on top, rounded up"
    )

    def longest(self, section: str) -> float:
        """Longest piece (mm) of a section that a bar or an offcut on the rack gives; 0 where there is none."""
        bars = (each.length - 2 * self.trim for each in self.lengths if each.section in (None, section))
        rack = (each.length for each in self.rack if each.section in (None, section))
        return max((*bars, *rack), default=0.0)

    @field_validator("lengths")
    @classmethod
    def _usual_bar(cls, lengths: tuple[StockLength, ...]) -> tuple[StockLength, ...]:
        return lengths or (StockLength(length=6000.0),)

    @model_validator(mode="after")
    def _trim_holds_the_cut(self) -> Self:
        if 0 < self.trim < self.kerf:
            raise PydanticCustomError(
                "trim-under-kerf",
                "trim is less than the saw cut it includes",
                {"allowed": "0, or kerf and more", "hint": "the saw cut that squares a bar's end is part of trim"},
            )
        return self


class Prices(Table):
    """What things cost; whatever has no price is listed without one, and the total says so."""

    currency: Text = Field(default="", description="printed behind amounts, such as EUR")
    items: Annotated[dict[Ident, Money], Most(MOST_ENTRIES)] = Field(
        default_factory=dict, description="price of one piece by catalogue id, or of one unit of a consumable"
    )

    def of(self, item: str) -> float | None:
        """Price of one ``item``; None where none was given."""
        return self.items.get(item)


class Operation(StrEnum):
    """What takes time: in the workshop first, then on site."""

    SET_UP = "set up and read the pack, once"
    SAW = "saw cut"
    DEBURR = "deburr a tube end"
    DRILL = "mark and drill one hole wall in a tube"
    TAP = "tap one thread"
    SET_OUT = "set out one base plate"
    ANCHOR = "drill one anchor hole and fix its anchor"
    STAND = "stand one post"
    FIT_RAIL = "trial-fit one rail tube"
    ELBOW = "fit one elbow"
    RIVET = "set one rivet"
    SCREW = "drive one screw"
    END = "fit one end cap or scroll"
    CLEAN = "clean one metre of tube"


class Labour(Table):
    """Minutes for each operation: replace these guesses by your own times."""

    rate: Money | None = Field(default=None, description="price of one hour")
    set_up: Minutes = Field(default=60.0, description=Operation.SET_UP.value)
    saw: Minutes = Field(default=3.0, description=Operation.SAW.value)
    deburr: Minutes = Field(default=2.0, description=Operation.DEBURR.value)
    drill: Minutes = Field(default=3.0, description=Operation.DRILL.value)
    tap: Minutes = Field(default=3.0, description=Operation.TAP.value)
    set_out: Minutes = Field(default=10.0, description=Operation.SET_OUT.value)
    anchor: Minutes = Field(default=5.0, description=Operation.ANCHOR.value)
    stand: Minutes = Field(default=10.0, description=Operation.STAND.value)
    fit_rail: Minutes = Field(default=20.0, description=Operation.FIT_RAIL.value)
    elbow: Minutes = Field(default=15.0, description=Operation.ELBOW.value)
    rivet: Minutes = Field(default=1.0, description=Operation.RIVET.value)
    screw: Minutes = Field(default=1.0, description=Operation.SCREW.value)
    end: Minutes = Field(default=5.0, description=Operation.END.value)
    clean: Minutes = Field(default=3.0, description=Operation.CLEAN.value)

    def of(self, operation: Operation) -> float:
        """Minutes for one ``operation``."""
        return float(getattr(self, operation.name.lower()))


class Finish(Table):
    """Notes printed on the sheets and labels they concern, and how far made pieces may be off."""

    surface: Text = Field(default="", description="surface finish, such as: grit 320, brushed along the tube")
    weep_holes: Text = Field(default="", description="where and how large drain holes are, if any")
    welds: Text = Field(default="", description="note on welds, if any")
    protection: Text = Field(default="", description="how surfaces are protected until hand-over")
    general_tolerance: Text = Field(default="ISO 2768-m", description="tolerances of dimensions that state none")
    hole_tolerance: Annotated[float, Length(ge=0.1, le=5)] = Field(
        default=0.5, description="how far a hole may be off, along a tube and around it"
    )
    angle_tolerance: Annotated[float, Angle(ge=0.05, le=5)] = Field(
        default=0.5, validate_default=True, description="how far a cut may be off its angle"
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


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderInput:
    """The tables together, and how papers look."""

    stock: Stock = field(default_factory=Stock)
    prices: Prices = field(default_factory=Prices)
    labour: Labour = field(default_factory=Labour)
    finish: Finish = field(default_factory=Finish)
    dimensions: Dimensions = Dimensions.MM
    projection: Projection = Projection.FIRST_ANGLE
    paper: Paper = Paper.ISO

    def printed(self, asked: PrintTable, unit: Unit) -> OrderInput:
        """The same as ``asked`` for; what that leaves out follows from the output's ``unit``."""
        metric = unit is Unit.MM
        return replace(
            self,
            dimensions=asked.dimensions or Dimensions.of(unit),
            projection=asked.projection or (Projection.FIRST_ANGLE if metric else Projection.THIRD_ANGLE),
            paper=asked.paper or (Paper.ISO if metric else Paper.US),
        )
