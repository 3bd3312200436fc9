"""Anchors in concrete: the cone or bond they pull out, the edge they push off or pry out, their own steel and hold.

ACI 318 by strength design for the American systems, EN 1992-4 for EN and, as AS 5216 follows it, for AS/NZS too. What
only the product's approval knows is asked for, never assumed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from railgen.catalogue.models import AnchorHold
from railgen.checks.model import Certainty, Verdict
from railgen.checks.strength.anchors import INSTALLATION, hold_factor, shear_factor, steel_pull
from railgen.checks.strength.baseplate import fixing_shear, worst_pull
from railgen.checks.strength.concrete import AnchorCategory, Concrete
from railgen.checks.strength.concrete_shear import (
    EdgeRow,
    aci_edge_breakout,
    en_edge_breakout,
    pull_and_push,
    steel_pull_and_push,
)
from railgen.checks.strength.footing import Footing, moment_on, needed_depth
from railgen.checks.strength.inputs import LoadCase, fastener_steel
from railgen.checks.strength.link import stated, together
from railgen.checks.strength.postlinks import Outcome, governing_force, thread_pitch
from railgen.checks.strength.pullout import Anchored, bonded_bond, group_pull, pried_out
from railgen.checks.strength.result import Demand, Measure, Source, StrengthCheck, check, num, unverified
from railgen.checks.strength.substrate import embedments, least_distance
from railgen.checks.strength.supports import Support
from railgen.checks.strength.systems import System
from railgen.job.model import Job
from railgen.job.strength_model import DesignSystem, GroundKind

__all__ = ["concrete_links", "concrete_system"]

_PRODUCT = Source(document="the anchor's catalogue entry", certainty=Certainty.JOB)
_CONE, _BOND, _EDGE, _PRY = (
    "concrete: cone under the fixings",
    "bond of the fixings, as a group",
    "concrete: edge pushed off by the fixings",
    "concrete pried out behind the fixings",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Load:
    """What the fixings of a plate are asked under one load, by concrete's own system."""

    moment: Demand
    force: Demand
    system: System
    lever: str  # why a push is not verified; empty: the plate stands on the concrete itself


def concrete_system(steel: DesignSystem) -> DesignSystem:
    """Whose factors judge concrete where ``steel`` judges the rail."""
    return DesignSystem.LRFD if steel in (DesignSystem.LRFD, DesignSystem.ASD) else DesignSystem.EUROCODE


def concrete_links(job: Job, foot: Footing, support: Support, case: LoadCase) -> Iterator[Outcome]:
    """Thickness and edge, the group pulled and pushed, each anchor by itself, and the worst of both together."""
    case = case.under(concrete_system(case.system.id))
    load = _Load(
        moment=moment_on(support, case),
        force=governing_force(support, case),
        system=case.system,
        lever=_lever(job, foot),
    )
    yield Outcome(code="member", check=_member(job, foot))
    edge = least_distance(
        "fixings' edge distance in the concrete",
        needed=job.hardware.anchor.edge_distance,
        given=_least(job, foot),
        why="the anchor's least edge distance",
        source=_PRODUCT,
    )
    yield Outcome(code="edge", check=edge)
    pulled, pushed = _alone(job, foot, load)
    missing = _missing(job)
    if missing:
        yield Outcome(code="cone", check=unverified(_CONE, missing))
        yield from (*pulled, *pushed)
        return
    if _least(job, foot) <= 0:
        none = replace(edge, name=_CONE, demand=1.0, capacity=0.0, formula="the fixings are not in the concrete")
        yield Outcome(code="cone", check=none)
        yield from (*pulled, *pushed)
        return
    group, sideways = _group(job, foot, load)
    yield from (*group, *pulled, *sideways, *pushed)
    yield Outcome(code="concrete", check=_both(load, [*group, *pulled], [*sideways, *pushed]))


def _both(load: _Load, pulled: list[Outcome], pushed: list[Outcome]) -> StrengthCheck:
    """The worst pull and the worst push together; in Europe the steel's own too, by its own rule."""
    name = "anchors pulled and pushed together"
    worst = [together(name, [one.check for one in part]) for part in (pulled, pushed)]
    found = [pull_and_push(name, pull=worst[0], push=worst[1])]
    if load.system.id is not DesignSystem.LRFD:
        pull, push = (
            next(one.check for one in part if one.code == code)
            for part, code in ((pulled, "anchor-steel"), (pushed, "anchor-push"))
        )
        found.append(steel_pull_and_push(name, pull=pull, push=push))
    return together(name, found)


def _missing(job: Job) -> str:
    """What of concrete and anchor must be known before anything can be said of the group."""
    anchor, wanted = job.hardware.anchor, []
    entry = f"of catalogue entry {anchor.id}"
    if job.ground.concrete_strength is None:
        wanted.append("the cylinder strength of the concrete (ground.concrete_strength)")
    if anchor.hold is None:
        wanted.append(f"whether the anchor is mechanical or bonded (hold {entry})")
    if anchor.hold is AnchorHold.MECHANICAL and anchor.effective_depth is None:
        wanted.append(f"the anchor's effective depth, by its approval (effective_depth {entry})")
    return "; ".join(wanted)


def _lever(job: Job, foot: Footing) -> str:
    """Fixings pushed with a lever through what lies on the concrete; where they are too short, that is said already."""
    above, _ = _slab(foot)
    needed, _ = needed_depth(job, foot)
    if above <= 0 or foot.embedded < needed:
        return ""
    return f"anchors pushed with a lever arm through the {num(above)} mm that lie on the concrete"


def _member(job: Job, foot: Footing) -> StrengthCheck:
    """The concrete is as thick as the anchor's approval asks, and a hole never goes right through it."""
    name, anchor = "thickness of the concrete", job.hardware.anchor
    above, slab = _slab(foot)
    under = least_distance(
        name,
        needed=anchor.member_thickness or slab,
        given=slab,
        why="the least by the anchor's approval",
        source=_PRODUCT,
        layers=foot.layers,
    )
    if anchor.hole_depth >= above + slab:
        deep = f"holes {num(anchor.hole_depth)} mm deep go right through {num(above + slab)} mm"
        return replace(under, demand=anchor.hole_depth, capacity=0.0, formula=deep)
    if anchor.member_thickness is None:
        what = "the least thickness of the concrete, by the anchor's approval (member_thickness of catalogue entry "
        return unverified(name, f"{what}{anchor.id})")
    return under


def _slab(foot: Footing) -> tuple[float, float]:
    """What lies over the concrete that holds most of the fixings, and how thick that concrete is (mm)."""
    deep = [depth for _, depth in embedments(foot.layers, foot.below)] + [0.0] * len(foot.layers)
    found = [(deep[at], -at) for at, layer in enumerate(foot.layers) if layer.name == GroundKind.CONCRETE]
    at = -max(found)[1]
    return sum(layer.thickness for layer in foot.layers[:at]), foot.layers[at].thickness


def _least(job: Job, foot: Footing) -> float:
    """Least distance (mm) of a fixing's axis from an edge of the concrete."""
    item, around = job.hardware.base_plate, foot.edges
    along = min(around.front, around.back) - item.hole_spacing_length / 2
    across = min(around.side, around.other_side) - item.hole_spacing_width / 2
    return max(0.0, min(along, across, 1e4))


def _group(job: Job, foot: Footing, load: _Load) -> tuple[list[Outcome], list[Outcome]]:
    """The fixings of a plate as a group: pulled, and pushed."""
    anchor, ground = job.hardware.anchor, job.ground
    assert ground.concrete_strength is not None  # noqa: S101 - asked before
    known = Anchored(
        american=load.system.id is DesignSystem.LRFD,
        concrete=Concrete(strength=ground.concrete_strength, cracked=ground.cracked),
        depth=min(foot.embedded, anchor.effective_depth or foot.embedded),
        category=ground.anchor_category,
        critical_edge=ground.critical_edge,
        bond=None,
    )
    pulled = [Outcome(code="cone", check=group_pull(_CONE, known, foot, load.moment))]
    missing = ""
    if anchor.hold is AnchorHold.BONDED:
        bond = bonded_bond(anchor, cracked=ground.cracked, depth=known.depth)
        missing = bond if isinstance(bond, str) else ""
        known = known if isinstance(bond, str) else replace(known, bond=bond)
        by_bond = unverified(_BOND, missing) if missing else group_pull(_BOND, known, foot, load.moment)
        pulled.append(Outcome(code="bond", check=by_bond))
    pry = check(_PRY, load.force, pried_out(known, foot))
    if missing:
        pry = replace(pry, missing=missing)
    pushed = [Outcome(code="edge-push", check=_edge(job, foot, known, load)), Outcome(code="pry-out", check=pry)]
    return pulled, [replace(one, check=_with_lever(one.check, load.lever)) for one in pushed]


def _with_lever(found: StrengthCheck, lever: str) -> StrengthCheck:
    """A push that holds is an open question where it has a lever arm; one that does not hold stays so."""
    return replace(found, missing=lever) if lever and found.verdict is Verdict.MEETS else found


def _edge(job: Job, foot: Footing, known: Anchored, load: _Load) -> StrengthCheck:
    """All of the sideways force on the row nearest to an edge, for each of the four; the worst."""
    item, around = job.hardware.base_plate, foot.edges
    along, across = item.hole_spacing_length / 2, item.hole_spacing_width / 2
    ends = (around.front - along, around.back - along)
    sides = (around.side - across, around.other_side - across)
    _, slab = _slab(foot)
    rows = [(edge, 2 * across, sides) for edge in ends] + [(edge, 2 * along, ends) for edge in sides]
    found = []
    for edge, width, beside in rows:
        if not math.isfinite(edge):
            continue
        side_a, side_b = (max(one, 0.0) for one in beside)
        row = EdgeRow(edge=edge, width=width, slab=slab, side_a=side_a, side_b=side_b)
        size = {"diameter": job.hardware.anchor.outside_diameter, "embedment": known.depth}
        category = job.ground.anchor_category
        if known.american:
            able = aci_edge_breakout(row, known.concrete, category=AnchorCategory(category), **size)
        else:
            able = en_edge_breakout(row, known.concrete, installation=INSTALLATION[category], **size)
        found.append(check(_EDGE, load.force, able))
    return max(found, key=lambda one: one.utilisation or 0.0)


def _alone(job: Job, foot: Footing, load: _Load) -> tuple[list[Outcome], list[Outcome]]:
    """The fixing pulled and pushed most: its thread, its pull-out where it holds mechanically, its shear."""
    given, anchor = job.strength.stated, job.hardware.anchor
    steel, pitch = fastener_steel(job.strength), thread_pitch(f"M{anchor.diameter:g}")
    pull, push = worst_pull(foot.plate, load.moment), fixing_shear(foot.plate, load.force)
    name = "anchor's steel, pulled"
    if steel is None:
        own = unverified(name, "the property class of the anchors (strength.fastener_class)")
    elif pitch is None:
        own = unverified(name, f"a metric thread: {anchor.id} is {num(anchor.diameter)} mm thick")
    else:
        own = check(name, pull, steel_pull(steel, load.system, diameter=anchor.diameter, pitch=pitch))
    pulled = [Outcome(code="anchor-steel", check=own)]
    if anchor.hold is not AnchorHold.BONDED:
        held = stated(
            given.anchor_tension,
            Measure.FORCE,
            load.system,
            document=given.document,
            what="the pull-out of one anchor, by its approval (strength.stated.anchor_tension)",
            factor=hold_factor(AnchorCategory(job.ground.anchor_category), load.system),
        )
        pulled.append(Outcome(code="anchor-pull", check=check("anchor pulled out of its hole", pull, held)))
    sheared = stated(
        given.anchor_shear,
        Measure.FORCE,
        load.system,
        document=given.document,
        what="the shear of one anchor's steel, by its approval (strength.stated.anchor_shear)",
        factor=shear_factor(steel, load.system),
    )
    across = check("anchor's steel, pushed", push, sheared)
    return pulled, [Outcome(code="anchor-push", check=_with_lever(across, load.lever))]
