"""The height band that a job's codes set, and whether what is accepted on site keeps the rail within it."""

from __future__ import annotations

from collections.abc import Iterator

from railgen.checks.rules.load import load_rule_sets
from railgen.checks.rules.model import Kind
from railgen.job.model import Job
from railgen.layout.margin import margin_note
from railgen.layout.model import Layout

__all__ = ["height_notes"]


def height_notes(job: Job, layout: Layout) -> Iterator[str]:
    """A note where accepted errors may take the rail out of what all the job's codes ask for over the nosings."""
    rules = [rule for rule_set in load_rule_sets(job.rules) for rule in rule_set.rule if rule.kind is Kind.HEIGHT]
    least = max((rule.least for rule in rules if rule.least is not None), default=None)
    most = min((rule.most for rule in rules if rule.most is not None), default=None)
    if least is not None or most is not None:
        note = margin_note(job, layout, least, most)
        if note:
            yield note
