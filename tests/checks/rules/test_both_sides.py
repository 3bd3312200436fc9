"""Every rule of every shipped rule set is seen to be met and to be broken, or is named here with the reason why not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from railgen.checks import Verdict
from railgen.checks.rules import Kind, load_rule_sets, rule_checks, shipped_rule_sets
from railgen.job.model import EndFinish, RailEnd
from railgen.job.rules_model import Beside, Guarding, Occupancy, OtherSide, RulesInput, Surroundings
from tests.checks.rules.limits import LIMITS
from tests.checks.rules.scenes import Case, bare, even, scene_with, two_flights, uneven

_ONE_SIDE = "a handrail on one side is all it asks for, and every job has one"
ONE_SIDED = {  # rules that no job can break
    ("au-hp-2022", "handrail"): _ONE_SIDE,
    ("au-hp-2022-service", "handrail"): _ONE_SIDE,
    ("us-irc-2021", "handrail"): _ONE_SIDE,
    ("us-ibc-2021-dwelling", "handrail"): _ONE_SIDE,
    ("ca-nbcae-2023-dwelling", "handrail"): _ONE_SIDE,
    ("uk-adm1-2015-visitable-external", "handrail"): _ONE_SIDE,
}
BY_BUILDING = ("us-ibc-2021-dwelling",)  # sets whose rules go by occupancy and storeys


def _limits(name: str) -> Iterator[Case]:
    """A hair inside and a hair outside every number of the set."""
    whole = {Kind.RISER_COUNT, Kind.RISERS_IN_LINE, Kind.CONTINUITY, Kind.LOADS}
    for limit in LIMITS:
        for bound, least in ((limit.least, True), (limit.most, False)):
            if limit.rule_set == name and bound is not None:
                step = (1.0 if limit.kind in whole else 0.05) * (-1 if least else 1)
                yield scene_with(limit.kind, bound, least=least)
                yield scene_with(limit.kind, bound + step, least=least)


def _sides() -> Iterator[Case]:
    for other in OtherSide:
        for job in (even(6, width=2500.0), two_flights()):
            yield job, bare(job), RulesInput(surroundings=Surroundings(other_side=other))


def _barriers() -> Iterator[Case]:
    for guarding in (Guarding.NONE, Guarding.SEPARATE):
        job = two_flights()
        site = Surroundings(beside=Beside.OPEN, ground_level=-5000.0, guarding=guarding)
        yield job, bare(job), RulesInput(surroundings=site)


def _ends() -> Iterator[Case]:
    for finish in (EndFinish.OPEN, EndFinish.SCROLL):
        for returned in (True, False):
            job = even()
            end = RailEnd(finish=finish, overhang=150.0)
            job = replace(job, rail=replace(job.rail, bottom=end, top=end))
            yield job, bare(job), RulesInput(surroundings=Surroundings(ends_returned=returned))


def _alike() -> Iterator[Case]:
    """Where a document says uniform without a number: within what the job accepts, and 0.1 mm beyond."""
    for more in (4.9, 5.1):
        for job in (uneven([170.0, 170.0 + more, 170.0], [280.0] * 2), uneven([170.0] * 3, [280.0, 280.0 + more])):
            yield job, bare(job), RulesInput(uniform_within=5.0)


def _reaches() -> Iterator[Case]:
    for value in (279.9, 280.1):  # one tread depth of goings of 280
        yield scene_with(Kind.EXTENSION_BOTTOM, value, least=True)


def _deep() -> Iterator[Case]:
    """Flights of deep treads, which Approved Document M volume 2 lets be longer: 1.33, read: 18 risers from 350 mm."""
    for risers in (18, 19):
        job = even(risers, going=360.0)
        yield job, bare(job), RulesInput()


def _buildings() -> Iterator[dict[str, object]]:
    """The kinds of building that documents tell apart."""
    for occupancy in (Occupancy.ONE_FAMILY, Occupancy.FLAT):
        yield from ({"occupancy": occupancy, "storeys": storeys} for storeys in (2, 4))


def _landings() -> Iterator[Case]:
    for value in (999.9, 1000.1):  # as long as the stair is wide
        job = two_flights(value, width=1000.0)
        yield job, bare(job), RulesInput(surroundings=Surroundings(floor_bottom=value, floor_top=value))


@cache
def _seen(name: str) -> dict[str, set[Verdict]]:
    """For each rule of a set, the verdicts it came to in all the scenes."""
    found: dict[str, set[Verdict]] = {}
    scenes = (*_limits(name), *_sides(), *_barriers(), *_ends(), *_alike(), *_reaches(), *_deep(), *_landings())
    for job, layout, rules in scenes:
        for building in _buildings() if name in BY_BUILDING else ({},):
            site = rules.surroundings.model_copy(update=building)
            for check in rule_checks(job, layout, replace(rules, sets=(name,), surroundings=site)):
                found.setdefault(check.rule.removeprefix(f"{name}/"), set()).add(check.verdict)
    return found


@pytest.mark.parametrize("name", [name for name in shipped_rule_sets() if name != "none"])
def test_every_rule_is_met_and_broken_somewhere(name: str) -> None:
    (rule_set,) = load_rule_sets(RulesInput(sets=(name,)))
    assert rule_set.rule
    for rule in rule_set.rule:
        seen = _seen(name).get(rule.id, set())
        assert Verdict.MEETS in seen, rule.id
        assert (Verdict.FAILS in seen) is ((name, rule.id) not in ONE_SIDED), rule.id


def test_every_rule_that_is_named_is_there() -> None:
    sets = {name: load_rule_sets(RulesInput(sets=(name,)))[0] for name in shipped_rule_sets()}
    known = {(name, rule.id) for name, rule_set in sets.items() for rule in rule_set.rule}
    assert set(ONE_SIDED) <= known
    by_building = {
        name for name, rule_set in sets.items() if any(r.when.occupancy or r.when.storeys_most for r in rule_set.rule)
    }
    assert by_building == set(BY_BUILDING)
