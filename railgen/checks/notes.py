"""What a job leaves unjudged, and the warnings that no number settles."""

from __future__ import annotations

from collections.abc import Iterator

from railgen.checks.rules import Kind, RuleSet, load_rule_sets
from railgen.checks.steps import odd_steps
from railgen.checks.strength.inputs import load_cases
from railgen.checks.strength.notes import strength_notes
from railgen.errors import Fault, InputError
from railgen.job.model import Job
from railgen.job.rules_model import OtherSide
from railgen.units import format_length

__all__ = ["check_notes"]

_FINISH = 6.0, 40.0  # mm: from a board to a screed with tiles (common practice)
_OTHER_EDGES = "barriers are judged along both sides of the stair: look at the edges of floors beyond it on site"
_OTHER_RAILS = (
    "handrails that the job states and does not draw (surroundings.other_side, middle_rails) are counted: their own "
    "height, grip, ends and strength are not judged"
)
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
    if any(rule_set.first(kind) for rule_set in judged for kind in (Kind.GUARD_FLIGHT, Kind.GUARD_LANDING)):
        said.append(_OTHER_EDGES)
    site = job.rules.surroundings
    others = [site.other_side, *(flight.surroundings.other_side for flight in job.flights)]
    others += [landing.surroundings.other_side for landing in job.landings]
    if judged and (OtherSide.RAIL in others or site.middle_rails):
        said.append(_OTHER_RAILS)
    odd = (f"{where}: {question}" for where, question in odd_steps(job))
    return (*said, *odd, *_apart(job), *_finishes(job), *strength_notes(job))


def _apart(job: Job) -> Iterator[str]:
    """A floor that may settle away from the stair."""
    if job.rules.surroundings.bottom_apart:
        yield (
            "the floor in front of the stair is a body of its own and may go on moving: do not tie the rail rigidly to "
            "both; set the lowest post on the stair, or leave the rail free to slide at the one on the floor"
        )


def _finishes(job: Job) -> Iterator[str]:
    """One riser at a landing or floor that differs from the rest of its flight by about the thickness of a finish."""
    for index, flight in enumerate(job.flights):
        for last in (False, True):
            at = len(flight.risers) - 1 if last else 0
            others = [riser for number, riser in enumerate(flight.risers) if number != at] or [
                riser for other in job.flights if other is not flight for riser in other.risers
            ]
            odd = flight.risers[at] - sorted(others)[len(others) // 2] if others else 0.0
            if not _FINISH[0] <= abs(odd) <= _FINISH[1] or max(others) - min(others) > abs(odd) / 2:
                continue
            place = _level_name(index + 1 if last else index, len(job.flights))
            onto = f"onto {place}" if last else f"up from {place}"
            less = "lower" if odd < 0 else "higher"
            lacking = last is (odd < 0)
            guess = f"is a finish of that thickness missing on {place}" if lacking else f"was a finish laid on {place}"
            yield (
                f"flight {flight.number}: the riser {onto} is {format_length(abs(odd), job.output_unit)} {less} than "
                f"the others: {guess}, or still to come elsewhere? Settle it before anything is cut"
            )


def _level_name(level: int, flights: int) -> str:
    if level == 0:
        return "the floor at the bottom"
    return "the floor at the top" if level == flights else f"landing {level}"


def _of_set(rule_set: RuleSet) -> Iterator[str]:
    """What a rule set says of itself, and what its document asks that is not judged here."""
    if rule_set.notes:
        yield f"{rule_set.source}: {'; '.join(rule_set.notes)}"
    if rule_set.not_judged:
        yield f"{rule_set.source}, not judged here: {'; '.join(rule_set.not_judged)}"
