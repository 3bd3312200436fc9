"""Claims of the STEP files, read as text: no CAD kernel has a part in it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from pathlib import Path

from railgen.geometry import Frame, Vec
from railgen.survey import Survey
from tests.agreement.claims import Claim
from tests.agreement.tables import Row
from tests.part21 import Part21
from tests.readback import Product, read_step

__all__ = ["plate_claims", "stair_claims", "tube_claims"]

_NEAR = 0.002  # mm: what the text and the sampling of curves leave
_TURN = 0.003  # degrees


def _only(path: Path) -> Product:
    (product,) = [p for p in read_step(path).products.values() if p.solids]
    return product


def tube_claims(path: Path) -> Iterator[Claim]:
    """Length over the outside, cut angles of the two plane ends, and every hole, by distance and clock position."""
    mark, product = path.stem, _only(path)
    along = [c for c in product.cylinders if c.direction.cross(Vec(0, 0, 1)).length < 1e-9]
    (outside,) = [c for c in along if not c.hollow]
    low, high = min(a for a, _ in outside.spans), max(b for _, b in outside.spans)
    yield _claim(mark, "length", high - low)
    found = []
    for cylinder in product.cylinders:
        if cylinder in along:
            continue
        assert cylinder.hollow
        centre = cylinder.point
        for start, end in cylinder.spans:  # each wall it goes through
            out = cylinder.direction * (1.0 if start + end > 0 else -1.0)
            found.append((round(centre.z - low, 3), math.degrees(math.atan2(out.y, out.x)) % 360, cylinder))
    for number, (station, clock, cylinder) in enumerate(sorted(found, key=lambda hole: hole[:2]), start=1):
        yield _claim(mark, f"H{number} station", station)
        yield Claim(source="STEP", piece=mark, feature=f"H{number} clock", value=clock, near=_TURN)
        yield _claim(mark, f"H{number} diameter", 2 * cylinder.radius)
    yield Claim(source="STEP", piece=mark, feature="holes", value=len(found), near=0)
    for name, angle in zip("ab", _end_angles(path), strict=True):
        yield Claim(source="STEP", piece=mark, feature=f"end {name} from square", value=angle, near=_TURN)


def _end_angles(path: Path) -> list[float]:
    """Angle off square of each plane face, lower first."""
    file = Part21(path.read_text(encoding="ascii"))
    planes = [file.axes(file.args(number, "PLANE")[1]) for number in file.by_type["PLANE"]]
    planes.sort(key=lambda plane: plane.origin.z)
    return [math.degrees(math.acos(min(1.0, abs(plane.z.z)))) for plane in planes]


def plate_claims(path: Path) -> Iterator[Claim]:
    """Fixing holes by x and y with their countersinks, rivet holes of the socket by height and clock position."""
    mark, product = path.stem, _only(path)
    flat, aside = [], []
    for cylinder in product.cylinders:
        if not cylinder.hollow:
            continue
        if abs(cylinder.direction.z) < 0.5:
            for start, end in cylinder.spans:
                out = cylinder.direction * (1.0 if start + end > 0 else -1.0)
                aside.append((math.degrees(math.atan2(out.y, out.x)) % 360, cylinder))
        elif cylinder.point.length > 1.0:  # not the socket's bore
            flat.append(cylinder)
    flat.sort(key=lambda c: (-round(c.point.x, 3), -round(c.point.y, 3)))
    for number, cylinder in enumerate(flat, start=1):
        yield _claim(mark, f"H{number} x", cylinder.point.x)
        yield _claim(mark, f"H{number} y", cylinder.point.y)
        yield _claim(mark, f"H{number} diameter", 2 * cylinder.radius)
        for cone in product.cones:
            if cylinder.off_axis(cone.point) < _NEAR:
                yield _claim(mark, f"H{number} countersink", 2 * cone.largest)
    for number, (clock, cylinder) in enumerate(sorted(aside, key=lambda hole: hole[0]), start=1):
        yield _claim(mark, f"V{number} station", cylinder.point.z)
        yield Claim(source="STEP", piece=mark, feature=f"V{number} clock", value=clock, near=_TURN)
        yield _claim(mark, f"V{number} diameter", 2 * cylinder.radius)
    yield Claim(source="STEP", piece=mark, feature="holes", value=len(flat) + len(aside), near=0)


def stair_claims(assembly: Path, schedule: list[Row], survey: Survey) -> Iterator[Claim]:
    """Every hole of treads, landings and floors, measured from the nosing and the edge that its row names."""
    file = read_step(assembly)
    bodies = {o.name: (file.products[o.product], frame) for o, frame in file.root.walk() if not o.children}
    for mark in dict.fromkeys(row["part"] for row in schedule if row["from_nosing_mm"]):
        mine = [row for row in schedule if row["part"] == mark]
        product, frame = next(value for name, value in bodies.items() if name.removesuffix(".body") == mark)
        holes = [(frame.point(c.point), c) for c in product.cylinders if c.hollow]
        yield Claim(source="STEP", piece=mark, feature="holes", value=len(holes), near=0)
        yield Claim(source="drill_schedule", piece=mark, feature="holes", value=len(mine), near=0)
        for row in mine:
            spot = _marked_out(row, survey)
            at, hole = min(holes, key=lambda pair: (pair[0] - spot.origin).square_to(Vec(0, 0, 1)).length)
            away = spot.local(at) + Vec(float(row["from_nosing_mm"]), float(row["from_edge_mm"]), 0.0)
            yield _claim(mark, f"{row['hole']} from nosing", away.x)
            yield _claim(mark, f"{row['hole']} from edge", away.y)
            yield _claim(mark, f"{row['hole']} diameter", 2 * hole.radius)


def _marked_out(row: Row, survey: Survey) -> Frame:
    """Where a person who measures from the named nosing and edge marks the hole: x up the flight, y inwards."""
    found = re.fullmatch(r"flight (\d+): nosing (\d+), (left|right) edge", row["measured_from"])
    assert found
    placed = survey.flights[int(found[1]) - 1]
    along = sum(placed.flight.goings[: int(found[2]) - 1]) + float(row["from_nosing_mm"])
    inward = float(row["from_edge_mm"])
    left = found[3] == "left"
    across = -inward if left else inward - placed.flight.width
    origin = placed.foot + placed.ahead * along + placed.left * across
    inwards = placed.left * (-1.0 if left else 1.0)
    return Frame(origin=origin, x=placed.ahead, z=placed.ahead.cross(inwards))


def _claim(piece: str, feature: str, value: float) -> Claim:
    return Claim(source="STEP", piece=piece, feature=feature, value=value, near=_NEAR)
