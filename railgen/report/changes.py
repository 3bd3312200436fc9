"""What differs between two states of a job, matched by id, then by place."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from railgen.report.snapshot import Row, Snapshot, Subject

__all__ = ["Change", "Changes", "What", "compared"]

_NEAR = {Subject.HOLE: (10.0, 20.0), Subject.VERDICT: (0.0, 0.0)}
"""How far (mm) what keeps its id may have moved and be taken for itself at once, and what has another id at all."""

_NEAR_ELSE = (150.0, 300.0)
_SAME = 5e-4  # mm or degrees: printed numbers have three decimals


class What(StrEnum):
    """What became of it."""

    ADDED = "added"
    REMOVED = "removed"
    CHANGED = "changed"
    RENAMED = "renamed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One difference: names before and after (empty where there is none), and each value that is another now."""

    subject: Subject
    what: What
    old: str
    new: str
    values: Mapping[str, tuple[object, object]]

    def __str__(self) -> str:
        name = f"{self.old}, now {self.new}" if self.old and self.new and self.old != self.new else self.new or self.old
        told = "; ".join(_told(value, *pair) for value, pair in self.values.items())
        return f"{name}: {told or self.what}"


def _told(name: str, old: object, new: object) -> str:
    by = _difference(name, old, new)
    return f"{name} {_text(old)} -> {_text(new)}{'' if by is None else f' ({by:+.3f})'}"


def _text(value: object) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") if isinstance(value, float) else f"{value}" or "-"


def _difference(name: str, old: object, new: object) -> float | None:
    """Of two numbers, by the shorter way round for angles; None of anything else."""
    if not isinstance(old, int | float) or not isinstance(new, int | float):
        return None
    return math.remainder(new - old, 360.0) if name.endswith("_deg") else float(new - old)


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """All differences from one state of a job to another."""

    old: Snapshot
    new: Snapshot
    found: tuple[Change, ...]

    @property
    def silent(self) -> bool:
        """Whether papers with other numbers bear the same revision."""
        return bool(self.found) and (self.old.job, self.old.revision) == (self.new.job, self.new.revision)

    def counted(self) -> str:
        """How many differ, by what they are.

        >>> one = Change(subject=Subject.HOLE, what=What.ADDED, old="", new="R1 H6", values={})
        >>> none = Snapshot(job="a", revision="", build="")
        >>> Changes(old=none, new=none, found=(one, one)).counted()
        '2 holes'
        """
        counts = {each: sum(change.subject is each for change in self.found) for each in Subject}
        return ", ".join(f"{n} {each}{'' if n == 1 else 's'}" for each, n in counts.items() if n) or "no change"

    def lines(self, most: int | None = None) -> Iterator[str]:
        """For people: both states, then the differences, ``most`` of a kind; lengths in mm, angles in degrees."""
        yield f"old: {self.old}"
        yield f"new: {self.new}"
        yield ""
        yield self.counted()
        if not self.found and self.old.build != self.new.build:
            yield "The builds differ by what is not compared, such as names, prices or the version of railgen."
        for each in Subject:
            mine = [change for change in self.found if change.subject is each]
            if mine:
                yield f"\n{each}s"
                yield from (f"  {change}" for change in mine[:most])
                if most is not None and len(mine) > most:
                    yield f"  and {len(mine) - most} more"

    def text(self) -> str:
        """``changes.txt``."""
        again = "THE SAME REVISION HAD OTHER NUMBERS BEFORE: do not mix papers of the two builds.\n\n"
        return (again if self.silent else "") + "\n".join(self.lines()) + "\n"

    def json(self) -> str:
        """For other programs."""
        ends = {
            name: {"job": end.job, "revision": end.revision, "build": end.build}
            for name, end in (("old", self.old), ("new", self.new))
        }
        rows = [
            {
                "subject": change.subject.value,
                "change": change.what.value,
                "old": change.old or None,
                "new": change.new or None,
                "values": {
                    name: {"old": old, "new": new, "difference": _rounded(_difference(name, old, new))}
                    for name, (old, new) in change.values.items()
                },
            }
            for change in self.found
        ]
        return json.dumps({**ends, "same": not self.found, "changes": rows}, indent=1) + "\n"


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 6) + 0.0


def compared(old: Snapshot, new: Snapshot) -> Changes:
    """What differs."""
    found: list[Change] = []
    renamed: dict[str, str] = {}  # posts, pieces and surfaces, by which holes are named
    for subject in Subject:
        pairs = _matched(old.rows[subject], new.rows[subject], renamed, _NEAR.get(subject, _NEAR_ELSE))
        found += (change for pair in pairs if (change := _change(subject, *pair, renamed)))
        for one, other in pairs:
            if one and other and subject in (Subject.POST, Subject.PIECE):
                renamed[one.key] = other.key
            if one and other and subject is Subject.POST:
                renamed[str(one.values["surface"])] = str(other.values["surface"])
    return Changes(old=old, new=new, found=tuple(found))


def _change(subject: Subject, old: Row | None, new: Row | None, renamed: Mapping[str, str]) -> Change | None:
    """How two that belong together differ; None where they do not."""
    values: dict[str, tuple[object, object]] = {}
    if old and new:
        for name in dict.fromkeys((*old.values, *new.values)):
            before, after = old.values.get(name, ""), new.values.get(name, "")
            by = _difference(name, before, after)
            if before != after if by is None else abs(by) > _SAME:
                values[name] = before, after
        if not values and _renamed(old, renamed).key == new.key:
            return None
    what = What.ADDED if not old else What.REMOVED if not new else What.CHANGED if values else What.RENAMED
    names = ["" if row is None else _name(subject, row) for row in (old, new)]
    return Change(subject=subject, what=what, old=names[0], new=names[1], values=values)


def _name(subject: Subject, row: Row) -> str:
    return f"{row.group[0]} {row.key}" if subject is Subject.HOLE else row.key


def _renamed(row: Row, names: Mapping[str, str]) -> Row:
    """A row of the old state as the new one would name it where nothing but the names of others changed."""
    owner, dot, own = row.key.partition(".")
    key = f"{names.get(owner, owner)}.{own}" if dot else row.key
    return Row(key=key, group=tuple(names.get(g, g) for g in row.group), place=row.place, values=row.values)


Pair = tuple[Row | None, Row | None]


def _matched(
    old: Sequence[Row], new: Sequence[Row], renamed: Mapping[str, str], near: tuple[float, float]
) -> list[Pair]:
    """Every row with its counterpart: by id where the place agrees, by place among the rest, then by id alone.

    In the order of the new state, and what is gone at the end.
    """
    named = [_renamed(row, renamed) for row in old]
    pairs: dict[int, int] = {}  # new -> old

    def pair(farthest: float, by: Callable[[Row], Hashable]) -> None:
        left = set(range(len(old))) - set(pairs.values())
        alike: dict[Hashable, list[int]] = {}
        for m in sorted(left):
            alike.setdefault(by(named[m]), []).append(m)
        close = sorted(
            (apart, m, n)
            for n, row in enumerate(new)
            if n not in pairs
            for m in alike.get(by(row), ())
            if (apart := _distance(named[m], row)) <= farthest
        )
        for _, m, n in close:
            if m in left and n not in pairs:
                left.remove(m)
                pairs[n] = m

    at_once, at_all = near
    pair(at_once, lambda row: (row.group, row.key))
    pair(at_all, lambda row: row.group if row.place else (row.group, row.key))
    pair(math.inf, lambda row: (row.group, row.key))
    gone = set(range(len(old))) - set(pairs.values())
    found: list[Pair] = [(old[pairs[n]] if n in pairs else None, row) for n, row in enumerate(new)]
    return [*found, *((old[m], None) for m in sorted(gone))]


def _distance(one: Row, other: Row) -> float:
    return math.dist(one.place, other.place) if len(one.place) == len(other.place) else math.inf
