"""Post heads with a trough under the rail: fixed, and adjustable as stem and cradle that turn on each other."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cadquery import Solid

from railgen.catalogue.models import AdjustableSaddle, Cradle, FixedSaddle, PostHead
from railgen.geometry import ORIGIN, Frame, Vec
from railgen.members.pieces import FaceHole
from railgen.solids.drill import drilled
from railgen.solids.shapes import Arc, Outline, Point, cut, cylinder, fuse, prism, refuse, revolve

__all__ = ["fixed_saddle", "pivot_radius", "post_head", "saddle_cradle", "saddle_stem"]

SIDE_CLEARANCE = 0.1  # mm between tongue and cheek, and all round the pivot pin in the cheeks
TURN_CLEARANCE = 0.2  # mm between what turns about the pivot and what it passes
_LEAST_WALL = 1.5  # mm of metal around a pivot pin

_ALONG = Frame(origin=ORIGIN, x=Vec(0, 1, 0), z=Vec(1, 0, 0))  # outlines in y and z, extruded along x
_ACROSS = Frame(origin=ORIGIN, x=Vec(1, 0, 0), z=Vec(0, -1, 0))  # outlines in x and z, extruded along -y


def post_head(item: PostHead, stem_top: float) -> Solid:
    """Hollow spigot, cap, and a round stem in the middle up to ``stem_top``."""
    outer, inner = item.spigot_od / 2, item.spigot_od / 2 - item.spigot_wall
    cap, low, stem = item.cap_diameter / 2, -item.spigot_length, item.stem_diameter / 2
    if stem >= cap or outer > cap:
        raise refuse(item.id, "the cap is narrower than its stem or its spigot", "measure cap_diameter again")
    bottom: Outline = [(0, low)] if inner <= 0 else [(0, 0), (inner, 0), (inner, low)]
    edge = min(0.5, item.cap_thickness / 4, (cap - stem) / 4)  # the sharp edge is broken
    corner = edge * (1 - math.sqrt(0.5))
    top = item.cap_thickness
    outline: Outline = [
        *bottom,
        (outer, low),
        (outer, 0),
        (cap, 0),
        (cap, top - edge),
        Arc((cap - corner, top - corner), (cap - edge, top)),
    ]
    if stem_top > top:
        outline += [(stem, top), (stem, stem_top), (0, stem_top)]
    else:
        outline += [(0, top)]
    return revolve(outline)


def fixed_saddle(item: FixedSaddle, od: float, holes: Sequence[FaceHole]) -> Solid:
    """Spigot, cap, stem and the trough it carries."""
    middle = _check_trough(item, od, item.stem_diameter / 2)
    top = item.centre_height - math.sqrt(middle**2 - (item.stem_diameter / 2) ** 2)
    if item.centre_height - middle <= item.cap_thickness:
        raise refuse(item.id, "the trough is lower than the cap", "measure centre_height from the post's top end")
    head = cut(post_head(item, top), [cylinder(_tube_axis(item.centre_height), middle, -od, od)])
    return drilled(fuse(head, _trough(item, od, item.centre_height)), holes)


def saddle_stem(item: AdjustableSaddle, od: float, holes: Sequence[FaceHole]) -> Solid:
    """Spigot, cap, stem and the rounded tongue with the pivot pin fixed in it."""
    radius, half, pivot = pivot_radius(item, od), item.tongue_thickness / 2, item.pivot_height
    shoulder = pivot - radius - TURN_CLEARANCE  # the cheeks turn above it
    if shoulder <= item.cap_thickness:
        raise refuse(item.id, "the cheeks would turn into the cap", "measure pivot_height from the post's top end")
    if half >= item.stem_diameter / 2:
        raise refuse(item.id, "the tongue is thicker than the stem", "measure tongue_thickness across the rail")
    root = shoulder - min(2.0, (shoulder - item.cap_thickness) / 2)
    outline: Outline = [(-radius, root), (radius, root), (radius, pivot), Arc((0, pivot + radius), (-radius, pivot))]
    tongue = prism(outline, _ACROSS.shifted(Vec(0, 0, -half)), item.tongue_thickness)
    reach = half + SIDE_CLEARANCE + item.cheek_thickness
    pin = cylinder(_ACROSS.shifted(Vec(0, pivot, 0)), item.pivot_diameter / 2, -reach, reach)
    return drilled(fuse(post_head(item, shoulder), tongue, pin), holes)


def saddle_cradle(item: AdjustableSaddle, od: float, holes: Sequence[FaceHole]) -> Solid:
    """The trough and the two rounded cheeks that hang from it beside the tongue, bored for the pivot pin."""
    radius, near = pivot_radius(item, od), item.tongue_thickness / 2 + SIDE_CLEARANCE
    centre = item.pivot_to_centre
    middle = _check_trough(item, od, near + item.cheek_thickness)
    top = centre - math.sqrt(middle**2 - (near + item.cheek_thickness) ** 2)
    outline: Outline = [(radius, 0), (radius, top), (-radius, top), (-radius, 0), Arc((0, -radius), (radius, 0))]
    cheeks = [
        prism(outline, _ACROSS.shifted(Vec(0, 0, low)), item.cheek_thickness)
        for low in (near, -near - item.cheek_thickness)
    ]
    under_tube = cylinder(_tube_axis(centre), middle, -od, od)
    body = fuse(_trough(item, od, centre), *(cut(cheek, [under_tube]) for cheek in cheeks))
    far = near + item.cheek_thickness + 1
    bored = cut(body, [cylinder(_ACROSS, item.pivot_diameter / 2 + SIDE_CLEARANCE, -far, far)])
    return drilled(bored, holes)


def pivot_radius(item: AdjustableSaddle, od: float) -> float:
    """Radius to which tongue and cheeks are rounded about the pivot: the stem's, or what clears the trough.

    Raises InputError where that leaves too little metal around the pin.
    """
    radius = min(item.stem_diameter / 2, item.under(od) - TURN_CLEARANCE)
    if radius < item.pivot_diameter / 2 + _LEAST_WALL:
        raise refuse(
            item.id,
            f"only {radius:.1f} mm are left from the pivot's axis to the edge of the tongue, "
            f"the pin of {item.pivot_diameter:g} mm needs {item.pivot_diameter / 2 + _LEAST_WALL:g} mm",
            "a larger pivot_to_centre or stem_diameter, a thinner pivot pin or trough",
        )
    return radius


def _tube_axis(height: float) -> Frame:
    return Frame(origin=Vec(0, 0, height), x=Vec(0, 1, 0), z=Vec(1, 0, 0))


def _check_trough(item: Cradle, od: float, half_width: float) -> float:
    """Radius of the trough's middle surface, where what carries it ends; that must be within the trough's width."""
    middle = od / 2 + item.cradle_clearance + item.cradle_thickness / 2
    if half_width >= middle * math.sin(min(item.cradle_angle, math.pi) / 2):
        raise refuse(item.id, "the trough is narrower than what carries it", "a larger cradle_angle")
    return middle


def _trough(item: Cradle, od: float, centre: float) -> Solid:
    """A sector of a thick pipe under the tube."""
    inner = od / 2 + item.cradle_clearance
    outer, half = inner + item.cradle_thickness, item.cradle_angle / 2

    def at(radius: float, angle: float) -> Point:
        return radius * math.sin(angle), centre - radius * math.cos(angle)

    outline: Outline = [
        at(outer, -half),
        Arc(at(outer, 0), at(outer, half)),
        at(inner, half),
        Arc(at(inner, 0), at(inner, -half)),
    ]
    return prism(outline, _ALONG.shifted(Vec(0, 0, -item.cradle_length / 2)), item.cradle_length)
