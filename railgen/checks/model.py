"""The outcome of one check: what was asked, what was found, where it is written; the verdict is derived."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Certainty", "Check", "Verdict", "outside", "places"]

_HAIR = 1e-9  # relative: rounding, not a dimension
_FINEST = 6  # decimals


class Verdict(StrEnum):
    """What a check found, as other programs read it; only the first is a pass.

    The second is never a check's, but that of all together where none of them speaks of codes or of strength.
    """

    MEETS = "meets"
    AS_JUDGED = "meets as far as judged"
    FAILS = "does not meet"
    CANNOT_SAY = "cannot say"

    @property
    def said(self) -> str:
        """In the words that people read.

        >>> [verdict.said for verdict in Verdict]
        ['met', 'met as far as judged', 'not met', 'cannot say']
        """
        return self.value.replace("does not meet", "not met").replace("meets", "met")


class Certainty(StrEnum):
    """How sure we are of a limit's text."""

    READ = "read in the document"
    SECONDARY = "read in a secondary or older text"
    MEMORY = "from memory"
    PRACTICE = "common practice"
    JOB = "asked for by the job"
    MECHANICS = "closed form of mechanics"


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check at one place. ``value`` is None where an input is missing, which ``missing`` then names.

    ``least`` and ``most`` bound what is allowed, both included; ``utilisation`` checks have ``most`` 1. ``formula``
    shows the numbers put in; ``advice`` is the nearest change that would meet the check. ``rule`` is the rule's own
    name (``set/rule``) and ``says`` its plain words; ``governs`` marks the strictest of several rule sets that ask the
    same thing of the same place.
    """

    code: str
    title: str
    where: str
    value: float | None
    unit: str
    least: float | None = None
    most: float | None = None
    source: str = ""
    clause: str = ""
    certainty: Certainty
    formula: str = ""
    missing: str = ""
    advice: str = ""
    rule: str = ""
    says: str = ""
    governs: bool = False

    @property
    def rule_set(self) -> str:
        """The rule set that asks; empty where none does."""
        return self.rule.partition("/")[0]

    @property
    def strength(self) -> bool:
        """Whether it is a link of the chain from rail to ground, its value the share used of what that bears."""
        return self.code.startswith("strength-")

    @property
    def margin(self) -> float:
        """How far the value stays within its nearer bound, as a share of it; -inf where nothing can be said."""
        if self.value is None or self.missing:
            return -math.inf
        sides = [(self.value - self.least, self.least)] if self.least is not None else []
        sides += [(self.most - self.value, self.most)] if self.most is not None else []
        return min((room / max(abs(bound), 1.0) for room, bound in sides), default=-math.inf)

    @property
    def verdict(self) -> Verdict:
        if self.value is None or self.missing or (self.least is None and self.most is None):
            return Verdict.CANNOT_SAY
        return Verdict.FAILS if outside(self.value, least=self.least, most=self.most) else Verdict.MEETS


def outside(value: float, *, least: float | None = None, most: float | None = None) -> bool:
    """Whether a value is below ``least`` or above ``most`` by more than arithmetic leaves over, or is no number."""
    high_enough = least is None or value >= least - _HAIR * max(abs(least), 1.0)
    low_enough = most is None or value <= most + _HAIR * max(abs(most), 1.0)
    return not (high_enough and low_enough)


def places(value: float, decimals: int = 2, *, least: float | None = None, most: float | None = None) -> str:
    """A number to so many ``decimals``, or to as many more as show that it lies outside its bounds.

    >>> places(1.0004, most=1.0), places(1.02, most=1.0), places(0.996, most=1.0), places(24.998, least=25)
    ('1.0004', '1.02', '1.00', '24.998')
    """
    for finer in range(decimals, _FINEST):
        text = f"{value:.{finer}f}"
        low = least is not None and value < least <= float(text)
        if not low and not (most is not None and value > most >= float(text)):
            return text
    return f"{value:.{_FINEST}f}"
