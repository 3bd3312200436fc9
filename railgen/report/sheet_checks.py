"""The checks as the job sheet shows them: what is not met first, then every check with how it was come by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from railgen.checks import Check, Verdict
from railgen.drawings import Figures
from railgen.report.sheet_grid import Cell, Grid, grid

__all__ = ["check_table", "count_line", "open_checks"]

STATES = {Verdict.MEETS: "meets", Verdict.FAILS: "fails", Verdict.CANNOT_SAY: "unsaid"}


def count_line(checks: Sequence[Check]) -> str:
    """How many checks there are, and how many of each verdict."""
    counts = Counter(check.verdict for check in checks)
    parts = ", ".join(f"{counts[verdict]} {verdict.value}" for verdict in Verdict if counts[verdict])
    return f"{len(checks)} checks: {parts}" if parts else "no checks were made"


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
    return "" if check.value is None else _quantity(check.value, check.unit, figures)


def _allowed(check: Check, figures: Figures) -> str:
    low, high = (None if v is None else _quantity(v, check.unit, figures) for v in (check.least, check.most))
    if low is not None and high is not None:
        return f"{low} to {high}"
    return f"at least {low}" if low is not None else f"at most {high}" if high is not None else ""


def _quantity(value: float, unit: str, figures: Figures) -> str:
    if unit == "mm":
        return f"{figures.length(value)} {figures.unit}"
    return f"{value:.0f}" if not unit and value == round(value) else f"{value:.2f} {unit}".rstrip()
