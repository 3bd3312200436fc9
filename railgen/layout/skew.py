"""Joining rails of half turns that run out of square, and whether they could be held square."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from railgen.errors import ImpossibleError
from railgen.job.model import Job, Landing
from railgen.layout.level import square_total
from railgen.layout.model import Layout
from railgen.layout.solve import solve
from railgen.layout.wording import said
from railgen.survey import surface_at

__all__ = ["skew_notes"]

_SKEW = 5.0  # mm: a joining rail further out of square than this is seen beside the landing's edge; common practice
_TRIES = 8  # landings squared one at a time: each is a whole stair solved again


def skew_notes(job: Job, layout: Layout) -> Iterator[str]:
    """A note for each: first all are squared in one, and only where that fails the first few by themselves."""
    skewed = [(landing, out) for landing in job.landings if (out := _out(job, layout, landing)) > _SKEW]
    together = bool(skewed) and _holds(job, layout, [landing for landing, _ in skewed])
    for tried, (landing, out) in enumerate(skewed):
        told = f"landing {landing.number}: the joining rail runs {said(job, out)} out of square to the flights"
        way = f"{landing.key('square')} = true"
        if together:
            others = ", as do the other landings that run so with theirs" if len(skewed) > 1 else ""
            yield f"{told}; {way} holds it square{others}"
        elif tried >= _TRIES:
            yield f"{told}; {way} may hold it square: it was not tried, after {_TRIES} landings that were"
        elif len(skewed) > 1 and _holds(job, layout, [landing]):
            yield f"{told}; {way} holds it square"
        else:
            yield f"{told}; with these posts it cannot be held square ({way}): try other treads or a wider setback band"


def _out(job: Job, layout: Layout, landing: Landing) -> float:
    """By how much (mm) the two ends of the joining rail differ along the flights; 0 where it is not on the inside."""
    if landing.turn.quarters != 2 or landing.square or landing.turn.side is not job.rail.side:
        return 0.0
    surface = surface_at(job, landing.number + 1, 0)
    setbacks = [post.setback.distance for post in layout.posts if post.setback and post.surface == surface]
    return abs(square_total(layout.survey.flights[landing.number], landing) - sum(setbacks))


def _holds(job: Job, layout: Layout, landings: Sequence[Landing]) -> bool:
    """Whether the rail can be built with these landings held square."""
    squared = tuple(replace(each, square=each in landings or each.square) for each in job.landings)
    try:
        solve(replace(job, landings=squared), replace(layout.survey, landings=squared))
    except ImpossibleError:
        return False
    return True
