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

from railgen.errors import Fault, ImpossibleError
from railgen.job.model import Hardware
from railgen.layout.fit import fit_free, fit_through
from railgen.layout.model import PostRole

__all__ = ["PitchLine", "Station", "equal_post_line"]

_SETTLED = 1e-13  # radians: far below the 1e-9 asked for
_ROUNDS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A place on a flight where a post carries the rail."""

    tread: int
    x: float  # of the tread's nosing, along the flight
    level: float
    nominal: float  # setback asked for
    held: float | None  # setback it must have, where a corner decides it
    role: PostRole


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


def equal_post_line(stations: Sequence[Station], hardware: Hardware, pitch: float, where: str) -> PitchLine:
    """The line of least largest move for equal posts, as if they had no length.

    ``pitch`` (radians) is a first guess. Raises ImpossibleError if the supports define no rising line.
    """
    for _ in range(_ROUNDS):
        points = [
            (
                s.level + hardware.base_plate.foot + s.role.head(hardware).rise(pitch),
                s.x + (s.nominal if s.held is None else s.held),
            )
            for s in stations
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
