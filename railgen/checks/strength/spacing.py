"""How many posts: as few as the job's largest span allows, or as few as strength allows too."""

from __future__ import annotations

from dataclasses import replace

from railgen.checks.model import Verdict
from railgen.checks.strength.chain import strength_links
from railgen.errors import ImpossibleError
from railgen.job.model import Job
from railgen.layout import solve
from railgen.layout.model import Layout
from railgen.survey import survey_job

__all__ = ["spaced"]

_LEAST = 300.0  # mm: no closer


def spaced(job: Job, layout: Layout) -> Layout:
    """The rail with the fewest posts under which every link that can be told holds, and a note on what governed.

    Where closer posts never mend all of it, the rail is left as the largest span made it, and the note says so.
    Raises InputError for a load that is not there.
    """
    if not _fails(job, layout):
        return _noted(layout, "posts: the largest span governs their number, strength would allow it")
    tried, found = job, layout
    while True:
        limit = float(int(max((span.length for span in found.spans), default=0.0) - 1))
        if limit < _LEAST or all(flight.posts is not None for flight in job.flights):
            break
        tried = replace(tried, posts=replace(tried.posts, largest_span=limit))
        try:
            found = solve(tried, survey_job(tried))
        except ImpossibleError:
            break
        if not _fails(job, found):
            return _noted(found, f"posts: strength governs their number, spans held to {limit:.0f} mm")
    still = ", ".join(sorted(set(_fails(job, layout))))
    return _noted(layout, f"posts: no number of posts makes the rail hold by strength ({still})")


def _fails(job: Job, layout: Layout) -> list[str]:
    return [link.outcome.name for link in strength_links(job, layout) if link.outcome.verdict is Verdict.FAILS]


def _noted(layout: Layout, note: str) -> Layout:
    return replace(layout, notes=(*layout.notes, note))
