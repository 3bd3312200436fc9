"""Base plates: what each fixing is pulled with, from the real hole pattern, in the worst direction of the load.

The plate is taken as rigid. It tips over a compression line; each fixing beyond that line is pulled in proportion to
its distance d from it: T = M d / sum(d^2), and the compression is the sum of the pulls. Where the bearing strength of
what is underneath is given, the line lies in the middle of the pressed block; where it is not, at the outermost fixings
of the pressed side (common practice). That is the safe side on concrete and steel; timber bears only a few MPa, its
block may reach further in and pull harder: give its strength.

Frame: the plate's centre, x along the flight, y across it; the moment tips the plate towards a direction (radians).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations

from railgen.checks.model import Certainty
from railgen.checks.strength.result import STATICS, Demand, Measure, Source, num, show

__all__ = [
    "PULL_MODEL",
    "UNIT",
    "Plate",
    "Pulls",
    "all_pulls",
    "borne",
    "fixing_shear",
    "outline",
    "pulls",
    "worst_pull",
    "worst_pulls",
]

PULL_MODEL = Source(
    document="statics", clause="rigid plate, pulls in proportion to distance", certainty=Certainty.PRACTICE
)
_ARC = 6  # chords of a rounded corner; inscribed, so the plate is never counted larger than it is
_STEPS = 16
UNIT = 1e6  # N mm

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A rectangular plate (mm): ``length`` along x, ``width`` along y, its fixings' axes, the socket it carries.

    Raises ValueError for a plate without fixings, or with one outside it.
    """

    length: float
    width: float
    thickness: float
    fixings: tuple[Point, ...]
    socket: float  # outside diameter of what stands on the plate
    corner: float = 0.0

    def __post_init__(self) -> None:
        inside = all(abs(x) < self.length / 2 and abs(y) < self.width / 2 for x, y in self.fixings)
        if not self.fixings or not inside or not 0 <= 2 * self.corner <= min(self.length, self.width):
            raise ValueError("a plate has fixings inside its outline and corners that fit its sides")

    def outline(self) -> tuple[Point, ...]:
        """The plate's edge as a polygon, anticlockwise, rounded corners as chords."""
        return outline(self.length, self.width, self.corner)


@lru_cache(maxsize=64)
def outline(length: float, width: float, corner: float) -> tuple[Point, ...]:
    """Edge of a rectangle with rounded corners, as a polygon, anticlockwise."""
    a, b, r = length / 2 - corner, width / 2 - corner, corner
    points = []
    for quarter, (x, y) in enumerate(((a, b), (-a, b), (-a, -b), (a, -b))):
        for k in range(_ARC + 1 if r else 1):
            angle = (quarter + k / _ARC) * math.pi / 2
            points.append((x + r * math.cos(angle), y + r * math.sin(angle)))
    return tuple(points)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulls:
    """Pull (N) on each fixing, in the plate's order, for one direction of tipping.

    ``line``: distance (mm) of the compression line from the plate's centre towards that direction; ``compression``:
    the force (N) over it.
    """

    direction: float
    line: float
    tensions: tuple[float, ...]

    @property
    def largest(self) -> float:
        return max(self.tensions)

    @property
    def compression(self) -> float:
        return math.fsum(self.tensions)

    def resultant(self, plate: Plate) -> Point:
        """Where the pulls together act (x, y)."""
        total = self.compression or 1.0
        return (
            math.fsum(t * p[0] for t, p in zip(self.tensions, plate.fixings, strict=True)) / total,
            math.fsum(t * p[1] for t, p in zip(self.tensions, plate.fixings, strict=True)) / total,
        )


def pulls(plate: Plate, moment: float, direction: float, *, bearing: float | None = None) -> Pulls | None:
    """Pulls under ``moment`` (N mm) that tips the plate towards ``direction``; None where they cannot be found.

    ``bearing``: stress (MPa) the ground bears, in the basis of the moment; None: compression at the outermost fixings.
    None is returned where no fixing lies behind the compression line, or where the ground cannot bear the compression.

    >>> plate = Plate(length=120, width=120, thickness=8, socket=42,
    ...     fixings=((38.1, 38.1), (38.1, -38.1), (-38.1, 38.1), (-38.1, -38.1)))
    >>> found = pulls(plate, 949_000.0, 0.0)
    >>> [round(t) for t in found.tensions]
    [0, 0, 6227, 6227]
    """
    u = (math.cos(direction), math.sin(direction))
    along = [x * u[0] + y * u[1] for x, y in plate.fixings]
    if bearing is None:
        return _tipping(along, moment, direction, max(along))
    outline = plate.outline()
    edge = max(x * u[0] + y * u[1] for x, y in outline)
    back = min(along)

    def excess(line: float) -> tuple[float, Pulls | None]:
        area, middle = _block(outline, u, line)
        found = _tipping(along, moment, direction, middle)
        return (math.inf if found is None else found.compression - bearing * area), found

    # The block grows from the edge inwards, to the first depth at which it can bear the compression.
    outside, over = edge, math.inf
    for step in range(1, _STEPS):
        inside = edge + (back - edge) * step / _STEPS
        under, found = excess(inside)
        if under <= 0:
            break
        outside, over = inside, under
    else:
        return None
    for turn in range(50):
        if outside - inside < 1e-6:
            break
        straight = inside + (outside - inside) * under / (under - over)
        middle = straight if math.isfinite(over) and turn % 3 else (inside + outside) / 2
        value, held = excess(middle)
        if value <= 0:
            inside, under, found = middle, value, held
        else:
            outside, over = middle, value
    return found


def all_pulls(plate: Plate, bearing: float | None) -> tuple[Pulls, ...] | None:
    """The pulls of a unit moment for every direction tried: every 3 degrees, and square to every pair of fixings.

    ``bearing`` is what `borne` makes of the ground's stress. None as in `pulls`. Of a hole pattern that is its own
    mirror image both ways a quarter turn stands for all.
    """
    return _every_way(replace(plate, thickness=0.0), bearing)


def borne(bearing: float | None, moment: float) -> float | None:
    """The stress that the ground bears under ``moment``, for a unit moment: pulls depend on nothing else of the two."""
    return None if bearing is None or moment <= 0 else float(f"{bearing * UNIT / moment:.12g}")


@lru_cache(maxsize=256)
def _every_way(plate: Plate, bearing: float | None) -> tuple[Pulls, ...] | None:
    found = []
    for direction in _directions(plate):
        one = pulls(plate, UNIT, direction, bearing=bearing)
        if one is None:
            return None
        found.append(one)
    return tuple(found)


def _directions(plate: Plate) -> tuple[float, ...]:
    found = {math.radians(degree) for degree in range(0, 360, 3)}
    for (ax, ay), (bx, by) in combinations(plate.fixings, 2):
        square = math.atan2(bx - ax, ay - by)
        found |= {square % math.tau, (square + math.pi) % math.tau}
    holes = {(round(x, 6), round(y, 6)) for x, y in plate.fixings}
    if all((-x, y) in holes and (x, -y) in holes for x, y in holes):  # the outline is a mirror image both ways too
        found = {direction for direction in found if direction <= math.pi / 2 + 1e-9}
    return tuple(sorted(found))


def worst_pulls(plate: Plate, moment: float, *, bearing: float | None = None) -> Pulls | None:
    """The pulls of the direction that pulls one fixing most; None where one direction cannot be held at all."""
    unit = all_pulls(plate, borne(bearing, moment))
    if not unit:
        return None
    worst = max(unit, key=lambda one: round(one.largest, 6))
    return replace(worst, tensions=tuple(tension * moment / UNIT for tension in worst.tensions))


def worst_pull(plate: Plate, moment: Demand, *, bearing: float | None = None) -> Demand:
    """Largest pull (N) on one fixing under ``moment`` from any direction; unknown where the plate cannot be held."""
    found = None if moment.value is None else worst_pulls(plate, moment.value, bearing=bearing)
    text, missing = "", moment.missing
    if found is not None:
        degrees = num(math.degrees(found.direction))
        over = "at the outermost fixings" if bearing is None else f"in a block at {num(bearing)} MPa"
        text = (
            f"; tipping towards {degrees} degrees over a line {num(found.line)} mm from the centre, {over}: "
            f"T = {show(found.largest, Measure.FORCE)}"
        )
    elif moment.value is not None:
        missing = "a hole pattern, or ground, that can hold this plate in every direction"
    return Demand(
        value=None if found is None else found.largest,
        measure=Measure.FORCE,
        basis=moment.basis,
        case=moment.case,
        formula=moment.formula + text,
        sources=(*moment.sources, PULL_MODEL),
        missing=missing,
    )


def fixing_shear(plate: Plate, force: Demand) -> Demand:
    """Shear (N) on one fixing: the force shared by all of them."""
    count = len(plate.fixings)
    value = None if force.value is None else force.value / count
    text = "" if value is None else f"; V = F / {count} = {show(value, Measure.FORCE)}"
    return Demand(
        value=value,
        measure=Measure.FORCE,
        basis=force.basis,
        case=force.case,
        formula=force.formula + text,
        sources=(*force.sources, STATICS),
        missing=force.missing,
    )


def _tipping(along: Sequence[float], moment: float, direction: float, line: float) -> Pulls | None:
    levers = [max(0.0, line - place) for place in along]
    squares = math.fsum(lever**2 for lever in levers)
    if squares < 1e-6:
        return None
    return Pulls(direction=direction, line=line, tensions=tuple(moment * lever / squares for lever in levers))


def _block(outline: Sequence[Point], u: Point, line: float) -> tuple[float, float]:
    """Area of the plate beyond ``line`` towards ``u``, and how far its centroid lies along ``u``."""
    kept: list[Point] = []
    reach = [(x * u[0] + y * u[1], (x, y)) for x, y in outline]
    for (a, p), (b, q) in zip(reach, reach[1:] + reach[:1], strict=True):
        if a >= line:
            kept.append(p)
        if (a < line) != (b < line):
            k = (line - a) / (b - a)
            kept.append((p[0] + k * (q[0] - p[0]), p[1] + k * (q[1] - p[1])))
    if len(kept) < 3:
        return 0.0, line
    double = first = 0.0
    for (x1, y1), (x2, y2) in zip(kept, kept[1:] + kept[:1], strict=True):
        cross = x1 * y2 - x2 * y1
        double += cross
        first += cross * ((x1 + x2) * u[0] + (y1 + y2) * u[1])
    return (double / 2, first / (3 * double)) if double > 1e-9 else (0.0, line)
