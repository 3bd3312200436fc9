"""What a job leaves unjudged, and the warnings that no number settles."""

from __future__ import annotations

from collections.abc import Iterator

from railgen.checks.rules import RuleSet, load_rule_sets
from railgen.checks.strength.inputs import load_cases
from railgen.checks.strength.notes import strength_notes
from railgen.errors import Fault, InputError
from railgen.job.model import Job

__all__ = ["check_notes"]

_NO_RULES = "no rule set is named: whether the rail meets a building code is not judged (rules.sets)"


def check_notes(job: Job) -> tuple[str, ...]:
    """Notes for everyone who reads a verdict. Raises InputError with every fault of the rule sets and loads named."""
    faults: list[Fault] = []
    sets: tuple[RuleSet, ...] = ()
    try:
        sets = load_rule_sets(job.rules)
    except InputError as error:
        faults += error.faults
    try:
        load_cases(job.strength)
    except InputError as error:
        faults += error.faults
    if faults:
        raise InputError(faults)
    judged = [rule_set for rule_set in sets if rule_set.rule]
    said = [note for rule_set in judged for note in _of_set(rule_set)] or [_NO_RULES]
    return (*said, *strength_notes(job))


def _of_set(rule_set: RuleSet) -> Iterator[str]:
    """What a rule set says of itself, and what its document asks that is not judged here."""
    if rule_set.notes:
        yield f"{rule_set.source}: {'; '.join(rule_set.notes)}"
    if rule_set.not_judged:
        yield f"{rule_set.source}, not judged here: {'; '.join(rule_set.not_judged)}"
