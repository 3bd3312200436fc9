"""Which treads carry a post: as the job says, or the fewest that keep every span within the largest allowed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from railgen.errors import Fault, ImpossibleError
from railgen.job.model import Job
from railgen.layout.joins import Join, JoinMode
from railgen.layout.lines import Station
from railgen.layout.model import PostRole
from railgen.layout.wording import by_default, said
from railgen.survey import FlightSurvey, Survey

__all__ = ["plan_stations"]


def plan_stations(
    job: Job, survey: Survey, joins: tuple[Join, ...], largest_span: float
) -> tuple[tuple[Station, ...], ...]:
    """The stations of every flight, bottom to top. Raises ImpossibleError with every fault of the chosen treads."""
    faults: list[Fault] = []
    flights: list[tuple[Station, ...]] = []
    for index, flight in enumerate(survey.flights):
        below = joins[index - 1] if index else None
        above = joins[index] if index < len(joins) else None
        levels = _levels(job, below, above)
        first, last = _first_tread(flight, below, levels), _last_tread(flight, above)
        treads = flight.flight.posts
        if treads is None:
            treads = _choose(job, flight, (first, last), largest_span, 3 if levels.top else 2)
        else:
            faults += _faults(flight, treads, below, above, levels)
        pitched = [tread for tread in treads if not (levels.top and tread == flight.last)]
        flights.append(tuple(_station(job, flight, tread, below, above) for tread in pitched))
    if faults:
        raise ImpossibleError(faults)
    return tuple(flights)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Levels:
    """Whether the rail runs on level below this flight's tube, or above it: over a post of the highest tread."""

    bottom: bool
    top: bool


def _levels(job: Job, below: Join | None, above: Join | None) -> _Levels:
    return _Levels(
        bottom=below is None and job.rail.bottom.level is not None,
        top=above is None and job.rail.top.level is not None,
    )


def _first_tread(flight: FlightSurvey, below: Join | None, levels: _Levels) -> int:
    if below is None:
        return 0 if levels.bottom or flight.last < (3 if levels.top else 2) else 1
    return 1 if below.mode is JoinMode.RISE else 0


def _last_tread(flight: FlightSurvey, above: Join | None) -> int:
    """The highest tread with a post of the flight's own: above a rise piece's corner post there is none."""
    return flight.last - 1 if above is not None and above.mode is JoinMode.RISE else flight.last


def _station(job: Job, flight: FlightSurvey, tread: int, below: Join | None, above: Join | None) -> Station:
    x = flight.tread_x(tread)
    at_bottom, at_top = tread == 0 and below is not None, tread == flight.last and above is not None
    held: float | None = None
    if at_bottom and below is not None and below.mode is JoinMode.SHARED:
        held = below.upper_x - x
    if at_top and above is not None and above.mode is JoinMode.SHARED:
        held = above.lower_x - x
    return Station(
        tread=tread,
        x=x,
        level=flight.tread_z(tread),
        nominal=job.posts.setback if held is None else held,
        held=held,
        role=PostRole.NODE if at_bottom or at_top else PostRole.PITCHED,
    )


def _choose(job: Job, flight: FlightSurvey, ends: tuple[int, int], largest_span: float, least: int) -> tuple[int, ...]:
    """The fewest treads, ``least`` or more, between ``ends`` whose spans along the pitch are within ``largest_span``.

    Among equally many the one whose longest span is shortest, then the one lowest on the stair.
    """
    (first, last), setback = ends, job.posts.setback
    places = {tread: (flight.tread_x(tread) + setback, flight.tread_z(tread)) for tread in range(first, last + 1)}
    best: dict[int, tuple[float, tuple[int, ...]]] = {first: (0.0, (first,))}
    while last not in best or best[last][0] > largest_span or len(best[last][1]) < least:
        longer: dict[int, tuple[float, tuple[int, ...]]] = {}
        for tread, (longest, path) in best.items():
            for step in range(tread + 1, last + 1):
                (x1, z1), (x2, z2) = places[tread], places[step]
                candidate = (max(longest, math.hypot(x2 - x1, z2 - z1)), (*path, step))
                if step not in longer or candidate < longer[step]:
                    longer[step] = candidate
        if not longer:
            raise ImpossibleError(
                Fault(
                    code="span",
                    where=f"flight {flight.flight.number}",
                    message=f"even a post on every tread leaves a span above {said(job, largest_span)}",
                    hint=f"raise posts.largest_span{by_default(job, 'posts.largest_span')}",
                )
            )
        best = longer
    return best[last][1]


def _faults(
    flight: FlightSurvey, treads: tuple[int, ...], below: Join | None, above: Join | None, levels: _Levels
) -> list[Fault]:
    where = f"flight {flight.flight.number}"
    faults: list[Fault] = []

    def fault(message: str, allowed: str) -> None:
        hint = f"change {flight.flight.key('posts')}, or leave it out and the treads are chosen"
        faults.append(Fault(code="posts-treads", where=where, message=message, allowed=allowed, hint=hint))

    listed = ", ".join(map(str, treads))
    if levels.top and sum(tread < flight.last for tread in treads) < 2:
        fault(
            f"posts on treads [{listed}]: the pitched rail needs two supports below the bend of its level extension",
            f"at least two treads from 0 to {flight.last - 1}, and {flight.last} for a post under the level part",
        )
    elif len(treads) < 2:
        fault(f"posts on treads [{listed}]: a straight rail needs two supports", "at least two treads")
    if any(b <= a for a, b in pairwise(treads)) or not all(0 <= t <= flight.last for t in treads):
        fault(f"posts on treads [{listed}]", f"tread numbers from 0 to {flight.last}, rising")
    elif treads:
        top = _last_tread(flight, above)
        if above is not None and above.mode is JoinMode.RISE and treads[-1] > top:
            fault(f"tread {treads[-1]} has the rise piece's own corner post", f"treads up to {top}")
        elif above is not None and above.mode is not JoinMode.RISE and treads[-1] != top:
            fault(f"the highest post is on tread {treads[-1]}", f"{top}, on the landing, where the rails meet")
        if below is not None and below.mode is JoinMode.RISE and treads[0] == 0:
            fault("tread 0 has no post above a rise piece", "treads from 1")
        elif below is not None and below.mode is not JoinMode.RISE and treads[0] != 0:
            fault(f"the lowest post is on tread {treads[0]}", "0, on the landing, where the rails meet")
    return faults
