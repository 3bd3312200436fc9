"""From a surveyed stair to a rail that can be built, or the reasons why none can."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from railgen.errors import Fault, ImpossibleError
from railgen.job.model import Job, PostLengths
from railgen.layout.assemble import Assembled, assemble
from railgen.layout.ends import bottom_end, end_faults, end_notes
from railgen.layout.joins import Join, JoinMode, least_node_distance, plan_joins
from railgen.layout.level import FlightLine, solve_lines
from railgen.layout.measure import heights, spans
from railgen.layout.model import Layout, Span
from railgen.layout.reach import reach_faults
from railgen.layout.standing import standing_faults
from railgen.layout.stations import plan_stations
from railgen.layout.wording import least, said
from railgen.survey import Survey
from railgen.units import Rounding

__all__ = ["solve"]

_HAIR = 1e-9  # mm: a height this little short of the least is rounding


def solve(job: Job, survey: Survey) -> Layout:
    """Posts, nodes and tubes of the whole rail. Raises ImpossibleError with every fault found."""
    joins = plan_joins(job, survey)
    span = job.posts.largest_span
    while True:
        stations = plan_stations(job, survey, joins, span)
        lines = solve_lines(job, survey, joins, stations)
        length, lines, assembled = _raised(job, lines, joins)
        measured = spans(assembled.rails, assembled.nodes)
        longest = max(_chosen_spans(job, measured, assembled), default=0.0)
        if longest <= job.posts.largest_span or span < job.posts.largest_span / 2:
            break
        span -= longest - job.posts.largest_span + 1e-6  # the moves made a span too long: choose anew
    _refuse_faults(job, lines, joins, assembled)
    found = heights(lines, assembled.rails, assembled.nodes, job.hardware.tube.radius)
    notes = [f"no rail over nosing {h.nosing} of flight {h.flight}" for h in found if h.height is None]
    notes += end_notes(job, lines[0], lines[-1])
    return Layout(
        survey=survey,
        posts=assembled.posts,
        nodes=assembled.nodes,
        rails=assembled.rails,
        heights=found,
        spans=measured,
        post_length=length,
        notes=tuple(notes),
    )


def _chosen_spans(job: Job, measured: Sequence[Span], assembled: Assembled) -> list[float]:
    """Lengths of the spans between posts that the tool may choose: within a flight whose posts the job leaves open."""
    free = {flight.number for flight in job.flights if flight.posts is None}
    flights = {post.id: post.flight for post in assembled.posts}
    return [
        span.length
        for span in measured
        if flights[span.from_post] in free and flights[span.from_post] == flights[span.to_post]
    ]


def _raised(
    job: Job, lines: tuple[FlightLine, ...], joins: tuple[Join, ...]
) -> tuple[float | None, tuple[FlightLine, ...], Assembled]:
    """The rail at its height: equal posts get the least whole length that reaches everywhere."""
    flat = assemble(job, lines, joins)
    if job.posts.lengths is PostLengths.CUT:
        return None, lines, flat
    found = [h.height for h in heights(lines, flat.rails, flat.nodes, job.hardware.tube.radius) if h.height is not None]
    level = bottom_end(job, lines[0])  # a level part at the top is as high as the rail over the last nosing
    lowest = min((*found, level.height) if level else found, default=0.0)
    length = float(math.ceil(job.rail.least_height - lowest - _HAIR))
    raised = tuple(replace(f, line=replace(f.line, intercept=f.line.intercept + length)) for f in lines)
    return length, raised, assemble(job, raised, joins)


def _refuse_faults(job: Job, lines: Sequence[FlightLine], joins: Sequence[Join], assembled: Assembled) -> None:
    faults: list[Fault] = [*_join_faults(job, lines, joins)]
    faults += end_faults(job, lines[0], lines[-1])
    faults += standing_faults(job, lines, joins, assembled.posts)
    faults += reach_faults(job, assembled.posts, assembled.nodes, assembled.rails)
    if faults:
        raise ImpossibleError(faults)


def _join_faults(job: Job, lines: Sequence[FlightLine], joins: Sequence[Join]) -> list[Fault]:
    """Nodes that do not share one level, and rise pieces with no rise."""
    faults = []
    for join, landing, lower, upper in zip(joins, job.landings, lines, lines[1:], strict=False):
        if join.mode is JoinMode.RISE:
            rise = upper.line.z(join.upper_x) - lower.line.z(join.lower_x)
            room = least_node_distance(job.hardware.elbow)
            if rise < room:
                faults.append(
                    Fault(
                        code="rise-too-short",
                        where=f"landing {landing.number}",
                        message=f"the rise piece would be {said(job, rise)} between its nodes",
                        allowed=least(job, room),
                        hint=f'{landing.key("corner")} = "auto" joins the rails at one node where they nearly meet',
                    )
                )
            continue
        gap = upper.line.z(upper.x(0)) - lower.line.z(lower.x(-1))
        if abs(gap) > 1e-6:
            faults.append(
                Fault(
                    code="level-mismatch",
                    where=f"landing {landing.number}",
                    message=f"the rails of the two flights end {said(job, abs(gap), Rounding.UP)} apart in level",
                    hint="a wider posts.setback_band would close it",
                )
            )
    return faults
