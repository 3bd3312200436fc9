"""What a rule set file holds: one document, edition and use, as rules that can be looked up and judged."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from railgen.checks.model import Certainty
from railgen.fields import MOST_ENTRIES, MOST_NAMES, Ident, Length, Most, Number, Table, Text
from railgen.job.rules_model import Occupancy
from railgen.units import Unit

__all__ = ["CERTAINTIES", "KINDS", "Kind", "LengthRule", "PlainRule", "Rule", "RuleSet", "When"]


class Kind(StrEnum):
    """What a rule asks about; each has one evaluator, and its value does not depend on the document."""

    RISER = "riser"
    GOING = "going"
    STEP = "step"
    PITCH = "pitch"
    RISER_ADJACENT = "riser-adjacent"
    GOING_ADJACENT = "going-adjacent"
    RISER_SPREAD = "riser-spread"
    GOING_SPREAD = "going-spread"
    RISER_COUNT = "riser-count"
    RISERS_IN_LINE = "risers-in-line"
    FLIGHT_RISE = "flight-rise"
    LANDING_LENGTH = "landing-length"
    STAIR_WIDTH = "stair-width"
    HEADROOM = "headroom"
    TREAD_GAP = "tread-gap"
    NOSING = "nosing"
    NOSING_RADIUS = "nosing-radius"
    SIDES = "handrail-sides"
    LANDING_SIDES = "handrail-sides-landing"
    BETWEEN_RAILS = "between-rails"
    HEIGHT = "handrail-height"
    LANDING_HEIGHT = "handrail-height-landing"
    CONTINUITY = "handrail-continuity"
    GRIP = "grip"
    GRIP_LENGTH = "grip-length"
    WALL_CLEARANCE = "wall-clearance"
    UNDER_CLEARANCE = "under-clearance"
    UNDER_BLOCKED = "under-blocked"
    PROJECTION = "projection"
    INSIDE_EDGE = "rail-inside-edge"
    CLEAR_WIDTH = "clear-width"
    EXTENSION_TOP = "extension-top"
    EXTENSION_TOP_LEVEL = "extension-top-level"
    EXTENSION_BOTTOM = "extension-bottom"
    EXTENSION_BOTTOM_LEVEL = "extension-bottom-level"
    END_RETURN = "end-return"
    END_FINISH = "end-finish"
    LOADS = "handrail-loads"
    GUARD_FLIGHT = "guard-flight"
    GUARD_LANDING = "guard-landing"
    GUARD_HEIGHT_FLIGHT = "guard-height-flight"
    GUARD_HEIGHT_LANDING = "guard-height-landing"
    GUARD_OPENING_FLIGHT = "guard-opening-flight"
    GUARD_OPENING_LANDING = "guard-opening-landing"


KINDS: dict[Kind, tuple[str, str]] = {
    Kind.RISER: ("length", "riser height"),
    Kind.GOING: ("length", "going, nosing to nosing"),
    Kind.STEP: ("length", "two risers and a going"),
    Kind.PITCH: ("degrees", "pitch of the flight"),
    Kind.RISER_ADJACENT: ("length", "difference of neighbouring risers"),
    Kind.GOING_ADJACENT: ("length", "difference of neighbouring goings"),
    Kind.RISER_SPREAD: ("length", "largest less smallest riser of the flight"),
    Kind.GOING_SPREAD: ("length", "largest less smallest going of the flight"),
    Kind.RISER_COUNT: ("count", "risers in the flight"),
    Kind.RISERS_IN_LINE: ("count", "risers without a change of direction"),
    Kind.FLIGHT_RISE: ("length", "rise of the flight"),
    Kind.LANDING_LENGTH: ("length", "length of the landing"),
    Kind.STAIR_WIDTH: ("length", "width of the stair"),
    Kind.HEADROOM: ("length", "headroom"),
    Kind.TREAD_GAP: ("length", "ball that passes between the treads"),
    Kind.NOSING: ("length", "overhang of the nosing"),
    Kind.NOSING_RADIUS: ("length", "radius of the nosing's edge"),
    Kind.SIDES: ("count", "sides of the flight with a handrail"),
    Kind.LANDING_SIDES: ("count", "sides of the landing with a handrail"),
    Kind.BETWEEN_RAILS: ("length", "width between handrails"),
    Kind.HEIGHT: ("length", "height of the rail above the nosing"),
    Kind.LANDING_HEIGHT: ("length", "height of the rail above the landing"),
    Kind.CONTINUITY: ("count", "nosings of the flight without rail above them"),
    Kind.GRIP: ("length", "outside diameter of the rail"),
    Kind.GRIP_LENGTH: ("count", "places along the rail where the hand meets a break"),
    Kind.WALL_CLEARANCE: ("length", "clearance between rail and wall"),
    Kind.UNDER_CLEARANCE: ("length", "clearance between rail and what its posts carry"),
    Kind.UNDER_BLOCKED: ("percent", "share of the rail's underside taken by saddles"),
    Kind.PROJECTION: ("length", "reach into the stair from its edge"),
    Kind.INSIDE_EDGE: ("length", "inner face of the rail from the edge of the steps"),
    Kind.CLEAR_WIDTH: ("length", "clear width left"),
    Kind.EXTENSION_TOP: ("length", "rail beyond the top of the flight"),
    Kind.EXTENSION_TOP_LEVEL: ("length", "level rail beyond the top of the flight"),
    Kind.EXTENSION_BOTTOM: ("length", "sloping rail beyond the bottom of the flight"),
    Kind.EXTENSION_BOTTOM_LEVEL: ("length", "level rail beyond the bottom of the flight"),
    Kind.END_RETURN: ("count", "free ends that are not returned"),
    Kind.END_FINISH: ("count", "free ends that can catch or hurt"),
    Kind.LOADS: ("count", "loads worked out that the document accepts"),
    Kind.GUARD_FLIGHT: ("count", "barrier at the open side of the flight"),
    Kind.GUARD_LANDING: ("count", "barrier at the open side of the landing"),
    Kind.GUARD_HEIGHT_FLIGHT: ("length", "height of the barrier above the nosing"),
    Kind.GUARD_HEIGHT_LANDING: ("length", "height of the barrier above the landing"),
    Kind.GUARD_OPENING_FLIGHT: ("length", "ball that passes through the barrier of the flight"),
    Kind.GUARD_OPENING_LANDING: ("length", "ball that passes through the barrier of the landing"),
}
"""Unit and title of each kind."""

CERTAINTIES: dict[str, Certainty] = {
    "read": Certainty.READ,
    "secondary": Certainty.SECONDARY,
    "memory": Certainty.MEMORY,
    "own": Certainty.JOB,
}

Long = Annotated[float, Length(ge=0, le=100_000)]


class When(Table):
    """What must all be so before a rule asks for anything; empty: always."""

    risers: int | None = Field(default=None, ge=1, le=100, description="the flight has at least so many risers")
    treads: int | None = Field(default=None, ge=1, le=100, description="the flight has at least so many treads")
    rise: Long | None = Field(default=None, description="the flight rises at least so much")
    going_below: Long | None = Field(default=None, description="a going of the flight is less than this")
    fall: Long | None = Field(default=None, description="people could fall at least so far")
    fall_above: Long | None = Field(default=None, description="people could fall farther than this")
    wider: Long | None = Field(default=None, description="the flight is wider than this")
    solid_risers: bool | None = Field(default=None, description="the risers are closed, or are not")
    occupancy: Annotated[tuple[Occupancy, ...], Most(MOST_NAMES)] = Field(
        default=(), description="the building is one of these"
    )
    storeys_most: int | None = Field(default=None, ge=1, le=200, description="the building has at most so many storeys")
    storeys_above: int | None = Field(default=None, ge=1, le=200, description="it has more storeys than this")

    @property
    def asks_fall(self) -> bool:
        return self.fall is not None or self.fall_above is not None


class BaseRule(Table):
    """What every rule has."""

    id: Ident = Field(description="name of the rule within its set")
    kind: Kind = Field(description="what it asks about")
    clause: Text = Field(default="", description="clause of the document")
    title: Text = Field(default="", description="heading of that clause")
    certainty: Literal["read", "secondary", "memory", "own"] = Field(
        description="how sure we are of clause and number: read in the document, read in a secondary or older text, "
        "from memory; own: the house's own rule"
    )
    measured_from: Literal["nosing", "riser"] = Field(
        default="nosing",
        description="extensions, continuity: to the outermost nosing, or to the riser an overhang behind it",
    )
    says: Text = Field(description="what it asks, in plain words")
    note: Text = Field(default="", description="what to know about edition, exceptions and our reading")
    when: When = Field(default=When(), description="what must be so before it asks for anything")

    @property
    def place(self) -> str:
        """Where the document asks for it: clause and heading, as numbers change from edition to edition."""
        return " ".join(part for part in (self.clause, self.title) if part)

    @model_validator(mode="after")
    def _unit_fits(self) -> Self:
        unit = KINDS[self.kind][0]
        if getattr(self, "unit", unit) != unit:
            raise ValueError(f'a rule about {self.kind.value} has unit = "{unit}"')
        return self


class LengthRule(BaseRule):
    """A rule about a length."""

    unit: Literal["length"]
    least: Long | None = Field(default=None, description="least allowed")
    most: Long | None = Field(default=None, description="most allowed")
    least_both_sides: Long | None = Field(
        default=None, description="clear width: least allowed with a rail on both sides"
    )
    tread_depths: int | None = Field(
        default=None, ge=1, le=3, description="extensions: least allowed as a number of goings"
    )
    as_wide_as: Literal["narrowest", "widest"] | None = Field(
        default=None, description="landings: least length is the width of the narrowest or widest flight served"
    )
    need_not_exceed: Long | None = Field(default=None, description="landings: no longer than this, however wide")
    counts: Literal["rail", "below"] = Field(
        default="rail", description="reach: of the rail and its posts, or of plates and all else below the rail too"
    )
    most_one_side: Long | None = Field(
        default=None, description="width between handrails: most allowed from a single rail to the stair's other edge"
    )
    continuous: Literal["anywhere", "inside-turn"] | None = Field(
        default=None, description="extensions: where a rail that runs on to the next flight needs none"
    )


class PlainRule(BaseRule):
    """A rule about a number: degrees, a count, or percent."""

    unit: Literal["degrees", "count", "percent"]
    least: Annotated[float, Number(ge=0, le=1000)] | None = Field(default=None, description="least allowed")
    most: Annotated[float, Number(ge=0, le=1000)] | None = Field(default=None, description="most allowed")
    each_open_side: bool = Field(default=False, description="handrail sides: each open side has one of its own")
    both_from_width: Long | None = Field(
        default=None, description="handrail sides: both, where the stair is at least so wide"
    )
    loads: Annotated[tuple[Text, ...], Most(MOST_NAMES)] = Field(
        default=(), description="handrail loads: names of the loads that are accepted"
    )


Rule = LengthRule | PlainRule


class RuleSet(Table):
    """A rule set file: a document in one edition, for one use."""

    format: Literal[1] = Field(description="version of this file format")
    id: Ident = Field(description="name of the rule set")
    title: Text = Field(description="name of the document")
    edition: Text = Field(default="", description="edition of the document")
    use: Text = Field(default="", description="buildings or stairs these rules are for")
    units: Unit = Field(default=Unit.MM, description="unit of the bare numbers in this file")
    notes: Annotated[tuple[Text, ...], Most(MOST_NAMES)] = Field(
        default=(), description="what to know about the whole set"
    )
    not_judged: Annotated[tuple[Text, ...], Most(MOST_NAMES)] = Field(
        default=(),
        description="what the document also asks, and nobody but a person on site can judge",
    )
    rule: Annotated[tuple[Annotated[Rule, Field(discriminator="unit")], ...], Most(MOST_ENTRIES)] = Field(
        default=(), description="the rules"
    )

    @model_validator(mode="after")
    def _unique(self) -> Self:
        ids = [rule.id for rule in self.rule]
        twice = sorted({name for name in ids if ids.count(name) > 1})
        if twice:
            raise ValueError(f"two rules have the same id: {', '.join(twice)}")
        return self

    @property
    def source(self) -> str:
        return " ".join(part for part in (self.title, self.edition) if part)

    def first(self, kind: Kind) -> Rule | None:
        """The set's rule of a kind; None where it has none."""
        return next((rule for rule in self.rule if rule.kind is kind), None)
