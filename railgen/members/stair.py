"""Treads, landings and floors as reference bodies with their anchor holes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from railgen.geometry import UP, Frame
from railgen.job.model import Job, Landing, Side
from railgen.layout.model import Layout
from railgen.members.pieces import Group, Placed, StairBody, SurfaceHole
from railgen.survey import FlightSurvey, SurfaceId, surface_at

__all__ = ["body_of", "landing_outline", "stair_bodies", "tread_thickness"]

_FLOOR = 350.0  # mm of floor shown beyond the projected tread in front and behind the last nosing
_BEYOND = 100.0  # mm of floor shown beyond the rail's end
_GAP = 1.0  # mm kept between a slab and the tread below it

AnchorHoles = Mapping[SurfaceId, Sequence[tuple[SurfaceHole, Frame]]]
"""For each surface: anchor holes in the frame of their plate, and that frame."""


def body_of(surface: SurfaceId) -> str:
    """Occurrence id of a surface's body."""
    return f"{surface}.body"


def stair_bodies(job: Job, layout: Layout, anchors: AnchorHoles) -> tuple[tuple[StairBody, Placed], ...]:
    """Every tread, landing and floor, placed; holes are given in the body's own frame."""
    flights, landings = layout.survey.flights, layout.survey.landings
    first, last = flights[0], flights[-1]
    begin, end = layout.rails[0].start, layout.rails[-1].end
    front = max(first.flight.design_going + _FLOOR, _BEYOND - first.along(begin))
    back = max(last.flight.design_going + _FLOOR, last.along(end) - last.xs[-1] + _BEYOND)
    slabs = [_slab(surface_at(job, 1, 0), first, 0.0, first.foot.z, (-front, first.flight.overhang))]
    for index, flight in enumerate(flights):
        for tread in range(1, flight.last):
            extent = (0.0, flight.going_of(tread) + flight.flight.overhang)
            surface = surface_at(job, flight.flight.number, tread)
            slabs.append(_slab(surface, flight, flight.tread_x(tread), flight.tread_z(tread), extent))
        if index < len(landings):
            frame = _frame(flight, flight.xs[-1], flight.top_level)
            outline = landing_outline(landings[index], flight, flights[index + 1])
            thickness = min(landings[index].thickness, flight.flight.risers[-1] - _GAP)
            surface = surface_at(job, flight.flight.number, flight.last)
            slabs.append((_body(surface, outline, thickness), frame))
    slabs.append(_slab(surface_at(job, last.flight.number, last.last), last, last.xs[-1], last.top_level, (0.0, back)))
    return tuple(
        (
            replace(body, holes=_holes(anchors.get(body.surface, ()), frame, body.thickness)),
            Placed(id=body_of(body.surface), mark=body.mark, frame=frame, group=Group.STAIR),
        )
        for body, frame in slabs
    )


def _slab(
    surface: SurfaceId, flight: FlightSurvey, x: float, z: float, extent: tuple[float, float]
) -> tuple[StairBody, Frame]:
    """A rectangle of the flight's width, from ``extent[0]`` to ``extent[1]`` along the flight from ``x``."""
    (low, high), width = extent, flight.flight.width
    outline = ((low, -width), (high, -width), (high, 0.0), (low, 0.0))
    return _body(surface, outline, tread_thickness(flight)), _frame(flight, x, z)


def _body(surface: SurfaceId, outline: tuple[tuple[float, float], ...], thickness: float) -> StairBody:
    return StairBody(mark=str(surface), surface=surface, outline=outline, thickness=thickness)


def tread_thickness(flight: FlightSurvey) -> float:
    """How thick its treads and floors are shown: as they are, but clear of the tread below."""
    return min(flight.flight.tread_thickness, min(flight.flight.risers) - _GAP)


def _frame(flight: FlightSurvey, x: float, z: float) -> Frame:
    return Frame(origin=flight.at(x, 0.0, z), x=flight.ahead, z=UP)


def landing_outline(landing: Landing, lower: FlightSurvey, upper: FlightSurvey) -> tuple[tuple[float, float], ...]:
    """Outline from the landing nosing's left end; the landing runs under the upper flight's first nosing."""
    length, width, above = landing.length, lower.flight.width, upper.flight.width
    under, offset = upper.flight.overhang, landing.upper_offset
    # (along the lower flight, inward from its edge on the inside of the turn), anticlockwise for a left turn
    if landing.turn.quarters == 0:
        points = [(0.0, -width), (length + under, -width), (length + under, 0.0), (0.0, 0.0)]
    elif landing.turn.quarters == 1:
        far, inner = offset + under, length - above
        points = [(0.0, -width), (length, -width), (length, far), (inner, far), (inner, 0.0), (0.0, 0.0)]
    else:
        back, well = offset - under, landing.well
        points = [
            (0.0, -width),
            (length, -width),
            (length, well + above),
            (back, well + above),
            (back, well),
            (0.0, well),
        ]
    outline = [a for a, b in zip(points, [*points[1:], points[0]], strict=True) if a != b]
    if landing.turn.side is Side.RIGHT:
        outline = [(along, -width - inward) for along, inward in reversed(outline)]
    return tuple(outline)


def _holes(anchors: Iterable[tuple[SurfaceHole, Frame]], frame: Frame, thickness: float) -> tuple[SurfaceHole, ...]:
    return tuple(
        replace(
            hole,
            depth=thickness if math.isinf(hole.depth) else hole.depth,
            point=frame.local(plate.point(hole.point)),
            axis=frame.local_direction(plate.direction(hole.axis)),
        )
        for hole, plate in anchors
    )
