"""Which rule sets a job is held to, and what only the site can tell about the stair's surroundings.

Everything is optional: a value that is None was not given, and a rule that needs it answers "cannot say" and names it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path

__all__ = ["Beside", "Guarding", "OtherSide", "RulesInput", "Surroundings"]


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What the rules ask about and the rail itself does not show (mm)."""

    beside: Beside | None = None
    wall_distance: float | None = None  # stair edge to wall face on the rail's side, outwards
    ground_level: float | None = None  # of what lies below the open side, above the floor in front of flight 1
    guarding: Guarding | None = None
    guard_opening: float | None = None  # largest ball that passes through the infill or the barrier
    guard_height: float | None = None  # of a separate barrier: the lowest anywhere, above nosing or landing
    other_side: OtherSide | None = None
    other_projection: float | None = None  # how far the other side's rail reaches in from the stair's edge
    headroom: float | None = None
    tread_gap: float | None = None  # largest ball that passes between two treads; 0 with closed risers
    nosing_radius: float | None = None
    floor_bottom: float | None = None  # clear level length in front of the first riser
    floor_top: float | None = None  # clear level length beyond the last nosing
    bottom_apart: bool | None = None  # the floor in front of the first riser is another body than the stair
    ends_returned: bool | None = None  # free ends run into a wall, post, barrier or the floor, beyond what is drawn


@dataclass(frozen=True, slots=True, kw_only=True)
class RulesInput:
    """The rule sets asked for, by name and by file, and what they need to know."""

    sets: tuple[str, ...] = ()
    files: tuple[Path, ...] = ()  # the user's own rule sets; absolute
    uniform_within: float | None = None  # mm: held to where a document says "uniform" without a number
    surroundings: Surroundings = field(default_factory=Surroundings)
