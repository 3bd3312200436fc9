"""From a surveyed stair to a rail that can be built, or the reasons why none can."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from railgen.errors import Fault, ImpossibleError
from railgen.job.model import Job, PostLengths
from railgen.layout.assemble import Assembled, assemble
from railgen.layout.corner import CLOSE, Tried, closing, corner_faults, corner_notes
from railgen.layout.ends import bottom_end, end_faults, end_notes
from railgen.layout.joins import Join, JoinMode, least_node_distance, plan_joins
from railgen.layout.level import FlightLine, solve_lines
from railgen.layout.measure import along, heights, off_line, spans
from railgen.layout.model import HeightAt, Layout, Span
from railgen.layout.reach import reach_faults
from railgen.layout.standing import standing_faults
from railgen.layout.stations import plan_stations
from railgen.layout.wording import least, said
from railgen.survey import Survey, survey_job
from railgen.units import Rounding

__all__ = ["solve"]

_HAIR = 1e-9  # mm: a height this little short of the least is rounding
_TILT = 10.0  # mm: a rail further out of parallel with its steps is seen to be; common practice


def solve(job: Job, survey: Survey) -> Layout:
    """Posts, nodes and tubes of the whole rail. Raises ImpossibleError with every fault found."""
    return _solved(job, survey, _refused)


def _refused(job: Job) -> str:
    """Why a job that was proposed has no such rail; empty where it has one."""
    try:
        _solved(job, survey_job(job), lambda _: "")
    except ImpossibleError as error:
        return f"{error.faults[0].where}: {error.faults[0].message}"
    return ""


def _solved(job: Job, survey: Survey, tried: Tried) -> Layout:
    joins = plan_joins(job, survey)
    missed = tuple(corner_faults(job, survey, joins, tried))
    if missed:
        raise ImpossibleError(missed)
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
    _refuse_faults(job, survey, lines, joins, assembled, tried)
    found = heights(lines, assembled.rails, assembled.nodes, job.hardware.tube.radius)
    notes = [f"no rail over nosing {h.nosing} of flight {h.flight}" for h in found if h.height is None]
    notes += [
        *end_notes(job, lines[0], lines[-1]),
        *corner_notes(job, survey, joins),
        *_apart_notes(job, survey, joins, found),
    ]
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


def _apart_notes(job: Job, survey: Survey, joins: Sequence[Join], found: Sequence[HeightAt]) -> Iterator[str]:
    """Flights whose rail was raised as a whole to meet the next one's, or tilted to suit equal posts at a corner."""
    shared = {number + side for number, join in enumerate(joins, 1) if join.mode is JoinMode.SHARED for side in (0, 1)}
    for flight in survey.flights:
        number = flight.flight.number
        own = [at.height for at in found if at.flight == number and at.height is not None]
        more, tilt = min(own, default=0.0) - job.rail.least_height, along(found, number) - off_line(flight)
        if job.posts.lengths is PostLengths.CUT and more > CLOSE:
            yield (
                f"flight {number}: to meet the other flights' rails, its own runs {said(job, more)} higher over the "
                "steps than rail.least_height asks"
            )
        elif number in shared and tilt > _TILT:
            yield (
                f"flight {number}: the rail's height over the steps differs by {said(job, along(found, number))} from "
                'end to end, to suit equal posts; posts.lengths = "cut" lays it along the steps'
            )


def _refuse_faults(
    job: Job,
    survey: Survey,
    lines: Sequence[FlightLine],
    joins: Sequence[Join],
    assembled: Assembled,
    tried: Tried,
) -> None:
    faults: list[Fault] = [*_join_faults(job, survey, lines, joins, tried)]
    faults += end_faults(job, lines[0], lines[-1])
    faults += standing_faults(job, lines, joins, assembled.posts)
    faults += reach_faults(job, assembled.posts, assembled.nodes, assembled.rails)
    if faults:
        raise ImpossibleError(faults)


def _join_faults(
    job: Job, survey: Survey, lines: Sequence[FlightLine], joins: Sequence[Join], tried: Tried
) -> list[Fault]:
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
                        hint=f'with {landing.key("corner")} = "auto", {closing(job, survey, joins, tried)}',
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
