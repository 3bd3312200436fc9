"""Level ends of the rail, in closed forms of our own (mm): where they bend, how high they are, what is cut."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest

from railgen import ImpossibleError, fabricate, solve
from railgen.job.model import EndFinish, Job, PostLengths, RailEnd, Side, Turn
from railgen.layout import Layout
from railgen.layout.model import PostRole
from railgen.members.pieces import Tube
from tests.jobs import flight, hardware, job, landing, mirrored, setbacks, worked_job

NEAR = 0.01
RADIUS, TAKE_OFF, PLATE, FIXED, PIVOT, CENTRE = 48.3 / 2, 31.0, 8.0, 82.0, 38.0, 36.0  # tests.jobs.hardware
SPIGOT, CAP_SPIGOT, HOLE, SCREW, GAP = 45.0, 20.0, 22.0, 3.0, 1.0  # half the saddle's hole spacing, half an M6
EVEN = ((178.0,) * 7, (250.0,) * 6)
UNEVEN = ((171.0, 180.0, 176.0, 183.0, 178.0, 174.0), (252.0, 248.0, 251.0, 246.0, 253.0))


def level(length: float, finish: EndFinish = EndFinish.CAP) -> RailEnd:
    return RailEnd(finish=finish, overhang=100, level=length)


def two_posts(
    risers: Sequence[float], goings: Sequence[float], treads: tuple[int, int], least: float
) -> tuple[float, float, float]:
    """Slope, intercept and post length of a rail on two equal posts at setback 125: a line through two saddles."""
    xs = [sum(goings[:k]) for k in range(len(risers))]
    zs = [sum(risers[: k + 1]) for k in range(len(risers))]
    a, b = (tread - 1 for tread in treads)
    slope = (zs[b] - zs[a]) / (xs[b] - xs[a])
    long = math.hypot(1.0, slope)
    flat = zs[a] + PLATE + PIVOT + CENTRE * long - slope * (xs[a] + 125)
    lowest = min(flat + slope * x + RADIUS * long - z for x, z in zip(xs, zs, strict=True))
    length = math.ceil(least - lowest)
    return slope, flat + length, length


@pytest.mark.parametrize("side", list(Side))
@pytest.mark.parametrize("steps", [EVEN, UNEVEN], ids=["even", "uneven"])
def test_the_bend_the_level_tube_and_its_post_in_closed_form(
    steps: tuple[tuple[float, ...], tuple[float, ...]], side: Side
) -> None:
    risers, goings = steps
    last = len(risers)
    bottom = RailEnd(finish=EndFinish.CAP, overhang=300)
    made = job([flight(1, risers, goings, posts=(1, 4, last))], top=level(305), bottom=bottom, side=side)
    layout = solve(made)
    slope, intercept, length = two_posts(risers, goings, (1, 4), 900)
    pitch = math.atan(slope)
    run, rise, across = sum(goings), sum(risers), -60 if side is Side.LEFT else 60 - 900
    node_x = run + RADIUS * math.tan(pitch / 2)
    node_z = intercept + slope * node_x
    over_nosing = intercept + slope * run + RADIUS / math.cos(pitch) - rise
    (node,) = layout.nodes
    assert tuple(node.at) == pytest.approx((node_x, across, node_z), abs=NEAR)
    assert node.deflection == pytest.approx(pitch, abs=1e-9)
    assert node.post is None
    pitched, extension = layout.rails
    assert tuple(extension.end) == pytest.approx((run + 305, across, node_z), abs=NEAR)
    assert extension.length == pytest.approx(run + 305 - node_x - TAKE_OFF, abs=NEAR)
    assert node_z + RADIUS - rise == pytest.approx(over_nosing, abs=NEAR)  # its top is as high as over the nosing
    foot = 125 - CENTRE * math.sin(pitch)
    assert pitched.length == pytest.approx((node_x - foot) / math.cos(pitch) + 300 - TAKE_OFF, abs=NEAR)
    assert [h.height for h in layout.heights][-1] == pytest.approx(over_nosing, abs=NEAR)
    assert all(h.height is not None and h.height >= 900 for h in layout.heights)
    assert [post.role for post in layout.posts] == [PostRole.PITCHED, PostRole.PITCHED, PostRole.LEVEL]
    assert [post.length for post in layout.posts] == pytest.approx(
        [length, length, over_nosing - RADIUS - FIXED - PLATE], abs=NEAR
    )
    assert tuple(layout.posts[-1].base) == pytest.approx((run + 125, across, rise), abs=NEAR)
    assert [round(foot.distance, 6) for foot in extension.feet] == [round(run + 125 - node_x - TAKE_OFF, 6)]
    fabrication = fabricate(made, layout)
    counted = {mark: fabrication.quantities()[mark] for mark in ("elbow-tongue", "elbow-fork", "fixed", "cap")}
    assert counted == {"elbow-tongue": 1, "elbow-fork": 1, "fixed": 1, "cap": 2}
    cuts = [piece.length for piece in fabrication.pieces.values() if isinstance(piece, Tube)]
    assert sorted(cuts) == pytest.approx(
        sorted({length, layout.posts[-1].length, extension.length, pitched.length}), abs=NEAR
    )


@pytest.mark.parametrize("turn", [Turn.STRAIGHT, Turn.HALF_LEFT])
def test_two_flights_end_level_over_the_last_nosing(turn: Turn) -> None:
    """The upper flight's line through its landing node (82 over the post) and its saddle on tread 3, iterated here."""
    layout = solve(worked_job(turn, top=level(305)))
    risers, goings = (178, 180, 177, 182, 179, 178), (252, 249, 250, 251, 248)
    slope = 0.7
    for _ in range(100):
        rise = sum(risers[:3]) + PIVOT + CENTRE * math.hypot(1, slope) - FIXED
        slope = rise / (sum(goings[:2]) + 125 - (125 - 250))
    pitch = math.atan(slope)
    node = layout.nodes[-1]
    upper = layout.survey.flights[1]
    assert (node.at - upper.foot).dot(upper.ahead) == pytest.approx(
        sum(goings) + RADIUS * math.tan(pitch / 2), abs=NEAR
    )
    assert layout.rails[-2].pitch == pytest.approx(pitch, abs=1e-7)
    last = layout.heights[-1].height
    assert last is not None
    assert node.at.z + RADIUS - upper.top_level == pytest.approx(last, abs=NEAR)
    assert (layout.rails[-1].end - upper.foot).dot(upper.ahead) == pytest.approx(sum(goings) + 305, abs=NEAR)
    assert layout.rails[-1].direction.dot(upper.ahead) == pytest.approx(1)
    assert [post.id for post in layout.posts if post.role is PostRole.LEVEL] == ["F2-P3"]


def test_cut_posts_follow_the_nosings_and_the_level_part_is_as_high() -> None:
    layout = solve(job([flight(1, *EVEN, posts=(1, 4, 7))], top=level(305), lengths=PostLengths.CUT))
    (node,) = layout.nodes
    assert node.at.z == pytest.approx(7 * 178 + 900 - RADIUS, abs=NEAR)
    assert layout.posts[-1].length == pytest.approx(900 - RADIUS - FIXED - PLATE, abs=NEAR)


@pytest.mark.parametrize("lengths", list(PostLengths))
@pytest.mark.parametrize("first", [160.0, 178.0, 190.0])
@pytest.mark.parametrize("posts", [(0, 3, 7), (1, 4, 7)])
def test_a_level_part_at_the_bottom_bends_over_projected_nosing_0_and_is_high_enough(
    posts: tuple[int, ...], first: float, lengths: PostLengths
) -> None:
    """A first riser of 160 among 178 lifts the floor by 18 towards the rail, and the whole rail with it."""
    risers = (first, *(178.0,) * 6)
    layout = solve(job([flight(1, risers, EVEN[1], posts=posts)], bottom=level(300), lengths=lengths))
    pitch = layout.rails[1].pitch
    (node,) = layout.nodes
    assert node.at.x == pytest.approx(-250 + RADIUS * math.tan(pitch / 2), abs=NEAR)
    assert layout.rails[0].start.x == pytest.approx(-550, abs=NEAR)
    assert layout.rails[0].length == pytest.approx(300 + RADIUS * math.tan(pitch / 2) - TAKE_OFF, abs=NEAR)
    assert layout.rails[0].feet == ()
    tops = [node.at.z + RADIUS, *(h.height for h in layout.heights if h.height is not None)]
    assert len(tops) == 8
    assert 900 - 1e-6 <= min(tops) < (901 if lengths is PostLengths.EQUAL else 900 + 1e-6)
    if posts[0] == 1:  # the rail is parallel to the nosings
        assert tops[0] - tops[1] == pytest.approx(first - 178, abs=1e-6)
    if lengths is PostLengths.CUT:
        assert (tops[0] == pytest.approx(900, abs=1e-6)) == (first <= 178)


@pytest.mark.parametrize("posts", [(1, 4), (1, 6)])
def test_without_a_post_on_the_floor_the_level_part_stands_free(posts: tuple[int, ...]) -> None:
    made = job([flight(1, *EVEN, posts=posts)], top=level(305))
    if posts == (1, 4):
        with pytest.raises(ImpossibleError, match=r"stand out 1\d{3}\.\d mm beyond the post on tread 4") as refusal:
            solve(made)
        assert "a post on tread 7, under the level part, or one on tread 6" in str(refusal.value)
        return
    layout = solve(made)
    assert [at.tread for at in setbacks(layout)] == [1, 6]
    assert layout.rails[-1].feet == ()
    beside = solve(job([flight(1, *EVEN, posts=(*posts, 7))], top=level(305)))
    assert layout.rails[-1].length == pytest.approx(beside.rails[-1].length, abs=1e-9)
    assert layout.nodes[0].at.z == pytest.approx(beside.nodes[0].at.z, abs=1e-9)


def codes(made: Job) -> set[str]:
    try:
        solve(made)
    except ImpossibleError as error:
        return {fault.code for fault in error.faults}
    return set()


@pytest.mark.parametrize(
    ("posts", "room"),
    [
        ((1, 4, 7), SPIGOT + SCREW + GAP + HOLE + HOLE + GAP + SCREW + CAP_SPIGOT),
        ((1, 6), SPIGOT + CAP_SPIGOT + 2.0),
    ],
)
def test_a_level_part_has_room_for_what_sits_in_it(posts: tuple[int, ...], room: float) -> None:
    least = RADIUS * math.tan(math.atan2(178, 250) / 2) + TAKE_OFF + room
    made = job([flight(1, *EVEN, posts=posts)], top=level(least + 1e-4))
    assert codes(made) == set()
    short = replace(made, rail=replace(made.rail, top=level(least - 1e-4)))
    with pytest.raises(ImpossibleError, match=rf"at least {math.ceil(10 * least) / 10:.1f} mm") as refusal:
        solve(short)
    assert [fault.code for fault in refusal.value.faults] == ["level-extension"]


def test_the_post_under_it_moves_clear_of_the_elbow_or_the_end_within_its_band() -> None:
    further = RADIUS * math.tan(math.atan2(178, 250) / 2)
    near = job([flight(1, *EVEN, posts=(1, 4, 7))], top=level(305), setback=90)
    assert setbacks(solve(near))[-1].distance == pytest.approx(
        further + TAKE_OFF + SPIGOT + SCREW + GAP + HOLE, abs=1e-6
    )
    far = replace(near, rail=replace(near.rail, top=level(160)), posts=replace(near.posts, setback=125))
    assert setbacks(solve(far))[-1].distance == pytest.approx(160 - CAP_SPIGOT - SCREW - GAP - HOLE, abs=1e-6)
    assert codes(replace(near, posts=replace(near.posts, setback_max=100))) == {"setback-band"}


def test_what_cannot_be_bent_or_held_is_refused() -> None:
    made = job([flight(1, *EVEN, posts=(1, 7))], top=level(305))
    with pytest.raises(ImpossibleError, match="needs two supports below the bend") as refusal:
        solve(made)
    assert "at least two treads from 0 to 6" in str(refusal.value)
    stiff = hardware()
    stiff = replace(stiff, elbow=stiff.elbow.model_copy(update={"hinge_min": math.radians(40)}))
    assert codes(job([flight(1, *EVEN)], top=level(305), fittings=stiff)) == {"elbow-range"}


@pytest.mark.parametrize(("risers", "treads"), [(2, [0, 1, 2]), (3, [1, 2, 3]), (4, [1, 2, 4])])
def test_short_flights_find_two_posts_below_the_bend(risers: int, treads: list[int]) -> None:
    layout = solve(job([flight(1, (178,) * risers, (250,) * (risers - 1))], top=level(305)))
    assert [at.tread for at in setbacks(layout)] == treads


def test_posts_left_to_the_tool_keep_their_spans_round_the_bend() -> None:
    layout = solve(job([flight(1, *EVEN)], top=level(305), largest_span=950))
    assert [at.tread for at in setbacks(layout)] == [1, 4, 7]
    assert max(span.length for span in layout.spans) <= 950
    pitch = math.atan2(178, 250)
    foot, further = 750 + 125 - CENTRE * math.sin(pitch), RADIUS * math.tan(pitch / 2)
    round_the_bend = (1500 + further - foot) / math.cos(pitch) + 125 - further
    assert layout.spans[-1].length == pytest.approx(round_the_bend, abs=NEAR)


@pytest.mark.parametrize("side", list(Side))
def test_left_and_right_mirror_a_rail_with_two_level_ends(side: Side) -> None:
    made = worked_job(top=level(305, EndFinish.SCROLL), bottom=level(300), side=side)
    made = replace(made, flights=(replace(made.flights[0], posts=(0, 4, 7)), made.flights[1]))
    one, other = solve(made), solve(mirrored(made))

    def told(layout: Layout, sign: float) -> Sequence[tuple[float, ...]]:
        return [(n.at.x, sign * (n.at.y + 450), n.at.z, n.deflection, sign * n.normal.y) for n in layout.nodes] + [
            (r.length, r.pitch, 0, 0, 0) for r in layout.rails
        ]

    for a, b in zip(told(one, 1), told(other, -1), strict=True):
        assert a[:4] == pytest.approx(b[:4], abs=1e-6)


def test_a_landing_of_any_kind_below_leaves_the_end_alone() -> None:
    """The end's own numbers do not depend on how the rail comes up to the last flight."""
    flights = [flight(1, *EVEN, posts=(1, 4, 7)), flight(2, *EVEN, posts=(0, 4, 6, 7))]
    ends = []
    for turn, length in ((Turn.STRAIGHT, 1000.0), (Turn.QUARTER_RIGHT, 900.0), (Turn.HALF_RIGHT, 1000.0)):
        between = landing(1, turn, length, well=100 if turn is Turn.HALF_RIGHT else 0)
        layout = solve(job(flights, [between], top=level(305), lengths=PostLengths.CUT))
        top = layout.rails[-1]
        ends.append((top.length, layout.posts[-1].length, top.start.z - layout.survey.flights[1].top_level))
    assert ends[1] == pytest.approx(ends[0], abs=1e-6)
    assert ends[2][0] == pytest.approx(ends[0][0], abs=1e-6)
