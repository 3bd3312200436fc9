"""What a job says about buying and making: stock and saw, prices, times, finish, paper. Everything has a default."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import StrEnum

from railgen.units import Dimensions

__all__ = [
    "Dimensions",
    "Finish",
    "ItemPrice",
    "Labour",
    "Operation",
    "OrderInput",
    "Paper",
    "Prices",
    "Projection",
    "RackPiece",
    "Stock",
    "StockLength",
]


class Projection(StrEnum):
    """How the views of a drawing stand beside each other."""

    FIRST_ANGLE = "first-angle"
    THIRD_ANGLE = "third-angle"


class Paper(StrEnum):
    """Which papers the sheets are drawn for."""

    ISO = "A"
    US = "US"


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLength:
    """A length the merchant sells (mm); ``section`` None means every tube section of the job."""

    length: float
    section: str | None = None
    price: float | None = None  # for one bar
    limit: int | None = None  # bars to be had; None: as many as wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class RackPiece:
    """Offcuts already on the rack: ``length`` (mm) is what is usable of each, between good ends."""

    length: float
    section: str | None = None
    quantity: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Bars, rack and saw (mm).

    ``trim`` is lost at each end of a bought bar, the saw cut there included; ``keep`` is the shortest offcut that
    goes back to the rack. ``seconds`` is how long one section may be nested before the best plan so far is taken.
    """

    lengths: tuple[StockLength, ...] = (StockLength(length=6000.0),)
    rack: tuple[RackPiece, ...] = ()
    kerf: float = 2.0
    trim: float = 10.0
    keep: float = 300.0
    seconds: float = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemPrice:
    """Price of one piece of a catalogue entry or consumable, by its id."""

    id: str
    price: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """``currency`` is only printed; ``items`` in the order typed."""

    currency: str = ""
    items: tuple[ItemPrice, ...] = ()

    def of(self, item: str) -> float | None:
        """Price of one ``item``; None where none was given."""
        return next((entry.price for entry in self.items if entry.id == item), None)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Labour:
    """Minutes for each operation, and the price of an hour; the defaults are rough guesses to be replaced."""

    rate: float | None = None  # currency an hour
    minutes: tuple[tuple[Operation, float], ...] = (
        (Operation.SET_UP, 60.0),
        (Operation.SAW, 3.0),
        (Operation.DEBURR, 2.0),
        (Operation.DRILL, 3.0),
        (Operation.TAP, 3.0),
        (Operation.SET_OUT, 10.0),
        (Operation.ANCHOR, 5.0),
        (Operation.STAND, 10.0),
        (Operation.FIT_RAIL, 20.0),
        (Operation.ELBOW, 15.0),
        (Operation.RIVET, 1.0),
        (Operation.SCREW, 1.0),
        (Operation.END, 5.0),
        (Operation.CLEAN, 3.0),
    )

    def of(self, operation: Operation) -> float:
        """Minutes for one ``operation``."""
        return next(minutes for name, minutes in self.minutes if name is operation)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """Notes that go with the pieces, of which an empty one is not printed, and what they may be off (mm, radians)."""

    surface: str = ""
    weep_holes: str = ""
    welds: str = ""
    protection: str = ""
    general_tolerance: str = "ISO 2768-m"
    hole_tolerance: float = 0.5
    angle_tolerance: float = math.radians(0.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderInput:
    """``spares`` is the share of rivets, screws and anchors ordered on top, rounded up for each kind."""

    stock: Stock = field(default_factory=Stock)
    prices: Prices = field(default_factory=Prices)
    labour: Labour = field(default_factory=Labour)
    finish: Finish = field(default_factory=Finish)
    spares: float = 0.1
    dimensions: Dimensions = Dimensions.MM
    projection: Projection = Projection.FIRST_ANGLE
    paper: Paper = Paper.ISO
