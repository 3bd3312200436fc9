"""What depends on the order of a sum, the last bits of a number, reaches no file."""

from __future__ import annotations

import json
import math

from railgen.checks.model import Certainty, Check
from railgen.checks.table import checks_json


def test_value_and_bounds_are_written_to_six_decimals() -> None:
    sum_of_tenths = 0.1 + 0.2
    assert sum_of_tenths != 0.3
    check = Check(
        code="x",
        title="x",
        where="x",
        value=sum_of_tenths,
        unit="mm",
        least=sum_of_tenths,
        most=-1e-12,
        certainty=Certainty.JOB,
    )
    row = json.loads(checks_json([check], []))["checks"][0]
    assert (row["value"], row["least"], row["most"]) == (0.3, 0.3, 0.0)
    assert math.copysign(1.0, row["most"]) == 1.0
