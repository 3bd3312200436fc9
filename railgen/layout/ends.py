"""Level ends of the rail: where the pitched tube bends to run on level over the floor, and the post under it.

Tubes whose tops have one height meet over the nosing (at the foot of the stair: over projected nosing 0); their
centrelines meet ``r tan(pitch / 2)`` further up the flight.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from railgen.errors import Fault
from railgen.job.model import Job
from railgen.layout.level import FlightLine
from railgen.layout.reach import finish_spigot, saddle_room
from railgen.layout.wording import between, by_default, least, most, said
from railgen.survey import FlightSurvey

__all__ = ["LevelEnd", "bottom_end", "end_faults", "end_notes", "post_on_top", "top_end"]

_HAIR = 1e-6  # mm: rounding, not a dimension
_FREE = 1000.0  # mm of rail beyond an end post: the largest overhang a job may ask for


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelEnd:
    """A level part at an end of the rail, in mm along its flight from the first nosing.

    ``low`` and ``high`` bound where a post may stand under it: clear of the elbow's spigot and of the finish's.
    """

    nosing: float  # where the tops of both tubes meet
    node: float  # where the centrelines meet
    tip: float  # the cut end
    low: float
    high: float
    post: float | None  # the axis of the post under it
    height: float  # of its top over the floor

    @property
    def setback(self) -> float | None:
        return None if self.post is None else self.post - self.nosing


def post_on_top(flight: FlightSurvey) -> bool:
    """Whether a post stands on the floor the last flight arrives on."""
    return flight.flight.posts is None or flight.last in flight.flight.posts


def top_end(job: Job, solved: FlightLine) -> LevelEnd | None:
    """The level part over the floor at the top; None where the job asks for none."""
    length, flight = job.rail.top.level, solved.flight
    if length is None:
        return None
    nosing = flight.xs[-1]
    node, tip = nosing + _further(job, solved), nosing + length
    hardware = job.hardware
    low = node + hardware.elbow.take_off + saddle_room(hardware, hardware.fixed_saddle, hardware.elbow.spigot_length)
    high = tip - saddle_room(hardware, hardware.fixed_saddle, finish_spigot(hardware, job.rail.top))
    post = min(max(nosing + job.posts.setback, low), high) if post_on_top(flight) else None
    return LevelEnd(
        nosing=nosing,
        node=node,
        tip=tip,
        low=low,
        high=high,
        post=post,
        height=solved.line.z(node) + job.hardware.tube.radius - flight.top_level,
    )


def bottom_end(job: Job, solved: FlightLine) -> LevelEnd | None:
    """The level part over the floor in front of the stair, which stands free; None where the job asks for none."""
    length, flight = job.rail.bottom.level, solved.flight
    if length is None:
        return None
    nosing = flight.tread_x(0)
    node, tip = nosing + _further(job, solved), nosing - length
    return LevelEnd(
        nosing=nosing,
        node=node,
        tip=tip,
        low=tip,
        high=node,
        post=None,
        height=solved.line.z(node) + job.hardware.tube.radius - flight.foot.z,
    )


def _further(job: Job, solved: FlightLine) -> float:
    return job.hardware.tube.radius * math.tan(solved.line.pitch / 2)


def end_faults(job: Job, first: FlightLine, last: FlightLine) -> Iterator[Fault]:
    """Level parts too short for what sits in them, and a post under one outside its setback band."""
    for key, finish, solved, end in (
        ("bottom", job.rail.bottom, first, bottom_end(job, first)),
        ("top", job.rail.top, last, top_end(job, last)),
    ):
        if end is None:
            continue
        length = abs(end.tip - end.nosing)
        if end.post is None:
            tube = abs(end.tip - end.node) - job.hardware.elbow.take_off
            wanted = length - tube + job.hardware.elbow.spigot_length + finish_spigot(job.hardware, finish) + 2.0
            room = f"the elbow and its finish ({finish.finish.value})"
            hint = ""
        else:
            wanted = length + end.low - end.high
            room = f"the elbow, the saddle of a post and its finish ({finish.finish.value})"
            hint = f"without {solved.flight.last} in {solved.flight.flight.key('posts')} it stands free"
        if length < wanted - _HAIR:
            yield Fault(
                code="level-extension",
                where=f"rail.{key}.level_extension",
                message=f"{said(job, length)} has no room for {room}",
                allowed=least(job, wanted),
                hint=hint,
            )
        elif end.setback is not None:
            yield from _band(job, solved, end.setback)
        else:
            yield from _free(job, solved, end, key)


def _band(job: Job, solved: FlightLine, setback: float) -> Iterator[Fault]:
    if job.posts.setback_min - _HAIR <= setback <= job.posts.setback_max + _HAIR:
        return
    yield Fault(
        code="setback-band",
        where=f"{solved.where}, tread {solved.flight.last}",
        message=f"the post under the level part would need a setback of {said(job, setback)} to clear elbow and end",
        allowed=between(job, job.posts.setback_min, job.posts.setback_max) + by_default(job, "posts.setback_band"),
        hint=f"a wider posts.setback_band, another rail.top.level_extension, or no {solved.flight.last} in "
        f"{solved.flight.flight.key('posts')} would help",
    )


def _free(job: Job, solved: FlightLine, end: LevelEnd, key: str) -> Iterator[Fault]:
    """A level part without a post of its own that reaches too far beyond the flight's end post."""
    at = -1 if key == "top" else 0
    lean = job.hardware.adjustable_saddle.lean(solved.line.pitch)
    reach = abs(end.node - solved.x(at) + lean) * solved.line.along + abs(end.tip - end.node)
    if reach <= _FREE:
        return
    tread = solved.stations[at].tread
    nearer = [f"a post on tread {solved.flight.last}, under the level part"] if key == "top" else []
    nearest = solved.flight.last - 1 if key == "top" else 0
    nearer += [f"one on tread {nearest}"] if tread != nearest else []
    yield Fault(
        code="level-extension",
        where=f"rail.{key}.level_extension",
        message=f"the rail would stand out {said(job, reach)} beyond the post on tread {tread} of {solved.where}",
        allowed=f"{most(job, _FREE)}, as for an overhang",
        hint=f"{', or '.join([*nearer, f'a shorter rail.{key}.level_extension'])} would help "
        f"({solved.flight.flight.key('posts')})",
    )


def end_notes(job: Job, first: FlightLine, last: FlightLine) -> Iterator[str]:
    """What a reader wants to know of each level part: where it begins, how far it reaches, how high it is."""
    for key, solved, end in (("bottom", first, bottom_end(job, first)), ("top", last, top_end(job, last))):
        if end is None:
            continue
        start = "projected nosing 0" if key == "bottom" else f"nosing {solved.flight.last}"
        reach, height, further = (
            said(job, value) for value in (abs(end.tip - end.nosing), end.height, end.node - end.nosing)
        )
        held = "it stands free" if end.post is None else "the post under it is cut to suit"
        yield (
            f"level extension at the {key}: level from over {start} of {solved.where}, elbow node {further} up the "
            f"flight from there, to {reach} past it, {height} above the floor; {held}"
        )
