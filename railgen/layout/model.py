"""The solved rail: where posts stand, where centrelines meet, what is cut to which length, how high it is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import assert_never

from railgen.catalogue.models import AdjustableSaddle, ElbowSaddle, FixedSaddle
from railgen.geometry import UP, Vec
from railgen.job.model import Hardware
from railgen.survey import SurfaceId, Survey

__all__ = [
    "LEVEL",
    "Foot",
    "HeightAt",
    "JointKind",
    "Layout",
    "Node",
    "Post",
    "PostRole",
    "RailTube",
    "Setback",
    "Span",
    "TubeEnd",
]


LEVEL = 1e-9
"""A direction whose vertical part is smaller than this is level."""


class PostRole(StrEnum):
    """What a post carries."""

    PITCHED = "adjustable saddle"
    NODE = "elbow saddle"
    LEVEL = "fixed saddle"

    def head(self, hardware: Hardware) -> AdjustableSaddle | ElbowSaddle | FixedSaddle:
        """The fitting on its top."""
        match self:
            case PostRole.PITCHED:
                return hardware.adjustable_saddle
            case PostRole.NODE:
                return hardware.elbow_saddle
            case PostRole.LEVEL:
                return hardware.fixed_saddle
            case _:
                assert_never(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Setback:
    """How far (mm) a post of a flight stands behind the (or the projected) nosing of its tread, as the flight counts.

    ``move`` is that less the nominal setback.
    """

    flight: int
    tread: int
    distance: float
    move: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """A post: ``base`` is on its surface under its axis, and ``foot`` the height of its lower end over that.

    A post that stands on a landing between two flights' posts has no setback.
    """

    id: str
    role: PostRole
    surface: SurfaceId
    setback: Setback | None
    base: Vec
    ahead: Vec  # unit, level: walking up; clock position 0 of the post faces the other way
    foot: float
    length: float

    @property
    def flight(self) -> int | None:
        """The flight whose treads it is set back on."""
        return None if self.setback is None else self.setback.flight

    @property
    def foot_at(self) -> Vec:
        return self.base + UP * self.foot

    @property
    def top_at(self) -> Vec:
        return self.foot_at + UP * self.length


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A point where two centrelines meet in an adjustable elbow; directions are those of walking up.

    ``normal`` is the unit vector along ``incoming`` x ``outgoing``: the hinge axis, on one side of which each tube has
    its elbow screw and its witness mark. Where the tubes are in line it is level.
    """

    id: str
    at: Vec
    incoming: Vec
    outgoing: Vec
    deflection: float
    normal: Vec
    post: str | None


class JointKind(StrEnum):
    """Whether a tube's end is free or goes into an elbow."""

    FREE = "free"
    ELBOW = "elbow"


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeEnd:
    """What one end of a rail tube meets."""

    kind: JointKind
    node: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Foot:
    """Where a saddle meets a rail: the saddle's post and the distance from the rail's datum end (mm)."""

    post: str
    distance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RailTube:
    """One straight tube of the rail, datum end first met walking up; ``left`` is the walker's left."""

    id: str
    flight: int | None
    start: Vec
    direction: Vec
    left: Vec
    length: float
    pitch: float
    start_end: TubeEnd
    far_end: TubeEnd
    feet: tuple[Foot, ...]

    @property
    def end(self) -> Vec:
        return self.start + self.direction * self.length

    def meets(self, node: Node) -> bool:
        """Whether one of its ends goes into the elbow at a node."""
        return node.id in (self.start_end.node, self.far_end.node)

    @property
    def level_end(self) -> bool:
        """Whether it is a level part at an end of the rail: one end free, the other in an elbow."""
        return self.flight is None and JointKind.FREE in (self.start_end.kind, self.far_end.kind)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightAt:
    """Vertical height from a nosing to the top of the tube; None where neither tube nor elbow covers the nosing."""

    flight: int
    nosing: int
    height: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Distance along the rail between two neighbouring supports (mm, along the centrelines)."""

    from_post: str
    to_post: str
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The solved rail; ``post_length`` is the one length of pitched and node posts, None where they are cut to suit."""

    survey: Survey
    posts: tuple[Post, ...]  # in walking order
    nodes: tuple[Node, ...]
    rails: tuple[RailTube, ...]
    heights: tuple[HeightAt, ...]
    spans: tuple[Span, ...]
    post_length: float | None
    notes: tuple[str, ...]

    def post(self, post_id: str) -> Post:
        return next(post for post in self.posts if post.id == post_id)

    def rails_of(self, flight: int) -> tuple[RailTube, ...]:
        """A flight's pitched tube, and the level end of the rail that joins it."""
        own = {i for i, rail in enumerate(self.rails) if rail.flight == flight}
        beside = {i + step for i in own for step in (-1, 1)}
        return tuple(r for i, r in enumerate(self.rails) if i in own or (i in beside and r.level_end))

    def rails_at(self, node: Node) -> tuple[RailTube, ...]:
        """The tubes that an elbow joins."""
        return tuple(rail for rail in self.rails if rail.meets(node))

    def rail_on(self, post: Post) -> RailTube | None:
        """The tube that a post's saddle holds; None at a node."""
        return next((rail for rail in self.rails if any(foot.post == post.id for foot in rail.feet)), None)

    def node(self, node_id: str) -> Node:
        return next(node for node in self.nodes if node.id == node_id)
