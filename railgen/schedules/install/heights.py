"""Heights, ends and clearances of the rail as they are measured on site, within what the job and its codes allow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from railgen.job.model import Flight, Landing
from railgen.layout.margin import margin_note, slack
from railgen.schedules.install.facts import FIT, Facts
from railgen.schedules.install.model import Asked, Measure

__all__ = ["clearances", "ends", "height_margin", "heights"]


def heights(facts: Facts) -> tuple[Measure, ...]:
    """Height over every nosing that the rail covers, and of level ends over the floor.

    A code's bounds are hard. The job's own least height is hard only where no code names one: else it is what the
    design aims at, and may be missed by what accepted errors take from it.
    """
    pitches = {rail.flight: rail.pitch for rail in facts.layout.rails if rail.flight is not None}
    over_nosings = tuple(
        _height(
            facts, Asked.HEIGHT, "height, nosing to top of rail", (where, where), height.height, pitches[height.flight]
        )
        for height in facts.layout.heights
        if height.height is not None
        for where in (f"flight {height.flight}, nosing {height.nosing}",)
    )
    return (*over_nosings, *_level_heights(facts))


def height_margin(facts: Facts) -> tuple[str, ...]:
    """What to know, and to type, where accepted errors may take the rail out of its bounds."""
    bounds = [facts.limit(Asked.HEIGHT, limit.where) for limit in facts.limits if limit.asked is Asked.HEIGHT]
    least = max((low for low, _ in bounds if low is not None), default=None)
    most = min((high for _, high in bounds if high is not None), default=None)
    note = margin_note(facts.job, facts.layout, least, most)
    return (note,) if note else ()


def _level_heights(facts: Facts) -> Iterator[Measure]:
    flights, rails = facts.layout.survey.flights, facts.layout.rails
    for rail, flight, floor, end in (
        (rails[0], flights[0], flights[0].foot.z, "bottom"),
        (rails[-1], flights[-1], flights[-1].top_level, "top"),
    ):
        if rail.level_end:
            top = rail.start.z + facts.job.hardware.tube.radius - floor
            where = f"{rail.id}, level at the {end}", f"floor at the {end}"
            yield _height(facts, Asked.LANDING_HEIGHT, "height, floor to top of rail", where, top, flight.pitch())


def _height(facts: Facts, asked: Asked, what: str, where: tuple[str, str], designed: float, pitch: float) -> Measure:
    """``where`` as it is told on site, and as the code's check tells it."""
    told, checked = where
    least, most = facts.limit(asked, checked)
    aim = facts.job.rail.least_height
    return Measure(
        what=what,
        where=told,
        designed=designed,
        least=aim if least is None else max(least, aim - slack(pitch)),
        most=most,
        strict=True,
    )


def ends(facts: Facts) -> Iterator[Measure]:
    """How far the rail runs on beyond the first and the last nosing, level and sloping, to the tube's cut ends."""
    flights, rails = facts.layout.survey.flights, facts.layout.rails
    first, last = flights[0], flights[-1]
    start, tip = rails[0], rails[-1]
    bottom, top = "flight 1, bottom", f"flight {last.flight.number}, top"
    if start.level_end and start.far_end.node is not None:
        bend = -first.along(facts.layout.node(start.far_end.node).at)
        yield _end(facts, "sloping rail in front of the first nosing, to the elbow's middle", bottom, bend, bottom)
        reach = -first.along(start.start)
        checked = f"{bottom}, level part included"
        yield _end(facts, "rail in front of the first nosing, level part included", bottom, reach, checked)
    else:
        reach = -first.along(start.start)
        if reach > 0:
            yield _end(facts, "sloping rail in front of the first nosing, measured level", bottom, reach, bottom)
    reach = last.along(tip.end) - last.xs[-1]
    if reach > 0:
        kind = "level rail" if tip.level_end else "sloping rail"
        yield _end(facts, f"{kind} past the last nosing, measured level", top, reach, top)


def _end(facts: Facts, what: str, where: str, designed: float, checked: str) -> Measure:
    """A length beyond a nosing; a code's least is hard, what the design adds to it may be missed by what fits.

    A code that measures from the riser, or to a tube's cut end, is told as the site measures it.
    """
    wanted = [
        limit.least + (designed - limit.value if limit.value else 0.0)
        for limit in facts.limits
        if limit.asked in (Asked.TOP, Asked.TOP_LEVEL, Asked.BOTTOM)
        and limit.where == checked
        and limit.least is not None
    ]
    least = max(wanted, default=0.0)
    return Measure(
        what=what,
        where=where,
        designed=designed,
        least=max(least, designed - FIT),
        most=max(least, designed) + FIT,
        strict=least > designed - FIT,
    )


def clearances(facts: Facts) -> Iterator[Measure]:
    """Free space to the wall or barrier beside the rail, and how far the rail reaches into the stair from its edge."""
    job = facts.job
    offset, site = job.posts.edge_offset, job.rules.surroundings
    parts: list[tuple[str, Flight | Landing]] = [(f"flight {flight.number}", flight) for flight in job.flights]
    parts += [(f"landing {landing.number}", landing) for landing in job.landings]
    walls: dict[float | None, list[str]] = {}
    for where, part in parts:
        walls.setdefault(site.flank(part.surroundings, alone=len(job.flights) == 1).wall_distance, []).append(where)
    asked = [limit for limit in facts.limits if limit.asked is Asked.WALL_CLEARANCE]
    least = max((limit.least for limit in asked if limit.least is not None), default=None)
    most = min((limit.most for limit in asked if limit.most is not None), default=None)
    for wall, places in walls.items():
        if wall is not None:
            clear = wall + offset - job.hardware.tube.radius
            found = _clear("clearance between rail and wall or barrier", clear, least, most)
            yield found if len(walls) == 1 else replace(found, where=", ".join(places))
    reach = offset + max(job.hardware.tube.radius, job.hardware.post_tube.radius)
    _, most = facts.limit(Asked.PROJECTION, "at the rail")
    yield _clear("reach of the rail into the stair, from its edge", reach, None, most)


def _clear(what: str, designed: float, least: float | None, most: float | None) -> Measure:
    low, high = designed - FIT, designed + FIT
    hard = (least is not None and least > low) or (most is not None and most < high)
    low, high = low if least is None else max(low, least), high if most is None else min(high, most)
    return Measure(what=what, where="all along the rail", designed=designed, least=low, most=high, strict=hard)
