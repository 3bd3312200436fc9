"""The job file as typed: every option with its meaning, default and bounds."""

from __future__ import annotations

import datetime
from typing import Annotated, Any, Literal

from pydantic import Field, Strict, StringConstraints

from railgen.catalogue.models import Substrate
from railgen.fields import MOST_FILES, Angle, Ident, Length, Most, Slug, Table, Text
from railgen.job.model import CornerJoint, EndFinish, PostLengths, Side, SpanBy, Turn
from railgen.job.order_model import Finish, Labour, Prices, PrintTable, Stock
from railgen.job.rules_model import Nearby, RulesTable, Surroundings
from railgen.job.strength_model import Ground, StrengthInput
from railgen.units import Unit

__all__ = [
    "FORMAT",
    "GOING",
    "RISER",
    "WELL",
    "FlightTable",
    "HardwareTable",
    "JobFile",
    "LandingTable",
    "PostsTable",
    "ProjectTable",
    "RailEndTable",
    "RailTable",
]

FORMAT = 1

_MOST_FLIGHTS = 100  # of one stair
_MOST_RISERS = 100  # of one flight
RISER = Length(ge=60, le=400, beyond="is it the rise of a whole flight, or of a ramp? ramps are not drawn")
GOING = Length(
    ge=120, le=900, beyond="is it a ramp typed as a step, or a landing between two flights? ramps are not drawn"
)
WELL = Length(ge=0, le=3000)

Riser = Annotated[float, RISER]
Going = Annotated[float, GOING]
Place = Annotated[float, Length(ge=-40_000, le=40_000)]
Site = Annotated[float, Length(ge=-10_000_000, le=10_000_000)]
Setback = Annotated[float, Length(ge=20, le=600)]
Thickness = Annotated[float, Length(ge=5, le=500)]
Whole = Annotated[int, Strict()]
TreadNumber = Annotated[Whole, Field(ge=0, le=60)]
Some = Field(min_length=1)  # of a list
Yes = Annotated[bool, Strict()]
Date = Annotated[datetime.date, Strict()]
FileName = Annotated[str, StringConstraints(max_length=120, pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]*\.toml$")]


def _otherwise(text: str) -> dict[str, Any]:
    """What an option that is left out comes to, in words, where that is no fixed value."""
    return {"x-otherwise": text}


class ProjectTable(Table):
    """What the job is called."""

    id: Slug = Field(
        description="name of the job and of its folder: at most 60 letters, digits, dashes and underscores, no path"
    )
    title: Text = Field(default="", description="title, for the sheets")
    client: Text = Field(default="", description="client, for the sheets")
    revision: Text = Field(default="", description="revision, for the sheets")
    date: Date | None = Field(default=None, description="date for the sheets, such as 2026-03-14; never the clock's")


class SiteTable(Table):
    """Where the stair stands in the architect's model."""

    origin: tuple[Site, Site, Site] = Field(
        default=(0.0, 0.0, 0.0), description="x, y and z of the first nosing's left end, at the floor in front of it"
    )
    rotation: Annotated[float, Angle(ge=-360, le=360)] = Field(
        default=0.0, description="direction of walking up the first flight, anticlockwise from x"
    )


class OutputTable(Table):
    """What is printed."""

    units: Unit | None = Field(
        default=None, description="unit of printed lengths", json_schema_extra=_otherwise("as units")
    )


_FROM_SET = _otherwise("from the set")


class HardwareTable(Table):
    """Catalogue entries by id: one set, and single entries in place of the set's."""

    set: Ident = Field(description="set of entries that go together")
    catalogue: Annotated[tuple[FileName, ...], Most(MOST_FILES)] = Field(
        default=(),
        description="catalogue files of your own, beside the job file, without a path",
    )
    tube: Ident | None = Field(default=None, description="rail tube", json_schema_extra=_FROM_SET)
    post_tube: Ident | None = Field(default=None, description="post tube", json_schema_extra=_FROM_SET)
    material: Ident | None = Field(default=None, description="tube's material", json_schema_extra=_FROM_SET)
    base_plate: Ident | None = Field(default=None, description="base plate", json_schema_extra=_FROM_SET)
    cover_plate: Ident | None = Field(default=None, description='cover, or "none"', json_schema_extra=_FROM_SET)
    fixed_saddle: Ident | None = Field(default=None, description="saddle for level rails", json_schema_extra=_FROM_SET)
    adjustable_saddle: Ident | None = Field(
        default=None, description="saddle for pitched rails", json_schema_extra=_FROM_SET
    )
    elbow_saddle: Ident | None = Field(
        default=None, description="post head under an elbow", json_schema_extra=_FROM_SET
    )
    elbow: Ident | None = Field(default=None, description="adjustable elbow", json_schema_extra=_FROM_SET)
    end_cap: Ident | None = Field(default=None, description="end cap", json_schema_extra=_FROM_SET)
    end_scroll: Ident | None = Field(default=None, description="end scroll", json_schema_extra=_FROM_SET)
    anchor: Ident | None = Field(
        default=None, description="anchor of the base plates", json_schema_extra=_otherwise("the set's, by substrate")
    )


class RailEndTable(Table):
    """A free end of the rail."""

    finish: EndFinish = Field(default=EndFinish.CAP, description="what closes the end")
    overhang: Annotated[float, Length(ge=20, le=1000)] = Field(
        default=150.0, description="rail beyond the end post: from its saddle's foot along the tube to the cut end"
    )
    level_extension: Annotated[float, Length(ge=50, le=1000)] | None = Field(
        default=None,
        description="instead of an overhang, a level tube over the floor, joined in an elbow: level from the nosing to "
        "the tube's cut end (cap or scroll on top of that); at the bottom measured from projected nosing 0, one "
        "design_going in front of the first; a post on the top floor stands under it, cut to suit",
        json_schema_extra=_otherwise("none"),
    )


class RailTable(Table):
    """The rail."""

    side: Side = Field(description="side of the stair, as seen walking up")
    least_height: Annotated[float, Length(ge=300, le=2000)] = Field(
        description="least height above every nosing, vertical, to the top of the tube"
    )
    bottom: RailEndTable = Field(default_factory=RailEndTable, description="lower end")
    top: RailEndTable = Field(default_factory=RailEndTable, description="upper end")


class PostsTable(Table):
    """Where posts may stand."""

    lengths: PostLengths = Field(
        default=PostLengths.EQUAL,
        description="equal: one length, moved within their treads; cut: nominal setback, each cut to suit",
    )
    setback: Setback = Field(default=125.0, description="nominal distance from a nosing back to a post's axis")
    setback_band: tuple[Setback, Setback] = Field(
        default=(70.0, 180.0), description="least and largest setback allowed"
    )
    edge_offset: Annotated[float, Length(ge=20, le=600)] = Field(
        description="distance from the tread's side edge to a post's axis"
    )
    largest_span: Annotated[float, Length(ge=300, le=6000)] = Field(
        default=2000.0,
        description="another post is placed where two would stand further apart: a layout habit, common practice, "
        "not a strength check",
    )
    span_by: SpanBy = Field(
        default=SpanBy.RULE,
        description="rule: as few posts as largest_span allows; strength: as few as hold the loads too, where flights "
        "name no posts",
    )
    substrate: Substrate = Field(default=Substrate.TIMBER, description="what the base plates are fixed to")


class FlightTable(Table):
    """A flight: risers and goings as measured, or nosings as measured, or a nominal rise, going and count."""

    kind: Literal["flight"] = Field(description="flight or landing")
    risers: Annotated[tuple[Riser, ...], Some, Most(_MOST_RISERS)] | None = Field(
        default=None, description="each riser, bottom to top"
    )
    goings: Annotated[tuple[Going, ...], Most(_MOST_RISERS)] | None = Field(
        default=None,
        description="each going, nosing to nosing, bottom to top: one fewer than the risers",
    )
    nosings: Annotated[tuple[tuple[Place, Place], ...], Some, Most(_MOST_RISERS)] | None = Field(
        default=None,
        description="instead: each nosing as [along, up] from any datum at the level of the floor in front",
    )
    rise: Riser | None = Field(default=None, description="instead, nominal and not as measured: every riser")
    going: Going | None = Field(default=None, description="nominal: every going")
    riser_count: Annotated[Whole, Field(ge=1, le=60)] | None = Field(
        default=None, description="nominal: number of risers"
    )
    total_rise: Annotated[float, Length(ge=60, le=20_000)] | None = Field(
        default=None, description="floor to floor, measured independently; the closure error is reported"
    )
    total_run: Annotated[float, Length(ge=120, le=40_000)] | None = Field(
        default=None, description="first nosing to last, measured independently"
    )
    nosing_overhang: Annotated[float, Length(ge=0, le=100)] = Field(
        default=20.0, description="how far a nosing stands out over the riser below it"
    )
    width: Annotated[float, Length(ge=300, le=6000)] = Field(description="width of the treads")
    design_going: Going | None = Field(
        default=None,
        description="going of the tread pattern carried on over floor and landing; wanted with a single riser",
        json_schema_extra=_otherwise("mean of the goings"),
    )
    tread_thickness: Thickness = Field(default=40.0, description="thickness of the treads")
    as_measured: Yes = Field(
        default=False,
        description="risers and goings that no step is likely to have are what was measured: no ramp, landing or other "
        "unit",
    )
    posts: Annotated[tuple[TreadNumber, ...], Some, Most(_MOST_RISERS)] | None = Field(
        default=None,
        description="treads that carry a post, ascending: 0 the floor in front, k the tread behind nosing k",
        json_schema_extra=_otherwise("chosen by largest_span"),
    )
    surroundings: Nearby = Field(
        default=Nearby(), description="what lies beside this flight, in the words of [surroundings]; left out: as there"
    )


class LandingTable(Table):
    """A level platform between two flights."""

    kind: Literal["landing"] = Field(description="flight or landing")
    length: Annotated[float, Length(ge=300, le=12_000)] = Field(
        description="from the lower flight's last nosing, along it; straight on: to the upper flight's first nosing"
    )
    turn: Turn = Field(description="what the landing does to the direction of walking up")
    well: Annotated[float, WELL] | None = Field(
        default=None, description="half turns, wanted there: clear distance between the two flights"
    )
    upper_offset: Annotated[float, Length(ge=-3000, le=3000)] = Field(
        default=0.0,
        description="half turns: how far the upper flight's first nosing stands beyond the lower flight's last, into "
        "the landing; quarter turns: beyond the landing's inner corner, away from the lower flight",
    )
    corner: CornerJoint = Field(
        default=CornerJoint.AUTO,
        description="quarter turns: how the rails join at the inner corner; auto: in one elbow, refused where the "
        "pitch lines miss each other; rise-piece: in two, an upright between them; climb: in one, whatever the rail "
        "climbs or falls there",
    )
    square: Yes = Field(default=False, description="half turns: hold the joining rail square to the flights")
    thickness: Thickness = Field(default=40.0, description="thickness of the landing")
    surroundings: Nearby = Field(
        default=Nearby(),
        description="what lies beside this landing, in the words of [surroundings]; left out: as there",
    )


FlightOrLanding = Annotated[FlightTable | LandingTable, Field(discriminator="kind")]


class JobFile(Table):
    """A handrail job: one stair, one rail."""

    format: Literal[1] = Field(description="version of this file format")
    units: Unit = Field(
        default=Unit.MM,
        description="unit of every length typed without one; as text a length may be in feet and inches or name its "
        'unit, such as "7-3/4", "4 ft 11-1/2 in" or "180 mm"',
    )
    project: ProjectTable = Field(description="what the job is called")
    site: SiteTable = Field(default_factory=SiteTable, description="where the stair stands")
    output: OutputTable = Field(default_factory=OutputTable, description="what is printed")
    hardware: HardwareTable = Field(description="tube, fittings and fasteners")
    rail: RailTable = Field(description="the rail")
    posts: PostsTable = Field(description="the posts")
    rules: RulesTable = Field(default_factory=RulesTable, description="rule sets the job is held to")
    surroundings: Surroundings = Field(
        default_factory=Surroundings, description="what the rules ask about and only the site can tell"
    )
    strength: StrengthInput = Field(default_factory=StrengthInput, description="loads the rail is held to")
    ground: Ground = Field(default_factory=Ground, description="what the base plates stand on")
    stock: Stock = Field(default_factory=Stock, description="bars to buy, offcuts on the rack, the saw")
    prices: Prices = Field(default_factory=Prices, description="what things cost")
    labour: Labour = Field(default_factory=Labour, description="how long things take")
    finish: Finish = Field(default_factory=Finish, description="notes and tolerances for sheets and labels")
    print: PrintTable = Field(default_factory=PrintTable, description="how lengths are printed and sheets drawn")
    stair: Annotated[tuple[FlightOrLanding, ...], Some, Most(2 * _MOST_FLIGHTS - 1)] = Field(
        description="flights and landings in turn, bottom to top, a flight first and last",
    )
