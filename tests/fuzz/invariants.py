"""What holds of every job that is read and solved, and of every fault of one that is not."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from railgen.checks import Check, Verdict
from railgen.checks.table import checks_json
from railgen.errors import Fault
from railgen.job.model import Job
from railgen.layout import Layout
from railgen.layout.model import JointKind
from railgen.members import Fabrication
from railgen.members.pieces import StairBody, Tube
from railgen.schedules import cut_table, drill_table, layout_json
from tests.members.test_properties import joint_axes

__all__ = ["MOST_CHARACTERS", "broken", "poor"]

MOST_CHARACTERS = 2000
"""Of one fault, told in full."""

_HAIR = 1e-6  # mm


def broken(job: Job, layout: Layout, fabrication: Fabrication, checks: Sequence[Check]) -> Iterator[str]:
    """Every invariant that does not hold, in words."""
    yield from _take_offs(job, layout)
    yield from _posts(job, layout)
    yield from _tube_holes(fabrication)
    yield from _body_holes(fabrication)
    yield from _mates(fabrication)
    yield from _numbers(job, layout, fabrication, checks)
    yield from _verdicts(checks)


def poor(faults: Sequence[Fault]) -> Iterator[str]:
    """What is wrong with the faults of a refused job: each has code, place and words, short and safe to print."""
    if not faults:
        yield "refused without a fault"
    for fault in faults:
        if not (fault.code and fault.message and (fault.where or fault.file)):
            yield f"a fault without code, words or place: {fault!r}"
        if not str(fault).isprintable():
            yield f"a fault with characters that are not seen: {fault!r}"
        if len(str(fault)) > MOST_CHARACTERS:
            yield f"a fault of {len(str(fault))} characters [{fault.code}]"


def _take_offs(job: Job, layout: Layout) -> Iterator[str]:
    """A tube's end lies one take-off from its elbow's node; from node to node it is its length and both take-offs."""
    nodes, take_off = {node.id: node for node in layout.nodes}, job.hardware.elbow.take_off
    for rail in layout.rails:
        met = []
        for end, at in ((rail.start_end, rail.start), (rail.far_end, rail.end)):
            if end.kind is JointKind.ELBOW and end.node is not None:
                met.append(nodes[end.node].at)
                if abs((met[-1] - at).length - take_off) > _HAIR:
                    yield f"{rail.id} ends {(met[-1] - at).length} from {end.node}, take-off {take_off}"
        if len(met) == 2 and abs((met[1] - met[0]).length - 2 * take_off - rail.length) > _HAIR:
            yield f"{rail.id} is {rail.length} long between nodes {(met[1] - met[0]).length} apart"
        if not 0 < rail.length < math.inf:
            yield f"{rail.id} is {rail.length} long"
        for foot in rail.feet:
            if not 0 < foot.distance < rail.length:
                yield f"{rail.id}: the foot of {foot.post} lies at {foot.distance} of {rail.length}"


def _posts(job: Job, layout: Layout) -> Iterator[str]:
    for post in layout.posts:
        if not 0 < post.length < math.inf:
            yield f"{post.id} is {post.length} long"
    for height in layout.heights:
        if height.height is not None and height.height < job.rail.least_height - _HAIR:
            yield f"{height.height} over nosing {height.nosing} of flight {height.flight}"
    for span in layout.spans:
        if not span.length > 0:
            yield f"a span of {span.length}"


def _tube_holes(fabrication: Fabrication) -> Iterator[str]:
    """Whole holes on their tube, none in another."""
    for mark, piece in fabrication.pieces.items():
        for hole in piece.holes:
            if not (hole.diameter > 0 and hole.depth > 0):
                yield f"{mark} {hole.id}: diameter {hole.diameter}, depth {hole.depth}"
        if not isinstance(piece, Tube):
            continue
        for hole in piece.holes:
            if not hole.diameter / 2 < hole.distance < piece.length - hole.diameter / 2:
                yield f"{mark} {hole.id} at {hole.distance} of {piece.length}"
        for one, other in combinations(piece.holes, 2):
            around = abs((one.clock - other.clock + math.pi) % math.tau - math.pi) * piece.section.od / 2
            if math.hypot(one.distance - other.distance, around) < (one.diameter + other.diameter) / 2:
                yield f"{mark}: {one.id} and {other.id} run into each other"


def _body_holes(fabrication: Fabrication) -> Iterator[str]:
    """A hole in a tread or landing lies within it."""
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, StairBody):
            sides = [sorted(point[axis] for point in piece.outline) for axis in (0, 1)]
            for hole in piece.holes:
                if not all(
                    side[0] < at < side[-1] for side, at in zip(sides, (hole.point.x, hole.point.y), strict=True)
                ):
                    yield f"{mark} {hole.id} at {hole.point}"


def _mates(fabrication: Fabrication) -> Iterator[str]:
    for joint, ((point, axis), (other, direction)) in zip(fabrication.joints, joint_axes(fabrication), strict=True):
        off = (other - point).cross(axis).length
        if off >= 0.01 or axis.cross(direction).length > 1e-4:
            yield f"{joint.a} and {joint.b} are {off} apart"


def _numbers(job: Job, layout: Layout, fabrication: Fabrication, checks: Sequence[Check]) -> Iterator[str]:
    """What is written for machines holds finite numbers only."""
    texts = {
        "layout.json": layout_json(job, layout, fabrication),
        "checks.json": checks_json(checks, [*job.notes, *layout.notes]),
    }
    for name, text in texts.items():
        found: list[str] = []
        json.loads(text, parse_constant=found.append)
        yield from (f"{name} holds {word}" for word in found)
    for row in (*drill_table(fabrication).texts(), *cut_table(job, fabrication).texts()):
        if {"nan", "inf", "-inf"} & {cell.lower() for cell in row}:
            yield f"a schedule's row: {row}"


def _verdicts(checks: Sequence[Check]) -> Iterator[str]:
    """What is met lies within its bounds, and every bound is a number."""
    for check in checks:
        name = f"{check.code}, {check.where}: {check.value}"
        if check.value is not None and math.isnan(check.value):
            yield name
        if not all(bound is None or math.isfinite(bound) for bound in (check.least, check.most)):
            yield f"{name} between {check.least} and {check.most}"
        if check.verdict is Verdict.MEETS and check.value is not None:
            low = check.least is not None and check.value < check.least - _HAIR
            if low or (check.most is not None and check.value > check.most + _HAIR):
                yield f"{name} meets {check.least} to {check.most}"
