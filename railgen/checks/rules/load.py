"""Rule sets from files: the shipped ones by name, a user's own by path; only those asked for are read."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

from pydantic import ValidationError

from railgen.checks.rules.model import RuleSet
from railgen.errors import Fault, InputError
from railgen.job.rules_model import RulesInput
from railgen.units import Unit

__all__ = ["load_rule_file", "load_rule_sets", "shipped_rule_sets"]

_DATA = Path(__file__).parent / "data"
_LARGEST = 1_000_000  # bytes


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
            continue
        faults.append(
            Fault(
                code="unknown-rule-set",
                where="rules.sets",
                message=f"there is no rule set {name!r}",
                allowed=", ".join(shipped_rule_sets()),
                hint="a rule set of your own is named under rules.files",
            )
        )
    for path in dict.fromkeys(rules.files):
        try:
            own = load_rule_file(path)
        except InputError as error:
            faults += error.faults
            continue
        if own.id in found:
            faults.append(Fault(code="rule-set-twice", where="id", message=f"{own.id!r} is taken", file=path.name))
        found[own.id] = own
    if faults:
        raise InputError(faults)
    return tuple(found.values())


@cache
def _shipped(name: str) -> RuleSet:
    return load_rule_file(_DATA / f"{name}.toml")


def load_rule_file(path: Path) -> RuleSet:
    """One rule set file. Raises InputError with every fault in it."""
    try:
        content = path.read_bytes()[: _LARGEST + 1]
    except OSError as error:
        raise InputError(_fault(path, "unreadable", f"cannot be read: {error.strerror}")) from None
    if len(content) > _LARGEST:
        raise InputError(_fault(path, "too-large", f"is larger than {_LARGEST} bytes"))
    try:
        raw = tomllib.loads(content.decode())
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise InputError(_fault(path, "not-toml", f"is not TOML: {error}")) from None
    unit = Unit.INCH if raw.get("units") == Unit.INCH else Unit.MM
    try:
        return RuleSet.model_validate(raw, context={"unit": unit})
    except ValidationError as error:
        raise InputError([_told(path, item) for item in error.errors(include_url=False)]) from None


def _fault(path: Path, code: str, message: str) -> Fault:
    return Fault(code=code, where="", message=message, file=path.name)


def _told(path: Path, item: object) -> Fault:
    """A fault of pydantic's, with the union's tag left out of the place."""
    assert isinstance(item, dict)  # noqa: S101
    place = ""
    for step in item["loc"]:
        if isinstance(step, int):
            place += f"[{step}]"
        elif step not in ("length", "degrees", "count", "percent"):
            place += f".{step}" if place else str(step)
    context = item.get("ctx", {})
    unknown = item["type"] == "extra_forbidden"
    return Fault(
        code="unknown-key" if unknown else str(item["type"]).replace("_", "-"),
        where=place,
        message="there is no such option" if unknown else str(item["msg"]),
        allowed=str(context.get("allowed", "")),
        hint=str(context.get("hint", "")),
        file=path.name,
    )
