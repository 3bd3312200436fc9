"""What two states of a job are compared by: posts, nodes, pieces, holes and verdicts, as a pack's files say them."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Any

from railgen.checks.table import checks_json
from railgen.errors import Fault, InputError, OutputError
from railgen.report.build_mark import build_mark
from railgen.report.earlier import Earlier, read_earlier
from railgen.schedules import cut_table, drill_table, layout_json

if TYPE_CHECKING:
    from railgen.report.content import Content  # with the drawings, which a comparison does not need

__all__ = ["Row", "Snapshot", "Subject", "of_content", "of_earlier", "of_pack"]

_LAYOUT, _CUT, _DRILL, _CHECKS = "layout.json", "cut_list.csv", "drill_schedule.csv", "checks.json"
_TUBE = 25.0  # mm: about the radius of a rail, by which the clock position of a hole counts as a distance


class Subject(StrEnum):
    """What is compared, in the order in which it is told: what is named by others stands after them."""

    POST = "post"
    NODE = "node"
    PIECE = "piece"
    HOLE = "hole"
    VERDICT = "verdict"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One of them: ``key`` is its id within its ``group``, ``place`` (mm) where it is, ``values`` what may change."""

    key: str
    group: tuple[str, ...] = ()
    place: tuple[float, ...] = ()
    values: Mapping[str, str | float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """One state of a job."""

    job: str
    revision: str
    build: str
    rows: Mapping[Subject, tuple[Row, ...]] = field(default_factory=dict)

    def __str__(self) -> str:
        return f"{self.job}, revision {self.revision or '-'}, build {self.build or '-'}"


def of_content(content: Content) -> Snapshot:
    """Of a job that is solved and checked."""
    job, fabrication = content.job, content.fabrication
    return _snapshot(
        {
            _LAYOUT: layout_json(job, content.layout, fabrication, build_mark(job)),
            _CUT: cut_table(job, fabrication).csv(),
            _DRILL: drill_table(fabrication).csv(),
            _CHECKS: checks_json(content.checks, ()),
        }
    )


def of_pack(folder: Path) -> Snapshot:
    """Of the pack in a folder. Raises InputError where there is none, or none that can be compared."""
    try:
        earlier = read_earlier(folder)
    except OutputError:
        earlier = None
    if earlier is None:
        raise _not_read(folder, "this folder is no railgen pack", "name the folder that has manifest.json in it")
    return of_earlier(earlier)


def of_earlier(pack: Earlier) -> Snapshot:
    """Of a pack as its manifest tells it. Raises InputError where it cannot be compared."""
    try:
        texts = {name: _text(pack, name) for name in (_LAYOUT, _CUT, _DRILL, _CHECKS)}
        return _snapshot(texts)
    except InputError:
        raise
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise _not_read(pack.folder, "the files of this pack cannot be read", "build it again") from error


def _text(pack: Earlier, name: str) -> str:
    """A file that is as it was written, for the state of the job that the pack's layout is of."""
    hint = "build the whole pack again, without --only"
    if name not in pack.files:
        raise _not_read(pack.folder / name, "the pack was built without it", hint)
    if not pack.untouched(name):
        raise _not_read(pack.folder / name, "it is gone, or somebody changed it since it was built", hint)
    if pack.files[name].state != pack.files[_LAYOUT].state:
        raise _not_read(pack.folder / name, "it is older than the rest of the pack", hint)
    return (pack.folder / name).read_text(encoding="utf-8")


def _not_read(path: Path, why: str, hint: str) -> InputError:
    return InputError(Fault(code="not-comparable", where=str(path), message=why, hint=hint))


def _snapshot(texts: Mapping[str, str]) -> Snapshot:
    layout, checks = json.loads(texts[_LAYOUT]), json.loads(texts[_CHECKS])
    return Snapshot(
        job=layout["job"],
        revision=layout.get("revision", ""),
        build=layout.get("build", ""),
        rows={
            Subject.POST: tuple(_posts(layout)),
            Subject.NODE: tuple(_nodes(layout)),
            Subject.PIECE: tuple(_pieces(texts[_CUT], layout)),
            Subject.HOLE: tuple(_holes(texts[_DRILL])),
            Subject.VERDICT: tuple(_verdicts(checks)),
        },
    )


def _posts(layout: Any) -> Iterator[Row]:
    for post in layout["posts"]:
        told = {name: post[name] for name in ("mark", "surface", "length_mm")}
        yield Row(key=post["id"], place=tuple(post["base"]), values=told | _at(post["base"]))


def _nodes(layout: Any) -> Iterator[Row]:
    for node in layout["nodes"]:
        yield Row(key=node["id"], place=tuple(node["at"]), values=_at(node["at"]) | {"elbow_deg": node["elbow_deg"]})


def _at(point: list[float]) -> dict[str, float]:
    return dict(zip(("x_mm", "y_mm", "z_mm"), point, strict=True))


def _pieces(cut_list: str, layout: Any) -> Iterator[Row]:
    """Tubes, each where the first one with its mark stands."""
    places: dict[str, tuple[str, tuple[float, ...]]] = {}
    for post in layout["posts"]:
        places.setdefault(post["mark"], ("post", tuple(post["base"])))
    for rail in layout["rails"]:
        middle = tuple((a + b) / 2 for a, b in zip(rail["start"], rail["end"], strict=True))
        places.setdefault(rail["mark"], ("rail", middle))
    for row in _table(cut_list):
        kind, place = places.get(row["mark"], ("", ()))
        told = {name: _cell(row[name]) for name in ("quantity", "section", "length_mm", "end_a", "end_b")}
        yield Row(key=row["mark"], group=(kind,), place=place, values=told)


_NO_VALUES = {"part", "hole", "mates_with", "build"}
"""Columns of holes that name them or others, and would change with every name."""


def _holes(schedule: str) -> Iterator[Row]:
    for row in _table(schedule):
        told = {name: _cell(cell) for name, cell in row.items() if name not in _NO_VALUES}
        along = [float(row[name] or 0) for name in ("distance_mm", "x_mm", "y_mm", "from_nosing_mm", "from_edge_mm")]
        clock = math.radians(float(row["clock_deg"] or 0))
        place = (*along, _TUBE * math.cos(clock), _TUBE * math.sin(clock))
        yield Row(key=row["hole"], group=(row["part"],), place=place, values=told)


def _verdicts(checks: Any) -> Iterator[Row]:
    yield Row(key="all checks together", values={"verdict": checks["verdict"]})
    for check in checks["checks"]:
        where = f"{check['where']}: " if check["where"] else ""
        rule = check["rule"]
        key = f"{where}{check['title']}{f', {rule}' if rule else ''}"
        yield Row(key=key, group=(check["code"],), values={"verdict": check["verdict"]})


def _table(text: str) -> Iterator[dict[str, str]]:
    return csv.DictReader(io.StringIO(text, newline=""))


def _cell(text: str) -> str | float:
    try:
        return float(text)
    except ValueError:
        return text
