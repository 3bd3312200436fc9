"""What a job leaves unjudged, and the warnings that no number settles."""

from __future__ import annotations

from railgen.checks.rules import load_rule_sets
from railgen.checks.strength.inputs import load_cases
from railgen.checks.strength.notes import strength_notes
from railgen.errors import Fault, InputError
from railgen.job.model import Job

__all__ = ["check_notes"]

_NO_RULES = "no rule set is named: whether the rail meets a building code is not judged (rules.sets)"


def check_notes(job: Job) -> tuple[str, ...]:
    """Notes for everyone who reads a verdict. Raises InputError with every fault of the rule sets and loads named."""
    faults: list[Fault] = []
    judged = False
    try:
        judged = any(rule_set.rule for rule_set in load_rule_sets(job.rules))
    except InputError as error:
        faults += error.faults
    try:
        load_cases(job.strength)
    except InputError as error:
        faults += error.faults
    if faults:
        raise InputError(faults)
    return (*(() if judged else (_NO_RULES,)), *strength_notes(job))
