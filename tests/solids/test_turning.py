"""Parts that turn on each other never touch over the range they may be set to."""

from __future__ import annotations

import math
from typing import Any

import pytest
from cadquery import Solid

from railgen.geometry import ORIGIN, UP, Frame, Vec
from railgen.members.pieces import FittingKind
from railgen.solids.build import build_solid
from railgen.solids.shapes import location
from tests.solids.demo import SETS, common, fitting, pieces, shipped

K = FittingKind
EVERY_SET = pytest.mark.parametrize("name", SETS)
HINGE = Vec(0, 1, 0)


def at(solid: Solid, frame: Frame) -> Solid:
    moved = solid.moved(location(frame))
    assert isinstance(moved, Solid)
    return moved


def gap(a: Solid, b: Solid) -> float:
    """Distance between two solids; 0 where they touch or overlap."""
    return 0.0 if common(a, b) > 0 else float(a.distance(b))


def steps(low: float, high: float, count: int) -> list[float]:
    return [low + (high - low) * k / count for k in range(count + 1)]


@EVERY_SET
def test_the_cradle_turns_on_its_stem(name: str) -> None:
    made = pieces(shipped(name))
    item: Any = made[K.SADDLE_STEM].item
    stem, cradle = build_solid(made[K.SADDLE_STEM]), build_solid(made[K.SADDLE_CRADLE])
    for pitch in steps(item.pitch_min, item.pitch_max, 9):
        along = Vec(math.cos(pitch), 0, math.sin(pitch))
        frame = Frame(origin=Vec(0, 0, item.pivot_height), x=along, z=along.cross(HINGE))
        assert gap(stem, at(cradle, frame)) == pytest.approx(0.1, abs=1e-4), math.degrees(pitch)


@EVERY_SET
def test_elbow_halves_turn_on_each_other(name: str) -> None:
    made = pieces(shipped(name))
    tongue, fork, pin = (build_solid(made[kind]) for kind in (K.ELBOW_TONGUE, K.ELBOW_FORK, K.ELBOW_PIN))
    item: Any = made[K.ELBOW_FORK].item
    first = at(tongue, Frame(origin=ORIGIN, x=HINGE, z=Vec(-1, 0, 0)))
    hub = at(pin, Frame(origin=ORIGIN, x=Vec(1, 0, 0), z=HINGE))
    assert gap(first, hub) == pytest.approx(0.1, abs=1e-4)
    for deflection in steps(item.hinge_min, item.hinge_max, 10):
        outward = Vec(math.cos(deflection), 0, math.sin(deflection))
        second = at(fork, Frame(origin=ORIGIN, x=HINGE, z=outward))
        assert common(first, second) == 0, math.degrees(deflection)
        assert common(second, hub) == 0
    assert 0.05 < gap(first, second) < 0.25
    tighter = item.hinge_max + math.radians(10)  # what the range keeps from happening
    beyond = at(fork, Frame(origin=ORIGIN, x=HINGE, z=Vec(math.cos(tighter), 0, math.sin(tighter))))
    assert common(first, beyond) > 0


@EVERY_SET
def test_the_hub_and_both_legs_clear_their_saddle(name: str) -> None:
    """The level leg along x, the other down or up to the steepest pitch, with tubes on both."""
    hard = shipped(name)
    item, made = hard.elbow_saddle, pieces(hard)
    saddle = build_solid(made[K.ELBOW_SADDLE])
    node = Vec(0, 0, item.node_height)
    pipe = Solid.makeCylinder(hard.tube.od / 2, 300, (0, 0, hard.elbow.take_off))
    legs = [build_solid(made[kind]) for kind in (K.ELBOW_TONGUE, K.ELBOW_FORK)]
    flat = Frame(origin=node, x=HINGE, z=Vec(1, 0, 0))
    assert [common(saddle, at(leg, flat)) for leg in (*legs, pipe)] == [0, 0, 0]
    for pitch in steps(0, item.pitch_max, 6):
        for side in (-1, 1):
            tilted = Frame(origin=node, x=HINGE, z=Vec(-math.cos(pitch), 0, side * math.sin(pitch)))
            assert [common(saddle, at(leg, tilted)) for leg in (*legs, pipe)] == [0, 0, 0], math.degrees(pitch)


@EVERY_SET
def test_the_stem_of_an_elbow_saddle_reaches_the_hub(name: str) -> None:
    """It ends just under ball and neck: near enough to look, and be, attached."""
    hard = shipped(name)
    saddle = build_solid(pieces(hard)[K.ELBOW_SADDLE])
    ball = Solid.makeSphere(hard.elbow.hub_diameter / 2, angleDegrees1=-90).moved(
        location(Frame(origin=Vec(0, 0, hard.elbow_saddle.node_height), x=Vec(1, 0, 0), z=UP))
    )
    assert isinstance(ball, Solid)
    assert gap(saddle, ball) == pytest.approx(0.1, abs=1e-3)


def test_an_anchor_is_clear_of_its_plate() -> None:
    item: Any = fitting(K.BASE_PLATE).item
    plate = build_solid(fitting(K.BASE_PLATE))
    anchor = build_solid(fitting(K.ANCHOR, head_diameter=item.countersink_diameter))
    hole = fitting(K.BASE_PLATE).holes[0]
    assert gap(plate, at(anchor, Frame.along(hole.point, hole.axis, Vec(1, 0, 0)))) == pytest.approx(0.1, abs=1e-3)
