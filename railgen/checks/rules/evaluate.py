"""All rules of all rule sets asked for, each with its verdict; and which of them is the strictest."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from railgen.checks.model import Check
from railgen.checks.rules import ends, guard, rail, space, stair
from railgen.checks.rules.found import Found, Scene
from railgen.checks.rules.load import load_rule_sets
from railgen.checks.rules.model import CERTAINTIES, KINDS, Kind, Rule, RuleSet
from railgen.job.model import Job
from railgen.job.rules_model import RulesInput
from railgen.layout.model import Layout

__all__ = ["RULES_CAUTION", "governing", "judge", "rule_checks"]

RULES_CAUTION = (
    "Rule sets are told in our own words and may be out of date, amended where you build, or read differently by your "
    "authority. The adopted local code, and the official or licensed practitioner who applies it, decide."
)
"""Stands wherever verdicts on rules are printed."""

_UNITS = {"length": "mm", "degrees": "deg", "percent": "%", "count": ""}
_SAME = 1e-9  # relative: two documents' bounds that differ by rounding

_EVALUATORS: dict[Kind, Callable[[Scene, Rule], Iterator[Found]]] = {
    Kind.RISER: stair.sizes,
    Kind.GOING: stair.sizes,
    Kind.STEP: stair.steps,
    Kind.PITCH: stair.pitch,
    Kind.RISER_ADJACENT: stair.uniformity,
    Kind.GOING_ADJACENT: stair.uniformity,
    Kind.RISER_SPREAD: stair.uniformity,
    Kind.GOING_SPREAD: stair.uniformity,
    Kind.RISER_COUNT: stair.riser_count,
    Kind.RISERS_IN_LINE: stair.risers_in_line,
    Kind.FLIGHT_RISE: stair.flight_rise,
    Kind.LANDING_LENGTH: space.landing_length,
    Kind.STAIR_WIDTH: space.stair_width,
    Kind.HEADROOM: space.headroom,
    Kind.TREAD_GAP: space.tread_gap,
    Kind.NOSING: space.nosing,
    Kind.NOSING_RADIUS: space.nosing_radius,
    Kind.SIDES: rail.sides,
    Kind.LANDING_SIDES: rail.landing_sides,
    Kind.BETWEEN_RAILS: space.between_rails,
    Kind.HEIGHT: rail.height,
    Kind.LANDING_HEIGHT: rail.landing_height,
    Kind.CONTINUITY: rail.continuity,
    Kind.GRIP: rail.grip,
    Kind.GRIP_LENGTH: rail.grip_length,
    Kind.WALL_CLEARANCE: space.wall_clearance,
    Kind.UNDER_CLEARANCE: rail.under_clearance,
    Kind.UNDER_BLOCKED: rail.under_blocked,
    Kind.PROJECTION: space.projection,
    Kind.INSIDE_EDGE: space.inside_edge,
    Kind.CLEAR_WIDTH: space.clear_width,
    Kind.EXTENSION_TOP: ends.extension,
    Kind.EXTENSION_TOP_LEVEL: ends.extension,
    Kind.EXTENSION_BOTTOM: ends.extension,
    Kind.EXTENSION_BOTTOM_LEVEL: ends.extension,
    Kind.END_RETURN: ends.end_return,
    Kind.END_FINISH: ends.end_finish,
    Kind.LOADS: rail.loads,
    Kind.GUARD_FLIGHT: guard.guard,
    Kind.GUARD_LANDING: guard.guard,
    Kind.GUARD_HEIGHT_FLIGHT: guard.guard_height,
    Kind.GUARD_HEIGHT_LANDING: guard.guard_height,
    Kind.GUARD_OPENING_FLIGHT: guard.guard_opening,
    Kind.GUARD_OPENING_LANDING: guard.guard_opening,
}


def rule_checks(job: Job, layout: Layout, rules: RulesInput) -> tuple[Check, ...]:
    """Every check of every rule set asked for, grouped by what is asked, the strictest of several marked.

    Raises InputError if a rule set does not exist or its file is wrong.
    """
    return judge(job, layout, rules, load_rule_sets(rules))


def judge(job: Job, layout: Layout, rules: RulesInput, sets: Sequence[RuleSet]) -> tuple[Check, ...]:
    """As :func:`rule_checks`, for rule sets in hand."""
    order = {kind: number for number, kind in enumerate(Kind)}
    checks: list[tuple[int, Check]] = []
    for rule_set in sets:
        scene = Scene(job=job, layout=layout, rules=rules, rule_set=rule_set)
        for rule in rule_set.rule:
            stands, unknown = scene.stands(rule.when)
            if stands:
                found = _EVALUATORS[rule.kind](scene, rule)
                checks += [(order[rule.kind], _check(rule_set, rule, _waiting(each, unknown))) for each in found]
    checks.sort(key=lambda item: item[0])
    return governing([check for _, check in checks])


def _waiting(found: Found, unknown: str) -> Found:
    """What was found, left open where it matters that the rule may not apply: what meets it meets it either way."""
    return replace(found, value=None, missing=unknown, advice="") if unknown and found.failed else found


def _check(rule_set: RuleSet, rule: Rule, found: Found) -> Check:
    unit, title = KINDS[rule.kind]
    return Check(
        code=f"rule-{rule.kind.value}",
        title=title,
        where=found.where,
        value=found.value,
        unit=_UNITS[unit],
        least=found.least,
        most=found.most,
        source=rule_set.source,
        clause=rule.place,
        certainty=CERTAINTIES[rule.certainty],
        formula=found.formula,
        missing=found.missing,
        advice=found.advice,
        rule=f"{rule_set.id}/{rule.id}",
        says=f"{rule.says} ({rule.note})" if rule.note else rule.says,
    )


def governing(checks: Sequence[Check]) -> tuple[Check, ...]:
    """The same checks, with those marked that govern: no other rule set asks something stricter of the same place.

    The strictest lower and the strictest upper bound may come from two sets. What counts is the bound, known or
    not what is held against it; where one set asks alone nothing is marked.
    """
    groups: dict[tuple[str, str], list[Check]] = {}
    for check in checks:
        groups.setdefault((check.code, check.where), []).append(check)
    bounds = {
        key: (
            max((c.least for c in group if c.least is not None), default=None),
            min((c.most for c in group if c.most is not None), default=None),
        )
        for key, group in groups.items()
        if len({check.rule_set for check in group}) > 1
    }
    nothing = None, None
    return tuple(replace(c, governs=_governs(c, *bounds.get((c.code, c.where), nothing))) for c in checks)


def _governs(check: Check, least: float | None, most: float | None) -> bool:
    return (least is not None and check.least is not None and check.least >= least - _SAME * max(abs(least), 1.0)) or (
        most is not None and check.most is not None and check.most <= most + _SAME * max(abs(most), 1.0)
    )
