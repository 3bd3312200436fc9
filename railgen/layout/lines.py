"""The pitched centreline of one flight, and the setbacks that put its supports on it.

Over the axis of post k the centreline stands at ``level_k + rise_k(pitch)``, where ``rise_k`` is what plate, post
and saddle add: an adjustable saddle adds ``p + c / cos(pitch)`` above the post's top, an elbow saddle its node
height whatever the pitch. With w = 1/slope and beta = intercept/slope the post stands at
``a_k w - beta`` along the flight, linear in (w, beta) once the pitch is held; iterated until the pitch settles.
Equal posts shift every ``a_k`` alike, so the setbacks do not depend on the posts' length.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from railgen.catalogue.models import AdjustableSaddle
from railgen.errors import Fault, ImpossibleError
from railgen.layout.fit import fit_free, fit_through

__all__ = ["PitchLine", "Station", "equal_post_line", "saddle_rise"]

_SETTLED = 1e-13  # radians: far below the 1e-9 asked for
_ROUNDS = 200


def saddle_rise(saddle: AdjustableSaddle, pitch: float) -> float:
    """Height of the tube's centreline over the post's axis above the post's top end (mm)."""
    return saddle.pivot_height + saddle.pivot_to_centre / math.cos(pitch)


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A place on a flight where a post carries the rail."""

    tread: int
    x: float  # of the tread's nosing, along the flight
    level: float
    nominal: float  # setback asked for
    held: float | None  # setback it must have, where a corner decides it
    node_height: float | None  # of the elbow saddle; None for an adjustable saddle


@dataclass(frozen=True, slots=True, kw_only=True)
class PitchLine:
    """A flight's centreline ``z = intercept + slope * x`` and the setbacks of its stations."""

    slope: float
    intercept: float
    setbacks: tuple[float, ...]

    @property
    def pitch(self) -> float:
        return math.atan(self.slope)

    @property
    def along(self) -> float:
        """Length along the tube for one millimetre along the flight."""
        return math.hypot(1.0, self.slope)

    def z(self, x: float) -> float:
        return self.intercept + self.slope * x


def equal_post_line(
    stations: Sequence[Station], saddle: AdjustableSaddle, pitch: float, foot_rise: float, where: str
) -> PitchLine:
    """The line of least largest move for equal posts, as if they had no length.

    ``pitch`` (radians) is a first guess, ``foot_rise`` the height of a post's foot above its surface. Raises
    ImpossibleError if the supports define no rising line.
    """
    for _ in range(_ROUNDS):
        rises = [saddle_rise(saddle, pitch) if s.node_height is None else s.node_height for s in stations]
        points = [
            (s.level + foot_rise + rise, s.x + (s.nominal if s.held is None else s.held))
            for s, rise in zip(stations, rises, strict=True)
        ]
        held = [point for point, s in zip(points, stations, strict=True) if s.held is not None]
        try:
            w, beta = fit_through(held, points) if held else fit_free(points)
        except ValueError:
            raise ImpossibleError(_no_line(where)) from None
        if w <= 0 or not math.isfinite(w):
            raise ImpossibleError(_no_line(where))
        last, pitch = pitch, math.atan2(1.0, w)
        if abs(pitch - last) < _SETTLED:
            setbacks = tuple(a * w - beta - s.x for (a, _), s in zip(points, stations, strict=True))
            return PitchLine(slope=1 / w, intercept=beta / w, setbacks=setbacks)
    raise ImpossibleError(_no_line(where))


def _no_line(where: str) -> Fault:
    return Fault(
        code="no-line",
        where=where,
        message="the posts chosen define no rising rail",
        hint="choose posts on at least two treads at different levels",
    )
