"""How a check reads, for people: terminal, page and paper lay these words out and have none of their own."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from railgen.checks.model import Certainty, Check, Verdict, outside, places
from railgen.units import MM_PER_INCH, Dimensions, Figures

__all__ = ["STRICTEST", "allowed", "by", "clauses", "facts", "found", "like", "load"]

STRICTEST = "the strictest here"
"""Said of a check that governs: the strictest of all that ask the same thing of the same place."""
_RANK = {Verdict.MEETS: "tightest", Verdict.FAILS: "worst", Verdict.CANNOT_SAY: "first"}


def found(check: Check, figures: Figures) -> str:
    """What was found, seen outside its bounds where it is not met; empty where nothing can be said.

    >>> from railgen.checks.model import Certainty
    >>> low = Check(code="", title="", where="", value=863.99, unit="mm", least=864, certainty=Certainty.READ)
    >>> found(low, Figures(style=Dimensions.MM)), allowed(low, Figures(style=Dimensions.MM))
    ('864 mm (0.010 mm below)', 'at least 864 mm')
    """
    if check.value is None:
        return ""
    if check.strength and math.isfinite(check.value):
        return f"{places(check.value, most=check.most)} used"  # of what it can bear
    if check.unit == "mm" and math.isfinite(check.value):
        return figures.named(check.value) + _hidden(check.value, check, figures)
    return _quantity(check.value, check, figures, seen=True)


def allowed(check: Check, figures: Figures) -> str:
    """The bounds; empty where there are none."""
    low, high = (None if bound is None else _quantity(bound, check, figures) for bound in (check.least, check.most))
    if low is not None and high is not None:
        return f"{low} to {high}"
    return f"at least {low}" if low is not None else f"at most {high}" if high is not None else ""


def _quantity(value: float, check: Check, figures: Figures, *, seen: bool = False) -> str:
    if math.isinf(value):
        return "nothing holds"
    if check.unit == "mm":
        return figures.named(value)
    if not check.unit and value == round(value):
        return f"{value:.0f}"
    least, most = (check.least, check.most) if seen else (None, None)
    return f"{places(value, least=least, most=most)} {check.unit}".rstrip()


def _hidden(value: float, check: Check, figures: Figures) -> str:
    """By how much a length is outside a bound that it is rounded to; empty where the figures show it."""
    below = check.least is not None and value < check.least
    bound = check.least if below else check.most
    if bound is None or figures.rounded(value) != figures.rounded(bound):
        return ""
    if not outside(value, least=check.least, most=check.most):
        return ""
    mm = figures.style.parts[0] is Dimensions.MM
    away, decimals, unit = (abs(value - bound), 3, "mm") if mm else (abs(value - bound) / MM_PER_INCH, 4, "in")
    step = 10.0**-decimals
    size = f"{away:.{decimals}f}" if away >= step else f"under {step:g}"
    return f" ({size} {unit} {'below' if below else 'above'})"


def by(check: Check) -> str:
    """Who asks, and where: document and clause, all documents of a link of strength; else how sure it is.

    What a rule's numbers were only remembered for says so.
    """
    clause = "" if check.strength else check.clause  # told among the documents
    asks = ", ".join(text for text in (check.source, clause) if text)
    remembered = asks and not check.strength and check.certainty is Certainty.MEMORY
    return f"{asks} ({check.certainty})" if remembered else asks or check.certainty.value


def load(check: Check) -> str:
    """The load that governs a link of strength, and how sure its limit is."""
    return f"{check.says} ({check.certainty})" if check.says else check.certainty.value


def clauses(check: Check) -> str:
    """The documents and clauses a link of strength rests on, without how sure they are and remarks on them."""
    parts = (re.fullmatch(r"(.+) \([^()]+\)", part) for part in check.source.split("; "))
    return "; ".join(part[1] for part in parts if part and part[1] != "statics")


def like(check: Check, count: int) -> str:
    """Which of ``count`` checks that are alike this one is, behind its place; empty for one alone."""
    return f" ({_RANK[check.verdict]} of {count})" if count > 1 else ""


def facts(check: Check) -> Iterator[tuple[str, str]]:
    """What is to be said below a check, each with its name."""
    for name, text in (
        ("Missing", check.missing),
        ("Would help", "" if check.verdict is Verdict.MEETS else check.advice),
        ("Worked out", check.formula),
    ):
        if text:
            yield name, text
