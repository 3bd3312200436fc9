"""Which loads a job is held to and what bears them (``[strength]``), and what is under the rail (``[ground]``).

One record each, of the file and of the job alike (mm, N, MPa, N mm). Everything is optional: a value that is None was
not given, and a link that needs it answers "cannot say" and names it.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Any

from pydantic import AfterValidator, Field, Strict, ValidationInfo, field_validator

from railgen.fields import MOST_NAMES, Ident, Length, Most, Number, Table, Text

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

Stress = Annotated[float, Number(ge=50, le=2_000, unit="MPa")]
Force = Annotated[float, Number(ge=1, le=100_000, unit="N")]
Moment = Annotated[float, Number(ge=1, le=100_000, unit="Nm", scale=1000)]
Edge = Annotated[float, Length(ge=5, le=5_000)]
Yes = Annotated[bool, Strict()]


def _once(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _otherwise(text: str) -> dict[str, Any]:
    return {"x-otherwise": text}


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


class SteelInput(Table):
    """What a part is made of: a grade in the product's own standard, or what its certificate says."""

    grade: Ident | None = Field(
        default=None,
        description="grade as the standard names it, such as 1.4301 or MT-304",
        json_schema_extra=_otherwise("the material's id"),
    )
    standard: TubeStandard | None = Field(
        default=None, description="standard it was made to; for tube a tube standard, never one for strip"
    )
    proof: Stress | None = Field(default=None, description="instead: 0.2 % proof strength of the certificate")
    tensile: Stress | None = Field(default=None, description="instead: tensile strength of the certificate")
    certificate: Text = Field(default="", description="name of that certificate")


class Stated(Table):
    """What a maker or an engineer states that a part bears: characteristic values, the system's factor still to come.

    What is left out is not guessed: the link it belongs to is not verified.
    """

    document: Text = Field(default="", description="where it is stated")
    rivet_shear: Force | None = Field(default=None, description="shear of one rivet")
    socket_moment: Moment | None = Field(
        default=None, description="moment of the base plate's socket: its weld, and the post's wall on it"
    )
    saddle_force: Force | None = Field(default=None, description="force in any direction on one saddle or post head")
    elbow_moment: Moment | None = Field(default=None, description="moment of one elbow, bent or twisted")
    anchor_tension: Force | None = Field(
        default=None, description="pull-out of one mechanical anchor in concrete, or of a thread in steel"
    )
    anchor_shear: Force | None = Field(default=None, description="sideways force on one anchor: its own steel")
    tread_moment: Moment | None = Field(
        default=None, description="moment that the tread, landing or stringer takes from one base plate"
    )


class StrengthInput(Table):
    """Whether the rail holds. Without loads nothing is said about strength."""

    loads: Annotated[tuple[Ident, ...], Most(MOST_NAMES), AfterValidator(_once)] = Field(
        default=(),
        description="loads on the rail, by name, such as asce-7 or en-b; each is checked on its own",
    )
    system: DesignSystem | None = Field(
        default=None,
        description="whose factors apply to loads and strengths",
        json_schema_extra=_otherwise("by the load: lrfd, eurocode or as-nzs"),
    )
    line_load: Annotated[float, Number(ge=0.05, le=10, unit="kN/m")] | None = Field(
        default=None, description="line load of the national annex, where the load's standard leaves a range"
    )
    annex: Text = Field(default="", description="name of that annex")
    share_between_posts: Yes = Field(
        default=False, description="let neighbouring posts of a straight run share the load, as published"
    )
    tube: SteelInput = Field(default_factory=SteelInput, description="steel of rail and posts")
    plate: SteelInput = Field(default_factory=SteelInput, description="steel of base plates and sockets")
    fastener_class: FastenerClass | None = Field(
        default=None, description="property class of stainless screws and bolts"
    )
    deflection_rule: DeflectionRule | None = Field(
        default=None, description="document whose limits on sway and sag apply"
    )
    deflection_most: Annotated[float, Length(ge=1, le=200)] | None = Field(
        default=None, description="instead: most that a post's top or a rail between posts may give"
    )
    stated: Stated = Field(default_factory=Stated, description="what makers and engineers state")

    def regraded(self, old: str | None, new: str) -> StrengthInput:
        """The same with parts of the ``new`` grade that were of the ``old``; None: where no grade is given."""
        parts = {"tube": self.tube, "plate": self.plate}
        graded = {key: part.model_copy(update={"grade": new}) for key, part in parts.items() if part.grade == old}
        return self.model_copy(update=graded)


class GroundLayer(Table):
    """One layer under the base plates."""

    kind: GroundKind = Field(description="what it is; finish, cap and mortar do not bear")
    thickness: Annotated[float, Length(ge=1, le=2_000)] = Field(description="its thickness")


class Ground(Table):
    """What the base plates stand on. What is left out is not guessed: the links that need it answer "cannot say"."""

    layers: Annotated[tuple[GroundLayer, ...], Most(12)] = Field(default=(), description="layers from the top")
    fixing: Fixing = Field(default=Fixing.WOOD_SCREW, description="how the anchor holds in timber or steel")
    fixing_root: Annotated[float, Length(ge=1, le=40)] | None = Field(
        default=None, description="diameter of the anchor under its thread"
    )
    washer: Annotated[float, Length(ge=5, le=200)] | None = Field(
        default=None, description="diameter of the washer under a through-bolt's nut"
    )
    species: WoodSpecies | None = Field(default=None, description="timber, for its specific gravity")
    gravity: Annotated[float, Number(ge=0.2, le=1.2)] | None = Field(
        default=None,
        validate_default=True,
        description="instead: oven-dry specific gravity of the timber",
        json_schema_extra=_otherwise("by species"),
    )
    wet: Yes | None = Field(default=None, description="whether the timber gets wet in use")
    duration: LoadDuration = Field(default=LoadDuration.TEN_YEARS, description="how long the load stays on timber")
    timber_bearing: Annotated[float, Number(ge=0.5, le=20, unit="MPa")] | None = Field(
        default=None, description="allowable bearing stress of the timber, across the grain"
    )
    concrete_strength: Annotated[float, Number(ge=8, le=100, unit="MPa")] | None = Field(
        default=None, description="cylinder strength of the concrete"
    )
    cracked: Yes = Field(default=True, description="whether the concrete may crack where the anchors are")
    critical_edge: Edge | None = Field(
        default=None, description="critical edge distance of the anchor's approval, in uncracked concrete"
    )
    anchor_category: Annotated[int, Strict(), Field(ge=1, le=3)] = Field(
        default=3, description="reliability class of the anchor's approval, 1 the best"
    )
    edge_front: Edge | None = Field(
        default=None,
        description="from a post's axis forward to the edge of what bears",
        json_schema_extra=_otherwise("the nosing, and what the stair shows"),
    )
    edge_side: Edge | None = Field(
        default=None,
        description="from a post's axis sideways to the edge of what bears",
        json_schema_extra=_otherwise("the stair's edge"),
    )
    exposure: Exposure | None = Field(default=None, description="where the rail lives")
    post_tensioned: Yes | None = Field(default=None, description="whether the slab may be post-tensioned")
    heated: Yes | None = Field(default=None, description="whether heating or services lie in floor or treads")
    built: Annotated[int, Strict(), Field(ge=1000, le=2100)] | None = Field(
        default=None, description="year the stair was built"
    )
    contact: Annotated[tuple[Contact, ...], Most(MOST_NAMES)] = Field(
        default=(), description="other metals that touch the rail"
    )

    @field_validator("gravity")
    @classmethod
    def _of_species(cls, gravity: float | None, info: ValidationInfo) -> float | None:
        species = info.data.get("species")
        return species.gravity if gravity is None and isinstance(species, WoodSpecies) else gravity
