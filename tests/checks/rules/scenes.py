"""Jobs and layouts in which one measured quantity has exactly the value asked for, by closed forms of our own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from railgen.checks.rules import Kind
from railgen.geometry import UP, Vec
from railgen.job.model import Job, Turn
from railgen.job.rules_model import Beside, Flank, Guarding, Occupancy, OtherSide, RulesInput, Surroundings
from railgen.job.strength_model import StrengthInput
from railgen.layout import solve
from railgen.layout.model import HeightAt, JointKind, Layout, Node, RailTube, TubeEnd
from railgen.survey import survey_job
from tests import jobs

__all__ = ["COMPLETE", "bare", "even", "railed", "scene_with", "solved"]

Case = tuple[Job, Layout, RulesInput]

COMPLETE = Surroundings(
    beside=Beside.OPEN,
    ground_level=0.0,
    guarding=Guarding.SEPARATE,
    guard_opening=0.0,
    guard_height=1100.0,
    wall_distance=30.0,
    other_side=OtherSide.RAIL,
    other_projection=0.0,
    headroom=3000.0,
    tread_gap=0.0,
    nosing_radius=5.0,
    floor_bottom=3000.0,
    floor_top=3000.0,
    ends_returned=True,
    occupancy=Occupancy.ONE_FAMILY,
    storeys=2,
    other=Flank(
        beside=Beside.OPEN, ground_level=0.0, guarding=Guarding.SEPARATE, guard_opening=0.0, guard_height=1100.0
    ),
)
"""Everything said, and harmless."""


def even(risers: int = 6, riser: float = 175.0, going: float = 280.0, *, width: float = 1500.0) -> Job:
    """One flight of equal steps."""
    return jobs.job([jobs.flight(1, [riser] * risers, [going] * (risers - 1), width=width, design_going=going)])


def uneven(risers: Sequence[float], goings: Sequence[float]) -> Job:
    return jobs.job([jobs.flight(1, risers, goings, width=1500)])


def bare(job: Job, heights: Sequence[float | None] = ()) -> Layout:
    """A layout with a survey and heights over the nosings of flight 1, but no rail."""
    at = tuple(HeightAt(flight=1, nosing=i, height=h) for i, h in enumerate(heights, start=1))
    return Layout(
        survey=survey_job(job), posts=(), nodes=(), rails=(), heights=at, spans=(), post_length=None, notes=()
    )


def solved(job: Job) -> Layout:
    return solve(job, survey_job(job))


def railed(
    job: Job, before: float, past: float, *, level: float | None = None, start: float = 0.0, height: float = 900.0
) -> Layout:
    """One even flight with a tube parallel to its nosings, its top ``height`` above them.

    The centreline begins ``before`` mm in front of the first nosing; the top of the tube ends ``past`` mm beyond the
    last. With ``level``, a level tube follows instead, whose top meets the pitched one's ``start`` mm past the last
    nosing and which ends ``level`` mm past it.
    """
    flight = job.flights[0]
    pitch = math.atan2(flight.risers[0], flight.goings[0])
    radius, top = job.hardware.tube.radius, sum(flight.goings)

    def centre(x: float) -> Vec:
        return Vec(x, 0.0, flight.risers[0] + height - radius / math.cos(pitch) + x * math.tan(pitch))

    begin, u = centre(-before), Vec(math.cos(pitch), 0.0, math.sin(pitch))
    end = centre(top + past + radius * math.sin(pitch))
    nodes: tuple[Node, ...] = ()
    tail: tuple[RailTube, ...] = ()
    far = TubeEnd(kind=JointKind.FREE)
    if level is not None:
        at = centre(top + start + radius * math.tan(pitch / 2))
        end = at - u * 31.0
        far = TubeEnd(kind=JointKind.ELBOW, node="N1")
        ahead = Vec(1.0, 0.0, 0.0)
        nodes = (
            Node(id="N1", at=at, incoming=u, outgoing=ahead, deflection=pitch, normal=u.cross(ahead).unit(), post=None),
        )
        tail = (
            RailTube(
                id="R2",
                flight=None,
                start=at + ahead * 31.0,
                direction=ahead,
                left=UP.cross(ahead),
                length=top + level - at.x - 31.0,
                pitch=0.0,
                start_end=TubeEnd(kind=JointKind.ELBOW, node="N1"),
                far_end=TubeEnd(kind=JointKind.FREE),
                feet=(),
            ),
        )
    rail = RailTube(
        id="R1",
        flight=1,
        start=begin,
        direction=u,
        left=UP.cross(Vec(1.0, 0.0, 0.0)),
        length=(end - begin).dot(u),
        pitch=pitch,
        start_end=TubeEnd(kind=JointKind.FREE),
        far_end=far,
        feet=(),
    )
    return replace(bare(job, [height] * len(flight.risers)), nodes=nodes, rails=(rail, *tail))


def level_below(job: Job, level: float, *, start: float = 0.0, height: float = 900.0) -> Layout:
    """As :func:`railed`, with a level tube in front instead.

    Its top meets the pitched one's ``start`` mm in front of the first nosing; it begins ``level`` mm in front of it.
    """
    layout = railed(job, 400.0, 400.0, height=height)
    (rail,), flight = layout.rails, job.flights[0]
    pitch, radius, ahead = rail.pitch, job.hardware.tube.radius, Vec(1.0, 0.0, 0.0)
    x = radius * math.tan(pitch / 2) - start  # the tops meet that far before the centrelines
    at = Vec(x, 0.0, flight.risers[0] + height - radius / math.cos(pitch) + x * math.tan(pitch))
    node = Node(
        id="N1", at=at, incoming=ahead, outgoing=rail.direction, deflection=pitch, normal=Vec(0, -1.0, 0), post=None
    )
    begin = Vec(-level, 0.0, at.z)
    low = RailTube(
        id="R0",
        flight=None,
        start=begin,
        direction=ahead,
        left=UP.cross(ahead),
        length=at.x - 31.0 + level,
        pitch=0.0,
        start_end=TubeEnd(kind=JointKind.FREE),
        far_end=TubeEnd(kind=JointKind.ELBOW, node="N1"),
        feet=(),
    )
    from_node = at + rail.direction * 31.0
    pitched = replace(
        rail,
        start=from_node,
        length=rail.length - (from_node - rail.start).dot(rail.direction),
        start_end=TubeEnd(kind=JointKind.ELBOW, node="N1"),
    )
    return replace(layout, nodes=(node,), rails=(low, pitched))


def two_flights(length: float = 1000.0, *, first: int = 6, second: int = 6, width: float = 1500.0) -> Job:
    flights = [
        jobs.flight(n, [175.0] * count, [280.0] * (count - 1), width=width, design_going=280.0)
        for n, count in ((1, first), (2, second))
    ]
    return jobs.job(flights, [jobs.landing(1, Turn.STRAIGHT, length)])


def _lifted(layout: Layout, up: float) -> Layout:
    rails = tuple(replace(r, start=Vec(r.start.x, r.start.y, r.start.z + up)) for r in layout.rails)
    nodes = tuple(replace(n, at=Vec(n.at.x, n.at.y, n.at.z + up)) for n in layout.nodes)
    return replace(layout, rails=rails, nodes=nodes)


def _landing_rail(value: float, *, lowest: bool) -> Case:
    """A rail whose level tube's top (the lowest), or whose pitched end's top (the highest), is ``value`` up.

    The pitched tube's top stands ``r / cos(pitch)`` above the node, the level tube's ``r``.
    """
    job = two_flights(2000)
    layout = solved(job)
    radius, level = job.hardware.tube.radius, 6 * 175.0
    above = radius if lowest else radius / math.cos(layout.rails[0].pitch)
    lifted = _lifted(layout, value + level - above - layout.nodes[0].at.z)
    last = lifted.rails[-1]  # ends before the last nosing, so that only the landing is judged
    return job, replace(lifted, rails=(*lifted.rails[:-1], replace(last, length=last.length - 400))), RulesInput()


def _hardware(kind: Kind, value: float) -> Case:
    job = even()
    hardware, radius = job.hardware, job.hardware.tube.radius
    if kind is Kind.GRIP:
        hardware = replace(hardware, tube=hardware.tube.model_copy(update={"od": value}))
        return replace(job, hardware=hardware), bare(job), RulesInput()
    layout = solved(job)
    saddle, pitch = hardware.adjustable_saddle, layout.rails[0].pitch
    if kind is Kind.GRIP_LENGTH:  # each elbow with a neck like a pencil is a break
        thin = job.hardware.elbow.model_copy(update={"neck_diameter": 8.0})
        job = replace(job, hardware=replace(job.hardware, elbow=thin))
        return job, railed(job, 400.0, 400.0, level=400.0) if value else bare(job), RulesInput()
    if kind is Kind.UNDER_BLOCKED:
        total = sum(rail.length for rail in layout.rails)
        saddle = saddle.model_copy(update={"cradle_length": value / 100 * total / len(layout.posts)})
    else:
        height = value + saddle.cap_thickness - (saddle.pivot_to_centre - radius) / math.cos(pitch)
        saddle = saddle.model_copy(update={"pivot_height": height})
    return replace(job, hardware=replace(hardware, adjustable_saddle=saddle)), layout, RulesInput()


def _about_rail(kind: Kind, value: float) -> Case | None:
    job = even()
    job = replace(job, flights=(replace(job.flights[0], overhang=0.0),))  # what is measured from: riser and nosing
    plate = max(job.hardware.base_plate.width, job.hardware.cover_plate.width if job.hardware.cover_plate else 0) / 2
    if kind is Kind.HEIGHT:
        return job, bare(job, [value] * 6), RulesInput()
    if kind is Kind.CONTINUITY:
        return job, bare(job, [None] * round(value) + [900.0] * (6 - round(value))), RulesInput()
    if kind is Kind.WALL_CLEARANCE:
        wall = value - job.posts.edge_offset + job.hardware.tube.radius
        return job, bare(job), RulesInput(surroundings=Surroundings(beside=Beside.WALL, wall_distance=wall))
    if kind is Kind.PROJECTION:
        reach = max(job.hardware.tube.radius, job.hardware.post_tube.radius)
        hardware = replace(
            job.hardware,
            base_plate=job.hardware.base_plate.model_copy(update={"width": 2 * reach}),
            cover_plate=None,  # nothing below the rail reaches further than the rail
        )
        job = replace(job, hardware=hardware)
        return replace(job, posts=replace(job.posts, edge_offset=value - reach)), bare(job), RulesInput()
    if kind is Kind.INSIDE_EDGE:
        offset = value - job.hardware.tube.radius
        return replace(job, posts=replace(job.posts, edge_offset=offset)), bare(job), RulesInput()
    if kind is Kind.BETWEEN_RAILS:
        wide = even(width=value + job.posts.edge_offset + job.hardware.tube.radius)
        site = Surroundings(other_side=OtherSide.RAIL, other_projection=0.0)
        return wide, bare(wide), RulesInput(surroundings=site)
    if kind is Kind.CLEAR_WIDTH:
        job = even(width=value + job.posts.edge_offset + plate)
        return job, bare(job), RulesInput(surroundings=Surroundings(other_side=OtherSide.NONE))
    return _extended(job, kind, value)


def _extended(job: Job, kind: Kind, value: float) -> Case | None:
    if kind is Kind.EXTENSION_BOTTOM_LEVEL:
        return job, level_below(job, value), RulesInput()
    if kind in (Kind.EXTENSION_TOP, Kind.EXTENSION_TOP_LEVEL, Kind.EXTENSION_BOTTOM):
        before, past = (value, 400.0) if kind is Kind.EXTENSION_BOTTOM else (400.0, value)
        return job, railed(job, before, past, level=value if kind is Kind.EXTENSION_TOP_LEVEL else None), RulesInput()
    return None


def _about_stair(kind: Kind, value: float) -> Case | None:
    half = value / 2
    job = {
        Kind.RISER: lambda: even(riser=value),
        Kind.GOING: lambda: even(going=value),
        Kind.STEP: lambda: even(riser=150.0, going=value - 300),
        Kind.PITCH: lambda: even(riser=180.0, going=180 / math.tan(math.radians(value))),
        Kind.RISER_ADJACENT: lambda: uneven([170, 170, 170 + value, 170 + value], [280] * 3),
        Kind.GOING_ADJACENT: lambda: uneven([170] * 4, [280, 280 + value, 280]),
        Kind.RISER_SPREAD: lambda: uneven([170, 170 + half, 170 + value], [280] * 2),
        Kind.GOING_SPREAD: lambda: uneven([170] * 4, [280, 280 + half, 280 + value]),
        Kind.RISER_COUNT: lambda: even(round(value)),
        Kind.RISERS_IN_LINE: lambda: two_flights(first=18, second=round(value) - 18),
        Kind.FLIGHT_RISE: lambda: even(20, riser=value / 20),
        Kind.LANDING_LENGTH: lambda: two_flights(value),
        Kind.STAIR_WIDTH: lambda: even(width=value),
    }.get(kind)
    if job is None:
        return None
    made = job()
    return made, bare(made), RulesInput(surroundings=Surroundings(floor_bottom=value, floor_top=value))


def _about_site(kind: Kind, value: float) -> Case | None:
    job = even()
    if kind is Kind.NOSING:
        job = replace(job, flights=(replace(job.flights[0], overhang=value, goings=(270.0,) * 5),))
        return job, bare(job), RulesInput(surroundings=Surroundings(tread_gap=0.0))
    key = {Kind.HEADROOM: "headroom", Kind.TREAD_GAP: "tread_gap", Kind.NOSING_RADIUS: "nosing_radius"}.get(kind)
    site = Surroundings().model_copy(update={key: value}) if key else None
    if kind in (
        Kind.GUARD_HEIGHT_FLIGHT,
        Kind.GUARD_HEIGHT_LANDING,
        Kind.GUARD_OPENING_FLIGHT,
        Kind.GUARD_OPENING_LANDING,
    ):
        job = two_flights()
        site = COMPLETE.model_copy(update={"ground_level": -5000.0, "guard_height": value, "guard_opening": value})
    return None if site is None else (job, bare(job, [900.0] * 6), RulesInput(surroundings=site))


def scene_with(kind: Kind, value: float, *, least: bool) -> Case:
    """A job, layout and surroundings whose quantity ``kind`` is ``value``; ``least``: its lower end counts."""
    if kind is Kind.LOADS:
        job = replace(even(), strength=StrengthInput(loads=("asce-7" if value >= 1 else "bs-gangway",)))
        return job, bare(job), RulesInput()
    if kind is Kind.LANDING_HEIGHT:
        return _landing_rail(value, lowest=least)
    if kind in (Kind.GRIP, Kind.GRIP_LENGTH, Kind.UNDER_CLEARANCE, Kind.UNDER_BLOCKED):
        return _hardware(kind, value)
    case = _about_stair(kind, value) or _about_rail(kind, value) or _about_site(kind, value)
    assert case is not None, kind
    return case
