"""Screws that hold the rail in its saddle: lifted out of the trough, or tipped over its lip."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from tests.checks.strength.scenes import links, load, of, text


@pytest.mark.parametrize(("embraced", "share"), [(100, 1.0), (90, 1.0), (60, 1 / math.tan(math.radians(30)))])
def test_a_shallow_trough_tips_the_rail_out(tmp_path: Path, embraced: float, share: float) -> None:
    """890 N on two screws, 1.6 times (ASCE 7): lifted, one half each; pushed sideways, 1 / tan of half the angle."""
    job = load(tmp_path, text(loads='["irc"]'))
    saddle = job.hardware.adjustable_saddle.model_copy(update={"cradle_angle": math.radians(embraced)})
    job = replace(job, hardware=replace(job.hardware, adjustable_saddle=saddle))
    inner = of(links(job), "saddle-screws")[1].outcome
    assert inner.demand == pytest.approx(1.6 * 890 / 2 * share)
