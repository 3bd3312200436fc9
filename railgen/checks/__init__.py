"""Whether the rail is what the job and the codes ask for."""

from __future__ import annotations

from railgen.checks.job import job_checks
from railgen.checks.model import Certainty, Check, Verdict
from railgen.checks.rules import rule_checks
from railgen.checks.strength.job import strength_checks
from railgen.job.model import Job
from railgen.layout.model import Layout

__all__ = ["Certainty", "Check", "Verdict", "run_checks"]


def run_checks(job: Job, layout: Layout) -> tuple[Check, ...]:
    """Every check of a solved rail, in the order it is printed. Raises InputError: no such rule set or load."""
    return (*job_checks(job, layout), *rule_checks(job, layout, job.rules), *strength_checks(job, layout))
