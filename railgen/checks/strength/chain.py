"""Every link from the rail to the ground, at every place, under every load a job names: the load that governs is told.

A link that cannot be told says so, as does one whose input is missing; a job without loads is not judged at all.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from railgen.checks.strength.concretelinks import concrete_links, concrete_system
from railgen.checks.strength.footing import Footing, footing, plate_links, reach_links, steel_links, suits, tread_link
from railgen.checks.strength.inputs import LoadCase, load_cases, part_steel
from railgen.checks.strength.link import Link, governed
from railgen.checks.strength.materials import Steel
from railgen.checks.strength.postlinks import Outcome, post_links
from railgen.checks.strength.raillinks import bay_links, elbow_links, overhang_links, sway, sway_links
from railgen.checks.strength.result import Demand
from railgen.checks.strength.supports import Support, bays, beyond, edges, supports
from railgen.checks.strength.timberlinks import timber_links
from railgen.job.model import Job
from railgen.job.strength_model import DesignSystem, GroundKind
from railgen.layout.model import Layout

__all__ = ["strength_links"]

_Found = dict[tuple[str, str], list[tuple[LoadCase, Outcome]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Steels:
    tube: Steel | None
    plate: Steel | None


def strength_links(
    job: Job, layout: Layout, *, base: bool = True, above: bool = True, posts: Collection[str] = ()
) -> tuple[Link, ...]:
    """Every link of the chain, each under the load that governs it; none where the job names no load.

    ``base``: with the plates and what holds them, of the ``posts`` named or of all; ``above``: with what stands on
    them. Raises InputError for a load that is not there.
    """
    found: _Found = {}
    steels = _Steels(tube=part_steel(job.strength.tube), plate=part_steel(job.strength.plate))
    held = supports(job, layout)
    feet = {support.post.id: footing(job, edges(job, layout, support.post)) for support in held}
    for case in load_cases(job.strength):
        told = [*(_above(job, layout, held, case, steels) if above else ())]
        for support in held if base else ():
            if posts and support.post.id not in posts:
                continue
            told += (
                (f"post {support.post.id}", one) for one in _base(job, support, feet[support.post.id], case, steels)
            )
        for where, outcome in told:
            found.setdefault((outcome.code, where), []).append((case, outcome))
    order: dict[str, int] = {}
    for code, _ in found:
        order.setdefault(code, len(order))
    return tuple(
        governed(code, where, [(case.under(one.by) if one.by else case, one.check) for case, one in found[code, where]])
        for code, where in sorted(found, key=lambda key: order[key[0]])
    )


def _above(
    job: Job, layout: Layout, held: tuple[Support, ...], case: LoadCase, steels: _Steels
) -> Iterator[tuple[str, Outcome]]:
    sways = {support.post.id: sway(job, support, case, steels.tube) for support in held}
    along = bays(layout, held)
    for bay in along:
        ends = (sways[bay.span.from_post], sways[bay.span.to_post])
        for outcome in bay_links(job, bay, case, steels.tube, ends):
            yield f"{bay.span.from_post} to {bay.span.to_post}", outcome
    for support in held:
        where = f"post {support.post.id}"
        for outcome in _post(job, support, case, steels, sways[support.post.id]):
            yield where, outcome
        for outcome in sway_links(job, support, sways[support.post.id]):
            yield where, outcome
    for node in layout.nodes:
        beside = [bay for bay in along if node.post in (bay.span.from_post, bay.span.to_post)] or list(along)
        for outcome in elbow_links(job, node, beside, case, steels.tube, beyond(layout, node)):
            yield f"elbow {node.id}", outcome


def _post(job: Job, support: Support, case: LoadCase, steels: _Steels, swayed: Demand) -> Iterator[Outcome]:
    yield from overhang_links(job, support, case, steels.tube, swayed)
    yield from post_links(job, support, case, steels.tube, steels.plate)


def _base(job: Job, support: Support, foot: Footing, case: LoadCase, steels: _Steels) -> Iterator[Outcome]:
    yield from plate_links(job, foot, support, case, steels.plate)
    yield from reach_links(job, foot)
    if not suits(job, foot):
        pass  # said above
    elif foot.bearing is GroundKind.TIMBER:
        for outcome in timber_links(job, foot, support, case, steels.plate):
            yield replace(outcome, by=DesignSystem.ASD)
    elif foot.bearing is GroundKind.CONCRETE:
        for outcome in concrete_links(job, foot, support, case):
            yield replace(outcome, by=concrete_system(case.system.id))
    elif foot.bearing is GroundKind.STEEL:
        yield from steel_links(job, foot, support, case)
    yield tread_link(job, support, case)
