"""Whether the rail runs into what the job says stands around it: closed forms, own numbers."""

from __future__ import annotations

import math
import random
import re
from dataclasses import replace

import pytest

from railgen.checks import Check, Verdict
from railgen.checks.obstacles import obstacle_checks
from railgen.geometry import Vec
from railgen.geometry.bodies import Block, HalfSpace, Round
from railgen.job.model import EndFinish, Job, Origin, RailEnd, Side, Turn
from railgen.job.rules_model import Beside, Guarding, Nearby, RulesInput, Surroundings
from railgen.job.strength_model import Ground
from railgen.layout import solve
from railgen.layout.bodies import rail_bodies
from railgen.survey import survey_job
from tests.jobs import flight, hardware, job, landing, mirrored

RISER, GOING = 166.0, 284.0
PITCH = math.atan2(RISER, GOING)
RADIUS, CAP, BEND = 24.15, 4.0, 60.0  # of the tube, the cap, the scroll
LEAN = 36 * math.sin(PITCH)  # from over the post's axis down to the foot of its saddle


def made(
    site: Surroundings,
    *,
    top: RailEnd = RailEnd(finish=EndFinish.CAP, overhang=100),
    bottom: RailEnd = RailEnd(finish=EndFinish.CAP, overhang=140),
    **options: object,
) -> Job:
    given = job([flight(1, [RISER] * 5, [GOING] * 4, design_going=GOING)], top=top, bottom=bottom, **options)  # type: ignore[arg-type]
    return replace(given, rules=RulesInput(surroundings=site))


def checked(given: Job) -> list[Check]:
    return list(obstacle_checks(given, solve(given, survey_job(given))))


def level(length: float, finish: EndFinish = EndFinish.CAP) -> RailEnd:
    return RailEnd(finish=finish, overhang=150, level=length)


@pytest.mark.parametrize(("finish", "fitting"), [(EndFinish.CAP, CAP), (EndFinish.SCROLL, BEND + RADIUS)])
def test_a_level_end_was_carried_through_the_wall_the_job_states(finish: EndFinish, fitting: float) -> None:
    """A cap adds its thickness, a scroll the radius of its curl and half the bar."""
    (check,) = checked(made(Surroundings(floor_top=310.0), top=level(340, finish)))
    assert (check.verdict, check.where) == (Verdict.FAILS, "top end")
    assert check.value == pytest.approx(310 - 340 - fitting, abs=1e-3)
    shorter = math.floor(10 * (310 - fitting) + 1e-6) / 10
    assert f"rail.top.level_extension of {shorter:g} mm clears it" in check.advice
    (mended,) = checked(made(Surroundings(floor_top=310.0), top=level(shorter, finish)))
    assert mended.verdict is Verdict.MEETS
    assert not mended.advice


@pytest.mark.parametrize("side", list(Side))
def test_a_pitched_end_was_carried_through_the_wall_the_job_states(side: Side) -> None:
    """At the bottom from the riser, an overhang of 20 mm behind the nosing; a square-cut end leads by its lower rim."""
    bottom = RailEnd(finish=EndFinish.CAP, overhang=430)
    (check,) = checked(made(Surroundings(floor_bottom=240.0), bottom=bottom, side=side))
    reach = (430 + CAP) * math.cos(PITCH) + RADIUS * math.sin(PITCH) - (125 - LEAN)
    assert (check.verdict, check.where) == (Verdict.FAILS, "bottom end")
    assert check.value == pytest.approx(240 - 20 - reach, abs=1e-6)
    shorter = math.floor(10 * (430 + (240 - 20 - reach) / math.cos(PITCH))) / 10
    assert f"a rail.bottom.overhang of {shorter:g} mm clears it" in check.advice
    bottom = RailEnd(finish=EndFinish.CAP, overhang=shorter)
    (mended,) = checked(made(Surroundings(floor_bottom=240.0), bottom=bottom, side=side))
    assert mended.verdict is Verdict.MEETS


def test_what_is_not_known_is_not_asked() -> None:
    assert checked(made(Surroundings())) == []
    assert checked(made(Surroundings(beside=Beside.WALL))) == []
    assert checked(made(Surroundings(beside=Beside.OPEN, wall_distance=0.0))) == []


def test_an_end_too_short_for_any_length_of_its_kind_is_told_another() -> None:
    """No elbow, cap and tube between them fit in 80 mm; a pitched end reaches as far from its post on tread 4."""
    flights = [flight(1, [RISER] * 5, [GOING] * 4, design_going=GOING, posts=(1, 2, 4))]
    given = replace(job(flights, top=level(320)), rules=RulesInput(surroundings=Surroundings(floor_top=80.0)))
    (check,) = checked(given)
    assert check.value == pytest.approx(80 - 324, abs=1e-6)
    room = GOING + 80 - (125 - LEAN)
    longest = math.floor(10 * (room / math.cos(PITCH) - CAP - RADIUS * math.tan(PITCH))) / 10
    assert f"a rail.top.overhang of {longest:g} mm in place of rail.top.level_extension clears it" in check.advice


def test_a_floor_typed_in_metres_is_asked_about() -> None:
    (check,) = checked(made(Surroundings(floor_top=1.4)))
    assert check.verdict is Verdict.FAILS
    assert "surroundings.floor_top in another unit? this looks like metres" in check.advice
    assert "1.4 m is 1400 mm" in check.advice
    (check,) = checked(made(Surroundings(floor_top=120.0), top=level(340)))
    assert "unit" not in check.advice


def test_a_post_on_the_floor_that_stands_in_the_wall_is_seen() -> None:
    """Its cover reaches 54 mm past its axis, at a setback of 125; the rail ends before it."""
    given = made(Surroundings(floor_top=160.0), top=RailEnd(finish=EndFinish.OPEN, overhang=40), largest_span=3000)
    (check,) = checked(given)
    assert check.value == pytest.approx(160 - 125 - 54, abs=1e-6)
    assert "the cover of post F1-P2" in check.formula
    assert "stair[0].posts = [1, 4], with a rail.top.overhang of" in check.advice
    assert check.advice.endswith("clears it")
    found = re.search(r"overhang of ([0-9.]+) mm", check.advice)
    assert found
    moved = replace(given.flights[0], posts=(1, 4))
    end = RailEnd(finish=EndFinish.OPEN, overhang=float(found[1]))
    (mended,) = checked(replace(given, flights=(moved,), rail=replace(given.rail, top=end)))
    assert mended.verdict is Verdict.MEETS


@pytest.mark.parametrize(
    ("floor", "verdict"), [(200.0, Verdict.FAILS), (215.0, Verdict.CANNOT_SAY), (400.0, Verdict.MEETS)]
)
def test_a_riser_behind_a_nosing_that_nobody_typed_is_no_measurement(floor: float, verdict: Verdict) -> None:
    """The end reaches 202.3 mm past the nosing: with no overhang the floor does, with 100 mm it must be longer."""
    bottom = RailEnd(finish=EndFinish.CAP, overhang=340)
    reach = (340 + CAP) * math.cos(PITCH) + RADIUS * math.sin(PITCH) - (125 - LEAN)
    assert reach == pytest.approx(202.3, abs=0.1)
    given = made(Surroundings(floor_bottom=floor), bottom=bottom)
    (check,) = checked(replace(given, origins={"stair[0].nosing_overhang": Origin.DEFAULT}))
    assert check.verdict is verdict
    assert bool(check.missing) == (verdict is Verdict.CANNOT_SAY)


def test_the_lower_flight_of_a_half_turn_lies_beyond_the_floor_at_the_top_and_hits_nothing() -> None:
    """The last flight goes back over the first, whose foot is further on than the floor at the top."""
    flights = [
        flight(1, [RISER] * 9, [GOING] * 8, design_going=GOING),
        flight(2, [RISER] * 4, [GOING] * 3, design_going=GOING),
    ]
    given = job(flights, [landing(1, Turn.HALF_LEFT, 900, well=120)])
    given = replace(given, rules=RulesInput(surroundings=Surroundings(floor_top=600.0, floor_bottom=900.0)))
    assert [check.verdict for check in checked(given)] == [Verdict.MEETS] * 2
    values = [check.value for check in checked(given)]
    assert [check.value for check in checked(mirrored(given))] == pytest.approx(values, abs=1e-9)


@pytest.mark.parametrize("site", [{"beside": Beside.WALL}, {"guarding": Guarding.SEPARATE}])
@pytest.mark.parametrize("side", list(Side))
def test_a_tube_thicker_than_its_plate_reaches_into_the_wall_beside(site: dict[str, object], side: Side) -> None:
    """Posts 21 mm from an edge that touches the wall, a tube of radius 24.15 mm, plates 40 mm square."""
    fittings = hardware()
    plate = fittings.base_plate.model_copy(
        update={"width": 40.0, "length": 40.0, "hole_spacing_width": 20.0, "hole_spacing_length": 20.0}
    )
    anchor = fittings.anchor.model_copy(update={"edge_distance": 5.0})
    fittings = replace(fittings, base_plate=plate, cover_plate=None, anchor=anchor)
    flights = [
        flight(1, [RISER] * 5, [GOING] * 4, design_going=GOING),
        flight(2, [RISER] * 4, [GOING] * 3, design_going=GOING),
    ]
    turn = Turn.HALF_RIGHT if side is Side.LEFT else Turn.HALF_LEFT
    given = job(flights, [landing(1, turn, 1000, well=100)], fittings=fittings, edge_offset=21, side=side)
    told = Surroundings.model_validate({"wall_distance": 0.0, "everywhere": True, **site})
    given = replace(given, rules=RulesInput(surroundings=told), ground=Ground(edge_side=40.0))
    checks = checked(given)
    assert [check.where for check in checks] == ["flight 1", "landing 1", "flight 2"]
    assert [check.value for check in checks] == pytest.approx([21 - RADIUS] * 3, abs=1e-6)
    assert {check.verdict for check in checks} == {Verdict.FAILS}
    assert all("posts.edge_offset = 24.2 mm clears it" in check.advice for check in checks)
    clear = told.model_copy(update={"wall_distance": 3.2})
    mended = checked(replace(given, rules=RulesInput(surroundings=clear)))
    assert {check.verdict for check in mended} == {Verdict.MEETS}
    flight_2 = replace(given.flights[1], surroundings=Nearby(beside=Beside.OPEN, guarding=Guarding.NONE))
    apart = replace(given, flights=(given.flights[0], flight_2))
    assert [check.where for check in checked(apart)] == ["flight 1", "landing 1"]


def test_a_body_reaches_as_far_as_the_furthest_of_its_points() -> None:
    """Against points spread over bars, boxes and a scroll's surface; a plane is as far as that."""
    chance = random.Random(11)  # noqa: S311 - not for secrets
    given = made(Surroundings(), top=level(340, EndFinish.SCROLL))
    rail = solve(given, survey_job(given)).rails[-1]
    scroll = [body for name, body in rail_bodies(given, rail) if name == "the scroll"]
    turn, out, under = given.hardware.end_scroll.turn, rail.direction, rail.left.cross(rail.direction)
    bar = Round(start=Vec(3, -8, 5), end=Vec(40, 22, 61), radius=9)
    box = Block(middle=Vec(5, 6, 7), halves=(Vec(3, 0, 0), Vec(0, 4, 0), Vec(0, 0, 9)))
    axis = (bar.end - bar.start).unit()
    side = axis.cross(Vec(0, 0, 1)).unit()
    rims = [
        at + (side * math.cos(a) + axis.cross(side) * math.sin(a)) * bar.radius
        for at in (bar.start, bar.end)
        for a in (math.radians(k) for k in range(360))
    ]
    corners = [box.middle + Vec(3, 0, 0) * i + Vec(0, 4, 0) * j + Vec(0, 0, 9) * k
               for i in (-1, 1) for j in (-1, 1) for k in (-1, 1)]  # fmt: skip
    skin = []
    for k in range(201):
        a = turn * k / 200
        middle = rail.end + out * (BEND * math.sin(a)) + under * (BEND * (1 - math.cos(a)))
        outer = out * math.sin(a) - under * math.cos(a)  # from the curl's centre
        skin += [middle + (outer * math.cos(b) + rail.left * math.sin(b)) * RADIUS
                 for b in (math.radians(3 * n) for n in range(120))]  # fmt: skip
    tip = rail.end + out * (BEND * math.sin(turn)) + under * (BEND * (1 - math.cos(turn)))
    skin.append(tip + (out * math.cos(turn) + under * math.sin(turn)) * (0.4 * RADIUS))
    for _ in range(40):
        way = Vec(*(chance.gauss(0, 1) for _ in range(3))).unit()
        assert bar.reach(way) == pytest.approx(max(point.dot(way) for point in rims), abs=0.01)
        assert box.reach(way) == pytest.approx(max(point.dot(way) for point in corners), abs=1e-9)
        found = max(body.reach(way) for body in scroll)
        assert -0.25 <= found - max(point.dot(way) for point in skin) <= 1.5  # the dome bulges between rim and tip
        assert HalfSpace(at=way * 50, into=way).clear(bar) == pytest.approx(50 - bar.reach(way), abs=1e-9)
