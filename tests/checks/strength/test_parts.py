"""Traps and edges of single parts: what is refused, what cannot be said, which of two values is taken."""

from __future__ import annotations

import math
import subprocess
import sys
from dataclasses import replace

import pytest

from railgen.checks.model import Certainty, Verdict
from railgen.checks.strength.bolts import bolt_pull_and_push, bolt_shear, bolt_tension
from railgen.checks.strength.concrete import (
    APPROVAL_GOVERNS,
    INSTALLER_OWES,
    AnchorCategory,
    AnchorGroup,
    Concrete,
    aci_breakout,
    en_breakout,
    projected_area,
)
from railgen.checks.strength.concrete_shear import EdgeRow, aci_edge_breakout, en_edge_breakout
from railgen.checks.strength.deflection import post_sway
from railgen.checks.strength.interaction import bending_torsion
from railgen.checks.strength.links import socket_contact, uplift
from railgen.checks.strength.loads import PostReach, post_forces, rail_load, with_line
from railgen.checks.strength.materials import bolt_steel, certified, steel
from railgen.checks.strength.members import bending, compression, en_class, shear, torsion
from railgen.checks.strength.result import Basis, Demand, Measure, Resistance, Source, check
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.sheet import Sheet, SheetFastener, maker_shear, pull_out, sheet_shear
from railgen.checks.strength.spans import rail_moments
from railgen.checks.strength.systems import System, system
from railgen.checks.strength.timber import (
    Timber,
    WoodFixing,
    WoodFixingKind,
    fixing_size,
    fixing_tension,
    handbook_withdrawal,
)
from railgen.checks.strength.timber_lateral import nds_lateral, withdrawal_and_lateral
from railgen.checks.strength.timber_rules import lead_hole
from railgen.job.strength_model import DesignSystem, FastenerClass, TubeStandard
from tests.checks.strength.scenes import nominal_wall

SOURCE = Source(document="test", certainty=Certainty.JOB)
TUBE = Tube(od=48.3, wall=2.6)
STEEL = certified("tube", proof=210, tensile=520, certificate="test")
EVERY = [system(name) for name in DesignSystem]


def asked(value: float, measure: Measure = Measure.FORCE, basis: Basis = Basis.ASD) -> Demand:
    return Demand(value=value, measure=measure, basis=basis, case="", formula="", sources=(SOURCE,))


@pytest.mark.parametrize("rules", EVERY, ids=lambda rules: rules.id)
def test_unknown_strength_cannot_be_said(rules: System) -> None:
    for able in (
        bending(TUBE, None, rules),
        shear(TUBE, None, rules),
        torsion(TUBE, None, rules),
        compression(TUBE, None, rules, length=1800),
    ):
        assert check("tube", asked(1.0, able.measure, able.basis), able).verdict is Verdict.CANNOT_SAY


@pytest.mark.parametrize("rules", EVERY, ids=lambda rules: rules.id)
def test_a_wall_too_thin_for_the_clause_cannot_be_said(rules: System) -> None:
    foil = Tube(od=400, wall=0.5)
    assert bending(foil, STEEL, rules).value is None
    assert compression(foil, STEEL, rules, length=1000).value is None


def test_plastic_elastic_and_nothing_by_class() -> None:
    en, square = system(DesignSystem.EUROCODE), 235 / 210 * 200 / 210
    for ratio, kind in ((49.9, 1), (50.1, 2), (69.9, 2), (70.1, 3), (279.9, 3), (280.1, 4)):
        tube = Tube(od=ratio * square, wall=1.0)
        assert en_class(tube, 210, 200_000) == kind
        counted = {1: tube.plastic, 2: tube.plastic, 3: tube.elastic, 4: None}[kind]
        expected = None if counted is None else pytest.approx(counted * 210 / 1.1)
        assert bending(tube, STEEL, en).value == expected


@pytest.mark.parametrize(
    ("name", "factor"), [(DesignSystem.LRFD, 0.9), (DesignSystem.ASD, 1 / 1.67), (DesignSystem.EUROCODE, 1 / 1.1)]
)
def test_plastic_moment_with_each_factor(name: DesignSystem, factor: float) -> None:
    assert bending(TUBE, STEEL, nominal_wall(name)).value == pytest.approx(TUBE.plastic * 210 * factor)


def test_australian_tube_bends_elastically() -> None:
    able = bending(TUBE, STEEL, system(DesignSystem.AS_NZS))
    assert able.value == pytest.approx(0.9 * 210 * TUBE.elastic)
    assert Certainty.MEMORY in {source.certainty for source in able.sources}


def test_non_compact_pipe_lies_between_elastic_and_plastic() -> None:
    rules = nominal_wall(DesignSystem.LRFD)
    compact, slender = 0.07 * 193_000 / 210, 0.31 * 193_000 / 210
    tube = Tube(od=(compact + slender) / 2, wall=1.0)
    able = bending(tube, STEEL, rules).value
    assert able is not None
    assert 0.9 * 210 * tube.elastic < able < 0.9 * 210 * tube.plastic
    expected = 0.9 * (0.021 * 193_000 / tube.slenderness + 210) * tube.elastic
    assert able == pytest.approx(min(expected, 0.9 * 210 * tube.plastic))


def test_limits_of_pipe_in_bending() -> None:
    """AISC 360 F8 (from memory): beyond 0.07 E/Fy less than plastic; beyond 0.31 E/Fy not in the clause."""
    rules, ratio = nominal_wall(DesignSystem.LRFD), 193_000 / 210
    past = Tube(od=0.079 * ratio, wall=1.0)
    expected = 0.9 * 210 * (0.021 / 0.079 + 1) * past.elastic
    assert expected < 0.9 * 210 * past.plastic
    assert bending(past, STEEL, rules).value == pytest.approx(expected)
    assert bending(Tube(od=0.309 * ratio, wall=1.0), STEEL, rules).value is not None
    assert bending(Tube(od=0.311 * ratio, wall=1.0), STEEL, rules).value is None


def test_shear_and_torsion_by_hand() -> None:
    en = system(DesignSystem.EUROCODE)
    assert shear(TUBE, STEEL, en).value == pytest.approx(2 * TUBE.area / math.pi * 210 / math.sqrt(3) / 1.1)
    assert torsion(TUBE, STEEL, en).value == pytest.approx(TUBE.torsion * 210 / math.sqrt(3) / 1.1)
    us = nominal_wall(DesignSystem.LRFD)
    assert shear(TUBE, STEEL, us).value == pytest.approx(0.9 * 0.6 * 210 * TUBE.area / 2)


def test_bending_with_torsion_by_hand() -> None:
    en = system(DesignSystem.EUROCODE)
    moment = asked(400e3, Measure.MOMENT, Basis.EUROCODE)
    found = bending_torsion("elbow", TUBE, STEEL, en, moment=moment, torque=300e3)
    sigma, tau = 400e3 / TUBE.elastic, 300e3 / TUBE.torsion
    assert found.utilisation == pytest.approx(math.hypot(sigma, math.sqrt(3) * tau) / (210 / 1.1))
    us = nominal_wall(DesignSystem.LRFD)
    american = bending_torsion("elbow", TUBE, STEEL, us, moment=replace(moment, basis=Basis.LRFD), torque=300e3)
    bent = 400e3 / (0.9 * 210 * TUBE.plastic)
    twisted = 300e3 / (0.9 * 210 / math.sqrt(3) * TUBE.torsion)
    assert american.utilisation == pytest.approx(bent + twisted**2)


def test_a_certificate_is_named_in_the_record() -> None:
    found = certified("1.4404", proof=265, tensile=570, certificate="certificate 3.1 no. 1234")
    assert "certificate 3.1 no. 1234" in str(bending(TUBE, found, system(DesignSystem.EUROCODE)).sources[0])


def test_grade_and_standard_must_belong_together() -> None:
    assert steel("MT-304", TubeStandard.EN_WELDED_TUBE) is None


def test_deflection_wants_the_unfactored_load() -> None:
    force = post_forces(rail_load("irc"), PostReach(before=1000, after=1000), system(DesignSystem.LRFD))[0]
    with pytest.raises(ValueError, match="unfactored"):
        post_sway(force, height=900, tube=TUBE, modulus=200_000)


def test_own_weight_adds_to_the_rail() -> None:
    rules = system(DesignSystem.LRFD)
    bare, heavy = (rail_moments(rail_load("irc"), rules, span=2000, mass=m)[0].value for m in (0.0, 3.0))
    assert bare is not None
    assert heavy is not None
    assert heavy - bare == pytest.approx(1.2 * 3.0 * 9.81 / 1000 * 2000**2 / 8)


def test_loads_are_looked_up_and_national_values_bounded() -> None:
    with pytest.raises(ValueError, match="bs-dwelling"):
        rail_load("nowhere")
    chosen = with_line(rail_load("en-a"), 0.36, SOURCE)
    assert (chosen.line, chosen.source) == (0.36, SOURCE)
    with pytest.raises(ValueError, match="no range"):
        with_line(rail_load("asce-7"), 0.5, SOURCE)
    assert (rail_load("osha").line, rail_load("osha").point) == (None, 890)
    assert (rail_load("ibc-not-public").line, rail_load("as-nzs-a").line) == (0.29, 0.35)
    assert rail_load("as-nzs-a").point == 600
    assert [case.case for case in post_forces(rail_load("irc"), PostReach(before=1, after=1), None)] == ["point load"]


@pytest.mark.parametrize(
    "lengths", [{"before": 0, "after": 0}, {"before": -1, "after": 5}, {"before": 5, "after": 5, "overhang": 5}]
)
def test_a_post_without_a_bay_is_refused(lengths: dict[str, float]) -> None:
    with pytest.raises(ValueError, match=r"bay|overhang"):
        PostReach(**lengths)


def test_lag_steel_breaks_on_its_root() -> None:
    """3/8 in: root 0.265 in. The shank would count twice as much."""
    lag, grade = fixing_size(WoodFixingKind.LAG, "3/8"), bolt_steel(FastenerClass.C50)
    able = fixing_tension(lag, grade).value
    assert able == pytest.approx(500 * math.pi / 4 * (0.265 * 25.4) ** 2 / 2)
    assert able is not None
    assert 500 * math.pi / 4 * lag.diameter**2 / 2 > 2.0 * able
    assert fixing_tension(replace(lag, root=None), grade).value is None
    assert fixing_tension(lag, None).value is None


@pytest.mark.parametrize(("size", "root"), [("1/4", 0.173), ("5/16", 0.227), ("3/8", 0.265), ("1/2", 0.371)])
def test_lag_roots(size: str, root: float) -> None:
    """ASME B18.2.1."""
    assert fixing_size(WoodFixingKind.LAG, size).root == pytest.approx(root * 25.4)


@pytest.mark.parametrize(
    ("size", "shank", "root"), [("8", 0.164, 0.112), ("10", 0.190, 0.130), ("12", 0.216, 0.148), ("14", 0.242, 0.165)]
)
def test_wood_screw_sizes(size: str, shank: float, root: float) -> None:
    found = fixing_size(WoodFixingKind.WOOD_SCREW, size)
    assert found.diameter == pytest.approx(shank * 25.4)
    assert found.root == pytest.approx(root * 25.4)
    with pytest.raises(ValueError, match="no wood screw"):
        fixing_size(WoodFixingKind.WOOD_SCREW, "3/8")


def test_ultimate_withdrawal_never_meets_a_load() -> None:
    lag = fixing_size(WoodFixingKind.LAG, "3/8")
    ultimate = handbook_withdrawal(lag, gravity=0.48, length=50.8)
    with pytest.raises(AttributeError):
        check("lag", asked(100), ultimate)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kind", "size", "gravity", "drilled", "said"),
    [
        (WoodFixingKind.WOOD_SCREW, "10", 0.45, 0.70 * 3.302, [Verdict.MEETS, Verdict.MEETS]),
        (WoodFixingKind.WOOD_SCREW, "10", 0.45, 2.0, [Verdict.FAILS, Verdict.MEETS]),
        (WoodFixingKind.WOOD_SCREW, "10", 0.67, 0.70 * 3.302, [Verdict.FAILS, Verdict.MEETS]),
        (WoodFixingKind.WOOD_SCREW, "10", 0.45, 4.0, [Verdict.MEETS, Verdict.FAILS]),
        (WoodFixingKind.LAG, "3/8", 0.55, 0.67 * 9.525, [Verdict.MEETS, Verdict.MEETS]),
        (WoodFixingKind.LAG, "3/8", 0.67, 0.60 * 9.525, [Verdict.FAILS, Verdict.MEETS]),
        (WoodFixingKind.LAG, "3/8", 0.42, 0.72 * 9.525, [Verdict.MEETS, Verdict.FAILS]),
        (WoodFixingKind.LAG, "3/8", None, 5.0, [Verdict.CANNOT_SAY, Verdict.CANNOT_SAY]),
        (WoodFixingKind.LAG, "3/8", 0.42, None, [Verdict.CANNOT_SAY, Verdict.CANNOT_SAY]),
    ],
)
def test_lead_hole(
    kind: WoodFixingKind, size: str, gravity: float | None, drilled: float | None, said: list[Verdict]
) -> None:
    found = lead_hole(fixing_size(kind, size), Timber(gravity=gravity), drilled)
    assert [one.verdict for one in found] == said


def test_sideways_screw_needs_its_root() -> None:
    screw = WoodFixing(kind=WoodFixingKind.WOOD_SCREW, diameter=5)
    able = nds_lateral(screw, Timber(gravity=0.5), embedded=40, plate=6, plate_tensile=500)
    assert able.value is None
    known = nds_lateral(replace(screw, root=3.5), Timber(gravity=0.5), embedded=40, plate=6, plate_tensile=500)
    wet = nds_lateral(replace(screw, root=3.5), Timber(gravity=0.5, wet=True), embedded=40, plate=6, plate_tensile=500)
    assert known.value is not None
    assert wet.value == pytest.approx(0.7 * known.value)


def test_pull_and_push_of_a_screw_add_up() -> None:
    def able(value: float) -> Resistance:
        return Resistance(value=value, measure=Measure.FORCE, basis=Basis.ASD, formula="", sources=(SOURCE,))

    found = withdrawal_and_lateral(
        "screw", tension=asked(300), sideways=asked(100), withdrawal=able(600), lateral=able(400)
    )
    assert found.utilisation == pytest.approx(300 / 600 + 100 / 400)
    nothing = withdrawal_and_lateral(
        "screw", tension=asked(300), sideways=asked(100), withdrawal=able(0), lateral=able(400)
    )
    assert nothing.verdict is Verdict.FAILS
    with pytest.raises(ValueError, match="unfactored"):
        withdrawal_and_lateral(
            "screw",
            tension=asked(300, basis=Basis.LRFD),
            sideways=asked(100),
            withdrawal=able(600),
            lateral=able(400),
        )


def test_european_cone_by_hand() -> None:
    """hef 80, fck 25, anchor alone pulled 30 mm off: 27.55 kN x (0.5 + 80/200) / (1 + 60/240) / 2.1."""
    group = AnchorGroup(anchors=((0.0, 0.0),), eccentricity=(30.0, 0.0))
    found = en_breakout(group, Concrete(strength=25), embedment=80)
    assert found.value == pytest.approx(7.7 * 5 * 80**1.5 * 0.9 / 1.25 / 2.1)


def test_european_edge_by_hand() -> None:
    """d 10, hef 80, c1 100, fck 25, alone, thick slab, the worst installation factor."""
    row = EdgeRow(edge=100, width=0, slab=300)
    basic = 1.7 * 10 ** (0.1 * math.sqrt(0.8)) * 80 ** (0.1 * 0.1**0.2) * 5 * 1000
    found = en_edge_breakout(row, Concrete(strength=25), diameter=10, embedment=80)
    assert found.value == pytest.approx(basic / 2.1)


def test_anchors_far_apart_count_alone_and_near_together() -> None:
    far = AnchorGroup(anchors=((0.0, 0.0), (1000.0, 0.0)))
    assert projected_area(far, 100) == pytest.approx(2 * 300**2)
    near = AnchorGroup(anchors=((0.0, 0.0), (100.0, 0.0)))
    assert projected_area(near, 100) == pytest.approx(400 * 300)
    corner = AnchorGroup(anchors=((50.0, 60.0),), x_min=0, y_min=0)
    assert projected_area(corner, 100) == pytest.approx(200 * 210)
    with pytest.raises(ValueError, match="lie in the concrete"):
        AnchorGroup(anchors=((-1.0, 0.0),), x_min=0)


def test_uncracked_concrete_wants_the_product_s_critical_edge() -> None:
    group, sound = AnchorGroup(anchors=((100.0, 0.0),), x_min=0), Concrete(strength=25, cracked=False)
    assert aci_breakout(group, sound, embedment=80).value is None
    cracked = aci_breakout(group, Concrete(strength=25), embedment=80).value
    near = aci_breakout(group, sound, embedment=80, critical_edge=200).value
    far = aci_breakout(group, sound, embedment=80, critical_edge=90).value
    assert cracked is not None
    assert near == pytest.approx(cracked * 1.4 * 120 / 200)
    assert far == pytest.approx(cracked * 1.4)


def test_unknown_product_counts_as_the_least_category() -> None:
    group, slab = AnchorGroup(anchors=((0.0, 0.0),)), Concrete(strength=25)
    usual = aci_breakout(group, slab, embedment=80)
    best = aci_breakout(group, slab, embedment=80, category=AnchorCategory.ONE).value
    assert best is not None
    assert usual.value == pytest.approx(best * 0.45 / 0.65)
    assert usual.caution == APPROVAL_GOVERNS
    assert any("pull test" in duty for duty in INSTALLER_OWES)


def test_a_row_nearer_its_edge_breaks_earlier() -> None:
    slab = Concrete(strength=25)
    rows = [EdgeRow(edge=c, width=60, slab=200) for c in (50.0, 100.0)]
    for near, far in (
        [aci_edge_breakout(row, slab, diameter=10, embedment=80, category=AnchorCategory.ONE).value for row in rows],
        [en_edge_breakout(row, slab, diameter=10, embedment=80).value for row in rows],
    ):
        assert near is not None
        assert far is not None
        assert near < far


def test_rivets_need_their_maker() -> None:
    rules = system(DesignSystem.EUROCODE)
    wall = Sheet(thickness=2.0, tensile=520)
    assert maker_shear(SheetFastener.RIVET, None, rules).value is None
    assert maker_shear(SheetFastener.RIVET, 2500, rules, document="data sheet").value == pytest.approx(2000)
    assert pull_out(SheetFastener.RIVET, wall, 4.8, rules, pitch=1.0).value is None
    thin = Sheet(thickness=1.0, tensile=520)
    assert (
        sheet_shear(SheetFastener.RIVET, wall, thin, 4.8, rules).value
        == sheet_shear(SheetFastener.RIVET, thin, thin, 4.8, rules).value
    )


def test_bolt_pulled_and_pushed() -> None:
    rules, grade = system(DesignSystem.EUROCODE), bolt_steel(FastenerClass.C70)
    tension, across = (
        bolt_tension(grade, rules, diameter=8, pitch=1.25),
        bolt_shear(grade, rules, diameter=8, pitch=1.25),
    )
    assert tension.value is not None
    assert across.value is not None
    assert across.value == pytest.approx(tension.value * 0.5 / 0.9)
    pull = check("bolt", asked(0.7 * tension.value, basis=Basis.EUROCODE), tension)
    half = asked(across.value / 2, basis=Basis.EUROCODE)
    assert bolt_pull_and_push("bolt", pull=pull, push=half, shear=across).utilisation == pytest.approx(1.0)
    with pytest.raises(ValueError, match="unfactored"):
        bolt_pull_and_push("bolt", pull=pull, push=asked(1.0), shear=across)


def test_a_rail_may_be_lifted() -> None:
    """Two M6 screws in a 2 mm wall, 200 lb upwards: 445 N each against 0.85 t d Fu / 3."""
    rules = system(DesignSystem.ASD)
    asked_up = uplift(rail_load("irc"), rules, tributary=1000, fasteners=2)
    able = pull_out(SheetFastener.SCREW, Sheet(thickness=2.0, tensile=517), 6.0, rules, pitch=1.0)
    found = check("saddle screw", asked_up, able)
    assert found.utilisation == pytest.approx(445 / (0.85 * 2 * 6 * 517 / 3))
    wide = uplift(rail_load("asce-7"), rules, tributary=2000, fasteners=2)
    assert wide.value == pytest.approx(0.73 * 2000 / 2)


def test_a_post_bears_on_its_socket() -> None:
    """Two triangles of half the overlap each: their middles 2/3 of it apart."""
    moment = asked(0.9e6, Measure.MOMENT)
    assert socket_contact(moment, engaged=60).value == pytest.approx(0.9e6 / (2 / 3 * 60))
    with pytest.raises(ValueError, match="overlap"):
        socket_contact(moment, engaged=0)


def test_no_numeric_library_is_loaded() -> None:
    """The strength checks are plain Python: they start fast."""
    code = (
        "import pkgutil, sys, railgen.checks.strength as s\n"
        "[__import__(f'{s.__name__}.{m.name}') for m in pkgutil.iter_modules(s.__path__)]\n"
        "print([n for n in ('numpy', 'scipy', 'cadquery', 'OCP', 'ezdxf') if n in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
