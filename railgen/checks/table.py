"""``checks.json`` and the cautions that stand beside every verdict."""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Sequence

from railgen.checks.job import BAR
from railgen.checks.model import Certainty, Check, Verdict, places
from railgen.checks.reading import by
from railgen.checks.rules import RULES_CAUTION
from railgen.checks.strength.notes import STRENGTH_CAUTION

__all__ = [
    "CAUTION",
    "CHECK_COLUMNS",
    "cautions",
    "check_rows",
    "checks_json",
    "count_line",
    "overall",
    "tightest",
    "unjudged",
]

CAUTION = (
    "These checks are calculations on the numbers typed in. The local building code and a licensed engineer or builder "
    "decide whether a rail may be built and used; measure again on site before cutting or drilling."
)


def cautions(checks: Sequence[Check]) -> tuple[str, ...]:
    """The sentences that stand beside the verdicts on these checks."""
    rules, strength = any(check.rule for check in checks), any(check.strength for check in checks)
    return (CAUTION, *([RULES_CAUTION] if rules else []), *([STRENGTH_CAUTION] if strength else []))


_FIGURES = re.compile(r"\d[\d\s./-]*")


def tightest(checks: Sequence[Check]) -> list[tuple[Check, int]]:
    """What a short report shows: of the checks that are alike the tightest, with the number of those it stands for.

    Alike are met checks of one title, links of strength and tubes too long of one title and one verdict, and
    the places where one rule is not met for want of one thing or with one advice but for its figures. Every other
    check that is not met stands alone. In the order of the checks.
    """
    alike: dict[tuple[str, ...], list[Check]] = {}
    for number, check in enumerate(checks):
        alike.setdefault((check.code, check.title, check.verdict, *_apart(check, number)), []).append(check)
    chosen = {id(min(group, key=lambda check: check.margin)): len(group) for group in alike.values()}
    return [(check, chosen[id(check)]) for check in checks if id(check) in chosen]


def _apart(check: Check, number: int) -> tuple[str, ...]:
    """What tells a check apart from others of its title and verdict."""
    if check.verdict is Verdict.MEETS or check.strength or check.code == BAR:
        return ()
    return (check.rule, check.missing, _FIGURES.sub("# ", check.advice)) if check.rule else (str(number),)


def count_line(checks: Sequence[Check]) -> str:
    """How many checks there are, and how many of each verdict."""
    counts = Counter(check.verdict for check in checks)
    remembered = Counter(check.verdict for check in checks if check.certainty is Certainty.MEMORY)
    parts = ", ".join(
        f"{counts[verdict]} {verdict.said}"
        + (f" ({remembered[verdict]} of them by numbers from memory)" if remembered[verdict] else "")
        for verdict in Verdict
        if counts[verdict]
    )
    return f"{len(checks)} check{'' if len(checks) == 1 else 's'}: {parts}" if parts else "No checks were made"


def overall(checks: Sequence[Check]) -> Verdict:
    """The verdict on all checks together: a failure outweighs an open question, which outweighs success.

    Where no code or no load was named, success goes as far as was judged.
    """
    verdicts = {check.verdict for check in checks}
    for verdict in (Verdict.FAILS, Verdict.CANNOT_SAY):
        if verdict in verdicts:
            return verdict
    return Verdict.AS_JUDGED if unjudged(checks) else Verdict.MEETS


def unjudged(checks: Sequence[Check]) -> tuple[str, ...]:
    """What none of these checks speaks of, so that nobody takes a job without rules or loads for a sound one."""
    seen = {"building code": any(check.rule for check in checks), "strength": any(check.strength for check in checks)}
    return tuple(f"{name} not judged" for name, told in seen.items() if not told)


CHECK_COLUMNS = ("verdict", "where", "what", "found", "least", "most", "unit", "by", "missing", "would help")


def check_rows(checks: Sequence[Check]) -> list[dict[str, str]]:
    """One row of text for each check, lengths in mm, for tables."""

    def text(value: float | None, least: float | None = None, most: float | None = None) -> str:
        return (
            "" if value is None else "nothing holds" if math.isinf(value) else places(value, 3, least=least, most=most)
        )

    return [
        {
            "verdict": check.verdict.said,
            "where": check.where,
            "what": check.title,
            "found": text(check.value, check.least, check.most),
            "least": text(check.least),
            "most": text(check.most),
            "unit": check.unit,
            "by": by(check),
            "missing": check.missing,
            "would help": check.advice,
        }
        for check in checks
    ]


def checks_json(checks: Sequence[Check], notes: Sequence[str], build: str = "") -> str:
    """All checks with their verdicts, for other programs; ``build`` is the mark of the job."""
    rows = [
        {
            "code": check.code,
            "title": check.title,
            "where": check.where,
            "verdict": check.verdict.value,
            "value": _rounded(check.value),
            "unit": check.unit,
            "least": _rounded(check.least),
            "most": _rounded(check.most),
            "source": check.source,
            "clause": check.clause,
            "certainty": check.certainty.value,
            "formula": check.formula,
            "missing": check.missing,
            "advice": check.advice,
            "rule": check.rule,
            "says": check.says,
            "governs": check.governs,
        }
        for check in checks
    ]
    content = {
        "build": build,
        "verdict": overall(checks).value,
        "not_judged": unjudged(checks),
        "cautions": cautions(checks),
        "notes": list(notes),
        "checks": rows,
    }
    return json.dumps(content, indent=1) + "\n"


def _rounded(value: float | None) -> float | None:
    """Six decimals, so that the last bits of a sum change no file; nothing where no number can stand."""
    return None if value is None or math.isinf(value) else round(value, 6) + 0.0
