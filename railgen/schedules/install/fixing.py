"""The steps that fix the base plates: drilling what they stand on, and the anchors, in concrete as approved."""

from __future__ import annotations

from railgen.catalogue.models import AnchorHold, Substrate
from railgen.members.pieces import FittingRole
from railgen.schedules.install import cautions
from railgen.schedules.install.facts import Facts
from railgen.schedules.install.model import Caution, Phase, Step

__all__ = ["drill_surface", "fix_plates"]

_BLANK = "________"


def drill_surface(facts: Facts) -> Step:
    """Holes for the anchors, and how each is cleaned."""
    anchor, count = facts.job.hardware.anchor, facts.count(FittingRole.ANCHOR)
    concrete, bonded = _concrete(facts), _bonded(facts)
    deep = "right through" if facts.job.bolted_through else f"{facts.length(anchor.hole_depth)} deep"
    do = [
        f"{count} holes, {facts.drill(anchor.hole_diameter)}, {deep}",
        f"the surface is {facts.job.posts.substrate.value}, says the job: if it is not, stop",
        "hold the drill square to the surface",
    ]
    if concrete:
        do.append("drill to the diameter and depth of the anchor's approval: where it differs from these, stop and ask")
    if bonded:
        do += [
            "clean each hole in the order its approval says: commonly blow, brush, blow, from the bottom up",
            "hold the vacuum cleaner's nozzle at the mouth of the hole all the while: no dust gets out",
            f"as the approval says: blow {_BLANK} times, brush {_BLANK} times, blow {_BLANK} times",
        ]
    else:
        do.append("clean each hole" + (" as the anchor's approval says" if concrete else ""))
    cleaning = ("hole brush", "hole pump") if bonded else ()
    return Step(
        number=0,
        phase=Phase.SITE,
        title="Drill the anchor holes",
        do=tuple(do),
        tools=(
            "drill with depth stop",
            f"bit {facts.drill(anchor.hole_diameter)}",
            "HEPA vacuum cleaner" if concrete else "vacuum cleaner",
            *cleaning,
            "detector",
        ),
        cautions=(cautions.SERVICES, _substrate(facts), cautions.EYES, cautions.HEARING),
        hold="Every hole is clean to its bottom, and as deep as it should be." if concrete else "",
    )


def fix_plates(facts: Facts) -> Step:
    """The plates and their anchors; in concrete with resin, cure, torque and pull test, and room to note them."""
    anchor, steel = facts.job.hardware.anchor, facts.job.posts.substrate is Substrate.STEEL
    concrete, bonded = _concrete(facts), _bonded(facts)
    do: list[str] = []
    if bonded:
        do += [
            f"resin within its date, for this temperature: product {_BLANK}, batch {_BLANK}, concrete {_BLANK} degrees",
            "throw away what comes from each new nozzle until it has one colour",
            "fill each hole from the bottom, then turn the anchor in to its full depth, through the plate",
            f"cure time, as its maker says, written down here: {_BLANK}; until then nobody touches anchor or plate",
        ]
    if concrete:
        do += [
            f"{anchor.id}: tighten crosswise with a torque wrench, torque as its maker says: {_BLANK}",
            "pack a plate where its socket is not plumb, before it is tightened" if not bonded else _PACK_FIRST,
            "have a share of the anchors proved by a pull test, share and load as the engineer or the approval says",
            "enter installation, torque and pull test in the hand-over record",
        ]
    else:
        do.append(f"{anchor.id}: tighten as its maker says, crosswise; pack a plate where its socket is not plumb")
    if facts.job.bolted_through:
        do.append("from below: a washer and a locking nut on each bolt, held while the head is tightened")
    if steel:
        do.append("put a non-conductive pad under each plate")
    hold = "Sockets plumb, plates tight, no crack in the surface around a fixing"
    return Step(
        number=0,
        phase=Phase.SITE,
        title="Fix the base plates",
        do=tuple(do),
        pieces=facts.pieces(FittingRole.SUPPORT, FittingRole.ANCHOR),
        tools=(
            *(("resin gun and nozzles", "thermometer", "clock") if bonded else ()),
            "torque wrench" if concrete else "torque wrench or driver",
            "level",
            "shims of stainless steel or plastic",
        ),
        cautions=(*((cautions.RESIN,) if bonded else ()), *((_substrate(facts),) if steel else ())),
        hold=f"{hold}, cure time over, pull test passed." if bonded else f"{hold}{_TESTED if concrete else ''}.",
    )


_PACK_FIRST = "pack a plate where its socket is not plumb while the resin is soft; tighten only after the cure time"
_TESTED = ", pull test passed"


def _concrete(facts: Facts) -> bool:
    return facts.job.posts.substrate is Substrate.CONCRETE


def _bonded(facts: Facts) -> bool:
    return _concrete(facts) and facts.job.hardware.anchor.hold is AnchorHold.BONDED


def _substrate(facts: Facts) -> Caution:
    return {
        Substrate.CONCRETE: cautions.CONCRETE,
        Substrate.TIMBER: cautions.TIMBER,
        Substrate.STEEL: cautions.GALVANIC,
    }[facts.job.posts.substrate]
