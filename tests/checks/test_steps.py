"""Steps that the bounds of a job file let pass and that are hardly steps: a question each, and never a pass."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from railgen.checks import Check, Verdict
from railgen.checks.job import job_checks
from railgen.checks.notes import check_notes
from railgen.job.model import Job, PostLengths, Turn
from railgen.layout import solve
from railgen.survey import survey_job
from railgen.units import MM_PER_INCH, Unit
from tests.jobs import flight, job, landing


def odd(given: Job) -> list[Check]:
    return [check for check in job_checks(given, solve(given, survey_job(given))) if check.code == "odd-step"]


def single(riser: float, going: float) -> Job:
    return job([flight(1, [riser], [], design_going=going)], lengths=PostLengths.CUT)


@pytest.mark.parametrize(
    ("riser", "going"), [(11 * MM_PER_INCH, 33 * MM_PER_INCH), (150.0, 640.0), (95.0, 410.0), (240.0, 700.0)]
)
def test_a_ramp_typed_as_a_riser_was_met(riser: float, going: float) -> None:
    given = replace(single(riser, going), output_unit=Unit.INCH)
    (check,) = odd(given)
    assert check.verdict is Verdict.CANNOT_SAY
    assert "is this a ramp?" in check.missing
    assert f"{math.degrees(math.atan2(riser, going)):.1f}".rstrip("0").rstrip(".") + "°" in check.missing
    assert "stair[0].design_going" in check.missing
    assert any("is this a ramp?" in note for note in check_notes(given))
    sure = replace(given, flights=(replace(given.flights[0], as_measured=True),))
    assert odd(sure) == []
    assert not any("ramp" in note for note in check_notes(sure))


@pytest.mark.parametrize(
    ("riser", "going"), [(170.0, 260.0), (100.0, 300.0), (120.0, 350.0), (150.0, 410.0), (210.0, 230.0)]
)
def test_a_single_step_of_a_house_or_garden_is_asked_nothing(riser: float, going: float) -> None:
    """Thresholds and garden steps: 2R + G of 500 to 710 mm, common practice."""
    assert odd(single(riser, going)) == []


def test_a_landing_typed_as_a_going_is_asked_about() -> None:
    flights = [flight(1, [175] * 5, [270, 270, 850, 270], design_going=270, posts=(1, 2, 5))]
    (check,) = odd(job(flights, lengths=PostLengths.CUT, largest_span=3000))
    assert check.where == "flight 1, going 3"
    assert "is a going of 850 mm one step, or a landing between two flights, or a ramp?" in check.missing


def test_a_riser_of_two_steps_is_asked_about_in_its_flight() -> None:
    flights = [
        flight(1, [170] * 6, [270] * 5, design_going=270),
        flight(2, [340, 170, 345], [330] * 2, design_going=330),
    ]
    checks = odd(job(flights, [landing(1, Turn.STRAIGHT, 1000)], lengths=PostLengths.CUT, band=(30, 300)))
    assert [check.where for check in checks] == ["flight 2, riser 1"]
    assert "340 mm (and 1 more)" in checks[0].missing
    assert "stair[2].as_measured = true" in checks[0].missing
