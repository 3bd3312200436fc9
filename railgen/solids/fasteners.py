"""Rivets, screws and anchors, as they look when set. Threads are not modelled: a shank has the thread's diameter."""

from __future__ import annotations

import math

from cadquery import Solid

from railgen.catalogue.models import Anchor, Rivet, Screw
from railgen.geometry import ORIGIN, Frame, Vec
from railgen.solids.shapes import Arc, Outline, cut, prism, refuse, revolve

__all__ = ["anchor", "rivet", "screw"]

CONE_CLEARANCE = 0.1  # mm, square to the cone, between an anchor's head and a countersink of the same size
_SOCKET = 0.6  # of the screw's diameter: width across flats of the hexagon in its head
_DEEP = 0.6  # of the head's height: depth of that hexagon


def rivet(item: Rivet) -> Solid:
    """A domed head above z = 0 and a plain body below it."""
    return revolve([(0, -item.length), (item.diameter / 2, -item.length), (item.diameter / 2, 0), *_button(item)])


def screw(item: Screw) -> Solid:
    """A button head with a hexagon socket, and a shank below it."""
    shank = item.diameter / 2
    tip = min(1.0, shank / 4, item.length / 4)
    outline: Outline = [
        (0, -item.length),
        (shank - tip, -item.length),
        (shank, tip - item.length),
        (shank, 0),
        *_button(item),
    ]
    corner = _SOCKET * item.diameter / math.sqrt(3)
    hexagon: Outline = [(corner * math.cos(k * math.pi / 3), corner * math.sin(k * math.pi / 3)) for k in range(6)]
    floor = Frame(origin=ORIGIN + Vec(0, 0, item.head_height * (1 - _DEEP)), x=Vec(1, 0, 0), z=Vec(0, 0, 1))
    return cut(revolve(outline), [prism(hexagon, floor, item.head_height)])


def anchor(item: Anchor) -> Solid:
    """A countersunk head flush with z = 0, and a pointed shank; drawn with clearance in its countersink."""
    head, shank = item.head_diameter / 2 - CONE_CLEARANCE * math.sqrt(2), item.diameter / 2
    if head <= shank or item.length <= head:
        raise refuse(item.id, "the head is no wider than the shank, or the anchor is too short", "measure it again")
    point = min(item.diameter, (item.length - head) / 2)
    return revolve([(0, -item.length), (shank, point - item.length), (shank, shank - head), (head, 0), (0, 0)])


def _button(item: Rivet | Screw) -> Outline:
    """Outline of a domed head from its rim to its top: a part of a ball."""
    radius, height = item.head_diameter / 2, item.head_height
    if radius <= item.diameter / 2 or height > radius:
        raise refuse(item.id, "the head is no wider than the shank, or no dome is so high", "measure the head again")
    ball = (radius**2 + height**2) / (2 * height)
    half = math.atan2(radius, ball - height) / 2
    return [(radius, 0), Arc((ball * math.sin(half), height - ball * (1 - math.cos(half))), (0, height))]
