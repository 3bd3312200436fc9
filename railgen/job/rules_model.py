"""Which rule sets a job is held to (``[rules]``), and what only the site can tell (``[surroundings]``).

Everything is optional: a value that is None was not given, and a rule that needs it answers "cannot say" and names it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import Annotated

from pydantic import Field, StringConstraints

from railgen.fields import MOST_FILES, MOST_NAMES, Ident, Length, Most, Table

__all__ = [
    "Beside",
    "Flank",
    "Guarding",
    "Nearby",
    "Occupancy",
    "OtherSide",
    "RulesInput",
    "RulesTable",
    "Surroundings",
    "Trust",
    "rules_input",
]

RuleFileName = Annotated[
    str, StringConstraints(max_length=120, pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]*(/[A-Za-z0-9][A-Za-z0-9._-]*)*\.toml$")
]
"""A TOML file beside the job file or in a folder below it."""

Room = Annotated[float, Length(ge=0, le=20_000)]
Reach = Annotated[float, Length(ge=0, le=1_000)]


class Beside(StrEnum):
    """What lies beside the stair on the rail's side."""

    WALL = "wall"
    OPEN = "open"


class OtherSide(StrEnum):
    """What the stair's other side carries."""

    NONE = "none"
    RAIL = "rail"


class Guarding(StrEnum):
    """What keeps people from falling off the open side: nothing, infill under this rail, or a barrier of its own."""

    NONE = "none"
    INFILL = "infill"
    SEPARATE = "separate"


class Trust(StrEnum):
    """How well known a document's number has to be before a verdict may rest on it."""

    READ = "read"
    SECONDARY = "secondary"
    MEMORY = "memory"


class RulesTable(Table):
    """The rule sets a job is held to; several may be named, and the strictest governs."""

    sets: Annotated[tuple[Ident, ...], Most(MOST_NAMES)] = Field(
        default=("none",), description="names of shipped rule sets, such as us-irc-2021"
    )
    files: Annotated[tuple[RuleFileName, ...], Most(MOST_FILES)] = Field(
        default=(), description="rule set files of your own, beside the job file"
    )
    uniform_within: Annotated[float, Length(ge=0, le=20)] | None = Field(
        default=None,
        description='largest difference accepted where a document says "uniform" without a number; leave out: '
        "cannot say unless the steps are exactly alike",
    )
    certainty: Trust = Field(
        default=Trust.MEMORY,
        description="what a verdict may rest on: numbers read in the document alone, read in a secondary or older text "
        "too, or from memory too; what rests on less cannot be said",
    )


class Occupancy(StrEnum):
    """What kind of building the stair serves, as documents tell them apart."""

    ONE_FAMILY = "one-family"
    TWO_FAMILY = "two-family"
    TOWNHOUSE = "townhouse"
    FLAT = "flat"
    NOT_PUBLIC = "not-public"
    OTHER = "other"


class Flank(Table):
    """What lies along one side of the stair: the rail's, or under ``other`` the one across from it."""

    beside: Beside | None = Field(default=None, description="what lies beside the stair on this side")
    wall_distance: Reach | None = Field(
        default=None,
        description="from the stair's edge out to the face of the wall, or of the separate barrier, on this "
        "side; 0 where they touch",
    )
    ground_level: Annotated[float, Length(ge=-100_000, le=100_000)] | None = Field(
        default=None,
        description="lowest level people could fall to from the open side, as height above the finished floor in "
        "front of flight 1; 0 for that floor, negative below it",
    )
    guarding: Guarding | None = Field(
        default=None,
        description="what closes the open side: none (the rail alone), infill under this rail, or a separate barrier",
    )
    guard_opening: Reach | None = Field(
        default=None, description="largest ball that passes through the infill or the barrier"
    )
    guard_height: Annotated[float, Length(ge=0, le=3_000)] | None = Field(
        default=None, description="least height of a separate barrier above nosings and landings"
    )


class Nearby(Flank):
    """What only the site can tell of one flight or landing; what is left out is as ``[surroundings]`` says."""

    other_side: OtherSide | None = Field(
        default=None, description="whether the other side of the stair has a handrail too"
    )
    other_projection: Reach | None = Field(
        default=None, description="how far the other side's rail and its posts reach in from that edge of the stair"
    )
    other: Flank = Field(default=Flank(), description="the side across from the rail, in the same words")


class Surroundings(Nearby):
    """What only the site can tell. What is left out is not guessed: the checks that need it answer "cannot say"."""

    everywhere: bool = Field(
        default=False,
        description="a wall beside the stair runs beside every flight and every landing; a stair of several flights "
        "says so here, or of each flight and landing under stair.surroundings",
    )
    occupancy: Occupancy | None = Field(
        default=None,
        description="what kind of building the stair serves; flat: its common stairs, one within a flat is one-family; "
        "not-public: industry or storage closed to the public, at most 50 people",
    )
    storeys: int | None = Field(default=None, ge=1, le=200, description="storeys of that building")
    middle_rails: int = Field(
        default=0, ge=0, le=9, description="handrails that divide a wide stair, between those of its two sides"
    )
    headroom: Annotated[float, Length(ge=500, le=20_000)] | None = Field(
        default=None, description="least clear height above the nosings and landings"
    )
    tread_gap: Reach | None = Field(
        default=None, description="largest ball that passes between two treads; 0 where the risers are closed"
    )
    nosing_radius: Annotated[float, Length(ge=0, le=100)] | None = Field(
        default=None, description="radius of the nosings' leading edge"
    )
    floor_bottom: Room | None = Field(
        default=None, description="clear level length in front of the first riser, to the next wall, step or door swing"
    )
    floor_top: Room | None = Field(
        default=None, description="clear level length beyond the last nosing, to the next wall, step or door swing"
    )
    bottom_apart: bool | None = Field(
        default=None,
        description="whether the floor in front of the first riser is another body than the stair, such as a walk "
        "that may settle",
    )
    ends_returned: bool | None = Field(
        default=None,
        description="whether both free ends of the rail run into a wall, post, barrier or the floor, by parts that "
        "this job does not draw",
    )

    def flank(self, own: Nearby, *, alone: bool, other: bool = False) -> Flank:
        """What lies along one side of a flight or landing: as told of it, else of the whole stair.

        A wall beside a stair of several flights says nothing of each of them unless the job says so; ``alone``: it has
        one.
        """
        mine, common = (own.other, self.other) if other else (own, self)
        told = {name: getattr(mine, name) for name in Flank.model_fields}
        for name, value in told.items():
            if value is None:
                told[name] = getattr(common, name)
        if mine.beside is None and common.beside is Beside.WALL and not (alone or self.everywhere):
            told["beside"] = None
        return Flank.model_construct(**told)


@dataclass(frozen=True, slots=True, kw_only=True)
class RulesInput:
    """The rule sets asked for, by name and by file, and what they need to know."""

    sets: tuple[str, ...] = ()
    files: tuple[Path, ...] = ()  # the user's own rule sets; absolute
    uniform_within: float | None = None  # mm: held to where a document says "uniform" without a number
    certainty: Trust = Trust.MEMORY
    surroundings: Surroundings = field(default_factory=Surroundings)


def rules_input(rules: RulesTable, surroundings: Surroundings, folder: Path) -> RulesInput:
    """The two tables, read; ``folder`` is the job file's own."""
    return RulesInput(
        sets=rules.sets,
        files=tuple((folder / name).absolute() for name in rules.files),
        uniform_within=rules.uniform_within,
        certainty=rules.certainty,
        surroundings=surroundings,
    )
