"""Whether catalogue entries go together: spigots in bores, tubes past stems, screws through what they hold.

Lengths of play are common practice; what must clear is geometry and is told with its numbers.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from railgen.catalogue.models import (
    AdjustableSaddle,
    Anchor,
    BasePlate,
    CoverPlate,
    Cradle,
    Elbow,
    ElbowSaddle,
    EndCap,
    EndScroll,
    FixedSaddle,
    Rivet,
    Screw,
    TubeSection,
)

__all__ = ["Fit", "Misfit", "misfits"]

_LEAST_PLAY, _MOST_PLAY = 0.1, 0.6  # mm a side, spigot in tube
_CLEAR = 0.2  # mm between moving or neighbouring parts
_HAIR = 1e-6  # mm: rounding, not a dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """One of each, to be used together."""

    tube: TubeSection
    post_tube: TubeSection
    base_plate: BasePlate
    cover_plate: CoverPlate | None
    fixed_saddle: FixedSaddle
    adjustable_saddle: AdjustableSaddle
    elbow_saddle: ElbowSaddle
    elbow: Elbow
    end_cap: EndCap
    end_scroll: EndScroll
    anchor: Anchor
    rivets: Mapping[str, Rivet]
    screws: Mapping[str, Screw]


@dataclass(frozen=True, slots=True, kw_only=True)
class Misfit:
    """Two entries that do not go together, by their options (``elbow``, ``tube``), the first to be changed."""

    options: tuple[str, str]
    message: str
    allowed: str
    hint: str


def misfits(fit: Fit) -> Iterator[Misfit]:
    """Everything that does not go together, with the numbers and what to change."""
    yield from _spigots(fit)
    yield from _foot(fit)
    for option, head in _heads(fit):
        yield from _post_head(fit, option, head)
    yield from _saddles(fit)
    yield from _elbow(fit)
    yield from _elbow_saddle(fit)


def _heads(fit: Fit) -> tuple[tuple[str, FixedSaddle | AdjustableSaddle | ElbowSaddle], ...]:
    return (
        ("fixed_saddle", fit.fixed_saddle),
        ("adjustable_saddle", fit.adjustable_saddle),
        ("elbow_saddle", fit.elbow_saddle),
    )


def _spigots(fit: Fit) -> Iterator[Misfit]:
    inside_post = [("base_plate", "socket_od", fit.base_plate.socket_od)]
    inside_post += [(option, "spigot_od", head.spigot_od) for option, head in _heads(fit)]
    inside_rail = [
        ("elbow", "spigot_od", fit.elbow.spigot_od),
        ("end_cap", "spigot_od", fit.end_cap.spigot_od),
        ("end_scroll", "spigot_od", fit.end_scroll.spigot_od),
    ]
    for tube_option, tube, inner in (("post_tube", fit.post_tube, inside_post), ("tube", fit.tube, inside_rail)):
        low, high = tube.bore - 2 * _MOST_PLAY, tube.bore - 2 * _LEAST_PLAY
        for option, key, od in inner:
            if not low - _HAIR <= od <= high + _HAIR:
                yield Misfit(
                    options=(option, tube_option),
                    message=f"{key} {od:g} mm does not suit the bore of tube {tube.id}, {tube.bore:g} mm",
                    allowed=f"{low:.1f} to {high:.1f} mm",
                    hint=f"choose another {option}, or a tube whose bore it fills",
                )


def _foot(fit: Fit) -> Iterator[Misfit]:
    plate, cover, anchor, post = fit.base_plate, fit.cover_plate, fit.anchor, fit.post_tube
    reach = math.hypot(plate.hole_spacing_length, plate.hole_spacing_width) / 2 - plate.countersink_diameter / 2
    if reach < post.radius + 1:
        yield Misfit(
            options=("base_plate", "post_tube"),
            message=f"the fixings come within {reach:.2f} mm of the middle, under post tube {post.id}",
            allowed=f"at least {post.radius + 1:.2f} mm",
            hint="space the holes of the plate wider",
        )
    if anchor.diameter > plate.hole_diameter or anchor.head_diameter > plate.countersink_diameter + _HAIR:
        yield Misfit(
            options=("anchor", "base_plate"),
            message=f"anchor {anchor.id}, {anchor.diameter:g} mm with a head of {anchor.head_diameter:g} mm, does not "
            f"go into plate {plate.id}",
            allowed=f"at most {plate.hole_diameter:g} mm, and {plate.countersink_diameter:g} mm for the head",
            hint="choose a smaller anchor, or drill the plate larger",
        )
    if anchor.hole_depth < anchor.length - plate.thickness - _HAIR:
        yield Misfit(
            options=("anchor", "base_plate"),
            message=f"anchor {anchor.id} reaches {anchor.length - plate.thickness:g} mm below the plate, and its hole "
            f"is {anchor.hole_depth:g} mm deep",
            allowed=f"a hole_depth of at least {anchor.length - plate.thickness:g} mm",
            hint="drill deeper, or choose a shorter anchor",
        )
    if cover is not None:
        yield from _cover(plate, cover, post)
    rivet = fit.rivets[plate.rivet]
    above = (cover.height - plate.thickness if cover else 0.0) + rivet.head_diameter / 2 + _CLEAR
    if plate.rivet_height < max(above, rivet.edge_distance):
        yield Misfit(
            options=("base_plate", "cover_plate"),
            message=f"rivet_height {plate.rivet_height:g} mm puts the rivet too near the post's foot or into the cover",
            allowed=f"at least {max(above, rivet.edge_distance):.2f} mm",
            hint="drill the socket higher, or choose a lower cover",
        )
    yield from _grip("base_plate", rivet, post, plate.socket_od, plate.socket_wall)


def _cover(plate: BasePlate, cover: CoverPlate, post: TubeSection) -> Iterator[Misfit]:
    inside = cover.length - 2 * cover.thickness, cover.width - 2 * cover.thickness, cover.height - cover.thickness
    if inside[0] < plate.length + _CLEAR or inside[1] < plate.width + _CLEAR or inside[2] < plate.thickness + _CLEAR:
        yield Misfit(
            options=("cover_plate", "base_plate"),
            message=f"inside, cover {cover.id} is {inside[0]:g} x {inside[1]:g} x {inside[2]:g} mm and does not go "
            f"over plate {plate.id}, {plate.length:g} x {plate.width:g} x {plate.thickness:g} mm",
            allowed=f"at least {_CLEAR:g} mm larger each way",
            hint='choose a larger cover, or cover_plate = "none"',
        )
    if not post.od + _CLEAR - _HAIR <= cover.bore <= post.od + 5:
        yield Misfit(
            options=("cover_plate", "post_tube"),
            message=f"the bore of cover {cover.id}, {cover.bore:g} mm, does not suit post tube {post.id}",
            allowed=f"{post.od + _CLEAR:g} to {post.od + 5:g} mm",
            hint='choose another cover, or cover_plate = "none"',
        )


def _grip(option: str, rivet: Rivet, post: TubeSection, inner_od: float, inner_wall: float) -> Iterator[Misfit]:
    """A blind rivet reaches through the post's wall, the play and the wall inside."""
    through = (post.od - inner_od) / 2 + inner_wall
    if rivet.length < through + 0.5 * rivet.diameter:
        yield Misfit(
            options=(option, "post_tube"),
            message=f"rivet {rivet.id}, {rivet.length:g} mm long, is too short for {through:.2f} mm of post and socket",
            allowed=f"at least {through + 0.5 * rivet.diameter:.2f} mm",
            hint="choose a longer rivet",
        )


def _post_head(fit: Fit, option: str, head: FixedSaddle | AdjustableSaddle | ElbowSaddle) -> Iterator[Misfit]:
    post, rivet = fit.post_tube, fit.rivets[head.rivet]
    if not post.bore < head.cap_diameter <= post.od + 20:
        yield Misfit(
            options=(option, "post_tube"),
            message=f"cap_diameter {head.cap_diameter:g} mm does not close post tube {post.id}",
            allowed=f"more than its bore {post.bore:g}, at most {post.od + 20:g} mm",
            hint=f"choose another {option}",
        )
    if head.rivet_depth < rivet.edge_distance:
        yield Misfit(
            options=(option, "post_tube"),
            message=f"rivet_depth {head.rivet_depth:g} mm is too near the post's end for rivet {rivet.id}",
            allowed=f"at least {rivet.edge_distance:g} mm",
            hint="drill the spigot lower",
        )
    yield from _grip(option, rivet, post, head.spigot_od, head.spigot_wall)


def _saddles(fit: Fit) -> Iterator[Misfit]:
    tube, fixed, pivoted = fit.tube, fit.fixed_saddle, fit.adjustable_saddle
    for option, saddle in (("fixed_saddle", fixed), ("adjustable_saddle", pivoted)):
        yield from _trough(fit, option, saddle)
    under = fixed.under(tube.od)
    if under < fixed.cap_thickness + _CLEAR:
        yield Misfit(
            options=("fixed_saddle", "tube"),
            message=f"centre_height {fixed.centre_height:g} mm brings the trough under tube {tube.id} into the cap",
            allowed=f"at least {fixed.centre_height - under + fixed.cap_thickness + _CLEAR:.2f} mm",
            hint="choose a higher saddle or a smaller tube",
        )
    radius = pivoted.under(tube.od) - _CLEAR
    if radius < pivoted.pivot_diameter / 2 + 1.5 - _HAIR:
        yield Misfit(
            options=("adjustable_saddle", "tube"),
            message=f"pivot_to_centre {pivoted.pivot_to_centre:g} mm leaves {radius:.2f} mm around the pivot under "
            f"tube {tube.id}",
            allowed=f"at least {pivoted.pivot_diameter / 2 + 1.5:.2f} mm, half the pin and 1.5 mm",
            hint=f"pivot_to_centre {pivoted.pivot_to_centre + pivoted.pivot_diameter / 2 + 1.5 - radius:.2f} would do",
        )
    swing = math.hypot(radius + _CLEAR, pivoted.cradle_length / 2)
    corner = math.atan2(pivoted.cradle_length / 2, radius + _CLEAR) + pivoted.pitch_max
    lowest = pivoted.pivot_height + swing * math.cos(corner)
    if lowest < pivoted.cap_thickness + _CLEAR:
        yield Misfit(
            options=("adjustable_saddle", "tube"),
            message=f"at pitch_max {math.degrees(pivoted.pitch_max):.1f} degrees the trough's corner comes "
            f"{lowest:.2f} mm above the post's top, into the cap",
            allowed=f"at least {pivoted.cap_thickness + _CLEAR:.2f} mm",
            hint="a higher pivot, a shorter trough or a smaller pitch_max would do",
        )


def _trough(fit: Fit, option: str, saddle: Cradle) -> Iterator[Misfit]:
    screw, tube = fit.screws[saddle.screw], fit.tube
    through = saddle.cradle_thickness + saddle.cradle_clearance + tube.wall
    if screw.length < through:
        yield Misfit(
            options=(option, "tube"),
            message=f"screw {screw.id}, {screw.length:g} mm long, does not reach through {through:.2f} mm of trough "
            "and tube wall",
            allowed=f"at least {through:.2f} mm",
            hint="choose a longer screw",
        )
    if screw.length > through + 0.4 * tube.bore:
        yield Misfit(
            options=(option, "tube"),
            message=f"screw {screw.id}, {screw.length:g} mm long, reaches too far into tube {tube.id}",
            allowed=f"at most {through + 0.4 * tube.bore:.2f} mm",
            hint="choose a shorter screw",
        )
    least = saddle.stem_diameter + screw.head_diameter + 2 * _CLEAR
    most = saddle.cradle_length - screw.head_diameter
    if not least <= saddle.hole_spacing <= most:
        yield Misfit(
            options=(option, "tube"),
            message=f"hole_spacing {saddle.hole_spacing:g} mm puts the heads of screw {screw.id} against the stem or "
            "beyond the trough",
            allowed=f"{least:.2f} to {most:.2f} mm",
            hint="a slimmer stem or a longer trough would do",
        )


def _elbow(fit: Fit) -> Iterator[Misfit]:
    elbow, tube, screw = fit.elbow, fit.tube, fit.screws[fit.elbow.screw]
    room = elbow.take_off - elbow.collar_thickness
    needed = tube.radius * math.tan(elbow.hinge_max / 2) + 0.1
    if room < needed - _HAIR:
        largest = 2 * math.degrees(math.atan(max(0.0, room - 0.1) / tube.radius))
        yield Misfit(
            options=("elbow", "tube"),
            message=f"at hinge_max {math.degrees(elbow.hinge_max):.1f} degrees the two tubes {tube.id} run into each "
            f"other: take_off less collar_thickness is {room:.2f} mm",
            allowed=f"at least {needed:.2f} mm",
            hint=f"a hinge_max of {math.floor(largest)} degrees or a longer take_off would do",
        )
    if elbow.hub_diameter > tube.od + 10:
        yield Misfit(
            options=("elbow", "tube"),
            message=f"hub_diameter {elbow.hub_diameter:g} mm stands out beyond tube {tube.id}",
            allowed=f"at most {tube.od + 10:g} mm",
            hint="choose another elbow",
        )
    hold = screw.length - (tube.od - elbow.spigot_od) / 2
    if not 0.8 * screw.diameter <= hold <= 0.9 * elbow.spigot_od:
        yield Misfit(
            options=("elbow", "tube"),
            message=f"screw {screw.id} goes {hold:.2f} mm into the elbow's spigot",
            allowed=f"{0.8 * screw.diameter:.2f} to {0.9 * elbow.spigot_od:.2f} mm",
            hint="choose a screw of another length",
        )
    if elbow.screw_distance < screw.edge_distance:
        yield Misfit(
            options=("elbow", "tube"),
            message=f"screw_distance {elbow.screw_distance:g} mm is too near the tube's end for screw {screw.id}",
            allowed=f"at least {screw.edge_distance:g} mm",
            hint="choose another elbow or screw",
        )


def _elbow_saddle(fit: Fit) -> Iterator[Misfit]:
    """The stem passes the lower corner of the steepest tube, and the end of the level one."""
    elbow, saddle, radius = fit.elbow, fit.elbow_saddle, fit.tube.radius
    room = elbow.take_off - elbow.collar_thickness
    stem = saddle.stem_diameter / 2
    corner = radius * math.sin(saddle.pitch_max) - room * math.cos(saddle.pitch_max)
    if corner > saddle.stem_offset - stem - _CLEAR + _HAIR:
        yield Misfit(
            options=("elbow_saddle", "elbow"),
            message=f"at pitch_max {math.degrees(saddle.pitch_max):.1f} degrees the pitched tube's lower corner comes "
            f"to {corner:.2f} mm from the node, into the stem, which begins at {saddle.stem_offset - stem:.2f} mm",
            allowed=f"at most {saddle.stem_offset - stem - _CLEAR:.2f} mm",
            hint=_smaller_pitch(radius, room, saddle.stem_offset - stem - _CLEAR),
        )
    if saddle.stem_offset + stem + _CLEAR > room + _HAIR:
        yield Misfit(
            options=("elbow_saddle", "elbow"),
            message=f"the stem reaches {saddle.stem_offset + stem:.2f} mm towards the level tube, under its end",
            allowed=f"at most {room - _CLEAR:.2f} mm",
            hint="a slimmer stem, a smaller stem_offset or a longer take_off would do",
        )
    if saddle.node_height < saddle.cap_thickness + radius + _CLEAR:
        yield Misfit(
            options=("elbow_saddle", "tube"),
            message=f"node_height {saddle.node_height:g} mm brings the level tube into the cap",
            allowed=f"at least {saddle.cap_thickness + radius + _CLEAR:.2f} mm",
            hint="choose a higher elbow saddle",
        )


def _smaller_pitch(radius: float, room: float, limit: float) -> str:
    """The steepest pitch whose corner clears: radius sin p - room cos p = limit, solved for p."""
    reach = math.hypot(radius, room)
    steepest = math.asin(max(-1.0, min(1.0, limit / reach))) + math.atan2(room, radius)
    if steepest <= 0:
        return "a slimmer stem or a longer take_off would do"
    return f"a pitch_max of {math.floor(math.degrees(steepest) * 10) / 10:g} degrees or a slimmer stem would do"
