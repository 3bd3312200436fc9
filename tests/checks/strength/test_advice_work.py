"""What would help is searched by counted work: as much on any machine, and told where it was cut short."""

from __future__ import annotations

from pathlib import Path

import pytest

import railgen
from railgen.checks.strength import advice
from railgen.job.model import Job
from tests.checks.strength.scenes import load, text

LANDING = '[[stair]]\nkind = "landing"\nlength = 1100\nturn = "straight"\nthickness = 80\n'


def weak(folder: Path, flights: int) -> Job:
    """Plates on soft timber that no hardware of the catalogue mends under a load of crowds."""
    ground = '[ground]\ntimber_bearing = 1\n[[ground.layers]]\nkind = "timber"\nthickness = 60\n'
    content = text(loads='["en-c5"]', ground=ground)
    flight = content[content.index("[[stair]]") : content.index("[strength]")]
    return load(folder, content.replace(flight, LANDING.join([flight] * flights)))


@pytest.mark.parametrize("flights", [1, 2, 5])
def test_the_search_for_advice_is_bounded_by_work(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, flights: int
) -> None:
    """152 alternatives took 6.5 s: each is a whole rail, looked at once quickly and once wholly."""
    job = weak(tmp_path, flights)
    layout = railgen.solve(job)
    looked = []
    one = advice._links
    monkeypatch.setattr(advice, "_links", lambda *given, **named: looked.append(1) or one(*given, **named))
    told = " ".join(check.advice for check in railgen.check(job, layout))
    tries = max(8, 600 // len(layout.posts))
    assert 0 < len(looked) <= 2 * 2 * tries  # what is above the plates, and the plates; two looks each
    assert (f"the search stopped after {tries} changes" in told) is (flights > 1)
