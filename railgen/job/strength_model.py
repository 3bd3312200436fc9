"""Which loads a job is held to, what its tube is made of, and what only the site can tell about the ground under it.

Everything is optional: a value that is None was not given, and a link that needs it answers "cannot say" and names it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

__all__ = [
    "Contact",
    "DeflectionRule",
    "DesignSystem",
    "Exposure",
    "FastenerClass",
    "Fixing",
    "Ground",
    "GroundKind",
    "GroundLayer",
    "LoadDuration",
    "Stated",
    "SteelInput",
    "StrengthInput",
    "TubeStandard",
    "WoodSpecies",
]


class DesignSystem(StrEnum):
    """Whose factors apply."""

    EUROCODE = "eurocode"
    LRFD = "lrfd"
    ASD = "asd"
    AS_NZS = "as-nzs"


class TubeStandard(StrEnum):
    """The standard a product was made to; the strip standards are for plates and fittings, never for tube."""

    EN_WELDED_TUBE = "en-welded-tube"  # EN 10296-2, EN 10217-7
    A554 = "astm-a554"
    A269_A312 = "astm-a269-a312"
    COLD_STRIP = "en-cold-strip"  # EN 10088-2
    HOT_STRIP = "en-hot-strip"


class FastenerClass(StrEnum):
    """Property class of stainless screws and bolts (ISO 3506-1)."""

    C50 = "50"
    C70 = "70"
    C80 = "80"


class DeflectionRule(StrEnum):
    """A document whose deflection limits the job takes."""

    BS_6180 = "bs-6180"
    ASTM_E985 = "astm-e985"


class GroundKind(StrEnum):
    """What a layer under the base plates is; only timber, concrete, brick and steel bear."""

    FINISH = "finish"
    CAP = "cap"
    MORTAR = "mortar"
    TIMBER = "timber"
    CONCRETE = "concrete"
    BRICK = "brick"
    STEEL = "steel"

    @property
    def bears(self) -> bool:
        return self in (GroundKind.TIMBER, GroundKind.CONCRETE, GroundKind.BRICK, GroundKind.STEEL)


class Fixing(StrEnum):
    """How the anchor holds in timber or steel."""

    WOOD_SCREW = "wood-screw"
    LAG_SCREW = "lag-screw"
    THROUGH_BOLT = "through-bolt"


class WoodSpecies(StrEnum):
    """Timber whose specific gravity the NDS lists (2018, Table 12.3.3A, from memory)."""

    RED_OAK = "red-oak"
    SOUTHERN_PINE = "southern-pine"
    DOUGLAS_FIR_LARCH = "douglas-fir-larch"
    HEM_FIR = "hem-fir"
    SPRUCE_PINE_FIR = "spruce-pine-fir"
    WESTERN_CEDARS = "western-cedars"

    @property
    def gravity(self) -> float:
        """Oven-dry specific gravity."""
        return {
            WoodSpecies.RED_OAK: 0.67,
            WoodSpecies.SOUTHERN_PINE: 0.55,
            WoodSpecies.DOUGLAS_FIR_LARCH: 0.50,
            WoodSpecies.HEM_FIR: 0.43,
            WoodSpecies.SPRUCE_PINE_FIR: 0.42,
            WoodSpecies.WESTERN_CEDARS: 0.36,
        }[self]


class LoadDuration(StrEnum):
    """How long the load stays on timber."""

    PERMANENT = "permanent"
    TEN_YEARS = "ten-years"
    TWO_MONTHS = "two-months"
    SEVEN_DAYS = "seven-days"
    TEN_MINUTES = "ten-minutes"


class Exposure(StrEnum):
    """Where the rail lives."""

    INDOOR = "indoor"
    OUTDOOR = "outdoor"
    COASTAL = "coastal"
    POOL = "pool"


class Contact(StrEnum):
    """Another metal that touches the rail."""

    ALUMINIUM = "aluminium"
    MILD_STEEL = "mild-steel"
    ZINC = "zinc"
    COPPER = "copper"


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelInput:
    """A grade in a standard, or what a certificate says (MPa)."""

    grade: str | None = None
    standard: TubeStandard | None = None
    proof: float | None = None
    tensile: float | None = None
    certificate: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """What a part's maker, or an engineer, states that it bears: characteristic values (N, N mm)."""

    document: str = ""
    rivet_shear: float | None = None
    socket_moment: float | None = None
    saddle_force: float | None = None
    elbow_moment: float | None = None
    anchor_tension: float | None = None
    anchor_shear: float | None = None
    tread_moment: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthInput:
    """Loads by id of the load table; none: strength is not judged."""

    loads: tuple[str, ...] = ()
    system: DesignSystem | None = None  # None: that of each load's own family
    line_load: float | None = None  # N/mm, in place of the loads' own, within the range their standard leaves open
    annex: str = ""
    share_between_posts: bool = False
    tube: SteelInput = field(default_factory=SteelInput)
    plate: SteelInput = field(default_factory=SteelInput)
    fastener_class: FastenerClass | None = None
    deflection_rule: DeflectionRule | None = None
    deflection_most: float | None = None  # mm
    stated: Stated = field(default_factory=Stated)


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundLayer:
    """One layer under the base plates."""

    kind: GroundKind
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What the base plates stand on, and what is known of the place (mm, MPa)."""

    layers: tuple[GroundLayer, ...] = ()  # from the top
    fixing: Fixing = Fixing.WOOD_SCREW
    fixing_root: float | None = None
    washer: float | None = None
    gravity: float | None = None
    wet: bool | None = None
    duration: LoadDuration = LoadDuration.TEN_YEARS
    timber_bearing: float | None = None  # allowable, across the grain
    concrete_strength: float | None = None  # cylinder
    cracked: bool = True
    critical_edge: float | None = None
    anchor_category: int = 3
    edge_front: float | None = None  # from a post's axis, in place of what the stair shows
    edge_side: float | None = None
    exposure: Exposure | None = None
    post_tensioned: bool | None = None
    heated: bool | None = None
    built: int | None = None
    contact: tuple[Contact, ...] = ()
