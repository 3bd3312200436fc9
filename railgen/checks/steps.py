"""Steps within the bounds of a job file that are hardly steps: ramps, landings and lengths in another unit."""

from __future__ import annotations

import math
from collections.abc import Iterator

from railgen.job.model import Flight, Job
from railgen.units import degrees, format_length

__all__ = ["odd_steps"]

_HIGH = 250.0  # mm: no stair's riser is higher; common practice
_LONG = 600.0  # mm: no stair's tread is longer; common practice
_RAMP = math.radians(20.0)  # a single riser that rises less steeply over a going longer than _TREAD; common practice
_TREAD = 400.0  # mm


def odd_steps(job: Job) -> Iterator[tuple[str, str]]:
    """Where a step may be none, and the question to settle; nothing where the flight says it was measured so."""
    for flight in job.flights:
        if not flight.as_measured:
            for where, question in _odd(job, flight):
                yield where, f"{question} A step that was measured so: {flight.key('as_measured')} = true"


def _odd(job: Job, flight: Flight) -> Iterator[tuple[str, str]]:
    where = f"flight {flight.number}"
    single = flight.risers[0] if len(flight.risers) == 1 else None
    slope = math.atan2(flight.risers[0], flight.design_going)
    if single is not None and slope < _RAMP and flight.design_going > _TREAD:
        rise, run = (format_length(length, job.output_unit) for length in (single, flight.design_going))
        sizes = f"One riser of {rise} with a {flight.key('design_going')} of {run}"
        yield where, f"is this a ramp? {sizes} slopes at {degrees(slope)}; ramps are not drawn."
        return
    if flight.design_going > _LONG and max(flight.goings, default=0.0) <= _LONG:
        long = format_length(flight.design_going, job.output_unit)
        yield where, f"is {flight.key('design_going')} = {long} the tread of a step, or a landing or ramp?"
    for name, values, most, other in (
        ("riser", flight.risers, _HIGH, "several steps, or a ramp"),
        ("going", flight.goings, _LONG, "a landing between two flights, or a ramp"),
    ):
        odd = [number for number, value in enumerate(values, start=1) if value > most]
        if odd:
            shown = format_length(values[odd[0] - 1], job.output_unit)
            more = f" (and {len(odd) - 1} more)" if len(odd) > 1 else ""
            yield f"{where}, {name} {odd[0]}", f"is a {name} of {shown}{more} one step, or {other}?"
