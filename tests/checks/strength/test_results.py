"""A check derives its verdict; what is missing, mixed or unknown never passes."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import pytest
from pydantic import ValidationError

from railgen.checks.model import Certainty, Verdict
from railgen.checks.strength.link import Link
from railgen.checks.strength.result import (
    STATICS,
    Basis,
    Demand,
    Measure,
    Resistance,
    Source,
    StrengthCheck,
    check,
    show,
    unverified,
)
from railgen.checks.strength.systems import Factor

LOAD = Demand(
    value=800.0, measure=Measure.FORCE, basis=Basis.ASD, case="point load", formula="F = 800 N", sources=(STATICS,)
)
ABLE = Resistance(value=1000.0, measure=Measure.FORCE, basis=Basis.ASD, formula="R = 1 kN", sources=(STATICS,))


def test_no_verdict_or_utilisation_is_stored() -> None:
    assert {"verdict", "utilisation", "certainty"}.isdisjoint(field.name for field in fields(StrengthCheck))


@pytest.mark.parametrize(
    ("load", "able", "used", "said"),
    [
        (800.0, 1000.0, 0.8, Verdict.MEETS),
        (1000.0, 1000.0, 1.0, Verdict.MEETS),
        (1000.1, 1000.0, 1.0001, Verdict.FAILS),
        (1.0, 0.0, math.inf, Verdict.FAILS),
        (math.inf, 1.0, math.inf, Verdict.FAILS),
    ],
)
def test_verdict(load: float, able: float, used: float, said: Verdict) -> None:
    found = check("peg", replace(LOAD, value=load), replace(ABLE, value=able))
    assert found.utilisation == pytest.approx(used)
    assert found.verdict is said


@pytest.mark.parametrize("known", [800.0, None])
def test_missing_is_never_a_pass(known: float | None) -> None:
    lost = replace(ABLE, value=None, missing="the maker's value")
    found = check("peg", replace(LOAD, value=known), lost)
    assert (found.verdict, found.utilisation) == (Verdict.CANNOT_SAY, None)
    assert "the maker's value" in found.line()
    assert check("peg", replace(LOAD, missing="the height"), ABLE).verdict is Verdict.CANNOT_SAY
    assert unverified("weld", "its strength").verdict is Verdict.CANNOT_SAY


def test_a_resistance_of_nothing_known_must_say_what_is_missing() -> None:
    with pytest.raises(ValueError, match="says what is missing"):
        replace(ABLE, value=None)
    with pytest.raises(ValueError, match="magnitude"):
        replace(LOAD, value=-1.0)
    with pytest.raises(ValueError, match="magnitude"):
        replace(LOAD, value=math.nan)
    with pytest.raises(ValueError, match="names its source"):
        check("peg", replace(LOAD, sources=()), replace(ABLE, sources=()))


def test_bases_and_measures_do_not_mix() -> None:
    with pytest.raises(ValueError, match="factored, ASCE 7 strength design"):
        check("peg", LOAD, replace(ABLE, basis=Basis.LRFD))
    with pytest.raises(ValueError, match="N mm"):
        check("peg", LOAD, replace(ABLE, measure=Measure.MOMENT))


def test_the_least_sure_source_tells_how_sure_the_check_is() -> None:
    read = Source(document="a", certainty=Certainty.READ)
    memory = Source(document="b", certainty=Certainty.MEMORY)
    assert check("peg", LOAD, ABLE).certainty is Certainty.MECHANICS
    assert check("peg", LOAD, replace(ABLE, sources=(read,))).certainty is Certainty.READ
    found = check("peg", replace(LOAD, sources=(memory,)), replace(ABLE, sources=(read,)))
    assert found.certainty is Certainty.MEMORY
    record = Link(code="peg", where="post 1", outcome=found).record()
    assert record.verdict is found.verdict
    assert "from memory" in record.source


def test_numbers_for_people() -> None:
    assert show(1_281_600.0, Measure.MOMENT) == "1.282 kNm"
    assert show(6227.7, Measure.FORCE) == "6.228 kN"
    assert show(11.5, Measure.LENGTH) == "11.5 mm"


def test_a_data_row_with_a_wrong_key_or_value_is_refused() -> None:
    good = {"symbol": "phi", "source": {"document": "d", "certainty": "from memory"}}
    assert Factor.model_validate(good).value == 1.0
    with pytest.raises(ValidationError):
        Factor.model_validate({**good, "phi": 1.2})
    with pytest.raises(ValidationError):
        Factor.model_validate({**good, "omega": 1.67})
