"""What a job can name: hardware, rule sets and loads, listed or one of them in full."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable, Sequence
from pathlib import Path

import click

from railgen.catalogue.load import Catalogue, load_catalogue
from railgen.checks.rules import RULES_CAUTION
from railgen.checks.rules.load import load_rule_sets, shipped_rule_sets
from railgen.checks.rules.model import CERTAINTIES, KINDS, LengthRule, PlainRule, Rule, RuleSet
from railgen.checks.strength.loads import RailLoad, load_names, rail_load
from railgen.errors import Fault, InputError
from railgen.fields import Angle, Length
from railgen.fields.nearest import hint_near
from railgen.job.rules_model import RulesInput
from railgen.units import Unit, format_length

__all__ = ["show_catalogue"]

_WIDE = 110


def show_catalogue(entry: str | None, files: Sequence[Path]) -> None:
    """Every entry by kind, then rule sets and loads; or one of them in full. Raises InputError."""
    catalogue = load_catalogue(files)
    if entry is None:
        for kind, entries in catalogue.kinds():
            _group(kind, ((ident, item.description) for ident, item in entries.items()))
        _group("rule set, for rules.sets", ((one.id, f"{one.source}: {one.use}".strip(": ")) for one in _rule_sets()))
        _group("load, for strength.loads", ((name, _of_load(rail_load(name))) for name in load_names()))
    elif entry in shipped_rule_sets():
        _show_rules(load_rule_sets(RulesInput(sets=(entry,)))[0])
    elif entry in load_names():
        _show_load(rail_load(entry))
    else:
        _show_entry(catalogue, entry)


def _group(kind: str, entries: Iterable[tuple[str, str]]) -> None:
    click.secho(kind, bold=True)
    for ident, text in entries:
        click.echo(f"  {ident:34} {text}".rstrip())


def _rule_sets() -> tuple[RuleSet, ...]:
    return load_rule_sets(RulesInput(sets=shipped_rule_sets()))


def _show_rules(rules: RuleSet) -> None:
    """Every rule with its clause, its limits and how sure we are of them, then what no program can judge."""
    click.secho(f"rule set {rules.id}", bold=True)
    click.echo(f"  {rules.source}{f': {rules.use}' if rules.use else ''}")
    for rule in rules.rule:
        click.echo()
        click.secho(f"  {rule.place or rule.id}: {KINDS[rule.kind][1]}", bold=True, nl=False)
        click.echo(f" ({', '.join([*_limits(rule, rules.units), CERTAINTIES[rule.certainty].value])})")
        _paragraph(rule.says)
        if rule.note:
            _paragraph(f"note: {rule.note}")
    for head, texts in (("to know", rules.notes), ("also asked, and to be judged on site", rules.not_judged)):
        if texts:
            click.secho(f"\n  {head}", bold=True)
            for text in texts:
                _paragraph(text)
    click.echo(f"\n{textwrap.fill(RULES_CAUTION, width=_WIDE)}")


def _paragraph(text: str) -> None:
    click.echo(textwrap.fill(text, width=_WIDE, initial_indent="    ", subsequent_indent="    "))


def _limits(rule: Rule, unit: Unit) -> list[str]:
    def shown(value: float) -> str:
        if isinstance(rule, LengthRule):
            return format_length(value, unit)
        return f"{value:g}{ {'degrees': ' degrees', 'percent': ' %'}.get(rule.unit, '') }"

    if isinstance(rule, PlainRule) and rule.loads:
        return [f"one of {', '.join(rule.loads)}"]
    bounds = (("at least", rule.least), ("at most", rule.most))
    return [f"{words} {shown(value)}" for words, value in bounds if value is not None]


def _of_load(load: RailLoad) -> str:
    line = [] if load.line is None else [f"{load.line:g} kN/m"]
    point = [] if load.point is None else [f"{load.point / 1000:g} kN at a point"]
    document = " ".join(part for part in (load.source.document, load.source.edition) if part)
    return f"{document}, {load.title}: {' or '.join(line + point)}"


def _show_load(load: RailLoad) -> None:
    click.secho(f"load {load.id}", bold=True)
    _paragraph(_of_load(load))
    if load.line_min is not None and load.line_max is not None:
        choice = f"{load.line_min:g} to {load.line_max:g} kN/m"
        _paragraph(f"a national annex may choose {choice}: strength.line_load, strength.annex")
    if load.buildings:
        _paragraph(f"enough for {', '.join(load.buildings)} (surroundings.occupancy)")
    source = load.source
    _paragraph(", ".join(part for part in (source.clause, source.certainty.value, source.note) if part))


def _show_entry(catalogue: Catalogue, entry: str) -> None:
    """One entry of hardware with its dimensions and what they mean."""
    found = catalogue.find(entry)
    if found is None:
        known = [ident for _, entries in catalogue.kinds() for ident in entries]
        known += [*shipped_rule_sets(), *load_names()]
        raise InputError(
            Fault(
                code="unknown-entry",
                where=entry,
                message="the catalogue has no such entry",
                hint=hint_near(entry, known) or "railgen catalogue lists what there is",
            )
        )
    kind, item = found
    click.secho(f"{kind} {item.id}", bold=True)
    rows = [
        (name, _shown(getattr(item, name), option.metadata), option.description or "")
        for name, option in type(item).model_fields.items()
    ]
    names, values = (max(len(row[column]) for row in rows) for column in (0, 1))
    for name, value, meaning in rows:
        click.echo(f"  {name:{names}}  {value:{values}}  {meaning}".rstrip())


def _shown(value: object, metadata: Sequence[object]) -> str:
    """A value of the catalogue as it is typed: lengths in mm, angles in degrees."""
    if any(isinstance(kind, Angle) for kind in metadata) and isinstance(value, float):
        return f"{math.degrees(value):g} degrees"
    if any(isinstance(kind, Length) for kind in metadata):
        return f"{value:g} mm"
    if isinstance(value, dict):
        return ", ".join(f"{key} {ident}" for key, ident in value.items())
    return str(value)
