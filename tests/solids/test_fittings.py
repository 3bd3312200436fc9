"""Every fitting is one sound solid whose volume is that of its dimensions, worked out another way."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad

from railgen.catalogue.models import PostHead
from railgen.geometry import UP, Vec
from railgen.members.pieces import Fitting, FittingKind, Purpose, StairBody, SurfaceHole
from railgen.solids.build import build_solid
from railgen.survey import SurfaceId, SurfaceKind
from tests.solids.demo import SETS, Grid, columns, fitting, pieces, shipped, welded
from tests.solids.test_tube import wall_volume

K = FittingKind
FAMILIES = pytest.mark.parametrize("close", [False, True])


def volume(piece: Fitting | StairBody) -> float:
    return float(build_solid(piece).Volume())


def disc(diameter: float) -> float:
    return math.pi * diameter**2 / 4


def half_chord(radius: Grid | float, off: Grid | float) -> Grid:
    """Half the width of a circle at a distance from its middle; 0 outside."""
    half: Grid = np.sqrt(np.maximum(np.square(radius) - np.square(off), 0.0))
    return half


def dome(radius: float, height: float) -> float:
    """A cap of a ball."""
    return math.pi * height * (3 * radius**2 + height**2) / 6


def edge_round(radius: float, edge: float) -> float:
    """What rounding the rim of a disc takes away: a square less its quarter circle, turned about the axis (Pappus)."""
    centroid = edge * (10 - 3 * math.pi) / (3 * (4 - math.pi))
    return (1 - math.pi / 4) * edge**2 * math.tau * (radius - centroid)


def spigot_and_cap(item: PostHead) -> float:
    pipe = disc(item.spigot_od) - disc(item.spigot_od - 2 * item.spigot_wall)
    return (
        pipe * item.spigot_length
        + disc(item.cap_diameter) * item.cap_thickness
        - edge_round(item.cap_diameter / 2, 0.5)
    )


def rivet_holes(item: PostHead) -> float:
    return 2 * wall_volume(item.spigot_od, item.spigot_wall, 3.5)


@pytest.mark.parametrize("name", SETS)
def test_every_shipped_fitting_is_one_sound_solid(name: str) -> None:
    for piece in pieces(shipped(name)).values():
        solid = build_solid(piece)
        assert solid.isValid(), piece.mark
        assert (solid.ShapeType(), len(solid.Shells())) == ("Solid", 1)
        assert welded(solid, 0.35).is_watertight, piece.mark


def test_base_plate() -> None:
    piece = fitting(K.BASE_PLATE)
    item: Any = piece.item
    plate = (item.length * item.width - (4 - math.pi) * item.corner_radius**2) * item.thickness
    socket = (disc(item.socket_od) - disc(item.socket_od - 2 * item.socket_wall)) * item.socket_height
    big, small = item.countersink_diameter / 2, item.hole_diameter / 2
    cone = math.pi * (big - small) * (big * big + big * small + small * small) / 3
    anchors = 4 * (math.pi * small**2 * (item.thickness - (big - small)) + cone)
    rivets = 2 * wall_volume(item.socket_od, item.socket_wall, 3.5)
    assert volume(piece) == pytest.approx(plate + socket - anchors - rivets, rel=1e-5)
    box = build_solid(piece).BoundingBox()
    assert (box.zmin, box.zmax) == pytest.approx((0, item.thickness + item.socket_height), abs=1e-6)


def test_cover_plate() -> None:
    item: Any = fitting(K.COVER_PLATE).item
    inside = (item.length - 2 * item.thickness) * (item.width - 2 * item.thickness) * (item.height - item.thickness)
    expected = item.length * item.width * item.height - inside - disc(item.bore) * item.thickness
    assert volume(fitting(K.COVER_PLATE)) == pytest.approx(expected, rel=1e-9)


def test_fixed_saddle() -> None:
    piece = fitting(K.FIXED_SADDLE)
    item: Any = piece.item
    od = piece.od
    inner = od / 2 + item.cradle_clearance
    outer = inner + item.cradle_thickness
    trough = item.cradle_angle / 2 * (outer**2 - inner**2) * item.cradle_length

    def stem(x: Grid, y: Grid) -> Grid:  # from the cap up to the trough's underside
        inside = x**2 + y**2 < (item.stem_diameter / 2) ** 2
        return np.where(inside, item.centre_height - half_chord(outer, y) - item.cap_thickness, 0.0)

    half = item.stem_diameter / 2
    expected = spigot_and_cap(item) + trough + columns(stem, (-half, -half), (half, half))
    assert volume(fitting(K.FIXED_SADDLE, holes=False)) == pytest.approx(expected, rel=1e-4)

    def screw(x: float) -> float:  # over the drill, from the trough's underside to its inner surface
        return 2 * float(quad(lambda y: half_chord(outer, y) - half_chord(inner, y), 0, float(half_chord(3.2, x)))[0])

    screws = 2 * quad(screw, -3.2, 3.2)[0]
    assert volume(piece) == pytest.approx(expected - screws - rivet_holes(item), rel=1e-4)


def test_saddle_stem() -> None:
    piece = fitting(K.SADDLE_STEM, holes=False)
    item: Any = piece.item
    od = piece.od
    radius = min(7.0, item.pivot_to_centre - od / 2 - 0.1 - 4 - 0.2)
    shoulder = item.pivot_height - radius - 0.2

    def across(x: Grid, z: Grid) -> Grid:
        stem = np.where(z < shoulder, half_chord(7.0, x), 0.0)
        slab = (
            (abs(x) < radius)
            & (z > shoulder - 2)
            & ((z < item.pivot_height) | (x**2 + (z - item.pivot_height) ** 2 < radius**2))
        )
        tongue = np.where(slab, item.tongue_thickness / 2, 0.0)
        on_pin = x**2 + (z - item.pivot_height) ** 2 < (item.pivot_diameter / 2) ** 2
        pin = np.where(on_pin, item.tongue_thickness / 2 + 0.1 + item.cheek_thickness, 0.0)
        return 2 * np.maximum(np.maximum(stem, tongue), pin)

    above = columns(across, (-8, item.cap_thickness), (8, item.pivot_height + radius), 3000)
    assert volume(piece) == pytest.approx(spigot_and_cap(item) + above, rel=1e-4)
    assert volume(fitting(K.SADDLE_STEM)) == pytest.approx(spigot_and_cap(item) + above - rivet_holes(item), rel=1e-4)


def test_saddle_cradle() -> None:
    piece = fitting(K.SADDLE_CRADLE, holes=False)
    item: Any = piece.item
    od = piece.od
    centre = item.pivot_to_centre
    inner = od / 2 + item.cradle_clearance
    outer = inner + item.cradle_thickness
    near, far = item.tongue_thickness / 2 + 0.1, item.tongue_thickness / 2 + 0.1 + item.cheek_thickness

    def along(y: Grid, z: Grid) -> Grid:
        away = np.hypot(y, z - centre)
        in_trough = (away > inner) & (away < outer) & (np.arctan2(abs(y), centre - z) < item.cradle_angle / 2)
        cheek = np.where(z > 0, 7.0, half_chord(7.0, z)) - half_chord(item.pivot_diameter / 2 + 0.1, z)
        in_cheek = (abs(y) > near) & (abs(y) < far) & (away > inner)
        return np.where(in_trough, item.cradle_length, np.where(in_cheek & (z < centre), 2 * cheek, 0.0))

    assert volume(piece) == pytest.approx(columns(along, (-30, -8), (30, centre), 3000), rel=5e-4)


def leg_profile(piece: Fitting, z: Grid) -> Grid:
    """Radius of a leg before the halves are parted: ball, neck, collar, spigot."""
    item: Any = piece.item
    ball = half_chord(item.hub_diameter / 2, z)
    neck = np.where(z > 0, np.maximum(ball, item.neck_diameter / 2), ball)
    collar = np.where(z > item.take_off - item.collar_thickness, piece.od / 2, neck)
    end = item.take_off + item.spigot_length
    spigot = np.where(z > item.take_off, np.minimum(item.spigot_od / 2, item.spigot_od / 2 + end - 1 - z), collar)
    return np.where(z < end, spigot, 0.0)


@FAMILIES
@pytest.mark.parametrize("kind", [K.ELBOW_TONGUE, K.ELBOW_FORK])
def test_elbow_halves(kind: FittingKind, close: bool) -> None:
    piece = fitting(kind, close=close, holes=False)
    item: Any = piece.item
    room = item.hub_diameter / 2 + 0.2
    tongue = kind is K.ELBOW_TONGUE

    def across(x: Grid, z: Grid) -> Grid:
        whole = half_chord(leg_profile(piece, z), x)
        own = abs(x) < item.tongue_thickness / 2 - 0.1 if tongue else abs(x) > item.tongue_thickness / 2 + 0.1
        kept = np.where(own, whole, np.maximum(whole - half_chord(room, np.hypot(x, z)), 0.0))
        pin = half_chord(item.pin_diameter / 2 + 0.1, z)
        return 2 * np.where(own, np.maximum(kept - pin, 0.0), kept)

    reach = piece.od / 2
    expected = columns(across, (-reach, -room), (reach, item.take_off + item.spigot_length), 3000)
    assert volume(piece) == pytest.approx(expected, rel=1e-3)
    hole = fitting(kind, close=close).holes[0]
    bottom = item.spigot_od / 2 - hole.depth

    def drilled(y: Grid, z: Grid) -> Grid:
        return np.where(np.hypot(y, z) < hole.diameter / 2, half_chord(item.spigot_od / 2, y) - bottom, 0.0)

    taken = columns(drilled, (-hole.diameter / 2,) * 2, (hole.diameter / 2,) * 2)
    assert volume(piece) - volume(fitting(kind, close=close)) == pytest.approx(taken, rel=1e-3)


@FAMILIES
def test_elbow_pin(close: bool) -> None:
    item: Any = fitting(K.ELBOW_PIN, close=close).item
    length = math.sqrt(item.hub_diameter**2 - item.pin_diameter**2)
    assert volume(fitting(K.ELBOW_PIN, close=close)) == pytest.approx(disc(item.pin_diameter) * length, rel=1e-9)


@FAMILIES
def test_elbow_saddle(close: bool) -> None:
    piece = fitting(K.ELBOW_SADDLE, close=close)
    item: Any = piece.item
    mate = piece.mate
    assert mate is not None
    stem, offset = item.stem_diameter / 2, item.stem_offset
    hub, neck = mate.hub_diameter / 2 + 0.1, mate.neck_diameter / 2 + 0.1

    def height(x: Grid, y: Grid) -> Grid:
        under_hub = half_chord(hub, np.hypot(x, y))
        under_neck = np.where(x > 0, half_chord(neck, y), 0.0)
        level = math.sqrt(neck**2 - stem**2) if close else 0.0  # all the stem ends as low as its edge under the neck
        drop = np.maximum(np.maximum(under_hub, under_neck), level) if close else under_hub
        inside = (x - offset) ** 2 + y**2 < stem**2
        return np.where(inside, item.node_height - drop - item.cap_thickness, 0.0)

    above = columns(height, (offset - stem, -stem), (offset + stem, stem))
    assert volume(piece) == pytest.approx(spigot_and_cap(item) + above - rivet_holes(item), rel=1e-4)


def test_end_cap() -> None:
    piece = fitting(K.END_CAP)
    item: Any = piece.item
    expected = disc(piece.od) * item.thickness + disc(item.spigot_od) * item.spigot_length
    assert volume(piece) == pytest.approx(expected - edge_round(piece.od / 2, 1.5), rel=1e-6)


def test_end_scroll() -> None:
    piece = fitting(K.END_SCROLL)
    item: Any = piece.item
    bar = disc(piece.od) * item.bend_radius * item.turn  # Pappus
    expected = bar + disc(item.spigot_od) * item.spigot_length + dome(piece.od / 2, 0.2 * piece.od)
    assert volume(piece) == pytest.approx(expected, rel=1e-6)
    box = build_solid(piece).BoundingBox()
    assert box.zmax == pytest.approx(item.bend_radius + piece.od / 2, abs=0.01)
    assert box.xmin == pytest.approx(-piece.od / 2, abs=0.01)


def test_rivet() -> None:
    item: Any = fitting(K.RIVET).item
    expected = disc(item.diameter) * item.length + dome(item.head_diameter / 2, item.head_height)
    assert volume(fitting(K.RIVET)) == pytest.approx(expected, rel=1e-6)


def test_screw() -> None:
    item: Any = fitting(K.SCREW).item
    rim, height = item.head_diameter / 2, item.head_height
    ball = (rim**2 + height**2) / (2 * height)
    flats, floor = 0.6 * item.diameter, height * 0.4

    def socket(x: Grid, y: Grid) -> Grid:
        sides = [
            abs(x * math.cos(a) + y * math.sin(a)) < flats / 2 for a in (math.pi / 6, math.pi / 2, 5 * math.pi / 6)
        ]
        top = half_chord(ball, np.hypot(x, y)) - (ball - height)
        return np.where(sides[0] & sides[1] & sides[2], top - floor, 0.0)

    tip = 0.75  # a quarter of the radius, at 45 degrees
    shank = disc(item.diameter) * (item.length - tip) + math.pi * tip * (9 + 3 * 2.25 + 2.25**2) / 3
    expected = shank + dome(rim, height) - columns(socket, (-3, -3), (3, 3))
    assert volume(fitting(K.SCREW)) == pytest.approx(expected, rel=1e-4)


def test_anchor() -> None:
    item: Any = fitting(K.ANCHOR).item
    head, shank = item.head_diameter / 2 - 0.1 * math.sqrt(2), item.diameter / 2
    cone = math.pi * (head**3 - shank**3) / 3
    point = disc(item.diameter) * item.diameter / 3
    straight = disc(item.diameter) * (item.length - (head - shank) - item.diameter)
    assert volume(fitting(K.ANCHOR)) == pytest.approx(cone + point + straight, rel=1e-9)
    assert build_solid(fitting(K.ANCHOR)).BoundingBox().zmax == pytest.approx(0, abs=1e-6)


def test_a_slab_is_bored_to_the_depth_or_right_through() -> None:
    def hole(x: float, depth: float) -> SurfaceHole:
        return SurfaceHole(
            id=f"{x}",
            purpose=Purpose.ANCHOR,
            diameter=6,
            depth=depth,
            point=Vec(x, 20, 0),
            axis=UP,
            post="P",
            from_nosing=x,
            from_edge=20,
            measured_from="",
        )

    outline = ((0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (150.0, 100.0), (150.0, 40.0), (0.0, 40.0))
    slab = StairBody(
        mark="T",
        surface=SurfaceId(kind=SurfaceKind.TREAD, flight=1, number=1),
        outline=outline,
        thickness=40,
        holes=(hole(30, 25), hole(90, 40), hole(200, 70)),
    )
    area = 300 * 40 + 150 * 60
    assert volume(slab) == pytest.approx(area * 40 - disc(6) * (25 + 40 + 40), rel=1e-9)
    box = build_solid(slab).BoundingBox()
    assert (box.zmin, box.zmax) == pytest.approx((-40, 0), abs=1e-6)
