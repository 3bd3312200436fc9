"""Random stairs for property tests: uneven flights, both sides, all turns, equal and cut posts, level ends or none."""

from __future__ import annotations

from hypothesis import strategies as st

from railgen.job.model import CornerJoint, EndFinish, Flight, Job, Landing, PostLengths, RailEnd, Side, Turn
from tests import jobs

__all__ = ["stairs"]


def _tenths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths to a tenth of a millimetre, as a careful survey would give them."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)


@st.composite
def _flight(draw: st.DrawFn, number: int, width: float) -> Flight:
    steps = draw(st.integers(3, 10))
    riser, going = draw(_tenths(155, 185)), draw(_tenths(240, 290))
    risers = [round(riser + draw(_tenths(-5, 5)), 1) for _ in range(steps)]
    goings = [round(going + draw(_tenths(-5, 5)), 1) for _ in range(steps - 1)]
    return jobs.flight(number, risers, goings, width=width, design_going=round(sum(goings) / len(goings), 1))


@st.composite
def _landing(draw: st.DrawFn, number: int, width: float) -> Landing:
    turn = draw(st.sampled_from(list(Turn)))
    return jobs.landing(
        number,
        turn,
        draw(_tenths(max(width, 900), width + 300)) if turn is not Turn.STRAIGHT else draw(_tenths(850, 2600)),
        well=draw(_tenths(60, 300)) if turn.quarters == 2 else 0.0,
        upper_offset=draw(st.sampled_from([0.0, 0.0, 40.0, 130.0])) if turn.quarters else 0.0,
        corner=draw(st.sampled_from(list(CornerJoint))) if turn.quarters == 1 else CornerJoint.AUTO,
        square=draw(st.booleans()) if turn.quarters == 2 else False,
    )


@st.composite
def stairs(draw: st.DrawFn, most_flights: int = 3) -> Job:
    """A job that a person could have typed; most can be solved, some are refused."""
    width = draw(_tenths(800, 1200))
    count = draw(st.integers(1, most_flights))
    finish = st.sampled_from([EndFinish.CAP, EndFinish.CAP, EndFinish.OPEN, EndFinish.SCROLL])
    level = st.none() | _tenths(150, 450)
    return jobs.job(
        [draw(_flight(number, width)) for number in range(1, count + 1)],
        [draw(_landing(number, width)) for number in range(1, count)],
        side=draw(st.sampled_from(list(Side))),
        least_height=draw(_tenths(850, 1000)),
        bottom=RailEnd(finish=draw(finish), overhang=draw(_tenths(100, 260)), level=draw(level)),
        top=RailEnd(finish=draw(finish), overhang=draw(_tenths(100, 260)), level=draw(level)),
        lengths=draw(st.sampled_from([PostLengths.EQUAL, PostLengths.EQUAL, PostLengths.CUT])),
        largest_span=draw(_tenths(900, 2000)),
    )
