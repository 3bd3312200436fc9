"""Inner corners of quarter turns, where one elbow joins two flights' rails: by how much their pitch lines miss there.

On even flights that is ``R - (2 e + u) tan(pitch)``, with the edge offset e and the landing's upper offset u; both are
linear in it on uneven flights too, so what closes it is worked out and then tried.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from railgen.errors import Fault
from railgen.job.model import CornerJoint, Job, Landing
from railgen.layout.joins import Join, JoinMode
from railgen.layout.level import pitch_line
from railgen.layout.wording import most, said
from railgen.survey import Survey
from railgen.units import Dimensions, Figures

__all__ = ["CLOSE", "Tried", "closing", "corner_faults", "corner_notes"]

CLOSE = 5.0
"""What rails that meet may be raised by (mm) and still look level with their steps: common practice."""

_SHOWN = 110  # characters of what a proposal meets with

Tried = Callable[[Job], str]
"""Why a job has no such rail; empty where it has one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Miss:
    """A corner: ``rise`` is the upper pitch line's level there less the lower one's; both slopes."""

    landing: Landing
    rise: float
    lower: float
    upper: float

    @property
    def edge_offset(self) -> float:
        """What the edge offset has to grow by to close it."""
        return self.rise / (self.lower + self.upper)

    @property
    def upper_offset(self) -> float:
        """What the landing's upper offset has to grow by to close it."""
        return self.rise / self.upper


def _misses(job: Job, survey: Survey, joins: Sequence[Join]) -> Iterator[_Miss]:
    lines = [pitch_line(job, flight) for flight in survey.flights]
    for join, landing, (slope1, level1), (slope2, level2) in zip(joins, job.landings, lines, lines[1:], strict=False):
        if join.mode is not JoinMode.PAIR:
            rise = level2 + slope2 * join.upper_x - level1 - slope1 * join.lower_x
            yield _Miss(landing=landing, rise=rise, lower=slope1, upper=slope2)


def corner_faults(job: Job, survey: Survey, joins: Sequence[Join], tried: Tried) -> Iterator[Fault]:
    """Corners where the rail would climb or fall by the mismatch, which the job does not accept."""
    missed = [m for m in _misses(job, survey, joins) if m.landing.corner is CornerJoint.AUTO and abs(m.rise) > CLOSE]
    if not missed:
        return
    ways = closing(job, survey, joins, tried)
    for miss in missed:
        way, key = "climb" if miss.rise > 0 else "fall", miss.landing.key("corner")
        yield Fault(
            code="corner-mismatch",
            where=f"landing {miss.landing.number}",
            message=f"{_told(job, miss)}: the rail would {way} by as much there",
            allowed=most(job, CLOSE),
            hint=f'{ways}; {key} = "climb" accepts it',
        )


def _told(job: Job, miss: _Miss) -> str:
    number = miss.landing.number
    return (
        f"the pitch lines of flights {number} and {number + 1} miss each other by {said(job, abs(miss.rise))} at the "
        "inner corner"
    )


def closing(job: Job, survey: Survey, joins: Sequence[Join], tried: Tried) -> str:
    """What makes the pitch lines meet at the corners that are told to meet in one elbow, each way tried."""
    figures = Figures(style=Dimensions.of(job.output_unit))
    missed = [m for m in _misses(job, survey, joins) if m.landing.corner is not CornerJoint.CLIMB]
    wanted = [job.posts.edge_offset + m.edge_offset for m in missed]
    offset = figures.rounded((min(wanted) + max(wanted)) / 2)
    ways: list[tuple[str, Job]] = []
    plain = [
        replace(each, corner=CornerJoint.AUTO) if each.corner is CornerJoint.RISE_PIECE else each
        for each in job.landings
    ]
    if offset > 0 and all(abs(offset - w) * (m.lower + m.upper) <= CLOSE for w, m in zip(wanted, missed, strict=True)):
        posts = replace(job.posts, edge_offset=offset)
        ways.append((f"posts.edge_offset = {said(job, offset)}", replace(job, posts=posts, landings=tuple(plain))))
    further = {m.landing.number: figures.rounded(m.landing.upper_offset + m.upper_offset) for m in missed}
    moved = tuple(replace(each, upper_offset=further.get(each.number, each.upper_offset)) for each in plain)
    named = " and ".join(f"{m.landing.key('upper_offset')} = {said(job, further[m.landing.number])}" for m in missed)
    ways.append((named, replace(job, landings=moved)))
    return ", or ".join(_tried(words, tried(other)) for words, other in ways)


def _tried(words: str, reason: str) -> str:
    if not reason:
        return f"{words} closes it"
    shown = reason if len(reason) <= _SHOWN else f"{reason[:_SHOWN]}..."
    return f"{words} would close it and leave this: {shown}"


def corner_notes(job: Job, survey: Survey, joins: Sequence[Join]) -> Iterator[str]:
    """What the corners come to whose mismatch the job accepts."""
    for miss in _misses(job, survey, joins):
        accepted = miss.landing.corner
        if accepted is CornerJoint.AUTO or abs(miss.rise) <= CLOSE:
            continue
        taken = "the rail climbs by as much" if miss.rise > 0 else "the rail falls by as much"
        if accepted is CornerJoint.RISE_PIECE:
            taken = "an upright piece of rail takes it up"
        yield f"landing {miss.landing.number}: {_told(job, miss)}, and {taken}, as {miss.landing.key('corner')} asks"
