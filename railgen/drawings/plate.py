"""The shop drawing of a base plate: plan, front, holes, facts."""

from __future__ import annotations

import math
from collections.abc import Sequence

from railgen.catalogue.models import BasePlate
from railgen.drawings.board import Board
from railgen.drawings.dims import reach, running
from railgen.drawings.facts import short_list
from railgen.drawings.frame import Draft, drawing_area, title_box
from railgen.drawings.lettering import SMALL
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Arc, Box, Pen, Point, Scale
from railgen.drawings.table import Table, draw_table
from railgen.drawings.words import fact_list, notes
from railgen.job.model import Job
from railgen.job.order_model import Projection
from railgen.members.fabrication import Fabrication
from railgen.members.facts import mates, places, plate_volume
from railgen.members.pieces import FaceHole, Fitting
from railgen.units import Figures, degrees

__all__ = ["draw_plate", "outline"]

_SCALES = (Scale(paper=1, real=1), Scale(paper=1, real=2), Scale(paper=1, real=5), Scale(paper=1, real=10))
_COLUMN, _BRACKETS = 182.0, 24.0  # mm for facts and holes, and what a second unit adds
_ASIDE = 7.0  # mm from a view to its dimensions


def draw_plate(job: Job, fabrication: Fabrication, piece: Fitting, setting: Setting) -> Draft:
    """Up the flight is to the right; the front is seen from the walker's right."""
    plate = piece.item
    if not isinstance(plate, BasePlate):
        raise TypeError(f"{piece.mark} is no base plate")
    area, figures = drawing_area(setting), setting.figures
    board = Board(area=area)
    tall = plate.thickness + plate.socket_height
    wide = _COLUMN + (_BRACKETS if figures.dual else 0.0)
    dims = _ASIDE + 15 + reach(figures.length(v) for v in (plate.length, plate.width, plate.length / 2, tall))
    scale = next(
        (
            s
            for s in _SCALES
            if (plate.width + tall) * s.ratio + 2 * dims + 12 <= area.height
            and plate.length * s.ratio + 2 * dims <= area.width - wide
        ),
        _SCALES[-1],
    )
    across = area.left + dims + plate.length * scale.ratio / 2 + 6
    plan_high, front_high = plate.width * scale.ratio, tall * scale.ratio
    if setting.projection is Projection.FIRST_ANGLE:
        front = (across, area.top - 4 - front_high)
        plan = (across, front[1] - dims - plan_high / 2)
    else:
        plan = (across, area.top - dims - plan_high / 2)
        front = (across, plan[1] - plan_high / 2 - dims - front_high)
    _plan(board, plate, piece.holes, plan, scale, figures)
    _front(board, plate, piece.holes, front, scale, figures)
    column = Box(left=area.right - wide, right=area.right, top=area.top, bottom=title_box(setting).top + 4)
    _words(board, job, fabrication, piece, plate, column, setting)
    size = " × ".join(figures.length(v) for v in (plate.length, plate.width, plate.thickness))
    return Draft(
        name=f"shop-{piece.mark}",
        title=f"{piece.mark}  Base plate, {fabrication.quantities()[piece.mark]} off",
        note=f"plate {size} {figures.unit}, with upright socket",
        scale=scale,
        board=board,
    )


def outline(board: Board, pen: Pen, box: Box, radius: float) -> None:
    """A rectangle with rounded corners."""
    left, right, low, high = box.left, box.right, box.bottom, box.top
    for a, b in (
        ((left + radius, low), (right - radius, low)),
        ((right, low + radius), (right, high - radius)),
        ((right - radius, high), (left + radius, high)),
        ((left, high - radius), (left, low + radius)),
    ):
        board.line(pen, a, b)
    if radius <= 0:
        return
    for number, centre in enumerate(
        (
            (right - radius, high - radius),
            (left + radius, high - radius),
            (left + radius, low + radius),
            (right - radius, low + radius),
        )
    ):
        start = number * math.pi / 2
        board.add(Arc(pen=pen, centre=centre, radius=radius, start=start, end=start + math.pi / 2))


def _flat(holes: Sequence[FaceHole]) -> list[FaceHole]:
    return [hole for hole in holes if abs(hole.axis.z) > 0.5]


def _plan(
    board: Board, plate: BasePlate, holes: Sequence[FaceHole], centre: Point, scale: Scale, figures: Figures
) -> None:
    k = scale.ratio
    (x, y), half_x, half_y = centre, plate.length * k / 2, plate.width * k / 2
    box = Box(left=x - half_x, right=x + half_x, bottom=y - half_y, top=y + half_y)
    outline(board, Pen.OUTLINE, box, plate.corner_radius * k)
    for radius in (plate.socket_od / 2, plate.socket_od / 2 - plate.socket_wall):
        if radius > 0:
            board.circle(Pen.OUTLINE, centre, radius * k)
    board.line(Pen.CENTRE, (box.left - 4, y), (box.right + 4, y))
    board.line(Pen.CENTRE, (x, box.bottom - 4), (x, box.top + 4))
    spots = {hole.id: (x - hole.point.x * k, y - hole.point.y * k) for hole in _flat(holes)}
    for hole in _flat(holes):
        board.circle(Pen.HOLE, spots[hole.id], hole.diameter / 2 * k)
        if hole.countersink > hole.diameter:
            board.circle(Pen.HOLE, spots[hole.id], hole.countersink / 2 * k)
        board.cross(spots[hole.id], max(hole.diameter, hole.countersink) / 2 * k + 1.5)
    flat = _flat(holes)
    _run(board, box, [(plate.length / 2 - h.point.x, spots[h.id]) for h in flat], plate.length, figures, level=True)
    _run(board, box, [(plate.width / 2 - h.point.y, spots[h.id]) for h in flat], plate.width, figures, level=False)
    sizes: dict[str, list[FaceHole]] = {}
    for hole in flat:
        sink = f", 90° csk Ø{figures.drill(hole.countersink)}" if hole.countersink > hole.diameter else ""
        sizes.setdefault(f"Ø{figures.drill(hole.diameter)}{sink}", []).append(hole)
        board.note(spots[hole.id], hole.id, SMALL, math.radians(60))
    for size, group in sizes.items():
        last = max(group, key=lambda h: spots[h.id])
        rim = (box.right, spots[last.id][1])
        board.note(rim, f"{len(group)} × {size}", SMALL, math.radians(-20))
    board.note((box.right, box.top), f"R{figures.length(plate.corner_radius)}, 4 times", SMALL, math.radians(30))
    board.text((box.left, box.bottom - 9), "Plan; the flight goes up to the right", SMALL)


def _run(
    board: Board, box: Box, holes: Sequence[tuple[float, Point]], whole: float, figures: Figures, *, level: bool
) -> None:
    """Running dimensions of the plan from its lower left corner: to the right above it, or upwards at its left."""
    spots = {figures.length(at): (at, spot) for at, spot in reversed(holes)}
    if level:
        datum, end, through = (box.left, box.top), (box.right, box.top), (0.0, box.top + _ASIDE)
    else:
        datum, end, through = (box.left, box.bottom), (box.left, box.top), (box.left - _ASIDE, 0.0)
    features: list[tuple[Point, float, str]] = []
    middle = ((datum[0] + end[0]) / 2, (datum[1] + end[1]) / 2)
    spots.setdefault(figures.length(whole / 2), (whole / 2, middle))
    for text, (at, spot) in sorted(spots.items(), key=lambda entry: entry[1][0]):
        features.append((spot, at, text))
    features.append((end, whole, figures.length(whole)))
    board.add(*running(datum, features, 0.0 if level else math.pi / 2, through))


def _front(
    board: Board, plate: BasePlate, holes: Sequence[FaceHole], foot: Point, scale: Scale, figures: Figures
) -> None:
    """``foot`` is the middle of the underside."""
    k = scale.ratio
    x, y = foot
    top, rim = y + plate.thickness * k, y + (plate.thickness + plate.socket_height) * k
    half, outer = plate.length * k / 2, plate.socket_od / 2 * k
    inner = outer - plate.socket_wall * k
    board.rectangle(Pen.OUTLINE, Box(left=x - half, right=x + half, bottom=y, top=top))
    board.path(Pen.OUTLINE, ((x - outer, top), (x - outer, rim), (x + outer, rim), (x + outer, top)))
    if inner > 0:
        for edge in (x - inner, x + inner):
            board.line(Pen.HIDDEN, (edge, top), (edge, rim))
    board.line(Pen.CENTRE, (x, y - 4), (x, rim + 4))
    stops = {plate.thickness: (x - half, top), plate.thickness + plate.socket_height: (x - outer, rim)}
    for hole in holes:
        if abs(hole.axis.z) < 0.5:
            spot = (x - hole.point.x * k, y + hole.point.z * k)
            board.circle(Pen.HOLE if hole.axis.y > 0 else Pen.HIDDEN, spot, hole.diameter / 2 * k)
            board.cross(spot, hole.diameter / 2 * k + 1.5)
            stops[hole.point.z] = spot
    for hole in _flat(holes):
        edge = x - hole.point.x * k
        board.line(Pen.CENTRE, (edge, y - 2), (edge, top + 2))
    features = [(stops[z], z, figures.length(z)) for z in sorted(stops)]
    board.add(*running((x - half, y), features, math.pi / 2, (x - half - _ASIDE, 0.0)))
    names = [hole for hole in holes if abs(hole.axis.z) < 0.5]
    if names:
        spot = (x - names[0].point.x * k + outer, y + names[0].point.z * k)
        text = f"{short_list(hole.id for hole in names)} Ø{figures.drill(names[0].diameter)}"
        board.note(spot, text, SMALL, math.radians(30))
    board.text((x + half + 4, y), "Front, from clock 90°", SMALL)


def _words(
    board: Board,
    job: Job,
    fabrication: Fabrication,
    piece: Fitting,
    plate: BasePlate,
    room: Box,
    setting: Setting,
) -> None:
    figures = setting.figures
    quantity, material = fabrication.quantities()[piece.mark], job.hardware.material
    mass = plate_volume(plate, piece.holes) * material.density * 1e-9
    lines = (
        ("Plate", " × ".join(figures.length(v) for v in (plate.length, plate.width, plate.thickness))),
        (
            "Socket",
            (
                f"Ø{figures.drill(plate.socket_od)}, wall {figures.drill(plate.socket_wall)}, "
                f"{figures.length(plate.socket_height)} above the plate"
            ),
        ),
        ("Quantity", f"{quantity}: {short_list(places(fabrication, piece.mark))}"),
        ("Material", f"{material.id} {material.description}".strip()),
        ("Mass", f"{figures.mass(mass)} each, {figures.mass(mass * quantity)} in all"),
        ("Clock", "0° faces down the flight, 90° the walker's right; x towards 0°, y towards 90°, from the centre"),
        ("Edges", "cut square, 0° from square; deburr all edges and holes"),
        *notes(setting, weep=False),
    )
    board.text((room.left, room.top - 7), piece.mark, 7.0, bold=True)
    mate = mates(fabrication)
    table = Table(
        headings=("Hole", "x", "y", "Height", "Clock", "Ø", "Csk Ø", "Depth", "Purpose", "Mates with"),
        rows=tuple(_row(hole, short_list(mate.get((piece.mark, hole.id), ("-",))), figures) for hole in piece.holes),
    ).wrapped(room.width)
    low = room.bottom + table.height
    fact_list(board, lines, Box(left=room.left, right=room.right, bottom=low + 3, top=room.top - 12))
    draw_table(board, table, (room.left, low), room.width)


def _row(hole: FaceHole, mate: str, figures: Figures) -> tuple[str, ...]:
    flat = abs(hole.axis.z) > 0.5
    return (
        hole.id,
        figures.length(hole.point.x) if flat else "-",
        figures.length(hole.point.y) if flat else "-",
        "-" if flat else figures.length(hole.point.z),
        "-" if flat else degrees(math.atan2(hole.axis.y, hole.axis.x) % math.tau),
        figures.drill(hole.diameter),
        figures.drill(hole.countersink) if hole.countersink else "-",
        figures.drill(hole.depth),
        hole.purpose.value,
        mate,
    )
