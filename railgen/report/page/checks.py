"""The checks as the job sheet shows them: what is not met first, then every check with how it was come by."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from railgen.checks import Check, Verdict
from railgen.checks.reading import STRICTEST, allowed, by, facts, found
from railgen.report.grid import Cell, Grid, grid
from railgen.units import Figures

__all__ = ["OpenCheck", "check_table", "open_groups", "shortened"]

STATES = {Verdict.MEETS: "meets", Verdict.FAILS: "fails", Verdict.CANNOT_SAY: "unsaid"}
_FEW = 6  # places that are told one to a line
_SHORT = 64  # letters of a source that a row has room for


def check_table(checks: Sequence[Check], figures: Figures) -> Grid:
    """One row for each check in the order printed elsewhere; formula, source and the rest open below its title."""
    rows = [
        (
            Cell(text=check.verdict.said, state=STATES[check.verdict]),
            check.where,
            Cell(text=check.title, more=_more(check)),
            Cell(text=found(check, figures), key=check.value),
            allowed(check, figures),
            by(check),
        )
        for check in checks
    ]
    return grid("Every check", ("verdict", "where", "what", "found", "allowed", "by"), rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCheck:
    """What is not met, once for all places that ask the same: ``sources`` are told apart where they are long."""

    state: str
    verdict: str
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
    limits = list(dict.fromkeys(allowed(check, figures) for check in group))

    def measure(check: Check) -> str:
        limit = f" ({text})" if len(limits) > 1 and (text := allowed(check, figures)) else ""
        return f"{found(check, figures)}{limit}" + (f" at {check.where}" if check.where else "")

    measured = [check for check in group if check.value is not None]
    unmeasured = [check.where for check in group if check.value is None and check.where]
    more = f", for {worst.where}" if len(group) > 1 and worst.where else ""
    sources = "; ".join(dict.fromkeys(filter(None, map(by, group))))
    long = len(sources) > _SHORT
    return OpenCheck(
        state=STATES[worst.verdict],
        verdict=worst.verdict.said,
        title=worst.title,
        facts=_filled(
            ("Found", _listed(map(measure, measured))),
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
    below = list(facts(check))
    if not below and not check.says and not check.rule:
        return ()
    return tuple(
        _filled(
            *below,
            ("Says", check.says),
            ("Rule", check.rule),
            ("The limit is", check.certainty.value),
            ("Governs", STRICTEST if check.governs else ""),
        )
    )


def _filled(*pairs: tuple[str, str]) -> list[tuple[str, str]]:
    return [(name, text) for name, text in pairs if text]
