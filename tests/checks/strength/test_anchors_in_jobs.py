"""Anchors of whole jobs: what their approval states and leaves open, every edge near them, what lies over them."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

import railgen
from railgen.catalogue.models import AnchorHold
from railgen.checks.model import Certainty, Verdict
from railgen.checks.strength.concrete import Concrete, aci_basic_breakout
from railgen.checks.strength.concrete_shear import EdgeRow, en_edge_breakout
from railgen.checks.strength.supports import Edges, edges
from railgen.job.model import Job
from railgen.job.strength_model import GroundKind, GroundLayer
from railgen.survey import SurfaceKind
from tests.checks.strength.scenes import CONCRETE, STEEL, links, load, of, text, verdict
from tests.packs import CONFIGS


@pytest.mark.parametrize(
    ("load_", "category", "pull", "push"),
    [
        ("asce-7", 1, 0.65, 0.60),  # ACI 318-19, Table 17.5.3: pull-out and bond, brittle steel in shear
        ("asce-7", 2, 0.55, 0.60),
        ("asce-7", 3, 0.45, 0.60),
        ("bs-office", 1, 1 / 1.5, 450 / 700),  # EN 1992-4, Table 4.1, from memory: 1.5 x 1.0, 1.2, 1.4; fyk / fuk
        ("bs-office", 2, 1 / 1.8, 450 / 700),
        ("bs-office", 3, 1 / 2.1, 450 / 700),
    ],
)
def test_what_an_approval_states_has_the_factor_of_the_anchors_category(
    tmp_path: Path, load_: str, category: int, pull: float, push: float
) -> None:
    ground = CONCRETE.replace("[ground]\n", f"[ground]\nanchor_category = {category}\n")
    found = links(load(tmp_path, text(loads=f'["{load_}"]', ground=ground, substrate="concrete")))
    for code, factor in (("anchor-pull", pull), ("anchor-push", push)):
        capacities = [link.outcome.capacity for link in of(found, code)]
        assert capacities == pytest.approx([50_000 * factor] * len(capacities))


def test_the_edge_behind_a_post_counts_as_the_one_in_front_does(tmp_path: Path) -> None:
    """Front and sides far away: what is left is the riser behind the tread, less half the hole pattern."""
    ground = CONCRETE.replace("[ground]\n", "[ground]\nedge_front = 4000\nedge_side = 4000\n")
    job = load(tmp_path, text(loads='["bs-office"]', ground=ground, substrate="concrete"))
    plate = job.hardware.base_plate
    expected = en_edge_breakout(
        EdgeRow(
            edge=270 + job.flights[0].overhang - 125 - plate.hole_spacing_length / 2,
            width=plate.hole_spacing_width,
            slab=200,
            side_a=4000 - plate.hole_spacing_width / 2,
            side_b=1000 - 150 - plate.hole_spacing_width / 2,
        ),
        Concrete(strength=25),
        diameter=8,  # of the sleeve
        embedment=40,
    )
    found = of(links(job), "edge-push")
    assert found[0].outcome.capacity == pytest.approx(expected.value)


def changed(job: Job, **update: object) -> Job:
    """The job with an anchor whose catalogue entry says otherwise."""
    return replace(job, hardware=replace(job.hardware, anchor=job.hardware.anchor.model_copy(update=update)))


@pytest.fixture
def sleeves(tmp_path: Path) -> Job:
    return load(tmp_path, text(ground=CONCRETE, substrate="concrete"))


@pytest.fixture
def rods(sleeves: Job) -> Job:
    """An invented rod in resin: 60 mm long under the plate."""
    update = {"hold": AnchorHold.BONDED, "effective_depth": None, "sleeve_diameter": None}
    return changed(sleeves, **update, bond_cracked=8.0, bond_uncracked=14.0)


@pytest.mark.parametrize(
    ("thickness", "hole", "least", "told"),
    [
        (200, 60, 100, Verdict.MEETS),
        (99, 60, 100, Verdict.FAILS),
        (200, 60, None, Verdict.CANNOT_SAY),
        (60, 60, None, Verdict.FAILS),  # right through, whatever the approval says
        (60, 60, 50, Verdict.FAILS),
    ],
)
def test_concrete_is_as_thick_as_the_approval_asks(
    sleeves: Job, thickness: float, hole: float, least: float | None, told: Verdict
) -> None:
    """ACI 318-19, 17.9, and EN 1992-4 leave the least thickness to the product's approval (from memory)."""
    slab = sleeves.ground.layers[0].model_copy(update={"thickness": thickness})
    job = replace(sleeves, ground=sleeves.ground.model_copy(update={"layers": (slab,)}))
    found = of(links(changed(job, hole_depth=hole, member_thickness=least)), "member")
    assert {link.outcome.verdict for link in found} == {told}
    if told is Verdict.CANNOT_SAY:
        assert all("member_thickness of catalogue entry concrete-sleeve-8x60" in one.outcome.missing for one in found)


@pytest.mark.parametrize(
    ("code", "update", "named"),
    [
        ("cone", {"hold": None}, "hold of catalogue entry"),
        ("cone", {"effective_depth": None}, "effective_depth of catalogue entry"),
        ("anchor-steel", {"diameter": 9.525}, "a metric thread"),
    ],
)
def test_what_the_approval_leaves_open_is_named(sleeves: Job, code: str, update: dict[str, object], named: str) -> None:
    for link in of(links(changed(sleeves, **update)), code):
        assert link.outcome.verdict is Verdict.CANNOT_SAY
        assert named in link.outcome.missing


@pytest.mark.parametrize("code", ["bond", "pry-out", "concrete"])
def test_a_bonded_anchor_without_bond_strength_is_an_open_question(rods: Job, code: str) -> None:
    mild = replace(rods, strength=rods.strength.model_copy(update={"loads": ("bs-gangway",)}))
    wide = mild.hardware.base_plate.model_copy(
        update={"length": 400, "width": 400, "hole_spacing_length": 380, "hole_spacing_width": 380}
    )
    mild = replace(
        mild,
        hardware=replace(mild.hardware, base_plate=wide),
        ground=mild.ground.model_copy(update={"edge_front": 4000.0, "edge_side": 4000.0}),
    )
    layout = railgen.solve(rods)
    edged = links(changed(mild, bond_cracked=None), layout)
    assert {one.outcome.verdict for one in of(edged, "cone")} <= {Verdict.MEETS, Verdict.FAILS}
    for link in of(edged, code)[-1:]:
        assert link.outcome.verdict is Verdict.CANNOT_SAY
        assert "bond_cracked and bond_uncracked of catalogue entry" in link.outcome.missing


def test_rods_are_asked_for_their_bond_and_sleeves_for_their_pull_out(sleeves: Job, rods: Job) -> None:
    codes = [{link.code for link in links(job)} for job in (sleeves, rods)]
    assert codes[0] - codes[1] == {"anchor-pull"}
    assert codes[1] - codes[0] == {"bond"}


def test_the_worst_pull_and_the_worst_push_meet(sleeves: Job) -> None:
    """ACI 318-19, 17.8.3: N + V at most 1.2 of whatever fails first, here the pull-out and the steel in shear."""
    weak = sleeves.strength.stated.model_copy(update={"anchor_tension": 400.0, "anchor_shear": 500.0})
    found = links(replace(sleeves, strength=sleeves.strength.model_copy(update={"stated": weak})))
    for both, pull, push in zip(of(found, "concrete"), of(found, "anchor-pull"), of(found, "anchor-push"), strict=True):
        n, v = pull.outcome.utilisation or 0.0, push.outcome.utilisation or 0.0
        assert n > 5
        assert v > 1
        assert both.outcome.utilisation == pytest.approx(max(n, v, (n + v) / 1.2))


def test_in_europe_the_steel_is_judged_by_its_own_rule(tmp_path: Path) -> None:
    """Pull-out and concrete far from failing: what is left is sqrt(N^2 + V^2) of the thread."""
    content = text(loads='["bs-gangway"]', ground=CONCRETE, substrate="concrete", largest_span=700)
    job = load(tmp_path, content)
    base = job.hardware.base_plate
    wide = base.model_copy(update={"length": 900, "width": 900, "hole_spacing_length": 880, "hole_spacing_width": 880})
    ground = job.ground.model_copy(update={"edge_front": 9000.0, "edge_side": 9000.0, "concrete_strength": 50.0})
    stated = job.strength.stated.model_copy(update={"anchor_shear": 600.0})
    big = replace(
        job,
        hardware=replace(job.hardware, base_plate=wide),
        ground=ground,
        strength=job.strength.model_copy(update={"stated": stated}),
    )
    found = links(changed(big, effective_depth=400.0, length=500.0, diameter=3.0), railgen.solve(job))
    last = [of(found, code)[-1].outcome for code in ("concrete", "anchor-steel", "anchor-push")]
    both, pull, push = (one.utilisation or 0.0 for one in last)
    assert both == pytest.approx(math.hypot(pull, push))
    assert "steel: N" in last[0].formula


def test_a_property_class_that_is_not_named_leaves_the_thread_open(tmp_path: Path) -> None:
    job = load(tmp_path, text(ground=CONCRETE, substrate="concrete", strength=STEEL.replace("fastener_class", "#")))
    for link in of(links(job), "anchor-steel"):
        assert link.outcome.verdict is Verdict.CANNOT_SAY
        assert "strength.fastener_class" in link.outcome.missing


def test_a_sleeve_holds_as_deep_as_its_approval_says_and_no_deeper(sleeves: Job) -> None:
    """52 mm lie under the plate, 40 of them count; where less lies in concrete, that."""
    assert all("hef 40 mm" in link.outcome.formula for link in of(links(sleeves), "cone"))
    finish = GroundLayer(kind=GroundKind.FINISH, thickness=20)
    short = replace(sleeves, ground=sleeves.ground.model_copy(update={"layers": (finish, *sleeves.ground.layers)}))
    assert all("hef 32 mm" in link.outcome.formula for link in of(links(short), "cone"))
    assert {link.outcome.verdict for link in of(links(short), "embedment")} == {Verdict.FAILS}


def test_what_presses_on_the_concrete_is_the_sleeve_never_the_hole(sleeves: Job) -> None:
    """ACI 318-19, 17.7.2.2: sqrt(da) (le / da)^0.2 = da^0.3 le^0.2; the breadth of the hole is nothing to it."""
    used = [
        [link.outcome.capacity or 0.0 for link in of(links(changed(sleeves, **update)), "edge-push")]
        for update in ({}, {"hole_diameter": 12.0}, {"sleeve_diameter": None})
    ]
    assert used[0] == used[1]
    assert [b / a for a, b in zip(used[0], used[2], strict=True)] == pytest.approx([(6 / 8) ** 0.3] * len(used[0]))


@pytest.mark.parametrize(("length", "k", "category"), [(60, 1, 3), (108, 2, 1)])
def test_pry_out_by_hand(sleeves: Job, length: float, k: int, category: int) -> None:
    """All four anchors, far from edges but for the riser behind; phi 0.70 of every category; k 2 from 65 mm on."""
    depth = 40 if length == 60 else 100
    job = replace(
        sleeves,
        ground=sleeves.ground.model_copy(
            update={"edge_front": 4000.0, "edge_side": 4000.0, "anchor_category": category}
        ),
    )
    job = changed(job, length=length, hole_depth=length, effective_depth=float(depth))
    found = of(links(job, railgen.solve(sleeves)), "pry-out")[0]  # on a tread of 270, its post 125 behind the nosing
    plate = job.hardware.base_plate
    behind = 270 + job.flights[0].overhang - 125 - plate.hole_spacing_length / 2
    reach = 1.5 * depth
    area = (reach + plate.hole_spacing_length + min(reach, behind)) * (2 * reach + plate.hole_spacing_width)
    edge = min(1.0, 0.7 + 0.3 * behind / reach)
    basic = aci_basic_breakout(coefficient=17, strength=25, embedment=depth)
    expected = k * 0.70 * min(4.0, area / (2 * reach) ** 2) * edge * basic
    assert found.outcome.capacity == pytest.approx(expected)


def test_a_push_through_a_finish_is_an_open_question(sleeves: Job) -> None:
    """47 mm of the 52 under the plate are in concrete, 40 are needed: it is deep enough, but pushed with a lever."""
    finish = GroundLayer(kind=GroundKind.FINISH, thickness=5)
    job = replace(sleeves, ground=sleeves.ground.model_copy(update={"layers": (finish, *sleeves.ground.layers)}))
    found = links(job)
    assert {link.outcome.verdict for link in of(found, "embedment")} == {Verdict.MEETS}
    for code in ("edge-push", "pry-out", "anchor-push"):
        before, after = of(links(sleeves), code), of(found, code)
        assert {link.outcome.verdict for link in before} == {Verdict.MEETS}
        assert {link.outcome.verdict for link in after} == {Verdict.CANNOT_SAY}
        assert all("lever arm through the 5 mm" in link.outcome.missing for link in after)


def test_the_concrete_that_holds_most_is_the_one_measured(sleeves: Job) -> None:
    """10 mm of screed, then 150 of slab under 5 of mortar: 37 of the 52 mm lie in the slab."""
    screed, mortar, slab = (
        GroundLayer(kind=kind, thickness=thickness)
        for kind, thickness in ((GroundKind.CONCRETE, 10), (GroundKind.MORTAR, 5), (GroundKind.CONCRETE, 150))
    )
    job = replace(sleeves, ground=sleeves.ground.model_copy(update={"layers": (screed, mortar, slab)}))
    found = of(links(job), "member")
    assert [link.outcome.capacity for link in found] == [150] * len(found)


def test_bolts_that_do_not_reach_the_concrete_hold_nothing(sleeves: Job) -> None:
    finish = GroundLayer(kind=GroundKind.FINISH, thickness=100)
    found = links(
        replace(sleeves, ground=sleeves.ground.model_copy(update={"layers": (finish, *sleeves.ground.layers)}))
    )
    assert verdict(found, "embedment") == {Verdict.FAILS}
    assert {link.code for link in found}.isdisjoint({"cone", "anchor-steel", "concrete"})


def around(name: str) -> dict[str, Edges]:
    job = railgen.load(CONFIGS / f"{name}.toml")
    layout = railgen.solve(job)
    bare = replace(job, ground=job.ground.model_copy(update={"edge_front": None, "edge_side": None}))
    return {post.id: edges(bare, layout, post) for post in layout.posts if post.surface.kind is SurfaceKind.LANDING}


def test_a_corner_post_has_two_edges_near() -> None:
    """Landing 1120 long, flights 1050 wide, 112 from the edge; inwards it runs 20 under the first nosing above."""
    corner = around("mill_quarter_turn")["L1-C1"]
    found = (corner.front, corner.back, corner.side, corner.other_side)
    assert found == pytest.approx((1120 - 112, 112, 112, 1050 + 20 - 112))


def test_a_straight_landing_ends_under_the_nosing_above_it() -> None:
    """44 in and 3/4 in of overhang less what the post stands back; before the next flight a going of 11 in."""
    found = around("mill_weir_steps_inch")
    lower, upper = found["F1-P2"], found["F2-P1"]
    assert lower.front + lower.back == pytest.approx(44.75 * 25.4)
    assert upper.front + upper.back == pytest.approx(44.75 * 25.4)
    assert upper.back < (11 + 0.75) * 25.4
    assert all((one.side, one.other_side) == pytest.approx((2.25 * 25.4, 39.75 * 25.4)) for one in found.values())


def test_a_half_turns_landing_runs_on_over_the_well_side() -> None:
    """Two flights and the well wide, on the side of the turn; only a floor goes on for ever."""
    job = railgen.load(CONFIGS / "mill_half_turn.toml")
    found = around("mill_half_turn")
    whole = sum(flight.width for flight in job.flights) + job.landings[0].well
    for post in found.values():
        assert post.side + post.other_side == pytest.approx(whole)
        assert all(math.isfinite(one) for one in (post.front, post.back))


def test_no_clause_of_chapter_17_is_said_to_have_been_read(sleeves: Job, rods: Job) -> None:
    sources = [s for job in (sleeves, rods) for link in links(job) for s in link.outcome.sources]
    named = {s.clause: s.certainty for s in sources if s.document in ("ACI 318", "EN 1992-4")}
    assert {"17.6.2", "17.6.5", "17.7.2", "17.7.3", "17.8"} <= set(named)
    assert Certainty.READ not in named.values()


@pytest.mark.parametrize(("thickness", "told"), [(80, False), (200, True)])
def test_layers_that_do_not_add_up_to_the_tread_are_told(tmp_path: Path, thickness: float, told: bool) -> None:
    ground = CONCRETE.replace("thickness = 200", f"thickness = {thickness}")
    notes = load(tmp_path, text(ground=ground, substrate="concrete")).notes
    assert any("ground.layers add up to" in note and "tread_thickness 80 mm" in note for note in notes) is told


def test_a_pull_out_stated_for_bonded_anchors_is_told_to_be_unused(tmp_path: Path) -> None:
    content = text(ground=CONCRETE, substrate="concrete", fitting_set="mf-stout-60.3")
    content = content.replace("[hardware]\n", '[hardware]\ncatalogue = ["millrace_fittings.toml"]\n')
    content = content.replace("tread_thickness = 80", "tread_thickness = 200")
    assert any("anchor_tension is not used" in note for note in load(tmp_path, content).notes)
