"""The rail that is built: laid out, with as many posts as strength asks for where the job lets it, and a last note.

What is decided here needs the answers of the checks, and none of it is a check: so it stands above both.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from railgen.checks.model import Verdict
from railgen.checks.rules import Kind, load_rule_sets
from railgen.errors import ImpossibleError
from railgen.job.model import Job, SpanBy
from railgen.layout import skew_notes, solve
from railgen.layout.margin import margin_note
from railgen.layout.model import Layout
from railgen.survey import survey_job

__all__ = ["settle"]

_LEAST = 300.0  # mm: no closer


def settle(job: Job) -> Layout:
    """Survey, layout and number of posts. Raises ImpossibleError with every reason for no such rail, and InputError."""
    layout = solve(job, survey_job(job))
    if job.posts.span_by is SpanBy.STRENGTH and job.strength.loads:
        layout = _spaced(job, layout)
    return replace(layout, notes=(*layout.notes, *skew_notes(job, layout), *_height_notes(job, layout)))


def _spaced(job: Job, layout: Layout) -> Layout:
    """The rail with the fewest posts under which every link that can be told holds, and a note on what governed.

    Where closer posts never mend all of it, the rail is left as the largest span made it, and the note says so.
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
    from railgen.checks.strength.chain import strength_links

    return [link.outcome.name for link in strength_links(job, layout) if link.outcome.verdict is Verdict.FAILS]


def _noted(layout: Layout, note: str) -> Layout:
    return replace(layout, notes=(*layout.notes, note))


def _height_notes(job: Job, layout: Layout) -> Iterator[str]:
    """A note where accepted errors may take the rail out of what all the job's codes ask for over the nosings."""
    rules = [rule for rule_set in load_rule_sets(job.rules) for rule in rule_set.rule if rule.kind is Kind.HEIGHT]
    least = max((rule.least for rule in rules if rule.least is not None), default=None)
    most = min((rule.most for rule in rules if rule.most is not None), default=None)
    if least is not None or most is not None:
        note = margin_note(job, layout, least, most)
        if note:
            yield note
