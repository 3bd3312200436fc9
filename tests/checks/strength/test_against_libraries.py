"""Sections against the Open CASCADE kernel and scipy's integration, frames against PyNite, over scattered cases."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import gmsh
import pytest
from Pynite import FEModel3D
from scipy.integrate import quad

import railgen
from railgen.checks.model import Certainty
from railgen.checks.strength.continuous import reactions, run_factors
from railgen.checks.strength.deflection import overhang_sag, post_sway, rail_sag
from railgen.checks.strength.loads import PostReach, RailLoad, post_forces
from railgen.checks.strength.result import Source
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.spans import overhang_moments, post_moment, rail_moments
from railgen.checks.strength.supports import supports
from railgen.checks.strength.systems import system
from railgen.job.strength_model import DesignSystem

E = 200_000.0
ASD = system(DesignSystem.ASD)
LOAD = RailLoad(
    id="test", title="", line=0.73, point=890.0, source=Source(document="test", certainty=Certainty.MECHANICS)
)
FIXED = (True,) * 6


def scattered(k: int, step: float, low: float, high: float) -> float:
    """The k-th of a row of numbers that fill a range evenly without repeating."""
    return low + (k * step) % 1.0 * (high - low)


TUBES = [
    Tube(od=round(scattered(k, 0.618034, 21, 114), 1), wall=round(scattered(k, 0.414214, 1.2, 8), 1)) for k in range(12)
]
CASES = [
    (TUBES[k], round(scattered(k, 0.732051, 400, 2400)), round(scattered(k, 0.236068, 40, 390))) for k in range(12)
]


def ident(value: object) -> str:
    return f"{value.od}x{value.wall}" if isinstance(value, Tube) else str(value)


@pytest.mark.parametrize("tube", TUBES, ids=ident)
def test_area_and_moments_of_a_ring_face(tube: Tube) -> None:
    gmsh.initialize(interruptible=False)
    try:
        gmsh.option.setNumber("General.Terminal", 0)
        gmsh.model.add("ring")
        outer = gmsh.model.occ.addDisk(0, 0, 0, tube.od / 2, tube.od / 2)
        inner = gmsh.model.occ.addDisk(0, 0, 0, tube.bore / 2, tube.bore / 2)
        ((_, ring),), _ = gmsh.model.occ.cut([(2, outer)], [(2, inner)])
        area = gmsh.model.occ.getMass(2, ring)
        matrix = gmsh.model.occ.getMatrixOfInertia(2, ring)
    finally:
        gmsh.finalize()
    assert tube.area == pytest.approx(area, rel=1e-5)
    assert tube.inertia == pytest.approx(matrix[0], rel=1e-5)
    assert tube.polar == pytest.approx(matrix[8], rel=1e-5)


@pytest.mark.parametrize("tube", TUBES, ids=ident)
def test_moduli_by_integration(tube: Tube) -> None:
    """Plastic: integral of |y| dA. Elastic: integral of y^2 dA over the outer radius. Torsion: of r^2 dA."""
    outer, inner = tube.od / 2, tube.bore / 2

    def breadth(y: float) -> float:
        return 2 * (math.sqrt(max(0.0, outer**2 - y**2)) - math.sqrt(max(0.0, inner**2 - y**2)))

    plastic = 2 * quad(lambda y: y * breadth(y), 0, outer, points=[inner], limit=200)[0]
    second = 2 * quad(lambda y: y * y * breadth(y), 0, outer, points=[inner], limit=200)[0]
    polar = quad(lambda r: 2 * math.pi * r**3, inner, outer)[0]
    assert tube.plastic == pytest.approx(plastic, rel=1e-7)
    assert tube.elastic == pytest.approx(second / outer, rel=1e-7)
    assert tube.torsion == pytest.approx(polar / outer, rel=1e-9)


def beam(tube: Tube, nodes: list[float], supports: list[int]) -> Any:
    model = FEModel3D()
    model.add_material("steel", E, 76_900.0, 0.3, 0.0)
    model.add_section("tube", tube.area, tube.inertia, tube.inertia, tube.polar)
    for k, x in enumerate(nodes):
        model.add_node(f"N{k}", x, 0, 0)
        held = k in supports
        model.def_support(f"N{k}", *(k == 0, held, True, k == 0, k == 0, False))
    for k in range(len(nodes) - 1):
        model.add_member(f"M{k}", f"N{k}", f"N{k + 1}", "steel", "tube")
    return model


@pytest.mark.parametrize(("tube", "span", "overhang"), CASES, ids=ident)
def test_rail_and_overhang_against_a_frame(tube: Tube, span: float, overhang: float) -> None:
    def solve(*loads: tuple[str, float, float], point: bool) -> Any:
        model = beam(tube, [0, span / 2, span, span + overhang], [0, 2])
        for member, size, x in loads:
            if point:
                model.add_member_pt_load(member, "Fy", -size, x)
            else:
                model.add_member_dist_load(member, "Fy", -size, -size)
        model.analyze()
        return model

    def moment_at(model: Any, member: str, x: float) -> float:
        return float(abs(model.members[member].moment("Mz", x)))

    bay = {d.case: d.value for d in rail_moments(LOAD, ASD, span=span, mass=0.0)}
    tip = {d.case: d.value for d in overhang_moments(LOAD, ASD, overhang=overhang, mass=0.0)}
    sag = {d.case: d.value for d in rail_sag(LOAD, span=span, tube=tube, modulus=E)}
    tip_sag = {d.case: d.value for d in overhang_sag(LOAD, span=span, overhang=overhang, tube=tube, modulus=E)}

    line = solve(("M0", 0.73, 0), ("M1", 0.73, 0), point=False)
    assert moment_at(line, "M0", span / 2) == pytest.approx(bay["line load"], rel=1e-6)
    assert -line.nodes["N1"].DY["Combo 1"] == pytest.approx(sag["line load"], rel=1e-6)
    point = solve(("M0", 890.0, span / 2), point=True)
    assert moment_at(point, "M0", span / 2) == pytest.approx(bay["point load"], rel=1e-6)
    assert -point.nodes["N1"].DY["Combo 1"] == pytest.approx(sag["point load"], rel=1e-6)
    line = solve(("M2", 0.73, 0), point=False)
    assert moment_at(line, "M2", 0) == pytest.approx(tip["line load"], rel=1e-6)
    assert -line.nodes["N3"].DY["Combo 1"] == pytest.approx(tip_sag["line load"], rel=1e-6)
    point = solve(("M2", 890.0, overhang), point=True)
    assert moment_at(point, "M2", 0) == pytest.approx(tip["point load"], rel=1e-6)
    assert -point.nodes["N3"].DY["Combo 1"] == pytest.approx(tip_sag["point load"], rel=1e-6)


@pytest.mark.parametrize(("tube", "span", "overhang"), CASES, ids=ident)
def test_force_on_an_end_post_against_a_frame(tube: Tube, span: float, overhang: float) -> None:
    reach = PostReach(before=span, after=0, overhang=overhang)
    forces = {force.case: force.value for force in post_forces(LOAD, reach, None)}
    for case in ("line load", "point load"):
        model = beam(tube, [0, span, span + overhang], [0, 1])
        if case == "point load":
            model.add_member_pt_load("M1", "Fy", -890.0, overhang)
        else:
            for member in ("M0", "M1"):
                model.add_member_dist_load(member, "Fy", -0.73, -0.73)
        model.analyze()
        assert model.nodes["N1"].RxnFY["Combo 1"] == pytest.approx(forces[case], rel=1e-6)


@pytest.mark.parametrize(("tube", "height", "_"), CASES, ids=ident)
def test_post_against_a_frame(tube: Tube, height: float, _: float) -> None:
    model = FEModel3D()
    model.add_material("steel", E, 76_900.0, 0.3, 0.0)
    model.add_section("tube", tube.area, tube.inertia, tube.inertia, tube.polar)
    model.add_node("foot", 0, 0, 0)
    model.add_node("top", 0, height, 0)
    model.add_member("post", "foot", "top", "steel", "tube")
    model.def_support("foot", *FIXED)
    model.add_node_load("top", "FX", 890.0)
    model.analyze()
    force = post_forces(LOAD, PostReach(before=1, after=1), None)[1]
    moment = post_moment(force, height)
    sway = post_sway(force, height=height, tube=tube, modulus=E)
    assert abs(model.nodes["foot"].RxnMZ["Combo 1"]) == pytest.approx(moment.value, rel=1e-9)
    assert model.nodes["top"].DX["Combo 1"] == pytest.approx(sway.value, rel=1e-6)


def run_of(k: int) -> tuple[Tube, list[float], tuple[float, float], float]:
    """A rail of three to five posts in uneven bays, free ends beyond; and how tall its posts are."""
    tube, count = TUBES[k], 3 + k % 3
    places = [float(round(scattered(k, 0.324718, 30, 300)))]
    for bay in range(count - 1):
        places.append(places[-1] + round(scattered(k + 5 * bay, 0.569840, 500, 2600)))
    return tube, places, (0.0, places[-1] + scattered(k, 0.754878, 30, 300)), scattered(k, 0.381966, 850, 1100)


def frame_reactions(
    tube: Tube, places: list[float], rail: tuple[float, float], loaded: tuple[float, float], spring: float | None
) -> list[float]:
    """Reactions under 1 N/mm by a frame; ``spring`` of each post in N/mm, None: rigid."""
    at = sorted({*rail, *places})
    rigid = [number for number, x in enumerate(at) if x in places] if spring is None else []
    model = beam(tube, at, rigid)
    nodes = [f"N{number}" for number, x in enumerate(at) if x in places]
    for node in nodes if spring is not None else ():
        model.def_support_spring(node, "DY", spring)
    for number in range(len(at) - 1):
        low, high = max(at[number], loaded[0]), min(at[number + 1], loaded[1])
        if high > low:
            model.add_member_dist_load(f"M{number}", "Fy", -1.0, -1.0, low - at[number], high - at[number])
    model.analyze()
    if spring is None:
        return [float(model.nodes[node].RxnFY["Combo 1"]) for node in nodes]
    return [float(-model.nodes[node].DY["Combo 1"] * spring) for node in nodes]


@pytest.mark.parametrize("k", range(9))
@pytest.mark.parametrize("rigid", [False, True])
def test_a_rail_that_runs_on_over_its_posts_against_a_frame(k: int, rigid: bool) -> None:
    tube, places, rail, height = run_of(k)
    spring = None if rigid else 3 * E * tube.inertia / height**3
    give = [0.0 if rigid else height**3 / 3] * len(places)
    for loaded in (rail, (places[0], places[2])):
        expected = frame_reactions(tube, places, rail, loaded, spring)
        assert reactions(places, rail, loaded, give) == pytest.approx(expected, rel=1e-4, abs=0.05)


def test_a_rail_that_runs_on_by_the_published_coefficients() -> None:
    """AISC Manual, Table 3-22c (from memory): two spans 0.375, 1.25; three 0.4, 1.1, and 1.2 with two loaded."""
    assert reactions((0, 1, 2), (0, 2), (0, 2), (0,) * 3) == pytest.approx((0.375, 1.25, 0.375))
    assert reactions((0, 1, 2, 3), (0, 3), (0, 3), (0,) * 4) == pytest.approx((0.4, 1.1, 1.1, 0.4))
    assert reactions((0, 1, 2, 3), (0, 3), (0, 2), (0,) * 4)[1] == pytest.approx(1.2)
    assert [most / plain for most, plain in run_factors((0, 1, 2, 3), (0, 3), (0,) * 4)][1] == pytest.approx(1.2)


@pytest.mark.parametrize("stiff", [1, 5, 12, 30, 200])
def test_two_bays_over_posts_that_give_by_hand(stiff: float) -> None:
    """k L^3 / E I = s: (1 + 5 s / 24) / (3/2 + s / 6); a frame's hinge would put 1 there, and it does at s = 12."""
    taken = run_factors((0, 1, 2), (0, 2), (1 / stiff,) * 3)[1]
    assert taken[1] == 1.0
    assert taken[0] == pytest.approx((1 + 5 * stiff / 24) / (1.5 + stiff / 6))


def test_wide_bays_load_their_inner_posts_more_than_by_halves(tmp_path: Path) -> None:
    """Posts as tall as the code's height, bays twice as wide: each post between takes more than half of its bays."""
    from tests.checks.strength.scenes import load as load_job
    from tests.checks.strength.scenes import text

    for largest, more in ((900, False), (2200, True)):
        job = load_job(tmp_path, text(largest_span=largest))
        inner = supports(job, railgen.solve(job))[1:-1]
        assert inner
        assert all((support.reach.sideways > 1.05) is more for support in inner)
        assert all(support.reach.upwards >= support.reach.sideways for support in inner)
        (force, _) = post_forces(LOAD, inner[0].reach, None)
        assert force.value == pytest.approx(0.73 * inner[0].reach.tributary * inner[0].reach.sideways)
