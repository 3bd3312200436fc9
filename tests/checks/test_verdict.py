"""A verdict on the record itself: no value, however odd, becomes a pass by arithmetic."""

from __future__ import annotations

import math

import pytest

from railgen.checks.model import Certainty, Check, Verdict


def verdict(value: float | None, *, least: float | None = None, most: float | None = None) -> Verdict:
    check = Check(
        code="", title="", where="", value=value, unit="", least=least, most=most, certainty=Certainty.MECHANICS
    )
    return check.verdict


@pytest.mark.parametrize("value", [math.inf, 1e300, 1 + 1e-6, math.nan])
def test_more_than_allowed_is_not_met(value: float) -> None:
    assert verdict(value, most=1.0) is Verdict.FAILS


@pytest.mark.parametrize("value", [-math.inf, -1e300, 900 - 1e-3, math.nan])
def test_less_than_asked_is_not_met(value: float) -> None:
    assert verdict(value, least=900.0) is Verdict.FAILS


@pytest.mark.parametrize(("value", "least", "most"), [(1 + 1e-12, None, 1.0), (900 - 1e-8, 900.0, 1000.0)])
def test_rounding_is_no_failure(value: float, least: float | None, most: float | None) -> None:
    assert verdict(value, least=least, most=most) is Verdict.MEETS


def test_without_value_or_bound_nothing_can_be_said() -> None:
    assert verdict(None, most=1.0) is Verdict.CANNOT_SAY
    assert verdict(5.0) is Verdict.CANNOT_SAY
