"""Whether one catalogue entry can exist: its own dimensions against each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from railgen.catalogue.models import (
    AdjustableSaddle,
    Anchor,
    BasePlate,
    CoverPlate,
    Cradle,
    Elbow,
    ElbowSaddle,
    EndScroll,
    Entry,
    PostHead,
    Rivet,
    Screw,
    TubeSection,
)

__all__ = ["Wrong", "entry_faults", "rivet_note"]

_WEB = 1.0  # mm of metal left between a hole and an edge
_RIVET_HOLES = {2.4: 2.5, 3.2: 3.3, 4.0: 4.1, 4.8: 4.9, 6.4: 6.5}
"""Hole for a metric blind rivet, by the rivet's diameter: public rivet hole tables (secondary source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """What is wrong with an entry: the key to change, the numbers, what is allowed, what would help."""

    key: str
    message: str
    allowed: str
    hint: str = ""


def entry_faults(entry: Entry) -> Iterator[Wrong]:
    """Everything about the entry that no real part could have."""
    match entry:
        case TubeSection():
            if entry.bore < 1:
                yield _most("wall", entry.wall, (entry.od - 1) / 2, f"half of od {entry.od:g}, with a bore left over")
        case Rivet():
            yield from _rivet_faults(entry)
        case Screw():
            yield from _screw_faults(entry)
        case Anchor():
            yield from _anchor_faults(entry)
        case BasePlate():
            yield from _plate_faults(entry)
        case CoverPlate():
            yield from _cover_faults(entry)
        case Elbow():
            yield from _elbow_faults(entry)
        case EndScroll():
            if entry.bend_radius <= entry.spigot_od / 2:
                yield _least("bend_radius", entry.bend_radius, entry.spigot_od / 2 + 1, "half of the bar's diameter")
        case PostHead():
            yield from _head_faults(entry)
        case _:
            pass


def rivet_note(rivet: Rivet) -> str:
    """A remark where the rivet's hole is looser than published; else nothing."""
    published = _RIVET_HOLES.get(round(rivet.diameter, 3))
    if published is None or rivet.hole_diameter <= published + 1e-9:
        return ""
    return (
        f"rivet {rivet.id}: its hole of {rivet.hole_diameter:g} mm is looser than the {published:g} mm of published "
        f"tables for rivets of {rivet.diameter:g} mm; {rivet.hole_diameter:g} mm is what is drilled"
    )


def _least(key: str, value: float, least: float, why: str) -> Wrong:
    return Wrong(key=key, message=f"{value:g} mm is too small", allowed=f"at least {least:.2f} mm: {why}")


def _most(key: str, value: float, most: float, why: str) -> Wrong:
    return Wrong(key=key, message=f"{value:g} mm is too large", allowed=f"at most {most:.2f} mm: {why}")


def _rivet_faults(rivet: Rivet) -> Iterator[Wrong]:
    if not rivet.diameter <= rivet.hole_diameter <= rivet.diameter + 1:
        yield Wrong(
            key="hole_diameter",
            message=f"a hole of {rivet.hole_diameter:g} mm does not suit a rivet of {rivet.diameter:g} mm",
            allowed=f"{rivet.diameter:g} to {rivet.diameter + 1:g} mm",
        )
    if rivet.head_diameter <= rivet.hole_diameter:
        yield _least("head_diameter", rivet.head_diameter, rivet.hole_diameter + 1, "the head would fall into its hole")
    if rivet.edge_distance < rivet.hole_diameter:
        yield _least("edge_distance", rivet.edge_distance, rivet.hole_diameter, "the hole would break out of the end")


def _screw_faults(screw: Screw) -> Iterator[Wrong]:
    if not 0.5 * screw.diameter <= screw.tapping_diameter < screw.diameter:
        yield Wrong(
            key="tapping_diameter",
            message=f"{screw.tapping_diameter:g} mm is no tapping hole for a thread of {screw.diameter:g} mm",
            allowed=f"{0.5 * screw.diameter:g} to less than {screw.diameter:g} mm",
        )
    if not screw.diameter < screw.clearance_diameter < screw.head_diameter:
        yield Wrong(
            key="clearance_diameter",
            message=f"{screw.clearance_diameter:g} mm does not pass the thread and hold the head",
            allowed=f"more than diameter {screw.diameter:g} and less than head_diameter {screw.head_diameter:g} mm",
        )
    if screw.edge_distance < screw.clearance_diameter:
        yield _least("edge_distance", screw.edge_distance, screw.clearance_diameter, "the hole would break out")


def _anchor_faults(anchor: Anchor) -> Iterator[Wrong]:
    if anchor.head_diameter <= anchor.diameter:
        yield _least("head_diameter", anchor.head_diameter, anchor.diameter + 1, "a head is wider than its shank")
    if anchor.length < (anchor.head_diameter - anchor.diameter) / 2 + anchor.diameter:
        yield _least("length", anchor.length, anchor.head_diameter, "head included, it has hardly a shank")
    if anchor.edge_distance < anchor.hole_diameter:
        yield _least("edge_distance", anchor.edge_distance, anchor.hole_diameter, "the hole would break out")
    sleeve, depth, thickness = anchor.sleeve_diameter, anchor.effective_depth, anchor.member_thickness
    if sleeve is not None and not anchor.diameter <= sleeve <= anchor.hole_diameter:
        yield Wrong(
            key="sleeve_diameter",
            message=f"a sleeve of {sleeve:g} mm goes neither over the shank nor into the hole",
            allowed=f"{anchor.diameter:g} to {anchor.hole_diameter:g} mm",
        )
    if depth is not None and depth > anchor.hole_depth:
        yield _most("effective_depth", depth, anchor.hole_depth, "the depth of the hole")
    if thickness is not None and thickness <= anchor.hole_depth:
        yield _least("member_thickness", thickness, anchor.hole_depth + _WEB, "the hole would go right through")
    if anchor.bond_cracked and anchor.bond_uncracked and anchor.bond_cracked > anchor.bond_uncracked:
        yield Wrong(
            key="bond_cracked",
            message=f"{anchor.bond_cracked:g} MPa is more than in uncracked concrete",
            allowed=f"at most bond_uncracked {anchor.bond_uncracked:g} MPa",
        )


def _plate_faults(plate: BasePlate) -> Iterator[Wrong]:
    if plate.countersink_diameter < plate.hole_diameter:
        yield _least(
            "countersink_diameter", plate.countersink_diameter, plate.hole_diameter, "it is wider than its hole"
        )
    sunk = (plate.countersink_diameter - plate.hole_diameter) / 2
    if sunk > plate.thickness:
        most = plate.hole_diameter + 2 * plate.thickness
        yield _most("countersink_diameter", plate.countersink_diameter, most, "a 90 degree cone within the thickness")
    if plate.corner_radius > min(plate.length, plate.width) / 2:
        yield _most("corner_radius", plate.corner_radius, min(plate.length, plate.width) / 2, "half of the plate")
    yield from _hole_faults(plate)
    if plate.socket_wall >= plate.socket_od / 2:
        yield _most("socket_wall", plate.socket_wall, plate.socket_od / 2 - 0.5, "half of socket_od")
    if plate.socket_od > min(plate.length, plate.width):
        yield _most("socket_od", plate.socket_od, min(plate.length, plate.width), "the plate it stands on")
    if not 2 <= plate.rivet_height <= plate.socket_height - 2:
        yield Wrong(
            key="rivet_height",
            message=f"at {plate.rivet_height:g} mm the rivet misses the socket, {plate.socket_height:g} mm high",
            allowed=f"2 to {plate.socket_height - 2:g} mm",
        )


def _hole_faults(plate: BasePlate) -> Iterator[Wrong]:
    """The fixing holes lie within the plate, its rounded corners too, and clear of the socket."""
    cone = plate.countersink_diameter / 2
    inside = True
    for key, spacing, size in (
        ("hole_spacing_length", plate.hole_spacing_length, plate.length),
        ("hole_spacing_width", plate.hole_spacing_width, plate.width),
    ):
        most = size - 2 * (cone + _WEB)
        if spacing > most:
            inside = False
            yield _most(key, spacing, most, f"the countersinks must lie within {size:g} mm")
    over_x = plate.hole_spacing_length / 2 - (plate.length / 2 - plate.corner_radius)
    over_y = plate.hole_spacing_width / 2 - (plate.width / 2 - plate.corner_radius)
    if inside and over_x > 0 and over_y > 0 and math.hypot(over_x, over_y) + cone + _WEB > plate.corner_radius:
        yield Wrong(
            key="corner_radius",
            message=f"at {plate.corner_radius:g} mm the rounded corners cut into the countersinks",
            allowed="a smaller radius, or holes closer together",
        )
    reach = math.hypot(plate.hole_spacing_length, plate.hole_spacing_width) / 2 - cone
    if reach < plate.socket_od / 2 + _WEB:
        yield Wrong(
            key="hole_spacing_length",
            message=f"the countersinks come within {reach:.2f} mm of the middle, into the socket",
            allowed=f"at least {plate.socket_od / 2 + _WEB:.2f} mm",
            hint="space the holes wider, along or across",
        )


def _cover_faults(cover: CoverPlate) -> Iterator[Wrong]:
    if cover.thickness >= cover.height:
        yield _most("thickness", cover.thickness, cover.height - 0.5, "a cover is hollow")
    most = min(cover.length, cover.width) - 2 * cover.thickness
    if cover.bore > most:
        yield _most("bore", cover.bore, most, "the hole for the post lies within the cover")


def _head_faults(head: PostHead) -> Iterator[Wrong]:
    if head.spigot_wall >= head.spigot_od / 2:
        yield _most("spigot_wall", head.spigot_wall, head.spigot_od / 2 - 0.5, "half of spigot_od")
    if not 2 <= head.rivet_depth <= head.spigot_length - 2:
        yield Wrong(
            key="rivet_depth",
            message=f"at {head.rivet_depth:g} mm the rivet misses the spigot, {head.spigot_length:g} mm long",
            allowed=f"2 to {head.spigot_length - 2:g} mm",
        )
    if head.stem_diameter > head.cap_diameter:
        yield _most("stem_diameter", head.stem_diameter, head.cap_diameter, "the cap it stands on")
    if isinstance(head, Cradle) and head.hole_spacing > head.cradle_length - 6:
        yield _most("hole_spacing", head.hole_spacing, head.cradle_length - 6, "both holes lie within the trough")
    if isinstance(head, AdjustableSaddle):
        yield from _pivot_faults(head)
    if isinstance(head, ElbowSaddle) and head.stem_offset + head.stem_diameter / 2 > head.cap_diameter / 2:
        most = (head.cap_diameter - head.stem_diameter) / 2
        yield _most("stem_offset", head.stem_offset, most, "the stem stands on the cap")


def _pivot_faults(saddle: AdjustableSaddle) -> Iterator[Wrong]:
    if saddle.pitch_min > saddle.pitch_max:
        yield Wrong(
            key="pitch_min",
            message=f"{math.degrees(saddle.pitch_min):.1f} degrees is more than pitch_max",
            allowed=f"at most {math.degrees(saddle.pitch_max):.1f} degrees",
        )
    if saddle.tongue_thickness + 2 * saddle.cheek_thickness > saddle.cap_diameter:
        most = saddle.cap_diameter - 2 * saddle.cheek_thickness
        yield _most("tongue_thickness", saddle.tongue_thickness, most, "tongue and both cheeks, within cap_diameter")


def _elbow_faults(elbow: Elbow) -> Iterator[Wrong]:
    if elbow.hinge_min > elbow.hinge_max:
        yield Wrong(
            key="hinge_min",
            message=f"{math.degrees(elbow.hinge_min):.1f} degrees is more than hinge_max",
            allowed=f"at most {math.degrees(elbow.hinge_max):.1f} degrees",
        )
    room = elbow.take_off - elbow.collar_thickness
    if elbow.hub_diameter / 2 > room:
        yield _most("hub_diameter", elbow.hub_diameter, 2 * room, "within take_off less collar_thickness, on each leg")
    if elbow.neck_diameter > elbow.hub_diameter:
        yield _most("neck_diameter", elbow.neck_diameter, elbow.hub_diameter, "the hub it grows from")
    if elbow.tongue_thickness >= elbow.hub_diameter:
        yield _most("tongue_thickness", elbow.tongue_thickness, elbow.hub_diameter - 2, "the fork's cheeks need room")
    if elbow.pin_diameter > elbow.neck_diameter - 2 * _WEB:
        yield _most("pin_diameter", elbow.pin_diameter, elbow.neck_diameter - 2 * _WEB, "the neck that holds the pin")
    if not 2 <= elbow.screw_distance <= elbow.spigot_length - 2:
        yield Wrong(
            key="screw_distance",
            message=f"at {elbow.screw_distance:g} mm the screw misses the spigot, {elbow.spigot_length:g} mm long",
            allowed=f"2 to {elbow.spigot_length - 2:g} mm",
        )
