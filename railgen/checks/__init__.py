"""Whether the rail is what the job and the codes ask for."""

from __future__ import annotations

from collections.abc import Iterator

from railgen.checks.job import job_checks
from railgen.checks.model import Certainty, Check, Verdict
from railgen.checks.rules import rule_checks
from railgen.job.model import Job
from railgen.layout.model import Layout

__all__ = ["Certainty", "Check", "Verdict", "run_checks"]


def run_checks(job: Job, layout: Layout) -> tuple[Check, ...]:
    """Every check of a solved rail, in the order it is printed. Raises InputError for a rule set that is not there."""
    return (*job_checks(job, layout), *rule_checks(job, layout, job.rules), *_strength(job))


def _strength(job: Job) -> Iterator[Check]:
    """Loads that are named are never passed over in silence."""
    for load in job.strength.loads:
        yield Check(
            code="strength",
            title=f"strength under load {load}",
            where="rail",
            value=None,
            unit="",
            certainty=Certainty.MECHANICS,
            missing="this version does not yet work out loads on posts, rails, plates and fixings of a job",
            advice="have a licensed engineer verify the rail and its fixings",
        )
