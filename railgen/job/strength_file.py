"""The job file's tables about strength: ``[strength]`` and ``[ground]``."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, Strict

from railgen.fields import MOST_NAMES, Ident, Length, Most, Number, Table, Text
from railgen.job.strength_model import (
    Contact,
    DeflectionRule,
    DesignSystem,
    Exposure,
    FastenerClass,
    Fixing,
    Ground,
    GroundKind,
    GroundLayer,
    LoadDuration,
    Stated,
    SteelInput,
    StrengthInput,
    TubeStandard,
    WoodSpecies,
)

__all__ = ["GroundTable", "StrengthTable", "ground", "strength_input"]

Stress = Annotated[float, Number(ge=50, le=2_000, unit="MPa")]
Force = Annotated[float, Number(ge=1, le=100_000, unit="N")]
Moment = Annotated[float, Number(ge=1, le=100_000, unit="Nm")]
Edge = Annotated[float, Length(ge=5, le=5_000)]
Yes = Annotated[bool, Strict()]


def _otherwise(text: str) -> dict[str, Any]:
    return {"x-otherwise": text}


class SteelTable(Table):
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


class StatedTable(Table):
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


class StrengthTable(Table):
    """Whether the rail holds. Without loads nothing is said about strength."""

    loads: Annotated[tuple[Ident, ...], Most(MOST_NAMES)] = Field(
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
    tube: SteelTable = Field(default_factory=SteelTable, description="steel of rail and posts")
    plate: SteelTable = Field(default_factory=SteelTable, description="steel of base plates and sockets")
    fastener_class: FastenerClass | None = Field(
        default=None, description="property class of stainless screws and bolts"
    )
    deflection_rule: DeflectionRule | None = Field(
        default=None, description="document whose limits on sway and sag apply"
    )
    deflection_most: Annotated[float, Length(ge=1, le=200)] | None = Field(
        default=None, description="instead: most that a post's top or a rail between posts may give"
    )
    stated: StatedTable = Field(default_factory=StatedTable, description="what makers and engineers state")


class LayerTable(Table):
    """One layer under the base plates."""

    kind: GroundKind = Field(description="what it is; finish, cap and mortar do not bear")
    thickness: Annotated[float, Length(ge=1, le=2_000)] = Field(description="its thickness")


class GroundTable(Table):
    """What the base plates stand on. What is left out is not guessed: the links that need it answer "cannot say"."""

    layers: Annotated[tuple[LayerTable, ...], Most(12)] = Field(default=(), description="layers from the top")
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


def strength_input(table: StrengthTable, material: str) -> StrengthInput:
    """The table, read; a grade left out is that of the hardware's ``material``."""
    given = table.stated
    return StrengthInput(
        loads=tuple(dict.fromkeys(table.loads)),
        system=table.system,
        line_load=table.line_load,
        annex=table.annex,
        share_between_posts=table.share_between_posts,
        tube=_steel(table.tube, material),
        plate=_steel(table.plate, material),
        fastener_class=table.fastener_class,
        deflection_rule=table.deflection_rule,
        deflection_most=table.deflection_most,
        stated=Stated(
            document=given.document,
            rivet_shear=given.rivet_shear,
            socket_moment=_n_mm(given.socket_moment),
            saddle_force=given.saddle_force,
            elbow_moment=_n_mm(given.elbow_moment),
            anchor_tension=given.anchor_tension,
            anchor_shear=given.anchor_shear,
            tread_moment=_n_mm(given.tread_moment),
        ),
    )


def ground(table: GroundTable) -> Ground:
    """The table, read."""
    rest = {key: value for key, value in dict(table).items() if key not in {"layers", "species", "gravity"}}
    species = None if table.species is None else table.species.gravity
    return Ground(
        layers=tuple(GroundLayer(kind=layer.kind, thickness=layer.thickness) for layer in table.layers),
        gravity=species if table.gravity is None else table.gravity,
        **rest,
    )


def _steel(table: SteelTable, material: str) -> SteelInput:
    return SteelInput(
        grade=table.grade or material,
        standard=table.standard,
        proof=table.proof,
        tensile=table.tensile,
        certificate=table.certificate,
    )


def _n_mm(moment: float | None) -> float | None:
    return None if moment is None else moment * 1000
