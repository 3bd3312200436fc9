"""The resolved job: every value in millimetres and radians, every catalogue entry in hand, every default filled in."""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from railgen.catalogue.models import (
    AdjustableSaddle,
    Anchor,
    BasePlate,
    CoverPlate,
    Elbow,
    ElbowSaddle,
    EndCap,
    EndScroll,
    Entry,
    FixedSaddle,
    Material,
    Rivet,
    Screw,
    Substrate,
    TubeSection,
)
from railgen.geometry import Frame, Vec
from railgen.job.order_model import OrderInput
from railgen.job.rules_model import Nearby, RulesInput
from railgen.job.strength_model import Fixing, Ground, StrengthInput
from railgen.units import Unit

__all__ = [
    "Alternative",
    "CornerJoint",
    "EndFinish",
    "Flight",
    "Hardware",
    "Job",
    "Landing",
    "Origin",
    "PostLengths",
    "Posts",
    "Project",
    "Rail",
    "RailEnd",
    "Side",
    "SpanBy",
    "Turn",
]


class Side(StrEnum):
    """Side of the stair, as seen walking up."""

    LEFT = "left"
    RIGHT = "right"

    def outwards(self, left: Vec) -> Vec:
        """The direction out of the stair at this side, of one to the walker's left."""
        return left if self is Side.LEFT else -left


class Turn(StrEnum):
    """What a landing does to the direction of walking up."""

    STRAIGHT = "straight"
    QUARTER_LEFT = "quarter-left"
    QUARTER_RIGHT = "quarter-right"
    HALF_LEFT = "half-left"
    HALF_RIGHT = "half-right"

    @property
    def side(self) -> Side | None:
        """The side it turns to; None for straight on."""
        if self is Turn.STRAIGHT:
            return None
        return Side.LEFT if self in (Turn.QUARTER_LEFT, Turn.HALF_LEFT) else Side.RIGHT

    @property
    def quarters(self) -> int:
        """Quarter turns it makes: 0, 1 or 2."""
        return 0 if self is Turn.STRAIGHT else 1 if self in (Turn.QUARTER_LEFT, Turn.QUARTER_RIGHT) else 2


class CornerJoint(StrEnum):
    """How the rails join at the inner corner of a quarter turn: in one elbow, in two, or in one that they climb to."""

    AUTO = "auto"
    RISE_PIECE = "rise-piece"
    CLIMB = "climb"


class PostLengths(StrEnum):
    """Whether posts are one length, moved within their treads, or stand at nominal setback and are cut to suit."""

    EQUAL = "equal"
    CUT = "cut"


class SpanBy(StrEnum):
    """What decides how many posts there are."""

    RULE = "rule"
    STRENGTH = "strength"


class EndFinish(StrEnum):
    """What closes a free end of the rail."""

    CAP = "cap"
    SCROLL = "scroll"
    OPEN = "open"


class Origin(StrEnum):
    """Where a resolved value came from."""

    FILE = "file"
    DEFAULT = "default"
    CATALOGUE = "catalogue"


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """What the job is called, who it is for, and the only date that its papers carry."""

    id: str
    title: str = ""
    client: str = ""
    revision: str = ""
    date: datetime.date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Flight:
    """One flight: N risers, N-1 goings; nosing i is ``sum(goings[:i-1])`` along and ``sum(risers[:i])`` up."""

    number: int
    risers: tuple[float, ...]
    goings: tuple[float, ...]
    total_rise: float | None
    total_run: float | None
    overhang: float
    width: float
    design_going: float
    tread_thickness: float
    posts: tuple[int, ...] | None  # tread numbers, 0 to N; None: the solver chooses them
    as_measured: bool = False  # its odd steps were looked at
    surroundings: Nearby = Nearby()

    def key(self, name: str) -> str:
        """Key path of one of its values: flights and landings stand in the stair's list in turn."""
        return f"stair[{2 * self.number - 2}].{name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """A level platform; ``well`` and ``upper_offset`` place the upper flight, see :class:`Turn`.

    ``upper_offset``: half turn: how far the upper flight's first nosing stands beyond the lower flight's landing
    nosing, into the landing; quarter turn: how far it stands beyond the landing's inner corner, away from the lower
    flight. 0 straight on.
    """

    number: int
    length: float
    turn: Turn
    well: float
    upper_offset: float
    corner: CornerJoint
    square: bool  # half turn: hold the joining rail square to the flights
    thickness: float
    surroundings: Nearby = Nearby()

    def length_behind(self, lower: Flight) -> float:
        """How far it reaches back from the upper flight's first nosing, against walking up."""
        if self.turn.quarters == 1:
            return lower.width + self.upper_offset
        return self.length - (self.upper_offset if self.turn.quarters == 2 else 0.0)

    def key(self, name: str) -> str:
        """Key path of one of its values."""
        return f"stair[{2 * self.number - 1}].{name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class RailEnd:
    """A free end of the rail."""

    finish: EndFinish
    overhang: float  # along the tube, from the end saddle's foot to the cut end; without a level part
    level: float | None = None  # level tube past the nosing (at the bottom: projected nosing 0), to its cut end


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """Where the rail runs, and how high above the nosings."""

    side: Side
    least_height: float  # vertical, from every nosing to the top of the tube
    bottom: RailEnd
    top: RailEnd


@dataclass(frozen=True, slots=True, kw_only=True)
class Posts:
    """Where posts may stand (mm), and what they are fixed to."""

    lengths: PostLengths
    setback: float
    setback_min: float
    setback_max: float
    edge_offset: float
    largest_span: float
    substrate: Substrate
    span_by: SpanBy = SpanBy.RULE


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """The catalogue entries the job uses, found and checked to fit each other."""

    tube: TubeSection
    post_tube: TubeSection
    material: Material
    base_plate: BasePlate
    cover_plate: CoverPlate | None
    fixed_saddle: FixedSaddle
    adjustable_saddle: AdjustableSaddle
    elbow_saddle: ElbowSaddle
    elbow: Elbow
    end_cap: EndCap
    end_scroll: EndScroll
    anchor: Anchor
    rivets: Mapping[str, Rivet]
    screws: Mapping[str, Screw]


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """Other hardware the catalogue could give: what to write for it, and what it still wants."""

    words: str
    hardware: Hardware
    wants: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A job, complete: no later stage asks a file, a catalogue or a default."""

    project: Project
    flights: tuple[Flight, ...]
    landings: tuple[Landing, ...]  # landing j lies between flights j and j + 1
    rail: Rail
    posts: Posts
    hardware: Hardware
    output_unit: Unit
    rules: RulesInput = field(default_factory=RulesInput)
    strength: StrengthInput = field(default_factory=StrengthInput)
    ground: Ground = field(default_factory=Ground)
    order: OrderInput = field(default_factory=OrderInput)
    alternatives: tuple[Alternative, ...] = ()  # least change first; gathered only where loads are named
    others: Mapping[str, tuple[Entry, ...]] = field(default_factory=dict)  # by option: what fits in its place as it is
    site: Frame = field(default_factory=lambda: site_frame(Vec(0, 0, 0), 0.0))
    origins: Mapping[str, Origin] = field(default_factory=dict)  # key path -> where the value came from
    notes: tuple[str, ...] = ()  # remarks of the reading, such as a rivet hole looser than published
    digest: str = ""  # sha256 of the job file and the catalogue files it names

    @property
    def bolted_through(self) -> bool:
        """Whether the plates are held by bolts that go right through timber or steel."""
        return self.ground.fixing is Fixing.THROUGH_BOLT and self.posts.substrate is not Substrate.CONCRETE

    def left_out(self, key: str) -> bool:
        """Whether the value behind a key path is a default that nobody typed."""
        return self.origins.get(key) is Origin.DEFAULT


def site_frame(origin: Vec, rotation: float) -> Frame:
    """The stair's frame on the architect's site: ``rotation`` (radians) anticlockwise about the vertical."""
    return Frame(origin=origin, x=Vec(math.cos(rotation), math.sin(rotation), 0.0), z=Vec(0.0, 0.0, 1.0))
