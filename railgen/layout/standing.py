"""Whether the posts can stand where the solver put them: on the tread, clear of nosing, riser, edge and each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from railgen.errors import Fault
from railgen.geometry import UP
from railgen.job.model import Job, Landing, PostLengths
from railgen.layout.joins import Join, JoinMode
from railgen.layout.level import FlightLine
from railgen.layout.model import Post
from railgen.survey import FlightSurvey

__all__ = ["standing_faults"]

_UNDER = 2.0  # mm of material left under an anchor hole
_HAIR = 1e-6  # mm: rounding, not a dimension


def standing_faults(
    job: Job, lines: Sequence[FlightLine], joins: Sequence[Join], posts: Sequence[Post]
) -> Iterator[Fault]:
    """Every reason why a post cannot stand, with the number and what would help."""
    for index, solved in enumerate(lines):
        below = joins[index - 1] if index else None
        above = joins[index] if index < len(joins) else None
        yield from _band_faults(job, solved, below, above, lines, index)
        for post in posts:  # where a corner's one post serves two flights, it is the lower one's
            if post.flight == solved.flight.flight.number and post.tread is not None and post.setback is not None:
                yield from _tread_faults(job, solved.flight, post.tread, post.setback, index)
    yield from _side_faults(job, min(solved.flight.flight.width for solved in lines))
    hardware = job.hardware
    least = hardware.base_plate.socket_height + hardware.adjustable_saddle.spigot_length + 5.0
    for post in posts:
        if post.length < least:
            yield Fault(
                code="post-too-short",
                where=f"post {post.id}",
                message=f"its length comes out at {post.length:.1f} mm",
                allowed=f"at least {least:.1f} mm, for socket and saddle spigot",
                hint="raise rail.least_height",
            )
    yield from _crowding_faults(job, posts)


def half_size(job: Job) -> tuple[float, float]:
    """Half the footprint of plate and cover, along and across the flight (mm)."""
    plate, cover = job.hardware.base_plate, job.hardware.cover_plate
    along = max(plate.length, cover.length if cover else 0.0)
    across = max(plate.width, cover.width if cover else 0.0)
    return along / 2, across / 2


def _band_faults(
    job: Job, solved: FlightLine, below: Join | None, above: Join | None, lines: Sequence[FlightLine], index: int
) -> Iterator[Fault]:
    low, high = job.posts.setback_min, job.posts.setback_max
    corner_below = below is not None and below.mode is JoinMode.SHARED
    corner_above = above is not None and above.mode is JoinMode.SHARED
    for k, (station, setback) in enumerate(zip(solved.stations, solved.line.setbacks, strict=True)):
        if (corner_below and k == 0) or (corner_above and k == len(solved.stations) - 1):
            continue
        if low - _HAIR <= setback <= high + _HAIR:
            continue
        hint = "another tread, or a wider band, would help"
        if job.posts.lengths is PostLengths.EQUAL:
            hint = 'another tread, posts.lengths = "cut", or a wider band would help'
        if corner_above and above is not None:
            hint = f"{_corner_mismatch(solved, lines[index + 1], above)}; {hint}"
        elif corner_below and below is not None:
            hint = f"{_corner_mismatch(lines[index - 1], solved, below)}; {hint}"
        yield Fault(
            code="setback-band",
            where=f"{solved.where}, tread {station.tread}",
            message=f"the post would need a setback of {setback:.1f} mm to put all supports on one line",
            allowed=f"{low:.1f} to {high:.1f} mm",
            hint=hint,
        )


def _corner_mismatch(lower: FlightLine, upper: FlightLine, join: Join) -> str:
    """By how much the two pitch lines miss each other at a corner, and what would make them meet (in words)."""
    slope1, slope2 = math.tan(lower.flight.pitch()), math.tan(upper.flight.pitch())
    at_lower = (join.lower_x - lower.flight.xs[-1]) * slope1
    at_upper = upper.flight.flight.risers[0] + join.upper_x * slope2
    miss = at_upper - at_lower
    way = "further from" if miss > 0 else "nearer to"
    return (
        f"the pitch lines miss each other by {abs(miss):.1f} mm at the inner corner; they would meet with the upper "
        f'flight\'s first riser {abs(miss) / slope2:.1f} mm {way} the lower flight, or with corner = "rise-piece"'
    )


def _tread_faults(job: Job, flight: FlightSurvey, tread: int, setback: float, index: int) -> Iterator[Fault]:
    plate, where = job.hardware.base_plate, f"flight {flight.flight.number}, tread {tread}"
    half, _ = half_size(job)
    bolt, edge = plate.hole_spacing_length / 2, job.hardware.anchor.edge_distance
    overhang, radius = flight.flight.overhang, job.hardware.post_tube.radius
    thickness = _thickness(job, index, tread, flight.last)
    if job.hardware.anchor.hole_depth > thickness - _UNDER:
        yield Fault(
            code="anchor-depth",
            where=where,
            message=f"anchor {job.hardware.anchor.id} needs a hole {job.hardware.anchor.hole_depth:.1f} mm deep",
            allowed=f"at most {thickness - _UNDER:.1f} mm in what is {thickness:.1f} mm thick",
            hint="choose a shorter anchor, or give the true thickness",
        )
    going = flight.going_of(tread)
    if tread > 0:
        if setback < half - _HAIR:
            yield _over(where, "plate-over-nosing", "the plate reaches over the nosing", half - setback, setback)
        if setback - bolt < edge - _HAIR:
            yield _edge(where, "the nosing", setback - bolt, edge)
    landing = _landing_at(job, tread, flight.last, index)
    if tread == flight.last:
        if landing is not None and setback + half > landing.length + _HAIR:
            excess = setback + half - landing.length
            yield _over(where, "plate-off-landing", "the plate reaches past the landing", excess, setback)
        return
    if setback + radius > going + _HAIR:
        excess = setback + radius - going
        yield _over(where, "post-into-nosing", "the post runs into the nosing above", excess, setback)
    if setback + half > going + overhang + _HAIR:
        excess = setback + half - going - overhang
        yield _over(where, "plate-into-riser", "the plate runs into the riser behind", excess, setback)
    if tread > 0 and going + overhang - setback - bolt < edge - _HAIR:
        yield _edge(where, "the back of the tread", going + overhang - setback - bolt, edge)
    if tread == 0 and landing is not None:
        room = _room_behind(job, landing, index) - going + setback - half
        if room < -_HAIR:
            yield _over(where, "plate-off-landing", "the plate reaches off the landing", -room, setback)


def _thickness(job: Job, index: int, tread: int, last: int) -> float:
    """Thickness of what a post stands on; a floor is taken as thick as its flight's treads."""
    landing = _landing_at(job, tread, last, index)
    return job.flights[index].tread_thickness if landing is None else landing.thickness


def _landing_at(job: Job, tread: int, last: int, index: int) -> Landing | None:
    if tread == 0 and index > 0:
        return job.landings[index - 1]
    return job.landings[index] if tread == last and index < len(job.landings) else None


def _room_behind(job: Job, landing: Landing, index: int) -> float:
    """How far the landing reaches back from the upper flight's first nosing, against walking up."""
    if landing.turn.quarters == 1:
        return job.flights[index - 1].width + landing.upper_offset
    return landing.length - (landing.upper_offset if landing.turn.quarters == 2 else 0.0)


def _over(where: str, code: str, what: str, excess: float, setback: float) -> Fault:
    return Fault(
        code=code,
        where=where,
        message=f"{what} by {excess:.1f} mm at a setback of {setback:.1f} mm",
        hint="another tread, another setback or a smaller plate would help",
    )


def _edge(where: str, edge: str, distance: float, least: float) -> Fault:
    return Fault(
        code="anchor-edge",
        where=where,
        message=f"an anchor comes {distance:.1f} mm from {edge}",
        allowed=f"at least {least:.1f} mm",
        hint="move the post, or choose a smaller plate or another anchor",
    )


def _side_faults(job: Job, width: float) -> Iterator[Fault]:
    plate, offset = job.hardware.base_plate, job.posts.edge_offset
    _, half = half_size(job)
    least = job.hardware.anchor.edge_distance
    if offset < half - _HAIR or offset + half > width + _HAIR:
        yield Fault(
            code="plate-over-edge",
            where="posts.edge_offset",
            message=f"at {offset:.1f} mm from the edge the plate or its cover, {2 * half:.1f} mm wide, overhangs",
            allowed=f"{half:.1f} to {width - half:.1f} mm",
        )
        return
    edge = max(offset, job.ground.edge_side or 0.0)  # what bears may run on beyond the tread
    if edge - plate.hole_spacing_width / 2 < least - _HAIR:
        yield _edge("posts.edge_offset", "the side of the tread", edge - plate.hole_spacing_width / 2, least)


def _crowding_faults(job: Job, posts: Sequence[Post]) -> Iterator[Fault]:
    """Plates or covers on one surface that would lie on each other: rectangles, tested along all four axes."""
    along, across = half_size(job)
    for a, b in combinations(posts, 2):
        if a.surface != b.surface:
            continue
        axes = [axis for post in (a, b) for axis in (post.ahead, UP.cross(post.ahead))]
        gap = max(
            abs((b.base - a.base).dot(axis))
            - sum(along * abs(post.ahead.dot(axis)) + across * abs(UP.cross(post.ahead).dot(axis)) for post in (a, b))
            for axis in axes
        )
        if gap < -_HAIR:
            yield Fault(
                code="plates-overlap",
                where=f"posts {a.id} and {b.id}",
                message=f"their plates or covers overlap by {-gap:.1f} mm on {a.surface}",
                hint="change the setbacks, leave one post out, or make the landing or well larger",
            )
