"""What holds for every stair that solves: mating holes share an axis, left and right are mirror images."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from hypothesis import assume, given

from railgen import ImpossibleError, fabricate, solve
from railgen.geometry import Vec
from railgen.job.model import Job
from railgen.layout import Layout
from railgen.members import Fabrication
from railgen.members.pieces import Purpose, Tube, TubeHole
from tests.jobs import mirrored
from tests.strategies import stairs

Axis = tuple[Vec, Vec]


def built(job: Job) -> tuple[Layout, Fabrication]:
    try:
        layout = solve(job)
    except ImpossibleError:
        assume(False)
        raise
    return layout, fabricate(job, layout)


def tube_axis(place_origin: Vec, x: Vec, z: Vec, distance: float, clock: float) -> Axis:
    """Axis of a hole from the schedule's two numbers, worked out from scratch: the convention, not the program."""
    y = Vec(z.y * x.z - z.z * x.y, z.z * x.x - z.x * x.z, z.x * x.y - z.y * x.x)
    return place_origin + z * distance, x * math.cos(clock) + y * math.sin(clock)


def joint_axes(fabrication: Fabrication) -> Iterator[tuple[Axis, Axis]]:
    placed = {place.id: place for place in fabrication.placed}
    for joint in fabrication.joints:
        pair = []
        for occurrence, hole_id in (joint.a, joint.b):
            place = placed[occurrence]
            piece = fabrication.pieces[place.mark]
            hole = next(hole for hole in piece.holes if hole.id == hole_id)
            if isinstance(hole, TubeHole):
                frame = place.frame
                pair.append(tube_axis(frame.origin, frame.x, frame.z, hole.distance, hole.clock))
            else:
                pair.append((place.frame.point(hole.point), place.frame.direction(hole.axis)))
        yield pair[0], pair[1]


@given(stairs())
def test_mating_holes_share_one_axis_within_a_hundredth(job: Job) -> None:
    _, fabrication = built(job)
    for (point, axis), (other, other_axis) in joint_axes(fabrication):
        assert (other - point).cross(axis).length < 0.01
        assert axis.cross(other_axis).length < 1e-4  # 0.01 mm over 100 mm


@given(stairs())
def test_every_tube_hole_and_plate_fixing_mates_once_per_occurrence(job: Job) -> None:
    _, fabrication = built(job)
    wanted = sum(
        len(fabrication.pieces[place.mark].holes) for place in fabrication.placed if _is_tube(fabrication, place.mark)
    )
    mated = [end for joint in fabrication.joints for end in (joint.a, joint.b)]
    assert len(mated) == len(set(mated))
    tubes = {place.id for place in fabrication.placed if _is_tube(fabrication, place.mark)}
    assert sum(occurrence in tubes for occurrence, _ in mated) == wanted


def _is_tube(fabrication: Fabrication, mark: str) -> bool:
    return isinstance(fabrication.pieces[mark], Tube)


@given(stairs())
def test_swapping_left_and_right_mirrors_and_changes_nothing_else(job: Job) -> None:
    layout, fabrication = built(job)
    other_layout, other = built(mirrored(job))
    width = job.flights[0].width
    for post, twin in zip(layout.posts, other_layout.posts, strict=True):
        assert twin.length == pytest.approx(post.length, abs=1e-6)
        assert tuple(twin.base) == pytest.approx((post.base.x, -width - post.base.y, post.base.z), abs=1e-6)
    for node, image in zip(layout.nodes, other_layout.nodes, strict=True):
        assert image.deflection == pytest.approx(node.deflection, abs=1e-9)
    frames = {place.id: place for place in other.placed}
    for place in fabrication.placed:
        piece = fabrication.pieces[place.mark]
        if not isinstance(piece, Tube):
            continue
        twin_piece = other.pieces[frames[place.id].mark]
        assert isinstance(twin_piece, Tube)
        assert twin_piece.length == pytest.approx(piece.length, abs=1e-6)
        assert holes_of(twin_piece, mirror=True) == pytest.approx(holes_of(piece, mirror=False), abs=1e-5)


def holes_of(tube: Tube, *, mirror: bool) -> list[float]:
    """Distances and clock positions (degrees), clock c turned into 360 - c in a mirrored tube."""
    rows = []
    for hole in tube.holes:
        clock = math.degrees(hole.clock)
        clock = (360.0 - clock if mirror else clock) % 360.0
        rows.append((round(hole.distance, 4), round(clock, 5) % 360.0, hole.diameter))
    return [value for row in sorted(rows) for value in row]


@given(stairs())
def test_no_hole_is_nearer_to_a_tube_end_than_its_edge_distance(job: Job) -> None:
    _, fabrication = built(job)
    rivets, screws = job.hardware.rivets, job.hardware.screws
    for piece in fabrication.pieces.values():
        if not isinstance(piece, Tube):
            continue
        for hole in piece.holes:
            riveted = hole.purpose in (Purpose.SOCKET_RIVET, Purpose.HEAD_RIVET)
            least = rivets["rivet-3.2"].edge_distance if riveted else screws["screw-M6"].edge_distance
            assert least <= hole.distance <= piece.length - least


@given(stairs())
def test_neighbouring_tubes_meet_at_their_node(job: Job) -> None:
    layout, _ = built(job)
    take_off = job.hardware.elbow.take_off
    for rail, following, node in zip(layout.rails, layout.rails[1:], layout.nodes, strict=False):
        assert (rail.end + rail.direction * take_off - node.at).length < 1e-6
        assert (following.start - following.direction * take_off - node.at).length < 1e-6
        cos = rail.direction.dot(following.direction)
        assert math.cos(node.deflection) == pytest.approx(cos, abs=1e-9)


@given(stairs())
def test_a_level_end_is_as_high_as_the_rail_over_the_nosing_it_starts_at(job: Job) -> None:
    layout, _ = built(job)
    top, flight = layout.rails[-1], layout.survey.flights[-1]
    assert (job.rail.top.level is not None) == top.level_end
    assert (job.rail.bottom.level is not None) == layout.rails[0].level_end
    if job.rail.top.level is not None:
        assert abs(top.direction.z) < 1e-12
        assert (top.end - flight.foot).dot(flight.ahead) == pytest.approx(flight.xs[-1] + job.rail.top.level)
        height = top.end.z + job.hardware.tube.radius - flight.top_level
        assert height == pytest.approx(layout.heights[-1].height, abs=1e-6)
        assert height >= job.rail.least_height - 1e-6


@given(stairs())
def test_the_rail_is_high_enough_and_no_post_could_be_shorter(job: Job) -> None:
    layout, _ = built(job)
    found = [h.height for h in layout.heights if h.height is not None]
    if job.rail.bottom.level is not None:  # over the floor in front, which lies at 0
        found.append(layout.rails[0].start.z + job.hardware.tube.radius)
    least = job.rail.least_height
    assert all(height >= least - 1e-6 for height in found)
    if layout.post_length is not None:
        assert min(found) < least + 1.0  # posts come in whole millimetres
