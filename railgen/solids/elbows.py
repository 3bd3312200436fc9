"""Adjustable elbows: two legs whose halves of a ball turn on each other, their pin, and the saddle that carries them.

Within a ball a little larger than the hub each leg keeps to its own range along the hinge axis; outside it each leg is
round about its own tube's axis. So the halves cannot meet however they are turned, until collar meets collar.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from cadquery import Solid

from railgen.catalogue.models import Elbow, ElbowSaddle
from railgen.geometry import ORIGIN, Frame, Vec
from railgen.members.pieces import FaceHole
from railgen.solids.drill import drilled
from railgen.solids.saddles import post_head
from railgen.solids.shapes import UPRIGHT, Arc, Outline, Point, cut, cylinder, fuse, refuse, revolve

__all__ = ["elbow_fork", "elbow_pin", "elbow_saddle", "elbow_tongue"]

GAP = 0.1  # mm each half keeps from the plane between them, the pin from its bore, the saddle's stem from the hub
ROOM = 0.2  # mm by which the ball that the other half turns in is larger than the hub

_HINGE = Frame(origin=ORIGIN, x=Vec(0, 0, 1), z=Vec(1, 0, 0))  # z along the hinge axis of a leg


def elbow_tongue(item: Elbow, od: float, holes: Sequence[FaceHole]) -> Solid:
    """The leg with the middle slice of the ball."""
    room, limit = item.hub_diameter / 2 + ROOM, item.tongue_thickness / 2 - GAP
    return _leg(item, od, holes, [_slice(room, limit, room), _slice(room, -room, -limit)])


def elbow_fork(item: Elbow, od: float, holes: Sequence[FaceHole]) -> Solid:
    """The leg with the two outer slices of the ball."""
    room, limit = item.hub_diameter / 2 + ROOM, item.tongue_thickness / 2 + GAP
    return _leg(item, od, holes, [_slice(room, -limit, limit)])


def elbow_pin(item: Elbow) -> Solid:
    """The pin, as long as it can be within the ball."""
    radius, hub = item.pin_diameter / 2, item.hub_diameter / 2
    if radius >= hub:
        raise refuse(item.id, "the hinge pin is thicker than the hub", "measure pin_diameter and hub_diameter again")
    half = math.sqrt(hub**2 - radius**2)
    return cylinder(UPRIGHT, radius, -half, half)


def elbow_saddle(item: ElbowSaddle, mate: Elbow, holes: Sequence[FaceHole]) -> Solid:
    """Spigot, cap, and a stem that reaches up under the hub and the level leg's neck, just clear of both."""
    hub, neck = mate.hub_diameter / 2 + GAP, mate.neck_diameter / 2 + GAP
    stem, offset, node = item.stem_diameter / 2, item.stem_offset, item.node_height
    if offset + stem <= hub:
        depth = math.sqrt(hub**2 - (offset + stem) ** 2)  # all of the stem ends under the ball
    else:
        depth = math.sqrt(max(neck**2 - stem**2, 0.0))
    head = post_head(item, 0.0)
    low, high = item.cap_thickness / 2, node - depth
    if node - hub <= item.cap_thickness or offset + stem > item.cap_diameter / 2:
        raise refuse(item.id, "no stem fits between the cap and the hub", "measure node_height and stem_offset again")
    post = cylinder(UPRIGHT.shifted(Vec(offset, 0, 0)), stem, low, high)
    ball = revolve([(0, -hub), Arc((hub, 0), (0, hub))], UPRIGHT.shifted(Vec(0, 0, node)))
    level = cylinder(Frame(origin=Vec(0, 0, node), x=Vec(0, 0, 1), z=Vec(1, 0, 0)), neck, 0.0, offset + stem + 1)
    tools = [ball] if offset + stem <= hub else [ball, level]
    return drilled(fuse(head, cut(post, tools)), holes)


def _leg(item: Elbow, od: float, holes: Sequence[FaceHole], others: Sequence[Solid]) -> Solid:
    """Ball, neck, collar and spigot as one body of revolution, without the other half's room and the pin's bore."""
    hub, neck, spigot = item.hub_diameter / 2, item.neck_diameter / 2, item.spigot_od / 2
    collar, cut_end = item.take_off - item.collar_thickness, item.take_off
    _check(item, od)
    meets = math.sqrt(hub**2 - neck**2)
    turn = math.pi / 2 + math.atan2(meets, neck)  # from the ball's far point to the neck
    end, edge = cut_end + item.spigot_length, min(1.0, item.spigot_length / 4, spigot / 4)
    outline: Outline = [
        (0, -hub),
        Arc((hub * math.sin(turn / 2), -hub * math.cos(turn / 2)), (neck, meets)),
        (neck, collar),
        (od / 2, collar),
        (od / 2, cut_end),
        (spigot, cut_end),
        (spigot, end - edge),
        (spigot - edge, end),
        (0, end),
    ]
    reach = hub + 1  # a tool that ends where it touches the ball misleads the kernel
    pin = cylinder(_HINGE, item.pin_diameter / 2 + GAP, -reach, reach)
    return drilled(cut(revolve(outline), [*others, pin]), holes)


def _slice(radius: float, low: float, high: float) -> Solid:
    """The part of a ball between two planes square to the hinge axis."""
    start, end = math.acos(high / radius), math.acos(low / radius)
    middle = (start + end) / 2

    def at(angle: float) -> Point:
        return radius * math.sin(angle), radius * math.cos(angle)

    return revolve([(0, high), at(start), Arc(at(middle), at(end)), (0, low)], _HINGE)


def _check(item: Elbow, od: float) -> None:
    """Refuse dimensions that leave nothing to hold a half, or run one part of it into another."""
    hub, neck, half = item.hub_diameter / 2, item.neck_diameter / 2, item.tongue_thickness / 2
    if item.take_off - item.collar_thickness <= hub + ROOM:
        raise refuse(item.id, "the hub reaches the collar", "a larger take_off, a smaller hub or collar")
    if neck >= hub:
        raise refuse(item.id, "the neck is as thick as the hub", "measure neck_diameter between hub and collar")
    if half + GAP >= neck - 1.0:
        raise refuse(item.id, "the tongue is nearly as thick as the neck that carries the fork", "a thinner tongue")
    if half <= 2 * GAP:
        raise refuse(item.id, "the tongue is too thin to be made", "measure tongue_thickness again")
    if item.pin_diameter / 2 + GAP >= hub - 1.0:
        raise refuse(item.id, "the hinge pin leaves nothing of the hub", "a thinner pin")
    if item.spigot_od > od or neck >= od / 2:
        raise refuse(item.id, "spigot or neck is thicker than the tube", "this elbow is for a larger tube")
