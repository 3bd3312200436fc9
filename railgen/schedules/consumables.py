"""What is used up on the way: estimates from the job's own counts (common practice), to be rounded to what is sold."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from railgen.catalogue.models import AnchorHold, EndCap, EndScroll, Substrate
from railgen.job.model import Job
from railgen.members import Fabrication
from railgen.members.pieces import Fitting, FittingRole, StairBody, Tube
from railgen.schedules.nesting import Nesting
from railgen.units import Dimensions, Figures

__all__ = ["Consumable", "consumables"]

_HOLES_A_BIT = 30
_HOLES_A_MASONRY_BIT = 20
_THREADS_A_TAP = 30
_CUTS_A_BLADE = 100
_ENDS_A_WHEEL = 20
_LOCK = 0.1  # ml of threadlocker on a screw
_SPILL = 2.0  # adhesive or resin used for each ml that stays in the gap
_HOLES_A_NOZZLE = 8
_HOLES_A_BRUSH = 50
_MM = Figures(style=Dimensions.MM)  # drills, bolts and washers are sold by mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumable:
    """Something used up; ``item`` is its name in the price list."""

    item: str
    description: str
    quantity: float
    unit: str


def consumables(job: Job, fabrication: Fabrication, nesting: Nesting) -> tuple[Consumable, ...]:
    """Blades, bits, taps, abrasives, adhesives, film and cleaner, each counted from what the job has."""
    return (
        *_workshop(fabrication, nesting),
        *_bits(job, fabrication),
        *_resin(job, fabrication),
        *_nuts(job, fabrication),
        *_liquids(job, fabrication),
        *_covering(job, fabrication),
    )


def _tubes(fabrication: Fabrication) -> Iterator[tuple[Tube, int]]:
    quantities = fabrication.quantities()
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, Tube):
            yield piece, quantities[mark]


def _fittings(fabrication: Fabrication, role: FittingRole) -> Iterator[tuple[Fitting, int]]:
    quantities = fabrication.quantities()
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, Fitting) and piece.kind.role is role:
            yield piece, quantities[mark]


def _begun(count: float, each: float) -> int:
    return math.ceil(count / each)


def _workshop(fabrication: Fabrication, nesting: Nesting) -> Iterator[Consumable]:
    cuts = sum(len(bar.cuts) + (bar.trim > 0) for bar in nesting.bars)
    yield Consumable(
        item="saw-blade",
        description="saw blade for stainless steel, never used on carbon steel",
        quantity=_begun(cuts, _CUTS_A_BLADE),
        unit="pc",
    )
    ends = 2 * sum(count for _, count in _tubes(fabrication))
    yield Consumable(
        item="deburring-wheel",
        description="deburring wheel for stainless steel, iron-free",
        quantity=_begun(ends, _ENDS_A_WHEEL),
        unit="pc",
    )


def _bits(job: Job, fabrication: Fabrication) -> Iterator[Consumable]:
    walls: Counter[float] = Counter()
    threads: Counter[str] = Counter()
    for tube, count in _tubes(fabrication):
        for hole in tube.holes:
            walls[hole.diameter] += count * hole.walls
            threads[hole.thread] += count if hole.thread else 0
    for diameter, count in sorted(walls.items()):
        yield Consumable(
            item=f"drill-{diameter:g}",
            description=f"cobalt drill bit {_MM.drill(diameter)} mm for stainless steel, {count} tube walls",
            quantity=_begun(count, _HOLES_A_BIT),
            unit="pc",
        )
    for thread, count in sorted(threads.items()):
        if count:
            yield Consumable(
                item=f"tap-{thread}",
                description=f"machine tap {thread} for stainless steel, {count} threads",
                quantity=_begun(count, _THREADS_A_TAP),
                unit="pc",
            )
    anchors = sum(len(body.holes) for body in fabrication.pieces.values() if isinstance(body, StairBody))
    anchor, substrate = job.hardware.anchor, job.posts.substrate
    if anchors:
        yield Consumable(
            item=f"drill-{substrate.value}-{anchor.hole_diameter:g}",
            description=f"drill bit {_MM.drill(anchor.hole_diameter)} mm for {substrate.value}, {anchors} holes "
            + ("right through" if job.bolted_through else f"{_MM.drill(anchor.hole_depth)} mm deep"),
            quantity=_begun(anchors, _HOLES_A_MASONRY_BIT),
            unit="pc",
        )


def _resin(job: Job, fabrication: Fabrication) -> Iterator[Consumable]:
    """What bonded anchors in concrete take: resin for the gap around them, and what cleans and fills their holes."""
    anchor = job.hardware.anchor
    holes = sum(count for _, count in _fittings(fabrication, FittingRole.ANCHOR))
    if not holes or job.posts.substrate is not Substrate.CONCRETE or anchor.hold is not AnchorHold.BONDED:
        return
    ring = math.pi / 4 * (anchor.hole_diameter**2 - anchor.diameter**2)
    yield Consumable(
        item="anchor-resin",
        description="anchor resin that the anchor's approval names, twice what the gaps hold",
        quantity=_tenths(holes * ring * anchor.hole_depth / 1000 * _SPILL),
        unit="ml",
    )
    yield Consumable(
        item="mixing-nozzle",
        description="mixing nozzle for the resin; one is lost with every pause longer than the resin's working time",
        quantity=_begun(holes, _HOLES_A_NOZZLE),
        unit="pc",
    )
    yield Consumable(
        item=f"hole-brush-{anchor.hole_diameter:g}",
        description=f"brush for holes of {_MM.drill(anchor.hole_diameter)} mm, as the anchor's approval says",
        quantity=_begun(holes, _HOLES_A_BRUSH),
        unit="pc",
    )
    yield Consumable(
        item="hole-pump", description="pump that blows out anchor holes, from their bottom", quantity=1, unit="pc"
    )


def _nuts(job: Job, fabrication: Fabrication) -> Iterator[Consumable]:
    """What bolts that go right through take from below."""
    bolts = sum(count for _, count in _fittings(fabrication, FittingRole.ANCHOR))
    if bolts and job.bolted_through:
        anchor, washer = job.hardware.anchor, job.ground.washer
        wide = "" if washer is None else f" of {_MM.drill(washer)} mm"
        yield Consumable(
            item="nut-and-washer",
            description=f"locking nut for a bolt of {_MM.drill(anchor.diameter)} mm and washer{wide}, stainless",
            quantity=bolts,
            unit="pc",
        )


def _liquids(job: Job, fabrication: Fabrication) -> Iterator[Consumable]:
    yield Consumable(
        item="cutting-fluid", description="cutting fluid for stainless steel, chlorine-free", quantity=1, unit="can"
    )
    gap = 0.0
    for piece, count in _fittings(fabrication, FittingRole.END):
        if isinstance(piece.item, EndCap | EndScroll):
            ring = math.pi / 4 * (job.hardware.tube.bore**2 - piece.item.spigot_od**2)
            gap += count * ring * piece.item.spigot_length / 1000
    if gap:
        yield Consumable(
            item="adhesive",
            description="metal adhesive for caps and scrolls, twice what the gaps hold",
            quantity=_tenths(gap * _SPILL),
            unit="ml",
        )
    screws = sum(count for _, count in _fittings(fabrication, FittingRole.SCREW))
    if screws:
        yield Consumable(
            item="threadlocker",
            description="threadlocker, medium strength",
            quantity=_tenths(screws * _LOCK),
            unit="ml",
        )


def _covering(job: Job, fabrication: Fabrication) -> Iterator[Consumable]:
    if job.posts.substrate is Substrate.STEEL:
        plates = sum(count for _, count in _fittings(fabrication, FittingRole.SUPPORT))
        yield Consumable(
            item="isolating-pad",
            description="non-conductive pad under a base plate, with sleeves and washers for its fixings",
            quantity=plates,
            unit="pc",
        )
    metres = sum(tube.length * count for tube, count in _tubes(fabrication)) / 1000
    yield Consumable(
        item="protective-film", description="protective film until hand-over", quantity=_tenths(metres), unit="m"
    )
    yield Consumable(
        item="stainless-cleaner",
        description="cleaner for stainless steel, chloride-free, and cloths",
        quantity=1,
        unit="set",
    )


def _tenths(value: float) -> float:
    return math.ceil(value * 10 - 1e-9) / 10
