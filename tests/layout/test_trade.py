"""Facts of the trade, common practice without a source, and closed forms of the turns."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from railgen import ImpossibleError, solve
from railgen.job.model import CornerJoint, Job, PostLengths, Side, Turn
from railgen.layout.lines import Station, equal_post_line
from railgen.layout.model import PostRole
from railgen.survey import surface_at
from tests.jobs import flight, hardware, job, landing, setbacks, worked_job

EVEN = ((178.0,) * 7, (250.0,) * 6)


def test_an_even_flight_keeps_its_setbacks_and_its_rail_parallel_to_the_pitch_line() -> None:
    """Common practice: on an even flight whose saddles are all alike, equal setbacks give equal posts."""
    layout = solve(job([flight(1, *EVEN, posts=(1, 4, 7))]))
    assert [at.move for at in setbacks(layout)] == pytest.approx([0, 0, 0], abs=1e-9)
    assert layout.rails[0].pitch == pytest.approx(math.atan2(178, 250), abs=1e-12)
    found = [h.height for h in layout.heights]
    assert found == pytest.approx([found[0]] * 7, abs=1e-9)


def test_moving_one_base_plate_within_its_tread_changes_the_angle_of_the_rail() -> None:
    """Common practice: the usual remedy where risers differ. Two posts: slope is rise over what is left of the run."""

    def slope(second: float) -> float:
        places = [
            Station(tread=1, x=0.0, level=176.0, nominal=125.0, held=None, role=PostRole.PITCHED),
            Station(tread=4, x=749.0, level=718.0, nominal=second, held=None, role=PostRole.PITCHED),
        ]
        return equal_post_line(places, hardware(), 0.6, "flight 1").slope

    assert slope(125.0) == pytest.approx(542 / 749)
    assert slope(135.0) == pytest.approx(542 / 759)


@pytest.mark.parametrize(("steps", "posts"), [(7, 2), (8, 3), (9, 3)])
def test_an_intermediate_post_comes_in_once_two_posts_are_more_than_two_metres_apart(steps: int, posts: int) -> None:
    """Common practice, a layout habit and not strength. Posts on treads 1 and N stand (N-1) pitch lengths apart."""
    pitch_length = math.hypot(178.0, 250.0)
    assert (posts == 3) == ((steps - 1) * pitch_length > 2000)
    layout = solve(job([flight(1, (178.0,) * steps, (250.0,) * (steps - 1))], largest_span=2000))
    assert len(layout.posts) == posts
    assert max(span.length for span in layout.spans) <= 2000


def test_an_intermediate_post_need_not_stand_at_mid_flight() -> None:
    """Common practice."""
    layout = solve(
        job([flight(1, (176, 181, 178, 183, 177, 180, 179), (251, 248, 250, 253, 249, 250), posts=(1, 3, 7))])
    )
    assert [at.tread for at in setbacks(layout)] == [1, 3, 7]


@pytest.mark.parametrize(("od", "wall"), [(42.4, 2.0), (48.3, 2.0), (50.8, 1.651)])
@pytest.mark.parametrize("length", [900.0, 1000.0, 1437.5])
def test_a_level_rail_between_hinged_elbows_is_the_clear_distance_plus_fifteen(
    od: float, wall: float, length: float
) -> None:
    """Common practice: straight-on landing, level rail between two posts with a hinged elbow over each."""
    flights = [flight(1, (165.0,) * 6, (260.0,) * 5, posts=(1, 6)), flight(2, (165.0,) * 6, (260.0,) * 5, posts=(0, 6))]
    layout = solve(job(flights, [landing(1, Turn.STRAIGHT, length)], fittings=hardware(od, wall, close=True)))
    (first,) = [post for post in layout.posts if post.setback and (post.setback.flight, post.setback.tread) == (1, 6)]
    (second,) = [post for post in layout.posts if post.setback and post.setback.tread == 0]
    clear = (second.base - first.base).length - od
    level = next(rail for rail in layout.rails if rail.flight is None)
    assert level.length == pytest.approx(clear + 15.0, abs=1e-6)


def test_an_inner_corner_meets_in_one_compound_elbow_where_offset_and_setback_are_half_the_going() -> None:
    """e = s = G/2: the pitch lines meet, and cos(deflection) = sin^2(pitch) for equal pitches."""
    flights = [flight(1, *EVEN, posts=(1, 4, 7)), flight(2, *EVEN, posts=(0, 3, 6))]
    layout = solve(job(flights, [landing(1, Turn.QUARTER_LEFT, 900)], edge_offset=125, largest_span=3000))
    assert len(layout.nodes) == 1
    pitch1, pitch2 = (rail.pitch for rail in layout.rails)
    assert math.cos(layout.nodes[0].deflection) == pytest.approx(math.sin(pitch1) * math.sin(pitch2), abs=1e-9)
    # what is left to move comes from the elbow saddle's fixed height alone: 82 against 38 + 36/cos(pitch)
    gap = 82 - (38 + 36 / math.cos(pitch1))
    assert max(abs(at.move) for at in setbacks(layout)) < abs(gap) / math.tan(pitch1) + 1e-9


def test_an_inner_corner_that_cannot_meet_is_refused_with_its_mismatch() -> None:
    """R - 2 e tan(pitch): 178 - 2 * 60 * 0.712 = 92.56 mm."""
    flights = [flight(1, *EVEN, posts=(1, 4, 7)), flight(2, *EVEN, posts=(0, 3, 6))]
    with pytest.raises(ImpossibleError, match=r"miss each other by 92\.6 mm") as refusal:
        solve(job(flights, [landing(1, Turn.QUARTER_LEFT, 900)], band=(120, 130)))
    assert {fault.code for fault in refusal.value.faults} == {"corner-mismatch"}
    accepted = landing(1, Turn.QUARTER_LEFT, 900, corner=CornerJoint.CLIMB)
    with pytest.raises(ImpossibleError) as refusal:
        solve(job(flights, [accepted], band=(120, 130)))  # no room to take it up
    assert {fault.code for fault in refusal.value.faults} == {"setback-band"}


def inner_turns(e: float = 64, *offsets: float, **options: object) -> Job:
    """Even flights round two inner corners: R 168, G 272, tan(pitch) 0.6176."""
    flights = [flight(number, [168] * 6, [272] * 5, design_going=272) for number in (1, 2, 3)]
    corner = options.pop("corner", CornerJoint.AUTO)
    assert isinstance(corner, CornerJoint)
    turns = [
        landing(number, Turn.QUARTER_LEFT, 900, upper_offset=u, corner=corner)
        for number, u in zip((1, 2), offsets or (0, 0), strict=True)
    ]
    return job(flights, turns, edge_offset=e, largest_span=2500, **options)  # type: ignore[arg-type]


@pytest.mark.parametrize("lengths", list(PostLengths))
def test_a_rail_climbed_by_the_mismatch_of_each_inner_corner_unseen(lengths: PostLengths) -> None:
    """R - 2 e tan(pitch) = 168 - 2 * 64 * 168 / 272 = 88.9 mm; closed by e = G/2 = 136, or u = G - 2e = 144.

    Equal posts stand as far behind the nosings as behind the corner: at a setback of e.
    """
    with pytest.raises(ImpossibleError) as refusal:
        solve(inner_turns(lengths=lengths))
    assert [(fault.code, fault.where) for fault in refusal.value.faults] == [
        ("corner-mismatch", "landing 1"),
        ("corner-mismatch", "landing 2"),
    ]
    for fault in refusal.value.faults:
        assert "88.9 mm" in fault.message
        assert "posts.edge_offset = 136 mm closes it" in fault.hint
        assert "stair[1].upper_offset = 144 mm and stair[3].upper_offset = 144 mm closes it" in fault.hint
    for mended in (
        inner_turns(136, lengths=lengths, setback=136),
        inner_turns(64, 144, 144, lengths=lengths, setback=64, band=(60, 180)),
    ):
        layout = solve(mended)
        assert layout.notes == ()
        found = [at.height for at in layout.heights if at.height is not None]
        # with equal posts the elbow saddle's height over its post asks for a little tilt, 82 against 38 + 36/cos(pitch)
        assert max(found) - min(found) < (1e-6 if lengths is PostLengths.CUT else 3)


def test_a_climb_that_the_job_accepts_is_told() -> None:
    """The lowest flight is raised by both corners, the middle one by one."""
    layout = solve(inner_turns(lengths=PostLengths.CUT, corner=CornerJoint.CLIMB))
    told = " ".join(layout.notes)
    assert told.count("miss each other by 88.9 mm at the inner corner, and the rail climbs by as much") == 2
    assert "flight 1: to meet the other flights' rails, its own runs 177.9 mm higher" in told
    assert "flight 2: to meet the other flights' rails, its own runs 88.9 mm higher" in told
    assert "flight 3" not in told


def test_what_closes_a_corner_of_uneven_flights_was_tried() -> None:
    """Whatever the values are, typed as they were told they close it."""
    turn = [landing(1, Turn.QUARTER_LEFT, 900)]
    flights = [
        flight(1, (171, 166, 174, 169, 172), (266, 271, 263, 274), design_going=268),
        flight(2, (165, 173, 168, 170, 175, 167), (275, 262, 270, 268, 265), design_going=268),
    ]
    given = job(flights, turn, edge_offset=71, lengths=PostLengths.CUT)
    with pytest.raises(ImpossibleError) as refusal:
        solve(given)
    (fault,) = refusal.value.faults
    offset, upper = (
        float(found[1])
        for key in ("edge_offset", "upper_offset")
        if (found := re.search(rf"{key} = ([0-9.]+) mm", fault.hint))
    )
    assert fault.hint.count("closes it") == 2
    for mended in (
        replace(given, posts=replace(given.posts, edge_offset=offset)),
        replace(given, landings=(replace(turn[0], upper_offset=upper),)),
    ):
        assert min(at.height for at in solve(mended).heights if at.height) == pytest.approx(900, abs=0.1)


def test_a_way_to_close_a_corner_that_meets_with_something_else_says_so() -> None:
    """e = G/2 = 136 would put the plate, half of it 54 mm, 10 mm off a landing 180 mm long."""
    flights = [flight(number, [168] * 6, [272] * 5, design_going=272, width=180) for number in (1, 2)]
    with pytest.raises(ImpossibleError) as refusal:
        solve(job(flights, [landing(1, Turn.QUARTER_LEFT, 180)], edge_offset=64, largest_span=2500))
    (fault,) = refusal.value.faults
    assert (
        "posts.edge_offset = 136 mm would close it and leave this: flight 1, tread 6: the plate reaches past"
        in fault.hint
    )


def test_a_rise_piece_too_short_for_its_elbows_names_what_closes_the_corner() -> None:
    with pytest.raises(ImpossibleError) as refusal:
        solve(inner_turns(corner=CornerJoint.RISE_PIECE))
    faults = [fault for fault in refusal.value.faults if fault.where == "landing 1"]
    assert [fault.code for fault in faults] == ["rise-too-short"]
    assert 'with stair[1].corner = "auto", posts.edge_offset = 136 mm closes it' in faults[0].hint
    assert "tube-too-short" not in {fault.code for fault in refusal.value.faults}


def test_a_rise_piece_joins_what_the_corner_leaves_apart() -> None:
    """Two elbows and an upright: as long as the levels' difference less two take-offs.

    Upper node: the even upper flight's own centreline, 57 mm beyond its projected start, in closed form.
    """
    fittings = hardware()
    fittings = replace(fittings, elbow=fittings.elbow.model_copy(update={"spigot_length": 12, "screw_distance": 6}))
    flights = [flight(1, *EVEN, posts=(1, 4, 6)), flight(2, *EVEN, posts=(1, 4, 7))]
    between = landing(1, Turn.QUARTER_LEFT, 900, corner=CornerJoint.RISE_PIECE)
    layout = solve(job(flights, [between], edge_offset=57, fittings=fittings))
    upright = next(rail for rail in layout.rails if rail.flight is None)
    lower, upper = layout.nodes
    assert upright.direction.z == pytest.approx(1.0)
    assert upright.length == pytest.approx(upper.at.z - lower.at.z - 62.0, abs=1e-9)
    assert layout.post_length is not None
    slope, level = 178 / 250, 7 * 178.0
    over_first_post = level + 178 + 8 + layout.post_length + 38 + 36 * math.hypot(1, slope)
    assert upper.at.z == pytest.approx(over_first_post - slope * (125 + 57), abs=1e-6)
    assert upper.at.z - lower.at.z == pytest.approx(178 - 2 * 57 * slope, abs=1e-6)  # R - 2 e tan(pitch)
    corner = layout.post("L1-C1")
    assert (upper.post, lower.post) == (None, corner.id)
    assert corner.length == pytest.approx(lower.at.z - 82 - 8 - level, abs=1e-9)
    assert upper.deflection == pytest.approx(math.pi / 2 - math.atan(slope), abs=1e-9)


def test_a_square_half_turn_shares_its_setbacks_between_the_landing_posts() -> None:
    """The joining rail is square to the flights where the setbacks sum to the going plus the riser offset."""
    layout = solve(worked_job(square=True))
    on_landing = [post.setback for post in layout.posts if str(post.surface) == "LANDING-1"]
    assert sum(at.distance for at in on_landing if at is not None) == pytest.approx(250.0, abs=1e-6)
    level = next(rail for rail in layout.rails if rail.flight is None)
    assert abs(level.direction.x) < 1e-9
    assert [math.degrees(node.deflection) for node in layout.nodes] == pytest.approx([90.0, 90.0], abs=1e-6)


def test_a_joining_rail_out_of_square_is_noted_with_what_holds_it_square() -> None:
    """Out of square: what the joining rail's ends differ by along the flights, from its direction and node distance."""
    even = worked_job()
    made = replace(even, landings=tuple(replace(each, upper_offset=40) for each in even.landings))
    skewed = solve(made)
    level = next(rail for rail in skewed.rails if rail.flight is None)
    first, second = skewed.nodes
    out = abs((second.at - first.at).x)
    assert out == pytest.approx(abs(level.direction.x) * (second.at - first.at).length, abs=1e-9)
    assert out > 5
    (note,) = skewed.notes
    assert f"runs {out:.1f} mm out of square" in note
    assert note.endswith("stair[1].square = true holds it square")
    assert solve(even).notes == ()  # it is 1 mm out
    squared = solve(replace(made, landings=tuple(replace(each, square=True) for each in made.landings)))
    assert squared.notes == ()
    found = [at.distance for at in setbacks(skewed)]
    band = replace(made.posts, setback_min=min(found) - 1e-6, setback_max=max(found) + 1e-6)
    (note,) = solve(replace(made, posts=band)).notes
    assert "cannot be held square (stair[1].square = true)" in note


def test_the_outer_side_of_a_half_turn_goes_round_two_corner_posts() -> None:
    layout = solve(worked_job(side=Side.RIGHT))
    corners = [post for post in layout.posts if post.flight is None]
    assert [tuple(post.base) for post in corners] == [(2341.0, -840.0, 1254.0), (2341.0, 960.0, 1254.0)]
    level = [rail for rail in layout.rails if rail.flight is None]
    assert [node.deflection for node in layout.nodes[1:3]] == pytest.approx([math.pi / 2] * 2)
    assert level[1].length == pytest.approx(1800.0 - 62.0)


def test_a_post_over_the_nosing_or_into_the_riser_is_refused_with_the_number() -> None:
    with pytest.raises(ImpossibleError) as over:
        solve(job([flight(1, *EVEN, posts=(1, 7))], setback=40, band=(30, 180)))
    assert {"plate-over-nosing"} <= {fault.code for fault in over.value.faults}
    assert "by 14 mm" in str(over.value)  # half of the 108 mm cover less 40
    with pytest.raises(ImpossibleError) as into:
        solve(job([flight(1, *EVEN, posts=(1, 7))], setback=230, band=(30, 240)))
    assert {"plate-into-riser", "post-into-nosing"} <= {fault.code for fault in into.value.faults}


def test_a_long_span_between_given_posts_does_not_crowd_the_flights_left_to_the_tool() -> None:
    """Flight 1's posts are given 4 treads apart (1228 mm); flight 2 is chosen to spans of at most 1000 mm."""
    flights = [flight(1, *EVEN, posts=(1, 5, 7)), flight(2, *EVEN)]
    layout = solve(job(flights, [landing(1, Turn.STRAIGHT, 1000)], largest_span=1000))
    chosen = [at.tread for at in setbacks(layout) if at.flight == 2]
    assert chosen[0] == 0
    assert len(chosen) == 4  # 7 pitches of 306.9 mm in bays of at most 3


@pytest.mark.parametrize("side", list(Side))
def test_a_point_outside_the_edge_was_told_to_be_as_far_inside(side: Side) -> None:
    """Common practice: an offset from an edge has a sign, since a post may also hang beside the stair."""
    first = solve(job([flight(1, *EVEN)], side=side)).survey.flights[0]
    edge = first.at(0.0, first.across(side, 0.0), 0.0)
    outwards = side.outwards(first.left)
    assert first.inside(side, edge - outwards * 64) == pytest.approx(64)
    assert first.inside(side, edge + outwards * 64) == pytest.approx(-64)


def tower(count: int, *, band: tuple[float, float] = (70, 180)) -> Job:
    """Flights back and forth whose riser offset puts every joining rail out of square."""
    flights = [flight(number, *EVEN) for number in range(1, count + 1)]
    turns = [landing(number, Turn.HALF_LEFT, 900, well=120, upper_offset=40) for number in range(1, count)]
    return job(flights, turns, band=band)


@pytest.mark.parametrize("band", [(70.0, 180.0), (124.0, 126.0)])
def test_skewed_landings_are_not_solved_again_by_the_square_of_their_number(
    monkeypatch: pytest.MonkeyPatch, band: tuple[float, float]
) -> None:
    """Seven flights took 77 s: each skewed landing was solved again, and in that every other one."""
    from railgen.layout import skew

    solved = []
    one = skew.solve
    monkeypatch.setattr(skew, "solve", lambda job, survey: solved.append(len(job.flights)) or one(job, survey))
    for count in (2, 3, 7, 20):
        solved.clear()
        notes = solve(tower(count, band=band)).notes
        assert [note.split(":")[0] for note in notes] == [f"landing {number}" for number in range(1, count)]
        assert 1 <= len(solved) <= min(count, 9)
        wide = band[0] == 70.0
        assert all("holds it square" in note for note in notes) is wide
        assert any("cannot be held square" in note for note in notes) is not wide
        assert sum("not tried" in note for note in notes) == (0 if wide else max(0, count - 1 - 8))


def test_a_landing_is_one_surface_from_below_and_from_above() -> None:
    """Two flights count it as their last tread and as tread 0; the names are those of the schedules."""
    made = job([flight(1, *EVEN), flight(2, *EVEN)], [landing(1, Turn.STRAIGHT, 1000)])
    assert surface_at(made, 1, 7) == surface_at(made, 2, 0)
    names = [str(surface_at(made, number, tread)) for number in (1, 2) for tread in (0, 1, 7)]
    assert names == ["FLOOR-BOTTOM", "F1-T1", "LANDING-1", "LANDING-1", "F2-T1", "FLOOR-TOP"]
    on = [str(post.surface) for post in solve(made).posts]
    assert on.count("LANDING-1") == 2  # each flight's own


def test_equal_posts_that_tilt_a_rail_between_corners_say_so() -> None:
    """u = G - 2e = 144 closes the corner, but the corner's post stands e = 64 behind it and the others 125: 38 mm."""
    told = solve(inner_turns(64, 144, 144)).notes
    assert any("flight 1: the rail's height over the steps differs by" in note for note in told), told
    assert solve(inner_turns(64, 144, 144, lengths=PostLengths.CUT)).notes == ()
