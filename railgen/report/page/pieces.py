"""Every distinct piece of the job sheet: what it is, how many, how long, where it goes, and its holes."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import assert_never

from railgen.job.model import Job
from railgen.members import Fabrication
from railgen.members.facts import mates, prepared
from railgen.members.pieces import FaceHole, Fitting, Group, Hole, Piece, StairBody, SurfaceHole, Tube, TubeHole
from railgen.report.grid import Cell, Grid, grid, number_cell
from railgen.units import Figures, degrees

__all__ = ["PieceView", "piece_views", "places_by_group"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceView:
    """A piece as it is shown: ``what`` in a word, ``brief`` the little to know it by, its data, its holes or None."""

    mark: str
    what: str
    brief: str
    facts: tuple[tuple[str, str], ...]
    holes: Grid | None


def piece_views(job: Job, fabrication: Fabrication, figures: Figures) -> list[tuple[str, list[PieceView]]]:
    """One view for each mark in the order of the members: what is made here, what is bought, the stair."""
    quantities = fabrication.quantities()
    mate = mates(fabrication)
    places: dict[str, list[str]] = {}
    for place in fabrication.placed:
        places.setdefault(place.mark, []).append(place.id)
    groups: dict[str, list[PieceView]] = {"Made here": [], "Fittings and fixings": [], "The stair": []}
    for mark, piece in fabrication.pieces.items():
        stands = places.get(mark, [mark])
        view = PieceView(
            mark=mark,
            what=_what(piece),
            brief=_brief(piece, quantities[mark], figures),
            facts=(
                ("Quantity", str(quantities[mark])),
                *_facts(piece, job, figures),
                *((("Stands as", ", ".join(stands)),) if stands != [mark] else ()),
            ),
            holes=_holes(piece, mate, figures),
        )
        groups[_group(piece)].append(view)
    return [(title, views) for title, views in groups.items() if views]


def _group(piece: Piece) -> str:
    match piece:
        case Tube():
            return "Made here"
        case Fitting():
            return "Fittings and fixings"
        case StairBody():
            return "The stair"
    assert_never(piece)


def _brief(piece: Piece, quantity: int, figures: Figures) -> str:
    holes = f"{len(piece.holes)} hole{'' if len(piece.holes) == 1 else 's'}" if piece.holes else "no holes"
    if isinstance(piece, Tube):
        return f"{quantity} off, {figures.named(piece.length)}, {holes}"
    return f"{quantity} off, {holes}" if isinstance(piece, Fitting) else holes


def places_by_group(fabrication: Fabrication) -> list[tuple[str, list[tuple[str, str, str]]]]:
    """For each group of the assembly its occurrences, as id, mark and what it is."""
    return [
        (
            group.value,
            [
                (place.id, place.mark, _what(fabrication.pieces[place.mark]))
                for place in fabrication.placed
                if place.group is group
            ],
        )
        for group in Group
        if any(place.group is group for place in fabrication.placed)
    ]


def _what(piece: Piece) -> str:
    match piece:
        case Tube():
            return "tube"
        case Fitting():
            return piece.kind.value
        case StairBody():
            return "part of the stair"
    assert_never(piece)


def _facts(piece: Piece, job: Job, figures: Figures) -> tuple[tuple[str, str], ...]:
    unit = figures.unit
    if isinstance(piece, Tube):
        section, (end_a, end_b) = piece.section, prepared(piece)
        return (
            ("Length", figures.named(piece.length)),
            ("Section", f"{section.id}: {figures.drill(section.od)} x {figures.drill(section.wall)} {unit}"),
            ("Material", job.hardware.material.id),
            ("Datum end", str(end_a)),
            ("Other end", str(end_b)),
        )
    if isinstance(piece, Fitting):
        return (("Entry", piece.item.id), ("Description", piece.item.description or "none given"))
    return (("Thickness", figures.named(piece.thickness)),)


def _holes(piece: Piece, mate: Mapping[tuple[str, str], tuple[str, ...]], figures: Figures) -> Grid | None:
    if not piece.holes:
        return None
    unit, count = figures.unit, len(piece.holes)
    caption = f"{count} hole{'s' if count > 1 else ''} in {piece.mark} ({unit})"
    if isinstance(piece, StairBody):
        where: tuple[str, ...] = ("from nosing", "from edge", "measured from")
    elif isinstance(piece, Tube):
        where = ("from datum end", "clock")
    else:
        where = ("x", "y", "z", "clock")
    rows = [
        (
            hole.id,
            *_position(hole, figures),
            number_cell(figures.drill(hole.diameter), hole.diameter),
            _through(hole, piece, figures),
            number_cell(figures.drill(hole.countersink), hole.countersink) if hole.countersink else "",
            hole.thread,
            hole.purpose.value,
            "" if hole.when is None else hole.when.value,
            " | ".join(mate.get((piece.mark, hole.id), ())),
        )
        for hole in piece.holes
    ]
    columns = ("hole", *where, "diameter", "through", "countersink", "thread", "for", "when", "meets")
    return grid(caption, columns, rows).filled()


def _position(hole: TubeHole | FaceHole, figures: Figures) -> tuple[Cell | str, ...]:
    def length(mm: float) -> Cell:
        return number_cell(figures.length(mm), mm)

    def clock(angle: float) -> Cell:
        return number_cell(degrees(angle % math.tau, 2), angle % math.tau)

    if isinstance(hole, TubeHole):
        return length(hole.distance), clock(hole.clock)
    if isinstance(hole, SurfaceHole):
        return length(hole.from_nosing), length(hole.from_edge), hole.measured_from
    if abs(hole.axis.z) > 0.5:
        return length(hole.point.x), length(hole.point.y), "", ""
    return "", "", length(hole.point.z), clock(math.atan2(hole.axis.y, hole.axis.x))


def _through(hole: Hole, piece: Piece, figures: Figures) -> str:
    if isinstance(piece, Tube):
        return "1 wall" if hole.walls == 1 else f"{hole.walls} walls"
    return f"{figures.length(hole.depth)} deep"
