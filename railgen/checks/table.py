"""``checks.json`` and the cautions that stand beside every verdict."""

from __future__ import annotations

import json
from collections.abc import Sequence

from railgen.checks.model import Check, Verdict

__all__ = ["CAUTION", "checks_json", "worst"]

CAUTION = (
    "These checks are calculations on the numbers typed in. The local building code and a licensed engineer or builder "
    "decide whether a rail may be built and used; measure again on site before cutting or drilling."
)


def worst(checks: Sequence[Check]) -> Verdict:
    """The verdict on all checks together: a failure outweighs an open question, which outweighs success."""
    verdicts = {check.verdict for check in checks}
    for verdict in (Verdict.FAILS, Verdict.CANNOT_SAY):
        if verdict in verdicts:
            return verdict
    return Verdict.MEETS


def checks_json(checks: Sequence[Check], notes: Sequence[str]) -> str:
    """All checks with their verdicts, for other programs."""
    rows = [
        {
            "code": check.code,
            "title": check.title,
            "where": check.where,
            "verdict": check.verdict.value,
            "value": None if check.value is None else round(check.value, 6) + 0.0,
            "unit": check.unit,
            "least": check.least,
            "most": check.most,
            "source": check.source,
            "clause": check.clause,
            "certainty": check.certainty.value,
            "formula": check.formula,
            "missing": check.missing,
            "advice": check.advice,
        }
        for check in checks
    ]
    content = {"verdict": worst(checks).value, "caution": CAUTION, "notes": list(notes), "checks": rows}
    return json.dumps(content, indent=1) + "\n"
