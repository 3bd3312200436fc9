"""Which tubes may be made as one, which only look alike, and which are left and right hands of each other.

A tube has no top: turned about its axis or end for end it is the same piece. Its mirror image is not.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import product

from railgen.members import Fabrication
from railgen.members.pieces import Tube, TubeHole
from railgen.schedules.table import Cell, Column, Quantity, Table

__all__ = [
    "SAME_ANGLE",
    "SAME_LENGTH",
    "Alike",
    "Difference",
    "Likeness",
    "Pair",
    "alike_table",
    "compare",
    "find_alike",
]

SAME_LENGTH, SAME_ANGLE = 0.5, math.radians(0.1)
_NEAR_LENGTH, _NEAR_ANGLE = 5.0, math.radians(2.0)
_HAIR = 1e-9


class Likeness(StrEnum):
    """What two tubes are to each other."""

    SAME = "same"
    NEAR = "nearly the same: do not mix"
    HAND = "opposite hand: do not mix"


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """The largest difference of any length (mm) and of any clock position (radians)."""

    length: float
    angle: float

    def within(self, length: float, angle: float) -> bool:
        return self.length <= length + _HAIR and self.angle <= angle + _HAIR


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Tubes that may be made as one, after the first; ``quantity`` of all together."""

    marks: tuple[str, ...]
    quantity: int
    spread: Difference


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two tubes of different groups that are easily taken for each other."""

    a: str
    b: str
    likeness: Likeness
    difference: Difference


def compare(a: Tube, b: Tube, *, mirrored: bool = False) -> Difference | None:
    """How far ``b`` (or its mirror image), turned as it fits best, differs from ``a``; None where it is another piece.

    Another piece: another section, other end preparations, or holes of another kind or number.
    """
    if a.section != b.section or len(a.holes) != len(b.holes):
        return None
    found = []
    for flipped in (False, True):
        ends = (b.end_b, b.end_a) if flipped else (b.end_a, b.end_b)
        if ends != (a.end_a, a.end_b):
            continue
        turned = [_turned(hole, b.length, flipped=flipped, mirrored=mirrored) for hole in b.holes]
        found += list(_fits(a.holes, turned, abs(a.length - b.length)))
    return min(found, key=lambda d: max(d.length / SAME_LENGTH, d.angle / SAME_ANGLE), default=None)


Spot = tuple[float, float, object]
"""Distance, clock position, and all else that makes a hole."""


def _turned(hole: TubeHole, length: float, *, flipped: bool, mirrored: bool) -> Spot:
    distance = length - hole.distance if flipped else hole.distance
    clock = -hole.clock if flipped != mirrored else hole.clock
    return distance, clock, _kind(hole)


def _kind(hole: TubeHole) -> object:
    return hole.purpose, hole.diameter, hole.depth, hole.walls, hole.countersink, hole.thread


def _fits(holes: Sequence[TubeHole], turned: Sequence[Spot], length: float) -> Iterator[Difference]:
    """The differences for every turn that brings some hole over the first."""
    if not holes:
        yield Difference(length=length, angle=0.0)
        return
    first = holes[0]
    for _, clock, kind in turned:
        if kind != _kind(first):
            continue
        left, along, around = list(turned), [length], []
        for hole in holes:
            spots = [spot for spot in left if spot[2] == _kind(hole)]
            if not spots:
                break
            turn = first.clock - clock
            spot = min(spots, key=lambda s: (abs(s[0] - hole.distance) + abs(_wrap(s[1] + turn - hole.clock)), s[:2]))
            left.remove(spot)
            along.append(abs(spot[0] - hole.distance))
            around.append(_wrap(spot[1] + turn - hole.clock))
        else:
            yield Difference(length=max(along), angle=(max(around) - min(around)) / 2)


def _wrap(angle: float) -> float:
    return math.remainder(angle, math.tau)


def find_alike(fabrication: Fabrication) -> tuple[tuple[Alike, ...], tuple[Pair, ...]]:
    """Tubes in groups whose members all agree within 0.5 mm and 0.1 degrees, and the pairs that must not be mixed."""
    tubes = [piece for piece in fabrication.pieces.values() if isinstance(piece, Tube)]
    quantities = fabrication.quantities()
    groups: list[list[Tube]] = []
    for tube in tubes:
        for group in groups:
            differences = [compare(member, tube) for member in group]
            if all(d is not None and d.within(SAME_LENGTH, SAME_ANGLE) for d in differences):
                group.append(tube)
                break
        else:
            groups.append([tube])
    return tuple(_alike(group, quantities) for group in groups), tuple(_pairs(groups))


def _alike(group: Sequence[Tube], quantities: dict[str, int]) -> Alike:
    found = [d for a, b in product(group, group) if (d := compare(a, b)) is not None]
    return Alike(
        marks=tuple(tube.mark for tube in group),
        quantity=sum(quantities[tube.mark] for tube in group),
        spread=Difference(length=max(d.length for d in found), angle=max(d.angle for d in found)),
    )


def _pairs(groups: Sequence[Sequence[Tube]]) -> Iterator[Pair]:
    for index, group in enumerate(groups):
        for other in groups[index + 1 :]:
            a, b = group[0], other[0]
            hand, plain = compare(a, b, mirrored=True), compare(a, b)
            if hand is not None and hand.within(SAME_LENGTH, SAME_ANGLE):
                yield Pair(a=a.mark, b=b.mark, likeness=Likeness.HAND, difference=hand)
            elif plain is not None and plain.within(_NEAR_LENGTH, _NEAR_ANGLE):
                yield Pair(a=a.mark, b=b.mark, likeness=Likeness.NEAR, difference=plain)


def alike_table(fabrication: Fabrication) -> Table:
    """Groups first, then the pairs that must not be mixed."""
    groups, pairs = find_alike(fabrication)
    rows: list[tuple[Cell, ...]] = [
        (" ".join(group.marks), group.quantity, _told(group), group.spread.length, group.spread.angle)
        for group in groups
    ]
    rows += [
        (f"{pair.a} {pair.b}", None, pair.likeness.value, pair.difference.length, pair.difference.angle)
        for pair in pairs
    ]
    columns = (
        Column(name="marks"),
        Column(name="quantity", quantity=Quantity.COUNT),
        Column(name="they are"),
        Column(name="differ_mm", quantity=Quantity.LENGTH),
        Column(name="differ_deg", quantity=Quantity.ANGLE),
    )
    return Table(name="Like pieces", columns=columns, rows=tuple(rows))


def _told(group: Alike) -> str:
    """What the pieces of a group are to each other; one mark has nothing to be the same as."""
    if len(group.marks) > 1:
        return Likeness.SAME.value
    return "a single piece" if group.quantity == 1 else "pieces of one mark"
