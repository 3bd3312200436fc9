"""Anchors in concrete: the cone they pull out, the edge they push off, and what only the product's approval knows.

ACI 318 by strength design for the American systems, EN 1992-4 for EN and, as AS 5216 follows it, for AS/NZS too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from railgen.checks.model import Certainty
from railgen.checks.strength.baseplate import PULL_MODEL, Plate, Pulls, fixing_shear, pulls, worst_pull
from railgen.checks.strength.concrete import AnchorCategory, AnchorGroup, Concrete, aci_breakout, en_breakout
from railgen.checks.strength.concrete_shear import EdgeRow, aci_edge_breakout, en_edge_breakout, pull_and_push
from railgen.checks.strength.footing import Footing, moment_on
from railgen.checks.strength.inputs import LoadCase
from railgen.checks.strength.link import stated
from railgen.checks.strength.postlinks import Outcome, governing_force
from railgen.checks.strength.result import (
    Demand,
    Measure,
    Resistance,
    Source,
    StrengthCheck,
    check,
    num,
    show,
    unverified,
)
from railgen.checks.strength.substrate import least_distance
from railgen.checks.strength.supports import Edges, Support
from railgen.checks.strength.systems import Factor, SystemId
from railgen.job.model import Job
from railgen.job.strength_model import GroundKind

__all__ = ["concrete_links", "concrete_system"]

_INSTALLATION = {1: 1.0, 2: 1.2, 3: 1.4}  # EN 1992-4, 4.4.2.1: high, normal, low installation safety (from memory)
_ACI = Source(document="ACI 318", edition="2019", clause="17.5.3, phi", certainty=Certainty.MEMORY)
_EN = Source(document="EN 1992-4", edition="2018", clause="4.4.2.1, partial factors", certainty=Certainty.MEMORY)
_FACTORS = {
    SystemId.LRFD: (
        {
            category: Factor(phi=phi, symbol="phi", source=_ACI)  # pull-out and bond; brittle steel in shear
            for category, phi in ((1, 0.65), (2, 0.55), (3, 0.45))
        },
        Factor(phi=0.60, symbol="phi", source=_ACI),
    ),
    SystemId.EUROCODE: (
        {
            category: Factor(divisor=1.5 * factor, symbol="gamma Mp", source=_EN)
            for category, factor in _INSTALLATION.items()
        },
        Factor(divisor=1.5, symbol="gamma Ms,V", source=_EN),  # the highest of the range
    ),
}
_UNIT = 1e6  # N mm: pulls grow with the moment, so one moment finds the worst direction
_TURNS = 16
_PRODUCT = Source(document="the anchor's catalogue entry", certainty=Certainty.JOB)


def concrete_system(steel: SystemId) -> SystemId:
    """Whose factors judge concrete where ``steel`` judges the rail."""
    return SystemId.LRFD if steel in (SystemId.LRFD, SystemId.ASD) else SystemId.EUROCODE


def concrete_links(job: Job, foot: Footing, support: Support, case: LoadCase) -> Iterator[Outcome]:
    """Breakout by pull and by push, both together, the product's own strength, and its edge distance."""
    case = case.under(concrete_system(case.system.id))
    american = case.system.id is SystemId.LRFD
    moment, force = moment_on(support, case), governing_force(support, case)
    name, anchor = "concrete: cone under the fixings", job.hardware.anchor
    around = _least(job, foot)
    edge = least_distance(
        "fixings' edge distance in the concrete",
        needed=anchor.edge_distance,
        given=around,
        why="the anchor's least edge distance",
        source=_PRODUCT,
    )
    yield Outcome(code="edge", check=edge)
    if job.ground.concrete_strength is None:
        what = "the cylinder strength of the concrete (ground.concrete_strength)"
        yield Outcome(code="cone", check=unverified(name, what))
    elif around <= 0 or foot.embedded <= 0:
        none = replace(edge, name=name, demand=1.0, capacity=0.0, formula="the fixings are not in the concrete")
        yield Outcome(code="cone", check=none)
    else:
        pulled = _cone(job, foot, moment, american=american, name=name)
        pushed = _edge(job, foot, force, american=american)
        yield Outcome(code="cone", check=pulled)
        yield Outcome(code="edge-push", check=pushed)
        both = pull_and_push("concrete pulled and pushed together", pull=pulled, push=pushed)
        yield Outcome(code="concrete", check=both)
    yield from _product(job, foot, moment, force, case)


def _least(job: Job, foot: Footing) -> float:
    """Least distance (mm) of a fixing's axis from an edge of the concrete."""
    item, around = job.hardware.base_plate, foot.edges
    along = min(around.front, around.back) - item.hole_spacing_length / 2
    across = min(around.side, around.other_side) - item.hole_spacing_width / 2
    return max(0.0, min(along, across, 1e4))


def _concrete(job: Job) -> Concrete:
    assert job.ground.concrete_strength is not None  # noqa: S101 - asked before
    return Concrete(strength=job.ground.concrete_strength, cracked=job.ground.cracked)


def _group(plate: Plate, found: Pulls, around: Edges) -> AnchorGroup:
    """The pulled fixings in the concrete around them; x runs down the flight, towards the nosing."""
    pulled = tuple(spot for spot, pull in zip(plate.fixings, found.tensions, strict=True) if pull > 1e-6)
    middle = [sum(axis) / len(pulled) for axis in zip(*pulled, strict=True)]
    at = found.resultant(plate)
    return AnchorGroup(
        anchors=pulled,
        x_min=-around.back,
        x_max=around.front,
        y_min=-around.other_side,
        y_max=around.side,
        eccentricity=(at[0] - middle[0], at[1] - middle[1]),
    )


@lru_cache(maxsize=64)
def _worst_direction(
    plate: Plate, around: Edges, concrete: Concrete, embedded: float, category: int, *, american: bool
) -> float:
    """Direction (radians) in which the plate tips and its cone is used most."""
    worst = (-1.0, 0.0)
    for turn in range(_TURNS):
        direction = math.tau * turn / _TURNS
        found = pulls(plate, _UNIT, direction)
        if found is None:
            continue
        able = _able(_group(plate, found, around), concrete, embedded, category, None, american=american)
        if able.value:
            worst = max(worst, (round(found.compression / able.value, 9), -direction))
    return -worst[1]


def _able(
    group: AnchorGroup,
    concrete: Concrete,
    embedded: float,
    category: int,
    critical: float | None,
    *,
    american: bool,
) -> Resistance:
    if american:
        return aci_breakout(
            group, concrete, embedment=embedded, category=AnchorCategory(category), critical_edge=critical
        )
    return en_breakout(group, concrete, embedment=embedded, installation=_INSTALLATION[category])


def _cone(job: Job, foot: Footing, moment: Demand, *, american: bool, name: str) -> StrengthCheck:
    ground, concrete = job.ground, _concrete(job)
    cracked = replace(concrete, cracked=True)
    direction = _worst_direction(
        foot.plate, foot.edges, cracked, foot.embedded, ground.anchor_category, american=american
    )
    found = pulls(foot.plate, moment.value or 0.0, direction)
    if found is None:
        return unverified(name, "a hole pattern that can hold this plate in every direction")
    group = _group(foot.plate, found, foot.edges)
    able = _able(group, concrete, foot.embedded, ground.anchor_category, ground.critical_edge, american=american)
    total = found.compression
    text = (
        f"; tipping towards {num(math.degrees(direction))} degrees pulls {len(group.anchors)} fixings with "
        f"{show(total, Measure.FORCE)}"
    )
    demand = replace(
        moment,
        value=total,
        measure=Measure.FORCE,
        formula=moment.formula + text,
        sources=(*moment.sources, PULL_MODEL),
    )
    return check(name, demand, able)


def _edge(job: Job, foot: Footing, force: Demand, *, american: bool) -> StrengthCheck:
    """All of the sideways force on the row nearest to an edge, for every edge there is; the worst."""
    item, around, ground = job.hardware.base_plate, foot.edges, job.ground
    along, across = item.hole_spacing_length / 2, item.hole_spacing_width / 2
    slab = next(layer.thickness for layer in foot.layers if layer.name == GroundKind.CONCRETE)
    ahead, behind = around.front - along, around.back - along
    near, far = around.side - across, around.other_side - across
    rows = [
        (ahead, 2 * across, near, far),
        (behind, 2 * across, near, far),
        (near, 2 * along, ahead, behind),
        (far, 2 * along, ahead, behind),
    ]
    found = []
    for edge, width, side_a, side_b in rows:
        if not math.isfinite(edge) or edge <= 0:
            continue
        row = EdgeRow(edge=edge, width=width, slab=slab, side_a=max(side_a, 0.0), side_b=max(side_b, 0.0))
        size = {"diameter": job.hardware.anchor.hole_diameter, "embedment": foot.embedded}
        if american:
            able = aci_edge_breakout(row, _concrete(job), category=AnchorCategory(ground.anchor_category), **size)
        else:
            able = en_edge_breakout(row, _concrete(job), installation=_INSTALLATION[ground.anchor_category], **size)
        found.append(check("concrete: edge pushed off by the fixings", force, able))
    return max(found, key=lambda one: one.utilisation or 0.0)


def _product(job: Job, foot: Footing, moment: Demand, force: Demand, case: LoadCase) -> Iterator[Outcome]:
    """The anchor's own steel, pull-out and bond: its approval's, or not verified.

    Pull: what is stated may be its hold, so the factor is that of pull-out and bond in the anchor's category.
    """
    given, category = job.strength.stated, job.ground.anchor_category
    pulled, pushed = _FACTORS[case.system.id]
    pull = worst_pull(foot.plate, moment)
    push = fixing_shear(foot.plate, force)
    where = "by the anchor's approval (strength.stated.anchor_{})"
    tension = stated(
        given.anchor_tension,
        Measure.FORCE,
        case.system,
        document=given.document,
        what=f"the anchor's own pull {where.format('tension')}",
        factor=pulled[category],
    )
    shear = stated(
        given.anchor_shear,
        Measure.FORCE,
        case.system,
        document=given.document,
        what=f"the anchor's own shear {where.format('shear')}",
        factor=pushed,
    )
    yield Outcome(code="anchor-pull", check=check("anchor itself, pulled", pull, tension))
    yield Outcome(code="anchor-push", check=check("anchor itself, pushed", push, shear))
