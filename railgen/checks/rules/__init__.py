"""Whether a stair and its rail meet the rule sets a job names."""

from railgen.checks.rules.evaluate import RULES_CAUTION, governing, judge, rule_checks
from railgen.checks.rules.load import load_rule_file, load_rule_sets, shipped_rule_sets
from railgen.checks.rules.model import Kind, Rule, RuleSet

__all__ = [
    "RULES_CAUTION",
    "Kind",
    "Rule",
    "RuleSet",
    "governing",
    "judge",
    "load_rule_file",
    "load_rule_sets",
    "rule_checks",
    "shipped_rule_sets",
]
