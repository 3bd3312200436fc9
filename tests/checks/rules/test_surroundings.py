"""What lies beside a stair is told of each flight and landing and of both sides; what was not told passes nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from railgen.checks import Check, Verdict
from railgen.checks.rules import Kind, rule_checks
from railgen.job.model import Job
from railgen.job.rules_model import (
    Beside,
    Flank,
    Guarding,
    Nearby,
    Occupancy,
    OtherSide,
    RulesInput,
    Surroundings,
)
from railgen.job.strength_model import StrengthInput
from railgen.layout.model import Layout
from tests.checks.rules.scenes import COMPLETE, bare, even, two_flights

_MEETS, _FAILS, _CANNOT = Verdict.MEETS, Verdict.FAILS, Verdict.CANNOT_SAY


def told(
    job: Job, kind: Kind, rule_set: str, site: Surroundings, *, layout: Layout | None = None
) -> list[tuple[str, Verdict]]:
    return [(check.where, check.verdict) for check in checked(job, kind, rule_set, site, layout=layout)]


def checked(job: Job, kind: Kind, rule_set: str, site: Surroundings, *, layout: Layout | None = None) -> list[Check]:
    checks = rule_checks(job, layout or bare(job), RulesInput(sets=(rule_set,), surroundings=site))
    return [check for check in checks if check.code == f"rule-{kind.value}"]


def beside(job: Job, *places: Nearby | None) -> Job:
    """The job with what lies beside flight 1, landing 1, flight 2."""
    first, landing, second = (place or Nearby() for place in places)
    return replace(
        job,
        flights=(replace(job.flights[0], surroundings=first), replace(job.flights[1], surroundings=second)),
        landings=(replace(job.landings[0], surroundings=landing),),
    )


# Approved Document K 2013, 1.38 to 1.41, read: a guard where the drop is more than 600 mm. Here 1050 to the landing.


def test_a_wall_beside_one_flight_says_nothing_of_the_next() -> None:
    walled = Surroundings(beside=Beside.WALL, wall_distance=40.0, ground_level=0.0, other=Flank(beside=Beside.WALL))
    alone = checked(two_flights(), Kind.GUARD_FLIGHT, "uk-adk-2013-private", walled)
    assert [check.verdict for check in alone] == [_CANNOT] * 4
    assert alone[2].missing == "stair[2].surroundings.beside, or surroundings.everywhere = true"
    assert alone[3].missing == "stair[2].surroundings.other.beside, or surroundings.everywhere = true"
    told_of_one = beside(two_flights(), Nearby(beside=Beside.WALL, other=Flank(beside=Beside.WALL)), None, None)
    assert {where for where, _ in told(told_of_one, Kind.GUARD_FLIGHT, "uk-adk-2013-private", walled)} == {
        "flight 2",
        "flight 2, other side",
    }
    everywhere = walled.model_copy(update={"everywhere": True})
    for kind in (Kind.GUARD_FLIGHT, Kind.GUARD_LANDING):
        assert told(two_flights(), kind, "uk-adk-2013-private", everywhere) == []


def test_one_flight_has_one_wall() -> None:
    walled = Surroundings(beside=Beside.WALL, wall_distance=40.0, other=Flank(beside=Beside.WALL))
    assert told(even(), Kind.GUARD_FLIGHT, "uk-adk-2013-private", walled) == []


def test_an_open_flight_above_a_wall_wants_a_barrier_of_its_own() -> None:
    job = beside(
        two_flights(),
        Nearby(beside=Beside.WALL, wall_distance=40.0),
        Nearby(beside=Beside.OPEN, guarding=Guarding.NONE),
        Nearby(beside=Beside.OPEN, guarding=Guarding.SEPARATE, guard_height=880.0),
    )
    site = Surroundings(ground_level=0.0, other=Flank(beside=Beside.WALL), everywhere=True)
    assert told(job, Kind.GUARD_FLIGHT, "uk-adk-2013-private", site) == [("flight 2", _MEETS)]
    assert told(job, Kind.GUARD_LANDING, "uk-adk-2013-private", site) == [("landing 1", _FAILS)]
    heights = told(job, Kind.GUARD_HEIGHT_FLIGHT, "uk-adk-2013-private", site)  # 900 mm: Diagram 3.1, read
    assert heights == [(f"flight 2, nosing {n}", _FAILS) for n in range(1, 6)]


def test_clearance_is_told_of_each_wall_along_the_rail() -> None:
    # IRC 2021, R311.7.8.3, secondary: 1-1/2 in, 38.1 mm; the rail's face stands 62 - 24.15 = 37.85 mm in
    job = beside(
        replace(two_flights(), posts=replace(two_flights().posts, edge_offset=62.0)),
        Nearby(beside=Beside.WALL, wall_distance=0.2),
        Nearby(beside=Beside.OPEN, guarding=Guarding.NONE),
        Nearby(beside=Beside.WALL, wall_distance=0.3),
    )
    assert told(job, Kind.WALL_CLEARANCE, "us-irc-2021", Surroundings()) == [("flight 1", _FAILS), ("flight 2", _MEETS)]


@pytest.mark.parametrize(
    ("other", "rail", "verdict"),
    [
        (None, None, _CANNOT),
        (None, OtherSide.NONE, _CANNOT),
        (None, OtherSide.RAIL, _MEETS),
        (Beside.WALL, None, _MEETS),
        (Beside.OPEN, None, _CANNOT),
        (Beside.OPEN, OtherSide.NONE, _FAILS),
        (Beside.OPEN, OtherSide.RAIL, _MEETS),
    ],
)
def test_a_side_that_is_open_too_wants_a_handrail_too(
    other: Beside | None, rail: OtherSide | None, verdict: Verdict
) -> None:
    """29 CFR 1910.28(b)(11)(ii), Table D-2, as the agency reads it, secondary: one on each open side, at 900 mm too."""
    site = Surroundings(beside=Beside.OPEN, other_side=rail, other=Flank(beside=other))
    assert told(even(5, width=900.0), Kind.SIDES, "us-osha-1910", site) == [("flight 1", verdict)]


def test_the_barrier_of_the_other_side_is_judged_like_this_ones() -> None:
    # IRC 2021, R312.1.1 to R312.1.3, secondary: more than 30 in; 34 in and 4-3/8 in at a flight
    open_side = Flank(beside=Beside.OPEN, ground_level=-3000.0, guarding=Guarding.SEPARATE, guard_height=863.0)
    site = Surroundings(beside=Beside.WALL, wall_distance=40.0, other=open_side)
    heights = told(even(4), Kind.GUARD_HEIGHT_FLIGHT, "us-irc-2021", site)
    assert heights == [(f"flight 1, nosing {n}, other side", _FAILS) for n in (1, 2, 3)]
    (gap,) = checked(even(4), Kind.GUARD_OPENING_FLIGHT, "us-irc-2021", site)
    assert (gap.verdict, gap.missing) == (_CANNOT, "surroundings.other.guard_opening")
    mended = site.model_copy(
        update={"other": open_side.model_copy(update={"guard_height": 864.0, "guard_opening": 111.0})}
    )
    for kind in (Kind.GUARD_HEIGHT_FLIGHT, Kind.GUARD_OPENING_FLIGHT):
        assert {verdict for _, verdict in told(even(4), kind, "us-irc-2021", mended)} == {_MEETS}


def test_wide_steps_with_gaps_between_the_treads_are_no_stair_outside_a_dwelling() -> None:
    """Approved Document K 2013, 1.6 and 1.15 with Diagram 1.5, read: risers closed; at most 2 m between handrails."""
    site = COMPLETE.model_copy(update={"tread_gap": 80.0, "other_projection": 90.0})
    job = even(width=2400.0)
    assert told(job, Kind.TREAD_GAP, "uk-adk-2013-other", site) == [("stair", _FAILS)]
    assert told(job, Kind.TREAD_GAP, "uk-adk-2013-private", site) == [("stair", _MEETS)]  # 1.9, read: 100 mm
    (wide,) = checked(job, Kind.BETWEEN_RAILS, "uk-adk-2013-other", site)
    inner = job.posts.edge_offset + 48.3 / 2
    assert wide.verdict is _FAILS
    assert wide.value == pytest.approx(2400 - inner - 90)
    divided = site.model_copy(update={"middle_rails": 1})
    assert told(job, Kind.BETWEEN_RAILS, "uk-adk-2013-other", divided) == [("flight 1", _MEETS)]
    assert told(even(width=2000.0), Kind.BETWEEN_RAILS, "uk-adk-2013-other", site) == []


def test_external_steps_are_divided_before_indoor_stairs_are() -> None:
    """Approved Document M volume 2, 1.33, read: at most 1800 mm; a stair of 1900 mm indoors needs none (K, 1.15)."""
    job, site = even(width=1900.0 + 86.15), COMPLETE
    job = replace(job, posts=replace(job.posts, edge_offset=62.0))  # inner face 86.15 mm in: 1900 mm between
    assert told(job, Kind.BETWEEN_RAILS, "uk-adm2-2015-external", site) == [("flight 1", _FAILS)]
    assert told(job, Kind.BETWEEN_RAILS, "uk-adk-2013-other", site) == []


@pytest.mark.parametrize(("width", "verdict"), [(1523.9, _MEETS), (1524.1, _FAILS)])
def test_all_of_a_wide_american_stair_is_within_reach_of_a_rail(width: float, verdict: Verdict) -> None:
    """IBC, 1014.9, secondary: every part of the width within 30 in of a handrail, so 60 in between two."""
    job = even(width=width + 86.15)
    job = replace(job, posts=replace(job.posts, edge_offset=62.0))
    assert {v for _, v in told(job, Kind.BETWEEN_RAILS, "us-ibc-2021", COMPLETE)} <= {verdict}
    assert told(job, Kind.BETWEEN_RAILS, "us-ibc-2021", COMPLETE) or verdict is _MEETS


@pytest.mark.parametrize(("cover", "verdict"), [(99.6, _MEETS), (100.6, _FAILS)])
def test_plates_below_the_rail_count_where_the_text_says_so(cover: float, verdict: Verdict) -> None:
    """IBC 1014.8, secondary: 4-1/2 in at or below the handrail, 114.3 mm: plates of 100 mm reach it 64 mm in.

    IRC R311.7.8.2, secondary, names the handrail alone.
    """
    job = even()
    plate = job.hardware.base_plate.model_copy(update={"width": cover})
    hardware = replace(job.hardware, base_plate=plate, cover_plate=None)
    job = replace(job, hardware=hardware, posts=replace(job.posts, edge_offset=64.3))
    found = told(job, Kind.PROJECTION, "us-ibc-2021", COMPLETE)
    assert found == [("at the rail", _MEETS), ("at the base plates", verdict)]
    assert told(job, Kind.PROJECTION, "us-irc-2021", COMPLETE) == [("at the rail", _MEETS)]


@pytest.mark.parametrize(
    ("occupancy", "storeys", "height", "verdict"),
    [
        (Occupancy.ONE_FAMILY, 3, 914.5, _MEETS),
        (Occupancy.ONE_FAMILY, 3, 914.3, _FAILS),
        (Occupancy.ONE_FAMILY, 4, 914.5, _FAILS),  # above three storeys 42 in
        (Occupancy.ONE_FAMILY, 4, 1067.0, _MEETS),
        (Occupancy.FLAT, 2, 914.5, _FAILS),
        (Occupancy.FLAT, 2, 1067.0, _MEETS),
        (None, None, 914.3, _CANNOT),  # too low for every building, but which rule it breaks is not known
        (None, None, 1067.0, _MEETS),  # high enough for every building
        (Occupancy.ONE_FAMILY, None, 914.5, _CANNOT),
        (None, 2, 914.5, _CANNOT),
    ],
)
def test_36_in_are_enough_in_low_dwellings_alone(
    occupancy: Occupancy | None, storeys: int | None, height: float, verdict: Verdict
) -> None:
    """IBC 2018, 1015.3, secondary for 2021: 42 in; 36 in in Group R-3 of at most three storeys."""
    barrier = {"guard_height": height, "ground_level": -3000.0}
    other = COMPLETE.other.model_copy(update={"beside": Beside.WALL})
    site = COMPLETE.model_copy(
        update={**barrier, "occupancy": occupancy, "storeys": storeys, "other": other, "everywhere": True}
    )
    checks = checked(two_flights(), Kind.GUARD_HEIGHT_LANDING, "us-ibc-2021-dwelling", site)
    found = {check.verdict for check in checks}
    assert (_FAILS if _FAILS in found else _CANNOT if _CANNOT in found else _MEETS) is verdict
    if verdict is _CANNOT:
        missing = {check.missing for check in checks if check.missing}
        assert missing <= {"surroundings.occupancy", "surroundings.storeys"}


@pytest.mark.parametrize(
    ("occupancy", "load", "verdict"),
    [
        (Occupancy.ONE_FAMILY, "ibc-dwelling", _MEETS),
        (Occupancy.TWO_FAMILY, "ibc-dwelling", _MEETS),
        (Occupancy.FLAT, "ibc-dwelling", _FAILS),
        (Occupancy.FLAT, "asce-7", _MEETS),
        (None, "ibc-dwelling", _CANNOT),
        (None, "asce-7", _MEETS),  # enough for every building
    ],
)
def test_the_load_of_a_house_is_not_that_of_flats(occupancy: Occupancy | None, load: str, verdict: Verdict) -> None:
    """IBC 2021, 1607.9.1 and exception 1, read: 50 lb/ft or 200 lb; one- and two-family dwellings 200 lb alone."""
    job = replace(even(), strength=StrengthInput(loads=(load,)))
    site = COMPLETE.model_copy(update={"occupancy": occupancy})
    found = {verdict for _, verdict in told(job, Kind.LOADS, "us-ibc-2021-dwelling", site)}
    assert (_FAILS if _FAILS in found else _CANNOT if _CANNOT in found else _MEETS) is verdict
