"""One link of the chain from rail to ground, worked out for every load case, and what a report says of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from railgen.checks.model import Certainty, Check, Verdict
from railgen.checks.strength.inputs import LoadCase
from railgen.checks.strength.result import (
    Measure,
    Resistance,
    Source,
    StrengthCheck,
    show,
)
from railgen.checks.strength.systems import Factor, System

__all__ = ["Link", "governed", "stated", "together"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One outcome at one place; ``case`` says which load and system it is of."""

    code: str
    where: str
    outcome: StrengthCheck
    case: str = ""

    def record(self, advice: str = "") -> Check:
        """The common check record, at most 1 used; the title is the link's own name: equal links stand together."""
        done = self.outcome
        says = ", ".join(text for text in (self.case, done.case) if text)
        formula = f"{says}: {done.formula}" if says else done.formula
        return Check(
            code=f"strength-{self.code}",
            title=done.name,
            where=self.where,
            value=done.utilisation,
            unit="",
            most=1.0,
            source="; ".join(dict.fromkeys(str(source) for source in done.sources)),
            clause=done.sources[-1].clause,
            certainty=done.certainty,
            formula=f"{formula}; {done.caution}" if done.caution else formula,
            missing=done.missing,
            advice=advice,
            says=says,
        )


def governed(code: str, where: str, outcomes: Iterable[tuple[LoadCase, StrengthCheck]]) -> Link:
    """The outcome that governs: a failure before an open question, and of each the most used. Raises ValueError: none.

    Of two that cannot be said, the one with fewer words missing would hide the other: the first is taken.
    """
    found = list(outcomes)
    order = {Verdict.FAILS: 2, Verdict.CANNOT_SAY: 1, Verdict.MEETS: 0}

    def rank(pair: tuple[LoadCase, StrengthCheck]) -> tuple[int, float]:
        used = pair[1].utilisation
        return order[pair[1].verdict], -1.0 if used is None else used

    case, outcome = max(found, key=rank)
    return Link(
        code=code, where=where, outcome=outcome, case=f"{case.load.id}, {case.system.id}" if outcome.case else ""
    )


def stated(
    value: float | None, measure: Measure, system: System, *, document: str, what: str, factor: Factor | None = None
) -> Resistance:
    """What a maker or engineer states, times ``factor`` or the system's on rupture; "cannot say" where not stated."""
    source = Source(document=document or "as the job states", certainty=Certainty.JOB)
    if value is None:
        return Resistance(
            value=None, measure=measure, basis=system.basis, formula="not verified", sources=(source,), missing=what
        )
    factor = factor or system.rupture
    able = value * factor.value
    return Resistance(
        value=able,
        measure=measure,
        basis=system.basis,
        formula=f"stated {show(value, measure)} {factor} = {show(able, measure)}",
        sources=(source, factor.source),
    )


def together(name: str, parts: Iterable[StrengthCheck]) -> StrengthCheck:
    """Several checks of one link as one: the worst, with what any of them misses."""
    found = list(parts)
    failing = [part for part in found if part.verdict is Verdict.FAILS]
    known = [part for part in found if part.utilisation is not None]
    missing = "; ".join(dict.fromkeys(part.missing for part in found if part.missing))
    pool = failing or known or found
    worst = max(pool, key=lambda part: part.utilisation or 0.0)
    open_question = "" if failing else missing
    return replace(worst, name=name, missing=open_question)
