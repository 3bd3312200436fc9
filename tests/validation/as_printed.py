"""A published number as it was printed: half a unit of its last digit is all the room it leaves."""

from __future__ import annotations

from typing import Any

import pytest

INCH = 25.4
POUND = 4.4482216152605
KSI = 6.894757293168
PSI = KSI / 1000


def as_printed(text: str, unit: float = 1.0) -> Any:
    """``text`` times ``unit``, to half a unit of the last printed digit."""
    decimals = len(text.partition(".")[2])
    return pytest.approx(float(text) * unit, rel=1e-12, abs=0.500001 * 10.0**-decimals * unit)
