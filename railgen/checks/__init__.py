"""Whether the rail is what the job and the codes ask for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from railgen.checks.job import job_checks
from railgen.checks.model import Certainty, Check, Verdict
from railgen.checks.obstacles import obstacle_checks
from railgen.checks.rules import rule_checks
from railgen.checks.strength.advice import advise
from railgen.checks.strength.chain import strength_links
from railgen.checks.strength.inputs import load_checks
from railgen.job.model import Job
from railgen.job.rules_model import Trust
from railgen.layout.model import Layout

__all__ = ["Certainty", "Check", "Verdict", "run_checks"]


def run_checks(job: Job, layout: Layout) -> tuple[Check, ...]:
    """Every check of a solved rail, in the order it is printed. Raises InputError: no such rule set or load."""
    checks = (
        *job_checks(job, layout),
        *obstacle_checks(job, layout),
        *rule_checks(job, layout, job.rules),
        *load_checks(job),
        *_strength_checks(job, layout),
    )
    return tuple(_trusted(check, job.rules.certainty) for check in checks)


_DOUBTED = {
    Trust.READ: (Certainty.SECONDARY, Certainty.MEMORY),
    Trust.SECONDARY: (Certainty.MEMORY,),
    Trust.MEMORY: (),
}


def _trusted(check: Check, trust: Trust) -> Check:
    """A check as it is, or left open where its numbers are less sure than the job asks (rules.certainty)."""
    if check.certainty not in _DOUBTED[trust] or check.verdict is Verdict.CANNOT_SAY:
        return check
    missing = f'numbers better known than {check.certainty} (rules.certainty = "{trust}")'
    return replace(check, missing=missing, advice="", governs=False)


def _strength_checks(job: Job, layout: Layout) -> Iterator[Check]:
    """Every link from rail to ground under the load that governs it, those that fail with what would mend them.

    Nothing where the job names no load. Raises InputError for a load that is not there.
    """
    links = strength_links(job, layout) if job.strength.loads else ()
    advice = advise(job, layout, links)
    for link in links:
        yield link.record(advice.get(link.code, "") if link.outcome.verdict is Verdict.FAILS else "")
