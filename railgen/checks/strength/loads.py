"""Loads on the top of a rail and the forces they put on posts and rails: line or point, never both together.

The load may act in any direction square to the rail; across the rail it bends posts and rail most, so that is the
direction worked out here. Directions over a base plate are worked out in :mod:`railgen.checks.strength.baseplate`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from pydantic import Field

from railgen.checks.strength.result import STATICS, Basis, DataFile, Demand, Measure, Source, num, read_data, show
from railgen.checks.strength.systems import System
from railgen.fields import Table
from railgen.job.rules_model import Occupancy

__all__ = [
    "POINT",
    "PostPlace",
    "PostReach",
    "RailLoad",
    "Sharing",
    "load_names",
    "post_forces",
    "rail_load",
    "sharing",
    "with_line",
]


POINT = "point load"


class PostPlace(StrEnum):
    """Where a post stands in its run."""

    INNER = "inner post"
    END = "end post"


class RailLoad(Table):
    """Characteristic load on a rail: ``line`` (N/mm = kN/m) and ``point`` (N), not together; None where not asked.

    ``line_min`` and ``line_max`` are what a national annex may choose between, where the standard leaves a choice.
    """

    id: str
    title: str
    line: float | None = Field(default=None, gt=0)
    point: float | None = Field(default=None, gt=0)
    line_min: float | None = None
    line_max: float | None = None
    buildings: tuple[Occupancy, ...] = ()  # those it is enough for; empty: any
    source: Source


class Sharing(Table):
    """Share of the load one post takes in a straight run of at least ``spans_min`` equal spans."""

    spans_min: int
    inner: float = Field(gt=0, le=1)
    end: float = Field(gt=0, le=1)
    source: Source

    def share(self, place: PostPlace) -> float:
        return self.inner if place is PostPlace.INNER else self.end


class _LoadFile(DataFile):
    load: tuple[RailLoad, ...]
    sharing: tuple[Sharing, ...]


@cache
def _tables() -> _LoadFile:
    return read_data("loads.toml", _LoadFile)


def load_names() -> tuple[str, ...]:
    """Every load of the table, by name."""
    return tuple(row.id for row in _tables().load)


def rail_load(name: str) -> RailLoad:
    """The load ``name`` of the table. Raises ValueError where there is none, naming those there are.

    >>> rail_load("asce-7").line, rail_load("asce-7").point, rail_load("irc").line
    (0.73, 890.0, None)
    """
    rows = _tables().load
    for row in rows:
        if row.id == name:
            return row
    raise ValueError(f"no load named {name!r}; there are {', '.join(row.id for row in rows)}")


def with_line(load: RailLoad, line: float, annex: Source) -> RailLoad:
    """``load`` with the line load (N/mm) of a national annex. Raises ValueError outside the standard's range.

    >>> from railgen.checks.model import Certainty
    >>> annex = Source(document="national annex", certainty=Certainty.JOB)
    >>> with_line(rail_load("en-b"), 1.2, annex)
    Traceback (most recent call last):
    ...
    ValueError: 1.2 kN/m is outside the range 0.2 to 1 kN/m of EN 1991-1-1
    """
    low, high = load.line_min, load.line_max
    if low is None or high is None or not low <= line <= high:
        span = "no range" if low is None or high is None else f"the range {low:g} to {high:g} kN/m"
        raise ValueError(f"{line:g} kN/m is outside {span} of {load.source.document}")
    return load.model_copy(update={"line": line, "source": annex})


def sharing(spans: int) -> Sharing | None:
    """The published share of the load for a straight run of ``spans`` equal spans; None below two.

    >>> sharing(1) is None, sharing(2).inner, sharing(5).end
    (True, 0.65, 0.82)
    """
    rows = [row for row in _tables().sharing if row.spans_min <= spans]
    return max(rows, key=lambda row: row.spans_min) if rows else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PostReach:
    """The rail one post holds: bays on both sides, measured along the rail between saddles, or a bay and an overhang.

    An end post has one bay of 0. ``sideways`` and ``upwards``: how much more of a line load the post takes because the
    rail runs on over it, see :mod:`railgen.checks.strength.continuous`. Raises ValueError for a post without any bay.
    """

    before: float
    after: float
    overhang: float = 0.0  # beyond an end post
    sideways: float = 1.0
    upwards: float = 1.0

    def __post_init__(self) -> None:
        if min(self.before, self.after, self.overhang) < 0 or max(self.before, self.after) == 0:
            raise ValueError("a post holds at least one bay, and no length is negative")
        if self.overhang and self.place is PostPlace.INNER:
            raise ValueError("only an end post has an overhang")
        if min(self.sideways, self.upwards) < 1:
            raise ValueError("a rail that runs on never takes load off what its posts are counted for")

    @property
    def place(self) -> PostPlace:
        return PostPlace.INNER if self.before > 0 and self.after > 0 else PostPlace.END

    @property
    def tributary(self) -> float:
        """Length of rail (mm) whose line load the post takes, the rail hinged over each inner post.

        Half of each bay; with an overhang a beyond a bay L, (L + a)^2 / 2L.

        >>> PostReach(before=1000, after=800).tributary, PostReach(before=1000, after=0, overhang=200).tributary
        (900.0, 720.0)
        """
        if self.place is PostPlace.INNER:
            return (self.before + self.after) / 2
        bay = self.before + self.after
        return (bay + self.overhang) ** 2 / (2 * bay)

    @property
    def point_share(self) -> float:
        """Share of a point load at the worst place: all of it, or 1 + a/L at the tip of an overhang."""
        return 1 + self.overhang / (self.before + self.after)


def post_forces(
    load: RailLoad, reach: PostReach, system: System | None, *, shared: Sharing | None = None
) -> tuple[Demand, ...]:
    """Force (N) on the top of one post, one demand per load case; unfactored and in use where ``system`` is None.

    Line: share x factor x q x tributary length, more where the rail runs on. Point: share x factor x P. ``shared`` only
    where the job asks for it; a published share is of the plain tributary length.

    >>> from railgen.checks.strength.systems import system
    >>> from railgen.job.strength_model import DesignSystem
    >>> reach = PostReach(before=1000, after=1000)
    >>> for force in post_forces(rail_load("asce-7"), reach, system(DesignSystem.LRFD)):
    ...     print(force.case, force.formula)
    line load F = 1.6 x 0.73 N/mm x 1000 mm = 1.168 kN
    point load F = 1.6 x 890 N = 1.424 kN
    """
    factor, basis, sources = _factor(load, system)
    share = shared.share(reach.place) if shared else 1.0
    if shared:
        sources = (*sources, shared.source)
    lead = "".join(f"{num(k)} x " for k in (share, factor) if k != 1.0)
    forces = []
    if load.line is not None:
        more = 1.0 if shared else reach.sideways
        value = share * factor * load.line * reach.tributary * more
        on = f" x {num(more)} as the rail runs on" if more > 1 else ""
        text = f"F = {lead}{num(load.line)} N/mm x {num(reach.tributary)} mm{on} = {show(value, Measure.FORCE)}"
        forces.append(_demand("line load", value, basis, text, sources))
    if load.point is not None:
        value = share * factor * load.point * reach.point_share
        tip = "" if reach.point_share == 1 else f" x {num(reach.point_share)}"
        text = f"F = {lead}{num(load.point)} N{tip} = {show(value, Measure.FORCE)}"
        forces.append(_demand(POINT, value, basis, text, sources))
    return tuple(forces)


def _factor(load: RailLoad, system: System | None) -> tuple[float, Basis, tuple[Source, ...]]:
    if system is None:
        return 1.0, Basis.SERVICE, (load.source,)
    return system.imposed, system.basis, (load.source, system.load_source)


def _demand(case: str, value: float, basis: Basis, formula: str, sources: tuple[Source, ...]) -> Demand:
    return Demand(
        value=value, measure=Measure.FORCE, basis=basis, case=case, formula=formula, sources=(*sources, STATICS)
    )
