"""How the rails of two flights meet on a landing, seen in plan.

``PAIR``: each flight has its own post on the landing and a level rail joins their nodes, round corner posts where the
rail turns. ``SHARED``: at the inner corner of a quarter turn there is no room for level pieces, so one node on one
post serves both flights. ``RISE``: the same corner with an upright piece of rail between two nodes, the lower one on
a corner post that is cut to suit.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from railgen.catalogue.models import Elbow
from railgen.geometry import Vec
from railgen.job.model import CornerJoint, Job, Turn
from railgen.survey import FlightSurvey, Survey

__all__ = ["Join", "JoinMode", "least_node_distance", "plan_joins"]


class JoinMode(StrEnum):
    """How two flights' rails meet."""

    PAIR = "pair"
    SHARED = "shared"
    RISE = "rise"


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """``corners`` are plan points between the two flights' own nodes; ``lower_x``/``upper_x`` place a shared node."""

    mode: JoinMode
    corners: tuple[Vec, ...] = ()
    lower_x: float = 0.0
    upper_x: float = 0.0


def least_node_distance(elbow: Elbow) -> float:
    """Least distance of two elbow nodes joined by a tube: both take-offs, and room for both spigots (mm)."""
    return 2 * (elbow.take_off + elbow.spigot_length) + 2.0


def plan_joins(job: Job, survey: Survey) -> tuple[Join, ...]:
    """One join for each landing."""
    return tuple(
        _join(job, lower, upper, index)
        for index, (lower, upper) in enumerate(zip(survey.flights, survey.flights[1:], strict=False))
    )


def _join(job: Job, lower: FlightSurvey, upper: FlightSurvey, index: int) -> Join:
    landing, side = job.landings[index], job.rail.side
    inner = landing.turn.side is side
    if landing.turn is Turn.STRAIGHT or (landing.turn.quarters == 2 and inner):
        return Join(mode=JoinMode.PAIR)
    offset = job.posts.edge_offset
    line1, line2 = lower.across(side, offset), upper.across(side, offset)
    if landing.turn.quarters == 2:
        far = lower.xs[-1] + landing.length - offset
        first = lower.at(far, line1, lower.top_level)
        second = upper.at(upper.along(first), line2, lower.top_level)
        return Join(mode=JoinMode.PAIR, corners=(first, second))
    lower_x = lower.along(upper.at(0.0, line2, 0.0))
    corner = lower.at(lower_x, line1, lower.top_level)
    upper_x = upper.along(corner)
    if not inner:
        return Join(mode=JoinMode.PAIR, corners=(corner,), lower_x=lower_x, upper_x=upper_x)
    if landing.corner is CornerJoint.RISE_PIECE:
        return Join(mode=JoinMode.RISE, corners=(corner,), lower_x=lower_x, upper_x=upper_x)
    legs = (
        lower_x - (lower.xs[-1] + job.posts.setback),
        (upper.tread_x(0) + job.posts.setback) - upper_x,
    )
    mode = JoinMode.PAIR if min(legs) >= least_node_distance(job.hardware.elbow) else JoinMode.SHARED
    return Join(mode=mode, corners=(corner,), lower_x=lower_x, upper_x=upper_x)
