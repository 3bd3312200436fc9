"""Whether the rail runs into what the job says stands around it: what ends the floors, and a wall beside the stair."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from railgen.checks.model import Certainty, Check
from railgen.errors import ImpossibleError
from railgen.fields import Length
from railgen.geometry.bodies import Body, HalfSpace
from railgen.job.model import EndFinish, Flight, Job, Landing, RailEnd
from railgen.job.rules_model import Beside, Guarding
from railgen.layout import solve
from railgen.layout.bodies import node_bodies, post_bodies, rail_bodies
from railgen.layout.model import Layout, RailTube
from railgen.survey import surface_at, survey_job
from railgen.units import Dimensions, Figures, Rounding

__all__ = ["obstacle_checks"]

_WIDEST_OVERHANG = 100.0  # mm: the widest that a job may type
_LONGEST = 1000.0  # mm: the longest overhang that a job may type
_SHORT = 100.0  # mm: no floor is shorter
_FLOOR = Length(ge=300, le=20_000)  # that people step on: common practice
_STEEP = 0.5  # rise along a tube from which it is an upright piece that has no side of its own

Named = tuple[str, Body]


def obstacle_checks(job: Job, layout: Layout) -> Iterator[Check]:
    """One check for each end of the rail before a floor that ends, and one for each flight or landing beside a wall.

    What the job does not tell of is not asked.
    """
    for top in (False, True):
        end = _end(job, layout, top=top)
        if end is not None:
            yield _end_check(job, layout, end)
    yield from _beside_checks(job, layout)


@dataclass(frozen=True, slots=True, kw_only=True)
class _End:
    """An end of the rail and what stands before it: what is nearest to it, and how far from it (negative: within)."""

    top: bool
    name: str
    clear: float
    room: float  # length of the floor that the job states

    @property
    def key(self) -> str:
        return "top" if self.top else "bottom"


def _end(job: Job, layout: Layout, *, top: bool) -> _End | None:
    """How the rail's end stands to what ends the floor there; None where the job does not say how long that is."""
    room = job.rules.surroundings.floor_top if top else job.rules.surroundings.floor_bottom
    if room is None:
        return None
    flight = layout.survey.flights[-1 if top else 0]
    x = flight.xs[-1] + room if top else flight.flight.overhang - room  # the riser stands an overhang behind its nosing
    wall = HalfSpace(at=flight.at(x, 0.0, 0.0), into=flight.ahead if top else -flight.ahead)
    name, clear = _nearest(wall, _end_bodies(job, layout, top=top))
    return _End(top=top, name=name, clear=clear, room=room)


def _end_bodies(job: Job, layout: Layout, *, top: bool) -> Iterator[Named]:
    """All of the rail from the last flight's tube on, or up to the first one's, and the posts on the floor there."""
    number = len(job.flights) if top else 1
    pitched = next(at for at, rail in enumerate(layout.rails) if rail.flight == number)
    rails = layout.rails[pitched:] if top else layout.rails[: pitched + 1]
    yield from _pieces(job, layout, rails)
    floor = surface_at(job, number, len(job.flights[-1].risers) if top else 0)
    for post in layout.posts:
        if post.surface == floor:
            yield from post_bodies(job, post)


def _pieces(job: Job, layout: Layout, rails: Sequence[RailTube]) -> Iterator[Named]:
    for rail in rails:
        yield from rail_bodies(job, rail)
        for node in layout.nodes:
            if rail.meets(node):
                yield from node_bodies(job, node)


def _nearest(wall: HalfSpace, bodies: Iterable[Named]) -> tuple[str, float]:
    return min(((name, wall.clear(body)) for name, body in bodies), key=lambda item: item[1])


def _figures(job: Job) -> Figures:
    return Figures(style=Dimensions.of(job.output_unit))


def _end_check(job: Job, layout: Layout, end: _End) -> Check:
    named, flight = _figures(job).named, job.flights[-1 if end.top else 0]
    room = f"surroundings.floor_{end.key}"
    overlap = end.clear < 0
    formula = f"{end.name} {'reaches' if overlap else 'stays'} {named(abs(end.clear))} "
    formula += f"{'into' if overlap else 'clear of'} what ends the floor ({room})"
    missing, key = "", flight.key("nosing_overhang")
    if not end.top and job.left_out(key):  # the riser is behind the nosing by what nobody typed
        spare = _WIDEST_OVERHANG - flight.overhang
        missing = key if end.clear + flight.overhang >= 0 > end.clear - spare else ""
    return Check(
        code="obstacle-end",
        title="clearance of the rail's end from the next wall, step or door swing",
        where=f"{end.key} end",
        value=None if missing else end.clear,
        unit="mm",
        least=0.0,
        certainty=Certainty.JOB,
        formula=formula,
        missing=missing,
        advice=_end_advice(job, layout, end) if overlap and not missing else "",
    )


def _end_advice(job: Job, layout: Layout, end: _End) -> str:
    """Which value of which key takes the end clear, solved again; first of what changes least."""
    given = job.rail.top if end.top else job.rail.bottom
    ways = [given]
    ways += [replace(given, finish=EndFinish.CAP)] if given.finish is EndFinish.SCROLL else []
    ways += [replace(way, level=None, overhang=_LONGEST) for way in ways] if given.level is not None else []
    overlap = f"it runs {_figures(job).named(-end.clear)} into it"
    slip = _FLOOR.slip(end.room, job.output_unit) if end.room < _SHORT else ""
    unit = f"; or is surroundings.floor_{end.key} in another unit? {slip}" if slip else ""
    apart, treads = _off_floor(job, layout, end)
    for other, prefix in ((job, ""), (apart, f"{treads}, with ")):
        for way in ways:
            fitted = _fitted(other, end, way)
            if fitted is not None:
                return f"{overlap}: {prefix}{_typed(job, end.key, given, fitted)} clears it{unit}"
    return f"{overlap}, and no end of this hardware fits there{unit}"


def _off_floor(job: Job, layout: Layout, end: _End) -> tuple[Job, str]:
    """The job with the post on the floor, if there is one, on the tread next to it; and how that is typed."""
    flight = job.flights[-1 if end.top else 0]
    last = len(flight.risers)
    floor, beside = (last, last - 1) if end.top else (0, 1)
    own = {post.setback.tread for post in layout.posts if post.setback and post.setback.flight == flight.number}
    treads = tuple(sorted((own - {floor}) | {beside}))
    flights = tuple(replace(each, posts=treads) if each is flight else each for each in job.flights)
    return replace(job, flights=flights), f"{flight.key('posts')} = {list(treads)}"


def _fitted(job: Job, end: _End, way: RailEnd) -> RailEnd | None:
    """The longest end of that kind, no longer than it is, that clears; None where none can be built."""
    for _ in range(2):
        rail = replace(job.rail, top=way) if end.top else replace(job.rail, bottom=way)
        changed = replace(job, rail=rail)
        try:
            layout = solve(changed, survey_job(changed))
        except ImpossibleError:
            return None
        found = _end(changed, layout, top=end.top)
        if found is None or found.clear >= 0:
            return way
        figures = _figures(job)
        if way.level is not None:
            way = replace(way, level=figures.rounded(way.level + found.clear, Rounding.DOWN))
        else:
            pitch = layout.rails[-1 if end.top else 0].pitch
            way = replace(way, overhang=figures.rounded(way.overhang + found.clear / math.cos(pitch), Rounding.DOWN))
    return None


def _typed(job: Job, key: str, given: RailEnd, fitted: RailEnd) -> str:
    named = _figures(job).named
    if fitted.level is not None:
        length = f"rail.{key}.level_extension of {named(fitted.level)}"
    else:
        length = f"rail.{key}.overhang of {named(fitted.overhang)}"
        length += f" in place of rail.{key}.level_extension" if given.level is not None else ""
    finish = f' with rail.{key}.finish = "{fitted.finish.value}"' if fitted.finish is not given.finish else ""
    return f"a {length}{finish}"


def _wall_distance(job: Job, part: Flight | Landing) -> float | None:
    """From a flight's or landing's edge out to the wall or barrier on the rail's side (mm); None: none is known."""
    side = job.rules.surroundings.flank(part.surroundings, alone=len(job.flights) == 1)
    stands = side.beside is Beside.WALL or side.guarding is Guarding.SEPARATE
    return side.wall_distance if stands else None


def _beside_checks(job: Job, layout: Layout) -> Iterator[Check]:
    """Each flight and each landing against the wall or barrier beside it."""
    found: dict[str, tuple[str, float]] = {}
    passed = 0
    for rail in layout.rails:
        passed = rail.flight or passed
        part: Flight | Landing = job.flights[max(passed, 1) - 1]
        where = f"flight {part.number}"
        if rail.flight is None and not rail.level_end:
            part = job.landings[passed - 1]
            where = f"landing {part.number}"
        distance = _wall_distance(job, part)
        if distance is None or (rail.flight is None and rail.direction.z > _STEEP):
            continue
        out = job.rail.side.outwards(rail.left)
        wall = HalfSpace(at=rail.start + out * (job.posts.edge_offset + distance), into=out)
        names = {foot.post for foot in rail.feet} | {node.post for node in layout.nodes if rail.meets(node)}
        bodies = list(_pieces(job, layout, [rail]))
        for post in layout.posts:
            bodies += post_bodies(job, post) if post.id in names else ()
        nearest = _nearest(wall, bodies)
        found[where] = min(found.get(where, nearest), nearest, key=lambda item: item[1])
    for where, (name, clear) in found.items():
        figures = _figures(job)
        wanted = figures.named(job.posts.edge_offset - clear, Rounding.UP)
        yield Check(
            code="obstacle-beside",
            title="clearance of rail, posts and plates from the wall or barrier beside",
            where=where,
            value=clear,
            unit="mm",
            least=0.0,
            certainty=Certainty.JOB,
            formula=f"{name} is nearest to it",
            advice=f"{name} runs {figures.named(-clear)} into it: posts.edge_offset = {wanted} clears it"
            if clear < 0
            else "",
        )
