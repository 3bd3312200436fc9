"""Rule sets from files: the shipped ones by name, a user's own by path; only those asked for are read."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from railgen.checks.rules.model import RuleSet
from railgen.errors import Fault, InputError
from railgen.fields.document import read_document
from railgen.fields.explain import read_tables, unit_of
from railgen.fields.filekind import FileKind, misplaced
from railgen.fields.nearest import hint_near
from railgen.job.rules_model import RulesInput

__all__ = ["load_rule_file", "load_rule_sets", "shipped_rule_sets"]

_DATA = Path(__file__).parent / "data"


def shipped_rule_sets() -> tuple[str, ...]:
    """Names of the rule sets that come with the program, in alphabetical order."""
    return tuple(sorted(path.stem for path in _DATA.glob("*.toml")))


def load_rule_sets(rules: RulesInput) -> tuple[RuleSet, ...]:
    """Every rule set asked for, shipped ones first, each once. Raises InputError with all faults found."""
    faults: list[Fault] = []
    found: dict[str, RuleSet] = {}
    for name in dict.fromkeys(rules.sets):
        if name in shipped_rule_sets():
            found[name] = _shipped(name)
        else:
            faults.append(_unknown(name, rules.sets.index(name)))
    for path in dict.fromkeys(rules.files):
        try:
            own = load_rule_file(path)
        except InputError as error:
            faults += error.faults
            if error.faults[0].code == "no-file":
                faults[-1] = _not_there(path, rules.files.index(path), faults[-1].hint)
            continue
        if own.id in found:
            faults.append(Fault(code="rule-set-twice", where="id", message=f"{own.id!r} is taken", file=str(path)))
        found[own.id] = own
    if faults:
        raise InputError(faults)
    return tuple(found.values())


_SPLIT = {
    "uk-adk-2013-general": "uk-adk-2013-other, uk-adk-2013-flats or, outside, uk-adm2-2015-external",
}
"""Rule sets of earlier versions that became several, with those that came of them."""


def _unknown(name: str, at: int) -> Fault:
    if name in _SPLIT:
        return Fault(
            code="rule-set-split",
            where=f"rules.sets[{at}]",
            message=f"{name!r} is several rule sets now, which ask for different things",
            allowed=_SPLIT[name],
        )
    return Fault(
        code="unknown-rule-set",
        where=f"rules.sets[{at}]",
        message=f"there is no rule set {name!r}",
        allowed=", ".join(shipped_rule_sets()),
        hint=hint_near(name, shipped_rule_sets()) or "a rule set of your own is named under rules.files",
    )


def _not_there(path: Path, at: int, hint: str) -> Fault:
    message = f'there is no file "{path.name}" in {path.parent}'
    return Fault(code="no-file", where=f"rules.files[{at}]", message=message, hint=hint)


@cache
def _shipped(name: str) -> RuleSet:
    return load_rule_file(_DATA / f"{name}.toml")


def load_rule_file(path: Path) -> RuleSet:
    """One rule set file. Raises InputError with every fault in it."""
    document = read_document(path)
    other = misplaced(document, FileKind.RULES)
    if other is not None:
        raise InputError(other)
    rule_set, faults = read_tables(RuleSet, document, unit_of(document))
    if rule_set is None:
        raise InputError(faults)
    return rule_set
