"""Which treads carry a post: as the job says, or the fewest that keep every span within the largest allowed."""

from __future__ import annotations

import math
from itertools import pairwise

from railgen.errors import Fault, ImpossibleError
from railgen.job.model import Job
from railgen.layout.joins import Join, JoinMode
from railgen.layout.lines import Station
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
        first, last = _first_tread(flight, below), _last_tread(flight, above)
        treads = flight.flight.posts
        if treads is None:
            treads = _choose(flight, first, last, job.posts.setback, largest_span)
        else:
            faults += _faults(flight, treads, below, above)
        flights.append(tuple(_station(job, flight, tread, below, above) for tread in treads))
    if faults:
        raise ImpossibleError(faults)
    return tuple(flights)


def _first_tread(flight: FlightSurvey, below: Join | None) -> int:
    if below is None:
        return 1 if flight.last > 1 else 0
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
        node_height=job.hardware.elbow_saddle.node_height if at_bottom or at_top else None,
    )


def _choose(flight: FlightSurvey, first: int, last: int, setback: float, largest_span: float) -> tuple[int, ...]:
    """The fewest treads from ``first`` to ``last`` whose spans along the pitch stay within ``largest_span``.

    Among equally many the one whose longest span is shortest, then the one lowest on the stair.
    """
    places = {tread: (flight.tread_x(tread) + setback, flight.tread_z(tread)) for tread in range(first, last + 1)}
    best: dict[int, tuple[float, tuple[int, ...]]] = {first: (0.0, (first,))}
    while last not in best or best[last][0] > largest_span:
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
                    message=f"even a post on every tread leaves a span above {largest_span:.0f} mm",
                    hint="raise posts.largest_span",
                )
            )
        best = longer
    return best[last][1]


def _faults(flight: FlightSurvey, treads: tuple[int, ...], below: Join | None, above: Join | None) -> list[Fault]:
    where = f"flight {flight.flight.number}"
    faults: list[Fault] = []

    def fault(message: str, allowed: str) -> None:
        faults.append(Fault(code="posts-treads", where=where, message=message, allowed=allowed))

    listed = ", ".join(map(str, treads))
    if len(treads) < 2:
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
