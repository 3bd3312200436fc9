"""What closes a free tube end: caps and scrolls."""

from __future__ import annotations

import math

from cadquery import Solid

from railgen.catalogue.models import EndCap, EndScroll
from railgen.geometry import Frame, Vec
from railgen.solids.shapes import UPRIGHT, Arc, Outline, cylinder, fuse, refuse, revolve

__all__ = ["end_cap", "end_scroll"]


def end_cap(item: EndCap, od: float) -> Solid:
    """A disc of the tube's diameter with a rounded edge, and a spigot inside the tube."""
    disc, spigot, top = od / 2, item.spigot_od / 2, item.thickness
    if spigot > disc:
        raise refuse(item.id, "the spigot is thicker than the tube", "this cap is for a larger tube")
    edge = min(1.5, item.thickness / 2)
    corner = edge * (1 - math.sqrt(0.5))
    outline: Outline = [
        (0, -item.spigot_length),
        (spigot, -item.spigot_length),
        (spigot, 0),
        (disc, 0),
        (disc, top - edge),
        Arc((disc - corner, top - corner), (disc - edge, top)),
        (0, top),
    ]
    return revolve(outline)


def end_scroll(item: EndScroll, od: float) -> Solid:
    """A bar of the tube's diameter curled towards x, its free end domed, and a spigot inside the tube."""
    radius, bend = od / 2, item.bend_radius
    if bend <= radius:
        raise refuse(item.id, "the curl is tighter than the bar is thick", "bend_radius is to the bar's centreline")
    if item.turn > math.pi and bend * (1 - math.cos(item.turn)) < od:
        raise refuse(item.id, "the curl runs back into its own tube", "a smaller turn or a larger bend_radius")
    if item.spigot_od > od:
        raise refuse(item.id, "the spigot is thicker than the tube", "this scroll is for a larger tube")
    axis = Frame(origin=Vec(bend, 0, 0), x=Vec(-1, 0, 0), z=Vec(0, 1, 0))  # turns -x towards z
    section: Outline = [
        (bend - radius, 0),
        Arc((bend, radius), (bend + radius, 0)),
        Arc((bend, -radius), (bend - radius, 0)),
    ]
    bar = revolve(section, axis, item.turn)
    spigot = cylinder(UPRIGHT, item.spigot_od / 2, -item.spigot_length, 0.0)
    return fuse(bar, spigot, _dome(item, radius))


def _dome(item: EndScroll, radius: float) -> Solid:
    """A shallow dome on the bar's free end, a fifth as high as it is wide."""
    c, s = math.cos(item.turn), math.sin(item.turn)
    end = Frame(origin=Vec(item.bend_radius * (1 - c), 0, item.bend_radius * s), x=Vec(0, 1, 0), z=Vec(s, 0, c))
    height = 0.4 * radius
    ball = (radius**2 + height**2) / (2 * height)
    half = math.asin(radius / ball) / 2
    via = (ball * math.sin(half), height - ball * (1 - math.cos(half)))
    return revolve([(0, 0), (radius, 0), Arc(via, (0, height))], end)
