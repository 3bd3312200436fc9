"""Every kind of piece a rail is made of, and every hole in it, each in the piece's own frame.

Frames (right-handed; ``x`` of an upright piece is clock position 0, facing down the flight):

==================  ============================================  =======================  =====================
piece               origin                                        z                        x
==================  ============================================  =======================  =====================
Tube                centre of the datum end                       along the tube           clock position 0
BASE_PLATE          centre of the plate's underside               up                       down the flight
COVER_PLATE         as BASE_PLATE                                 up                       down the flight
FIXED_SADDLE        centre of the post's top end                  up                       along the rail
SADDLE_STEM         centre of the post's top end                  up                       along the rail
SADDLE_CRADLE       pivot; ``y`` is the pivot's axis              square to tube, upward   along the tube
ELBOW_SADDLE        centre of the post's top end                  up                       towards the level tube
ELBOW_TONGUE        meeting point of the centrelines              outward along its tube   hinge axis
ELBOW_FORK          meeting point of the centrelines              outward along its tube   hinge axis
ELBOW_PIN           meeting point of the centrelines              hinge axis               any
END_CAP             centre of the tube's cut end                  out of the tube          clock position 0
END_SCROLL          centre of the tube's cut end                  out of the tube          towards the curl
RIVET SCREW ANCHOR  under the head's middle (countersunk: top)    out of the piece         any
StairBody           a corner of the tread's or landing's top      up                       walking up
==================  ============================================  =======================  =====================
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum, StrEnum, auto
from typing import Self, assert_never

from railgen.catalogue.models import (
    AdjustableSaddle,
    Anchor,
    BasePlate,
    CoverPlate,
    Elbow,
    ElbowSaddle,
    EndCap,
    EndScroll,
    FixedSaddle,
    Rivet,
    Screw,
    TubeSection,
)
from railgen.geometry import Frame, Vec
from railgen.survey import SurfaceId
from railgen.units import degrees

__all__ = [
    "CutEnd",
    "FaceHole",
    "Fitting",
    "FittingItem",
    "FittingKind",
    "FittingRole",
    "Group",
    "Hole",
    "Joint",
    "Piece",
    "Placed",
    "Purpose",
    "StairBody",
    "SurfaceHole",
    "Tube",
    "TubeHole",
    "TubeRole",
]


class Purpose(StrEnum):
    """What a hole is for."""

    SOCKET_RIVET = "rivet, post to socket"
    HEAD_RIVET = "rivet, post to saddle"
    SADDLE_SCREW = "screw, saddle to rail"
    ELBOW_SCREW = "screw, elbow to rail"
    ANCHOR = "fixing of the base plate"

    @property
    def after_fit(self) -> bool:
        """Whether a tube is drilled for it only when the rail has been tried on site."""
        match self:
            case Purpose.SADDLE_SCREW | Purpose.ELBOW_SCREW:
                return True
            case Purpose.SOCKET_RIVET | Purpose.HEAD_RIVET | Purpose.ANCHOR:
                return False
            case _:
                assert_never(self)


class When(StrEnum):
    """When a hole is drilled."""

    WORKSHOP = "workshop"
    AFTER_FIT = "after trial fit"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A round hole. ``depth`` is measured from the outer surface; ``walls`` is how many walls it goes through."""

    id: str
    purpose: Purpose
    diameter: float
    depth: float
    walls: int = 1
    countersink: float = 0.0  # largest diameter of a 90 degree countersink; 0 where there is none
    thread: str = ""

    @property
    def when(self) -> When | None:
        """When it is drilled; None of a hole in the stair, which site sets out."""
        return When.AFTER_FIT if self.purpose.after_fit else When.WORKSHOP


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeHole(Hole):
    """A radial hole in a tube, at ``distance`` (mm) from the datum end and clock position ``clock`` (radians)."""

    distance: float
    clock: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceHole(Hole):
    """A hole in a fitting or tread: ``point`` on its axis at the outer surface, ``axis`` pointing out of the piece."""

    point: Vec
    axis: Vec


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceHole(FaceHole):
    """A hole in a tread, landing or floor, also placed as it is marked out on site.

    ``from_nosing`` is level, along the flight and positive walking up; ``from_edge`` is positive inwards.
    ``measured_from`` names nosing and edge.
    """

    post: str  # the post whose plate it holds
    from_nosing: float
    from_edge: float
    measured_from: str

    @property
    def when(self) -> When | None:
        return None


class TubeRole(StrEnum):
    """What a tube is for, as drawings call it."""

    POST = "Post"
    RAIL = "Rail tube"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutEnd:
    """How one end of a tube is cut, ``angle`` (radians) off square, and what it is prepared for."""

    prepared: str
    elbow: bool = False
    angle: float = 0.0

    @property
    def cut(self) -> str:
        return "square" if not self.angle else f"{degrees(self.angle)} off square"

    def __str__(self) -> str:
        return f"{self.cut}; {self.prepared}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tube:
    """A straight round tube with radial holes; ``end_a`` is its datum end."""

    mark: str
    role: TubeRole
    section: TubeSection
    length: float
    holes: tuple[TubeHole, ...]
    end_a: CutEnd
    end_b: CutEnd

    def hole_frame(self, hole: TubeHole) -> Frame:
        """Frame at the tube's outer surface over ``hole``, ``z`` pointing out, in the tube's own frame."""
        out = Vec(math.cos(hole.clock), math.sin(hole.clock), 0.0)
        return Frame(origin=out * self.section.radius + Vec(0, 0, hole.distance), x=Vec(0, 0, 1), z=out)


class FittingRole(Enum):
    """What a bought piece does in the rail: papers count and group by it."""

    SUPPORT = auto()
    COVER = auto()
    HEAD = auto()
    JOINT = auto()
    END = auto()
    RIVET = auto()
    SCREW = auto()
    ANCHOR = auto()

    @property
    def fixing(self) -> bool:
        """Whether it is one of the small parts that hold others, ordered with spares."""
        return self in (FittingRole.RIVET, FittingRole.SCREW, FittingRole.ANCHOR)


class FittingKind(StrEnum):
    """Bought pieces, as the parts list names them.

    Of what is bought ``whole`` and listed in parts each is one ``part``, and the first of them ``counts``, as one.
    """

    _value_: str
    role: FittingRole
    whole: str
    part: str
    counts: int

    def __new__(cls, word: str, role: FittingRole, whole: str = "", part: str = "", counts: int = 1) -> Self:
        kind = str.__new__(cls, word)
        kind._value_, kind.role, kind.whole, kind.part, kind.counts = word, role, whole or word, part, counts
        return kind

    BASE_PLATE = "base plate", FittingRole.SUPPORT
    COVER_PLATE = "cover plate", FittingRole.COVER
    FIXED_SADDLE = "fixed saddle", FittingRole.HEAD
    SADDLE_STEM = "adjustable saddle, stem", FittingRole.HEAD, "adjustable saddle", "stem"
    SADDLE_CRADLE = "adjustable saddle, cradle", FittingRole.HEAD, "adjustable saddle", "cradle", 0
    ELBOW_SADDLE = "elbow saddle", FittingRole.HEAD
    ELBOW_TONGUE = "adjustable elbow, tongue half", FittingRole.JOINT, "adjustable elbow", "tongue"
    ELBOW_FORK = "adjustable elbow, fork half", FittingRole.JOINT, "adjustable elbow", "fork", 0
    ELBOW_PIN = "adjustable elbow, pin", FittingRole.JOINT, "adjustable elbow", "pin", 0
    END_CAP = "end cap", FittingRole.END
    END_SCROLL = "end scroll", FittingRole.END
    RIVET = "rivet", FittingRole.RIVET
    SCREW = "screw", FittingRole.SCREW
    ANCHOR = "anchor", FittingRole.ANCHOR


FittingItem = (
    BasePlate
    | CoverPlate
    | FixedSaddle
    | AdjustableSaddle
    | ElbowSaddle
    | Elbow
    | EndCap
    | EndScroll
    | Rivet
    | Screw
    | Anchor
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """A bought piece: one kind made after one catalogue entry, for tube of ``od``, with its holes."""

    mark: str
    kind: FittingKind
    item: FittingItem
    od: float  # outside diameter of the tube it belongs to: collar, trough, cap and scroll follow it
    holes: tuple[FaceHole, ...] = ()
    mate: Elbow | None = None  # of an elbow saddle: the elbow whose hub its stem carries


@dataclass(frozen=True, slots=True, kw_only=True)
class StairBody:
    """A tread, landing or floor as a slab: its outline (x, y) anticlockwise at z = 0, ``thickness`` downwards."""

    mark: str
    surface: SurfaceId
    outline: tuple[tuple[float, float], ...]
    thickness: float
    holes: tuple[SurfaceHole, ...] = ()


Piece = Tube | Fitting | StairBody


class Group(StrEnum):
    """What a placed piece belongs to in the assembly."""

    RAIL = "rail"
    POSTS = "posts"
    FITTINGS = "fittings"
    FIXINGS = "fixings"
    STAIR = "stair"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """One occurrence of a piece in the assembly."""

    id: str
    mark: str
    frame: Frame
    group: Group


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Two holes that share one axis and the fastener through them, each as (occurrence id, hole id)."""

    a: tuple[str, str]
    b: tuple[str, str]
    fastener: str  # occurrence id
