"""A base plate and what it stands on: the plate's own bending, how deep its fixings reach, and what is never assumed.

The arm is the height of the rail's axis over the surface. What the fixings hold on to is worked out by material, in
:mod:`railgen.checks.strength.timberlinks` and :mod:`railgen.checks.strength.concretelinks`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from railgen.checks.model import Certainty
from railgen.checks.strength.baseplate import Plate, fixing_shear, worst_pull
from railgen.checks.strength.bolts import bolt_pull_and_push, bolt_shear, bolt_tension
from railgen.checks.strength.inputs import LoadCase, fastener_steel
from railgen.checks.strength.link import stated, together
from railgen.checks.strength.materials import Steel
from railgen.checks.strength.platebending import plate_bending
from railgen.checks.strength.postlinks import Outcome, governing_force, thread_pitch
from railgen.checks.strength.result import Demand, Measure, Source, check, num, unverified
from railgen.checks.strength.spans import post_moment
from railgen.checks.strength.substrate import Layer, bearing_embedment, embedments, least_distance
from railgen.checks.strength.supports import Edges, Support
from railgen.job.model import Job, Origin
from railgen.job.strength_model import Fixing, GroundKind
from railgen.members.holes import plate_spots

__all__ = [
    "WET_BEARING",
    "Footing",
    "footing",
    "moment_on",
    "needed_depth",
    "plate_links",
    "reach_links",
    "steel_links",
    "suits",
    "timber_bearing",
    "tread_link",
]

WET_BEARING = 0.67  # wet timber across the grain (NDS supplement, Table 4A, from memory)

_EMBEDMENT = Source(document="the anchor's approval", clause="embedment in what bears", certainty=Certainty.PRACTICE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Footing:
    """What the plate links of every load need: the plate, the layers under it, how deep the fixings bear, the edges."""

    plate: Plate
    layers: tuple[Layer, ...]
    bearing: GroundKind | None  # the layer that holds most of the fixing; None: no layer that bears is reached
    embedded: float
    below: float  # length of the fixing under the plate
    edges: Edges


def footing(job: Job, around: Edges) -> Footing:
    """The base plate of a job over its ground."""
    item, anchor, ground = job.hardware.base_plate, job.hardware.anchor, job.ground
    layers = tuple(
        Layer(name=layer.kind.value, thickness=layer.thickness, bears=layer.kind.bears) for layer in ground.layers
    )
    below = anchor.length - item.thickness
    held = [(depth, layer.name) for layer, depth in embedments(layers, below) if layer.bears]
    through = [layer.name for layer in layers if layer.bears] if job.bolted_through else []
    name = max(held)[1] if held else through[0] if through else None
    return Footing(
        plate=Plate(
            length=item.length,
            width=item.width,
            thickness=item.thickness,
            fixings=plate_spots(item, job.hardware.rivets),
            socket=item.socket_od,
            corner=min(item.corner_radius, min(item.length, item.width) / 2),
        ),
        layers=layers,
        bearing=None if name is None else GroundKind(name),
        embedded=bearing_embedment(layers, below),
        below=below,
        edges=around,
    )


def moment_on(support: Support, case: LoadCase) -> Demand:
    """Moment (N mm) at the surface the plate stands on."""
    return post_moment(governing_force(support, case), support.axis)


def plate_links(job: Job, foot: Footing, support: Support, case: LoadCase, steel: Steel | None) -> Iterator[Outcome]:
    """The plate in bending, pressed at its outermost fixings and, on timber, over a block of it too."""
    name, moment = "base plate in bending", moment_on(support, case)
    if steel is None:
        what = "the strength of the base plate: standard and grade (strength.plate)"
        yield Outcome(code="plate", check=unverified(name, what))
        return
    found = [plate_bending(name, foot.plate, steel, case.system, moment=moment)]
    stress = timber_bearing(job)
    if foot.bearing is GroundKind.TIMBER and stress is not None:
        block = stress * case.system.imposed  # an allowable stress, raised to the factored load that presses it
        pressed = plate_bending(name, foot.plate, steel, case.system, moment=moment, bearing=block)
        if pressed.utilisation is None:
            pressed = replace(found[0], demand=math.inf, formula=f"{found[0].formula}; {pressed.missing}")
        found.append(pressed)
    yield Outcome(code="plate", check=together(name, found))


def timber_bearing(job: Job) -> float | None:
    """Allowable stress (MPa) of the timber across the grain, wet where it may get wet; None where not given."""
    stress = job.ground.timber_bearing
    return stress if stress is None or job.ground.wet is False else stress * WET_BEARING


def needed_depth(job: Job, foot: Footing) -> tuple[float, str]:
    """How deep (mm) a fixing must lie in what bears, and why: the approval's effective depth, else all of it."""
    depth = job.hardware.anchor.effective_depth
    if foot.bearing is GroundKind.CONCRETE and depth is not None:
        return depth, "the anchor's effective depth, by its approval"
    if foot.below <= 0:
        thick = num(foot.plate.thickness)
        return 0.0, f"some of a fixing {num(job.hardware.anchor.length)} mm long below a plate of {thick} mm, more than"
    return foot.below, "all below the plate"


def reach_links(job: Job, foot: Footing) -> Iterator[Outcome]:
    """How much of the fixing lies in the one layer that bears; concrete is asked for all of it below the plate."""
    name = "fixings' depth in what bears"
    if not foot.layers:
        yield Outcome(code="embedment", check=unverified(name, "the layers under the base plates ([[ground.layers]])"))
        return
    if foot.bearing is GroundKind.BRICK:
        what = "what the brickwork holds: a pull test on site, or the anchor's approval for this brick"
        yield Outcome(code="fixings", check=unverified("fixings in brickwork", what))
    elif foot.bearing is not None and (what := _unsuited(job, foot.bearing)):
        yield Outcome(code="fixings", check=unverified(f"fixings in {foot.bearing}", what))
    if foot.bearing is not None and job.bolted_through:
        return
    if foot.bearing is GroundKind.TIMBER and suits(job, foot):
        return  # the timber's own rules ask for a penetration
    needed, why = needed_depth(job, foot)
    found = least_distance(name, needed=needed, given=foot.embedded, why=why, source=_EMBEDMENT, layers=foot.layers)
    yield Outcome(code="embedment", check=found)


def suits(job: Job, foot: Footing) -> bool:
    """Whether the fixing is one for what bears, so that what that material asks can be asked of it."""
    return foot.bearing is not None and not _unsuited(job, foot.bearing)


def _unsuited(job: Job, bearing: GroundKind) -> str:
    """Why a fixing cannot be judged in what bears, and the keys to mend; empty where it is one for it."""
    anchor, fixing = job.hardware.anchor, job.ground.fixing
    if anchor.substrate != bearing.value:
        what = f"{anchor.id} is a fixing for {anchor.substrate}, and it bears in {bearing}"
        return f"an anchor for {bearing} (posts.substrate, hardware.anchor, [[ground.layers]]): {what}"
    typed = job.origins.get("ground.fixing") is Origin.FILE or fixing is not Fixing.WOOD_SCREW
    screw = fixing is not Fixing.THROUGH_BOLT
    if not typed or bearing is GroundKind.TIMBER or (bearing is GroundKind.STEEL and not screw):
        return ""
    left = f"leave ground.fixing out for the anchor of the catalogue{' or its thread' if screw else ''}"
    return f"how {anchor.id} holds: a {fixing} is none for {bearing}; {left}"


def steel_links(job: Job, foot: Footing, support: Support, case: LoadCase) -> Iterator[Outcome]:
    """Bolts into or through steel: pull and push together; the thread in the steel is the maker's to state."""
    name, anchor = "fixings in steel", job.hardware.anchor
    bolt, pitch = fastener_steel(job.strength), thread_pitch(f"M{anchor.diameter:g}")
    if bolt is None or pitch is None:
        what = "the property class of the screws (strength.fastener_class)" if bolt is None else "a metric thread"
        yield Outcome(code="fixings", check=unverified(name, what))
        return
    pull = worst_pull(foot.plate, moment_on(support, case))
    push = fixing_shear(foot.plate, governing_force(support, case))
    able = bolt_tension(bolt, case.system, diameter=anchor.diameter, pitch=pitch)
    across = bolt_shear(bolt, case.system, diameter=anchor.diameter, pitch=pitch)
    both = bolt_pull_and_push(name, pull=check(name, pull, able), push=push, shear=across)
    yield Outcome(code="fixings", check=both)
    if job.ground.fixing is not Fixing.THROUGH_BOLT:
        held = stated(
            job.strength.stated.anchor_tension,
            Measure.FORCE,
            case.system,
            document=job.strength.stated.document,
            what="the pull the screw's thread holds in this steel (strength.stated.anchor_tension)",
        )
        yield Outcome(code="thread", check=check("thread of the fixings in the steel", pull, held))


def tread_link(job: Job, support: Support, case: LoadCase) -> Outcome:
    """The tread, landing or stringer that receives the moment: stated by whoever answers for it, or not verified."""
    able = stated(
        job.strength.stated.tread_moment,
        Measure.MOMENT,
        case.system,
        document=job.strength.stated.document,
        what="the moment the tread, landing or stringer can take from a plate, by whoever answers for the stair "
        "(strength.stated.tread_moment)",
    )
    return Outcome(code="tread", check=check("tread or landing under the plate", moment_on(support, case), able))
