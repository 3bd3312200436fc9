"""What a catalogue holds: every entry and every dimension, named so that it can be measured with a caliper.

The frames the dimensions refer to are told in :mod:`railgen.members.pieces`.
"""

from __future__ import annotations

import math
from abc import abstractmethod
from enum import StrEnum
from typing import Annotated, Literal, TypeVar

from pydantic import Field

from railgen.fields import MOST_ENTRIES, Angle, Ident, Length, Most, Number, Table, Text
from railgen.units import Unit

__all__ = [
    "AdjustableSaddle",
    "Anchor",
    "AnchorHold",
    "BasePlate",
    "CatalogueFile",
    "CoverPlate",
    "Elbow",
    "ElbowSaddle",
    "EndCap",
    "EndScroll",
    "Entry",
    "FittingSet",
    "FixedSaddle",
    "Material",
    "PostHead",
    "Rivet",
    "Screw",
    "Substrate",
    "TubeSection",
]

Small = Annotated[float, Length(ge=0.2, le=60)]
Medium = Annotated[float, Length(ge=1, le=400)]
Zero = Annotated[float, Length(ge=0, le=100)]
Bond = Annotated[float, Number(ge=0.5, le=50, unit="MPa")]


class Substrate(StrEnum):
    """What the base plates are fixed to."""

    TIMBER = "timber"
    CONCRETE = "concrete"
    STEEL = "steel"


class AnchorHold(StrEnum):
    """How an anchor holds in concrete."""

    MECHANICAL = "mechanical"
    BONDED = "bonded"


class Entry(Table):
    """What every catalogue entry has."""

    id: Ident = Field(description="name by which jobs and sets refer to this entry")
    description: Text = Field(default="", description="what it is, for the parts list")


class Material(Entry):
    """What tubes and fittings are made of."""

    density: Annotated[float, Number(ge=500, le=20000, unit="kg/m3")] = Field(description="density")
    source: Text = Field(default="", description="document the density comes from")


class TubeSection(Entry):
    """A round tube, as a standard lists it or as measured."""

    od: Annotated[float, Length(ge=5, le=500)] = Field(description="outside diameter, measured, never a nominal size")
    wall: Small = Field(description="wall thickness")
    source: Text = Field(default="", description="standard that lists this size")

    @property
    def radius(self) -> float:
        return self.od / 2

    @property
    def bore(self) -> float:
        """Inside diameter."""
        return self.od - 2 * self.wall


class Rivet(Entry):
    """A blind rivet that joins a post to its socket or to its saddle."""

    diameter: Small = Field(description="body diameter before setting")
    hole_diameter: Small = Field(description="hole drilled for it, in post and socket alike")
    length: Small = Field(description="body length under the head")
    head_diameter: Small = Field(description="diameter of the domed head")
    head_height: Small = Field(description="height of the domed head")
    edge_distance: Small = Field(description="least distance from the hole's axis to a tube end")


class Screw(Entry):
    """A button-head machine screw, through a clearance hole into a tapped one."""

    thread: Text = Field(description="thread designation, such as M6")
    diameter: Small = Field(description="outside diameter of the thread")
    tapping_diameter: Small = Field(description="hole drilled before tapping")
    clearance_diameter: Small = Field(description="hole the screw passes freely")
    length: Small = Field(description="length under the head")
    head_diameter: Small = Field(description="diameter of the head")
    head_height: Small = Field(description="height of the head")
    edge_distance: Small = Field(description="least distance from the hole's axis to a tube end")


class Anchor(Entry):
    """A countersunk screw or anchor that holds a base plate down."""

    substrate: Substrate = Field(description="what it may be used in")
    diameter: Small = Field(description="outside diameter of the shank or thread")
    length: Medium = Field(description="overall length, countersunk head included")
    head_diameter: Small = Field(description="largest diameter of the countersunk head, 90 degrees")
    hole_diameter: Small = Field(description="hole drilled in the tread or landing")
    hole_depth: Medium = Field(description="depth of that hole below the surface")
    edge_distance: Medium = Field(description="least distance from its axis to the edge of the tread or landing")
    hold: AnchorHold | None = Field(
        default=None, description="how it holds in concrete: mechanical (it expands or cuts), or bonded by resin"
    )
    sleeve_diameter: Small | None = Field(default=None, description="outside diameter of its sleeve, if it has one")
    effective_depth: Medium | None = Field(
        default=None, description="effective depth in concrete, by its approval; a mechanical anchor needs it"
    )
    member_thickness: Annotated[float, Length(ge=20, le=2_000)] | None = Field(
        default=None, description="least thickness of the concrete it is set in, by its approval"
    )
    bond_cracked: Bond | None = Field(
        default=None, description="characteristic bond strength in cracked concrete, by its approval"
    )
    bond_uncracked: Bond | None = Field(
        default=None, description="characteristic bond strength in uncracked concrete, by its approval"
    )

    @property
    def outside_diameter(self) -> float:
        """Diameter of what presses on the concrete: the sleeve, or the shank."""
        return self.sleeve_diameter or self.diameter


class BasePlate(Entry):
    """A plate fixed to tread or landing, with an upright socket that the post slides over."""

    length: Medium = Field(description="size along the flight")
    width: Medium = Field(description="size across the flight")
    thickness: Small = Field(description="plate thickness: the post stands on the plate, this far above the surface")
    corner_radius: Zero = Field(description="radius of the plate's corners")
    socket_od: Medium = Field(description="outside diameter of the upright socket inside the post")
    socket_wall: Small = Field(description="wall of the socket")
    socket_height: Medium = Field(description="height of the socket above the plate")
    hole_spacing_length: Medium = Field(description="distance of the fixing holes, centre to centre, along the flight")
    hole_spacing_width: Medium = Field(description="distance of the fixing holes, centre to centre, across the flight")
    hole_diameter: Small = Field(description="diameter of the fixing holes")
    countersink_diameter: Small = Field(description="largest diameter of the 90 degree countersink")
    rivet_height: Medium = Field(
        description="height of the rivet holes above the post's foot, at both sides of the post"
    )
    rivet: Ident = Field(description="rivet that joins post and socket")

    @property
    def foot(self) -> float:
        """Height of the post's lower end over the surface the plate lies on."""
        return self.thickness


class CoverPlate(Entry):
    """A hollow cover that hides the base plate and its fixings."""

    length: Medium = Field(description="outside size along the flight")
    width: Medium = Field(description="outside size across the flight")
    height: Small = Field(description="outside height above the surface")
    thickness: Small = Field(description="sheet thickness")
    bore: Medium = Field(description="hole for the post")


class PostHead(Entry):
    """What every fitting on top of a post has: a spigot inside the post, riveted, and a cap on its end."""

    spigot_od: Medium = Field(description="outside diameter of the spigot inside the post")
    spigot_wall: Small = Field(description="wall of the spigot")
    spigot_length: Medium = Field(description="length of the spigot below the post's top end")
    cap_diameter: Medium = Field(description="diameter of the cap that closes the post's top end")
    cap_thickness: Small = Field(description="thickness of that cap, above the post's top end")
    stem_diameter: Small = Field(description="diameter (or width along the rail) of the upright stem on the cap")
    rivet_depth: Medium = Field(description="depth of the rivet holes below the post's top end, at both sides")
    rivet: Ident = Field(description="rivet that joins post and spigot")

    @abstractmethod
    def rise(self, pitch: float) -> float:
        """Height over the post's top end of the rail's centreline, on the post's axis, at a pitch (radians)."""

    def clearance(self, radius: float, pitch: float) -> float:
        """Free height from its cap, its widest part, up to a rail of ``radius``."""
        return self.rise(pitch) - radius / math.cos(pitch) - self.cap_thickness


class Cradle(PostHead):
    """A post head with a trough under the rail tube, screwed to it from below."""

    cradle_length: Medium = Field(description="length of the trough along the tube")
    cradle_thickness: Small = Field(description="thickness of the trough")
    cradle_angle: Annotated[float, Angle(ge=30, le=180)] = Field(description="how much of the tube the trough embraces")
    cradle_clearance: Annotated[float, Length(ge=0.1, le=2)] = Field(description="gap between trough and tube")
    hole_spacing: Medium = Field(description="distance of the two screw holes, along the tube")
    screw: Ident = Field(description="screw that holds the tube from below, tapped into the tube")

    @property
    @abstractmethod
    def centre(self) -> float:
        """Height of the tube's centre in the trough's own frame."""

    def under(self, od: float) -> float:
        """Height of the trough's underside there, below a tube of diameter ``od``."""
        return self.centre - od / 2 - self.cradle_clearance - self.cradle_thickness


class FixedSaddle(Cradle):
    """A saddle for level rails."""

    centre_height: Medium = Field(description="height of the tube's centre above the post's top end")

    @property
    def centre(self) -> float:
        return self.centre_height

    def rise(self, pitch: float) -> float:  # noqa: ARG002 - it holds a level rail
        return self.centre_height


class AdjustableSaddle(Cradle):
    """A saddle that pivots to the pitch of the rail."""

    pivot_height: Medium = Field(description="height of the pivot above the post's top end")
    pivot_to_centre: Medium = Field(description="distance from the pivot to the tube's centre, square to the tube")
    pivot_diameter: Small = Field(description="diameter of the pivot pin")
    tongue_thickness: Small = Field(description="thickness, across the rail, of the tongue that holds the pivot pin")
    cheek_thickness: Small = Field(description="thickness of each of the cradle's two cheeks beside the tongue")
    pitch_min: Annotated[float, Angle(ge=0, le=60)] = Field(description="least pitch it can be set to")
    pitch_max: Annotated[float, Angle(ge=0, le=60)] = Field(description="largest pitch it can be set to")

    @property
    def centre(self) -> float:
        return self.pivot_to_centre

    def rise(self, pitch: float) -> float:
        return self.pivot_height + self.pivot_to_centre / math.cos(pitch)

    def lean(self, pitch: float) -> float:
        """How far down the flight from the post's axis it meets the rail's centreline (mm, level)."""
        return self.pivot_to_centre * math.sin(pitch)


class ElbowSaddle(PostHead):
    """A fixed post head that carries the hub of an adjustable elbow."""

    node_height: Medium = Field(
        description="height of the meeting point of the two tube centrelines above the post's top"
    )
    stem_offset: Zero = Field(description="how far the stem stands from the post's axis, towards the level tube")
    pitch_max: Annotated[float, Angle(ge=0, le=60)] = Field(description="steepest tube that clears the stem")

    def rise(self, pitch: float) -> float:  # noqa: ARG002 - of the node, whatever meets there
        return self.node_height


class Elbow(Entry):
    """An adjustable elbow: two legs with spigots, hinged at the meeting point of the tube centrelines."""

    take_off: Medium = Field(description="distance from the meeting point of the centrelines to each tube's cut end")
    hinge_min: Annotated[float, Angle(ge=0, le=170)] = Field(description="least deflection it can be set to")
    hinge_max: Annotated[float, Angle(ge=0, le=170)] = Field(description="largest deflection it can be set to")
    hub_diameter: Medium = Field(description="diameter of the ball-shaped hub around the hinge")
    neck_diameter: Small = Field(description="diameter of the neck between hub and collar")
    tongue_thickness: Small = Field(description="thickness of the inner hinge half, along the hinge axis")
    pin_diameter: Small = Field(description="diameter of the hinge pin")
    collar_thickness: Small = Field(
        description="thickness of the collar, of the tube's diameter, that closes the tube end"
    )
    spigot_od: Medium = Field(description="diameter of the solid spigot inside the tube")
    spigot_length: Medium = Field(description="length of the spigot inside the tube")
    screw_distance: Medium = Field(description="distance of the screw from the tube's cut end, on the hinge axis side")
    screw: Ident = Field(description="screw that holds the tube, tapped into the spigot")


class EndCap(Entry):
    """A flat cap with a spigot, bonded into a tube end."""

    thickness: Small = Field(description="thickness outside the tube")
    spigot_od: Medium = Field(description="diameter of the spigot inside the tube")
    spigot_length: Medium = Field(description="length of the spigot inside the tube")


class EndScroll(Entry):
    """A downward curl of solid bar with a spigot, bonded into a tube end."""

    bend_radius: Medium = Field(description="radius of the curl, to the bar's centreline")
    turn: Annotated[float, Angle(ge=30, le=300)] = Field(description="angle of the curl")
    spigot_od: Medium = Field(description="diameter of the spigot inside the tube")
    spigot_length: Medium = Field(description="length of the spigot inside the tube")


class FittingSet(Entry):
    """Entries that go together; a job names one set and may replace single entries."""

    tube: Ident = Field(description="rail tube")
    post_tube: Ident = Field(description="post tube")
    material: Ident = Field(description="material of tube and fittings")
    base_plate: Ident = Field(description="base plate")
    cover_plate: Ident = Field(description="cover plate")
    fixed_saddle: Ident = Field(description="saddle for level rails")
    adjustable_saddle: Ident = Field(description="saddle for pitched rails")
    elbow_saddle: Ident = Field(description="post head under an elbow")
    elbow: Ident = Field(description="adjustable elbow")
    end_cap: Ident = Field(description="end cap")
    end_scroll: Ident = Field(description="end scroll")
    anchors: Annotated[dict[Substrate, Ident], Most(len(Substrate))] = Field(description="anchor for each substrate")


Listed = TypeVar("Listed", bound=Entry)
Entries = Annotated[tuple[Listed, ...], Most(MOST_ENTRIES)]


class CatalogueFile(Table):
    """A catalogue file."""

    format: Literal[1] = Field(description="version of this file format")
    units: Unit = Field(default=Unit.MM, description="unit of the lengths in this file")
    material: Entries[Material] = ()
    tube: Entries[TubeSection] = ()
    rivet: Entries[Rivet] = ()
    screw: Entries[Screw] = ()
    anchor: Entries[Anchor] = ()
    base_plate: Entries[BasePlate] = ()
    cover_plate: Entries[CoverPlate] = ()
    fixed_saddle: Entries[FixedSaddle] = ()
    adjustable_saddle: Entries[AdjustableSaddle] = ()
    elbow_saddle: Entries[ElbowSaddle] = ()
    elbow: Entries[Elbow] = ()
    end_cap: Entries[EndCap] = ()
    end_scroll: Entries[EndScroll] = ()
    set: Entries[FittingSet] = ()
