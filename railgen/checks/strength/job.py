"""Whether a job's rail holds: the links of the chain as checks, with what would mend those that do not."""

from __future__ import annotations

from railgen.checks.model import Check, Verdict
from railgen.checks.strength.advice import advise
from railgen.checks.strength.chain import strength_links
from railgen.job.model import Job
from railgen.layout.model import Layout

__all__ = ["strength_checks"]


def strength_checks(job: Job, layout: Layout) -> tuple[Check, ...]:
    """Every link from rail to ground under the load that governs it; nothing where the job names no load.

    Raises InputError for a load that is not there.
    """
    if not job.strength.loads:
        return ()
    links = strength_links(job, layout)
    advice = advise(job, layout, links)
    return tuple(
        link.record(advice.get(link.code, "") if link.outcome.verdict is Verdict.FAILS else "") for link in links
    )
