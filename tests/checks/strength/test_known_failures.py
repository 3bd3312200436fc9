"""Rails, posts and bases that people asked about in public, with answers worked out by hand."""

from __future__ import annotations

import pytest

from railgen.checks.model import Certainty, Verdict
from railgen.checks.strength.baseplate import Plate, fixing_shear, pulls, worst_pull
from railgen.checks.strength.deflection import job_limit, rail_sag
from railgen.checks.strength.loads import PostReach, RailLoad, post_forces, rail_load
from railgen.checks.strength.materials import Steel, certified
from railgen.checks.strength.members import bending
from railgen.checks.strength.result import Basis, Demand, Measure, Source, check
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.spans import post_moment, rail_moments
from railgen.checks.strength.substrate import Layer, bearing_embedment, embedments, least_distance
from railgen.checks.strength.systems import system
from railgen.checks.strength.timber import Timber, WoodFixing, WoodFixingKind, fixing_size, nds_withdrawal
from railgen.checks.strength.timber_rules import distances, penetration
from railgen.job.strength_model import DesignSystem
from tests.checks.strength.scenes import nominal_wall

INCH, POUND, KSI = 25.4, 4.4482216152605, 6.894757293168
RAIL = Tube(od=42.4, wall=2.0)
POINT = rail_load("asce-7").point
LINE = rail_load("asce-7").line
POINT_ONLY = RailLoad(id="point", title="", point=890.0, source=Source(document="asked", certainty=Certainty.JOB))


def yielding_at(proof: float) -> Steel:
    return certified("tube", proof=proof, tensile=500, certificate="asked")


@pytest.mark.parametrize(
    ("span", "stress", "sag"), [(3000, 273, 50), (2500, 227, 29), (2000, 182, 15), (1500, 136, 6), (1200, 109, 3)]
)
def test_posts_three_metres_apart(span: float, stress: float, sag: float) -> None:
    """A 12 m rail of 42.4 x 2.0, 0.89 kN at midspan: unfactored elastic stress and sag, E 193 000."""
    assert POINT is not None
    assert POINT * span / 4 / RAIL.elastic == pytest.approx(stress, abs=0.6)
    found = rail_sag(POINT_ONLY, span=span, tube=RAIL, modulus=193_000)[0]
    assert found.value == pytest.approx(sag, abs=0.6)


@pytest.mark.parametrize(("span", "sag"), [(3000, 48.2), (2500, 27.9), (2000, 14.3)])
def test_the_same_rail_at_the_european_modulus(span: float, sag: float) -> None:
    found = rail_sag(POINT_ONLY, span=span, tube=RAIL, modulus=200_000)[0]
    assert found.value == pytest.approx(sag, abs=0.06)


def test_line_load_over_three_metres() -> None:
    assert LINE is not None
    assert LINE * 3000**2 / 8 / RAIL.elastic == pytest.approx(335, abs=0.6)


@pytest.mark.parametrize(
    ("name", "proof", "limit"),
    [(DesignSystem.ASD, 207, 1.82), (DesignSystem.LRFD, 207, 1.71), (DesignSystem.EUROCODE, 210, 1.87)],
)
def test_largest_span_by_strength_alone(name: DesignSystem, proof: float, limit: float) -> None:
    """Factored load against factored strength, nominal wall: never unfactored stress against yield."""
    rules, steel = nominal_wall(name), yielding_at(proof)

    def used(span: float) -> float:
        moment = rail_moments(POINT_ONLY, rules, span=span, mass=0.0)[0]
        found = check("rail", moment, bending(RAIL, steel, rules)).utilisation
        assert found is not None
        return found

    assert used(1000 * (limit - 0.01)) < 1 < used(1000 * (limit + 0.01))


def test_the_deflection_limit_is_an_input() -> None:
    found = rail_sag(POINT_ONLY, span=2500, tube=RAIL, modulus=200_000)[0]
    assert check("rail sag", found, job_limit(25)).verdict is Verdict.FAILS
    assert check("rail sag", found, job_limit(30)).verdict is Verdict.MEETS


ASD = system(DesignSystem.ASD)
PIPE_STEEL = certified("A53 B", proof=35 * KSI, tensile=60 * KSI, certificate="ASTM A53")
DEMAND = 8400 * POUND * INCH  # 200 lb at 42 in


def pounds_inches(value: float | None) -> float:
    assert value is not None
    return value / (POUND * INCH)


def test_small_pipe_fails_with_either_wall_and_the_next_size_holds() -> None:
    small, next_size = Tube(od=1.66 * INCH, wall=0.14 * INCH), Tube(od=1.9 * INCH, wall=0.145 * INCH)
    design = pounds_inches(bending(small, PIPE_STEEL, ASD).value)
    nominal = pounds_inches(bending(small, PIPE_STEEL, nominal_wall(DesignSystem.ASD)).value)
    assert design == pytest.approx(6392, rel=3e-3)  # from Z printed as 0.305
    assert nominal == pytest.approx(6798, rel=3e-3)  # from Z 0.324
    assert design < nominal < 8400
    assert 8800 <= pounds_inches(bending(next_size, PIPE_STEEL, ASD).value) <= 9400


@pytest.mark.parametrize(
    ("od", "wall", "height", "stress"), [(42.4, 2.0, 900, 327), (48.3, 2.6, 900, 198), (48.3, 2.6, 1000, 220)]
)
def test_elastic_stress_at_the_foot_of_one_post(od: float, wall: float, height: float, stress: float) -> None:
    assert 890 * height / Tube(od=od, wall=wall).elastic == pytest.approx(stress, abs=0.6)


@pytest.mark.parametrize(
    ("name", "proof", "used"),
    [(DesignSystem.ASD, 207, 1.19), (DesignSystem.LRFD, 207, 1.27), (DesignSystem.EUROCODE, 210, 1.16)],
)
def test_a_post_below_yield_fails_once_factored(name: DesignSystem, proof: float, used: float) -> None:
    rules = nominal_wall(name)
    force = post_forces(POINT_ONLY, PostReach(before=1000, after=1000), rules)[0]
    moment = post_moment(force, 900)
    found = check("post", moment, bending(Tube(od=48.3, wall=2.6), yielding_at(proof), rules))
    assert found.utilisation == pytest.approx(used, abs=0.006)
    assert found.verdict is Verdict.FAILS


APPROVAL = Source(document="the anchor's approval", certainty=Certainty.JOB)


def test_core_hole_too_near_a_corner() -> None:
    """Centre 2 and 3 in from the edges: the edge of a 2 in core is left with 1 and 2 in of stone."""
    for centre, left in ((2.0, 1.0), (3.0, 2.0)):
        assert centre - 2.0 / 2 == left
        found = least_distance(
            "stone beside the core", needed=2.5 * INCH, given=left * INCH, why="2-1/2 in", source=APPROVAL
        )
        assert found.verdict is Verdict.FAILS


def test_plate_over_the_same_corner() -> None:
    """A 4 in plate with anchors on 3 in centres there: axes 0.5 and 1.5 in from the edges."""
    for centre, axis in ((2.0, 0.5), (3.0, 1.5)):
        given = (centre - 3.0 / 2) * INCH
        assert given == pytest.approx(axis * INCH)
        found = least_distance("edge distance", needed=2.5 * INCH, given=given, why="2-1/2 in", source=APPROVAL)
        assert found.verdict is Verdict.FAILS
    lost = least_distance("edge distance", needed=60, given=None, why="60", source=APPROVAL)
    assert lost.verdict is Verdict.CANNOT_SAY


STACK = (
    Layer(name="stone cap", thickness=2 * INCH, bears=False),
    Layer(name="mortar", thickness=10, bears=False),
    Layer(name="brick", thickness=300, bears=True),
)


def test_a_hole_that_stops_in_the_cap_holds_nothing() -> None:
    assert bearing_embedment(STACK, 45) == 0.0
    found = least_distance(
        "embedment", needed=50, given=bearing_embedment(STACK, 45), why="50 mm", source=APPROVAL, layers=STACK
    )
    assert found.verdict is Verdict.FAILS
    assert "stone cap 50.8 mm over mortar 10 mm over brick 300 mm" in found.formula


def test_hole_depth_through_the_stack() -> None:
    depths = [depth for _, depth in embedments(STACK, 60.8 + 80)]
    assert depths == pytest.approx([50.8, 10, 80])
    assert bearing_embedment(STACK, 60.8 + 80) == pytest.approx(80)


TREAD_PLATE = Plate(
    length=4.5 * INCH,
    width=4.5 * INCH,
    thickness=8,
    socket=38,
    fixings=tuple((x * INCH, y * INCH) for x in (1.5, -1.5) for y in (1.5, -1.5)),
)


def test_plate_on_a_one_inch_tread() -> None:
    """8400 lb in over rows 3 in apart: 1400 lb (6.2 kN) on each of two screws; no screw holds that in a 1 in tread."""
    straight = pulls(TREAD_PLATE, DEMAND, 0.0)
    assert straight is not None
    assert straight.largest == pytest.approx(1400 * POUND)
    assert straight.largest == pytest.approx(6.2e3, abs=50)
    moment = Demand(
        value=DEMAND,
        measure=Measure.MOMENT,
        basis=Basis.ASD,
        case="point load",
        formula="200 lb x 42 in",
        sources=(APPROVAL,),
    )
    asked = worst_pull(TREAD_PLATE, moment)
    assert asked.value == pytest.approx(1400 * POUND)
    screw = fixing_size(WoodFixingKind.WOOD_SCREW, "14")
    found = check("screw", asked, nds_withdrawal(screw, Timber(gravity=0.5), thread=1.0 * INCH))
    assert found.verdict is Verdict.FAILS
    assert found.utilisation is not None
    assert found.utilisation > 8


def test_three_lags_up_into_the_post_need_more_than_a_tread() -> None:
    lag = fixing_size(WoodFixingKind.LAG, "3/8")
    assert penetration(lag, 25).verdict is Verdict.FAILS
    assert penetration(lag, 100).verdict is Verdict.MEETS
    assert penetration(lag, None).verdict is Verdict.CANNOT_SAY
    near = distances(lag, edge=20, end=100, spacing=50)
    assert [found.verdict for found in near] == [Verdict.FAILS, Verdict.MEETS, Verdict.MEETS]


def test_unknown_species_cannot_be_said() -> None:
    screw = WoodFixing(kind=WoodFixingKind.WOOD_SCREW, diameter=6)
    force = Demand(value=100.0, measure=Measure.FORCE, basis=Basis.ASD, case="", formula="", sources=(APPROVAL,))
    found = check("screw", force, nds_withdrawal(screw, Timber(gravity=None), thread=40))
    assert found.verdict is Verdict.CANNOT_SAY
    assert "specific gravity" in found.missing


def test_shear_is_shared() -> None:
    force = Demand(value=890.0, measure=Measure.FORCE, basis=Basis.ASD, case="", formula="", sources=(APPROVAL,))
    assert fixing_shear(TREAD_PLATE, force).value == pytest.approx(222.5)
