"""The checks as the job sheet shows them: what is not met first, then every check with how it was come by."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from railgen.checks import Check, Verdict
from railgen.checks.model import places
from railgen.report.sheet_grid import Cell, Grid, grid
from railgen.units import Figures

__all__ = ["OpenCheck", "check_table", "open_checks", "open_groups", "shortened"]

STATES = {Verdict.MEETS: "meets", Verdict.FAILS: "fails", Verdict.CANNOT_SAY: "unsaid"}
_FEW = 6  # places that are told one to a line
_SHORT = 64  # letters of a source that a row has room for


def open_checks(checks: Sequence[Check], figures: Figures) -> list[tuple[str, str, list[tuple[str, str]]]]:
    """Every check that is not met: its state, what and where it is, and what is found, allowed, missing or of help."""
    return [
        (
            STATES[check.verdict],
            f"{check.title}, {check.where}" if check.where else check.title,
            _filled(
                ("Found", _found(check, figures)),
                ("Allowed", _allowed(check, figures)),
                ("Missing", check.missing),
                ("Would help", check.advice),
                ("By", _by(check)),
            ),
        )
        for check in checks
        if check.verdict is not Verdict.MEETS
    ]


def check_table(checks: Sequence[Check], figures: Figures) -> Grid:
    """One row for each check in the order printed elsewhere; formula, source and the rest open below its title."""
    rows = [
        (
            Cell(text=check.verdict.value, state=STATES[check.verdict]),
            check.where,
            Cell(text=check.title, more=_more(check)),
            Cell(text=_found(check, figures), key=check.value),
            _allowed(check, figures),
            _by(check),
        )
        for check in checks
    ]
    return grid("Every check", ("verdict", "where", "what", "found", "allowed", "by"), rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCheck:
    """What is not met, once for all places that ask the same: ``sources`` are told apart where they are long."""

    state: str
    title: str
    facts: list[tuple[str, str]]
    sources: str


def open_groups(checks: Sequence[Check], figures: Figures) -> list[OpenCheck]:
    """Every check that is not met, those of one title together: where, what is found, allowed, missing or of help."""
    groups: dict[tuple[Verdict, str], list[Check]] = {}
    for check in checks:
        if check.verdict is not Verdict.MEETS:
            groups.setdefault((check.verdict, check.title), []).append(check)
    return [_open(group, figures) for group in groups.values()]


def _open(group: Sequence[Check], figures: Figures) -> OpenCheck:
    worst = min(group, key=lambda check: check.margin)
    limits = list(dict.fromkeys(_allowed(check, figures) for check in group))

    def found(check: Check) -> str:
        limit = f" ({text})" if len(limits) > 1 and (text := _allowed(check, figures)) else ""
        return f"{_found(check, figures)}{limit}" + (f" at {check.where}" if check.where else "")

    measured = [check for check in group if check.value is not None]
    unmeasured = [check.where for check in group if check.value is None and check.where]
    more = f", for {worst.where}" if len(group) > 1 and worst.where else ""
    sources = "; ".join(dict.fromkeys(filter(None, map(_by, group))))
    long = len(sources) > _SHORT
    return OpenCheck(
        state=STATES[worst.verdict],
        title=worst.title,
        facts=_filled(
            ("Found", _listed(map(found, measured))),
            ("Where", _listed(unmeasured)),
            ("Allowed", limits[0] if len(limits) == 1 else ""),
            ("Missing", "; ".join(dict.fromkeys(check.missing for check in group if check.missing))),
            (f"Would help{more}", worst.advice),
            ("By", "" if long else sources),
        ),
        sources=sources if long else "",
    )


def _listed(texts: Iterable[str]) -> str:
    """A few places one to a line, many one after another."""
    told = list(texts)
    return ("\n" if len(told) <= _FEW else "; ").join(told)


def shortened(table: Grid) -> Grid:
    """A ``check_table`` for narrow screens: what was checked first, long sources told where the formula is."""

    def row(verdict: Cell, where: Cell, what: Cell, found: Cell, allowed: Cell, by: Cell) -> tuple[Cell, ...]:
        if len(by.text) > _SHORT:
            what = replace(what, more=(*what.more, ("By", by.text)))
            by = Cell(text=f"{by.text.partition(';')[0][:_SHORT].rstrip()} …")
        return verdict, what, where, found, allowed, by

    return replace(
        table,
        columns=("verdict", "what", "where", "found", "allowed", "by"),
        rows=tuple(row(*cells) for cells in table.rows),
    )


def _more(check: Check) -> tuple[tuple[str, str], ...]:
    """What opens below a check; nothing where the row itself says all there is."""
    if not any((check.formula, check.says, check.rule, check.missing, check.advice)):
        return ()
    return tuple(
        _filled(
            ("Formula", check.formula),
            ("Says", check.says),
            ("Rule", check.rule),
            ("The limit is", check.certainty.value),
            ("Governs", "the strictest of all that ask this here" if check.governs else ""),
            ("Missing", check.missing),
            ("Would help", check.advice),
        )
    )


def _filled(*pairs: tuple[str, str]) -> list[tuple[str, str]]:
    return [(name, text) for name, text in pairs if text]


def _by(check: Check) -> str:
    return f"{check.source} {check.clause}".strip() or check.certainty.value


def _found(check: Check, figures: Figures) -> str:
    found = check.value
    return "" if found is None else _quantity(found, check.unit, figures, least=check.least, most=check.most)


def _allowed(check: Check, figures: Figures) -> str:
    low, high = (None if v is None else _quantity(v, check.unit, figures) for v in (check.least, check.most))
    if low is not None and high is not None:
        return f"{low} to {high}"
    return f"at least {low}" if low is not None else f"at most {high}" if high is not None else ""


def _quantity(
    value: float, unit: str, figures: Figures, *, least: float | None = None, most: float | None = None
) -> str:
    if unit == "mm":
        return figures.named(value)
    if math.isinf(value):
        return "nothing holds"
    return (
        f"{value:.0f}"
        if not unit and value == round(value)
        else f"{places(value, least=least, most=most)} {unit}".rstrip()
    )
