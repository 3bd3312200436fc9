"""A load that is lighter because of the building is enough for that building alone, and asks which one it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from railgen.checks import Check, Verdict
from railgen.checks.strength.inputs import load_checks
from railgen.checks.strength.loads import load_names, rail_load
from railgen.job.rules_model import Occupancy, RulesInput, Surroundings
from railgen.job.strength_model import StrengthInput
from tests.checks.rules.scenes import even


def checked(occupancy: Occupancy | None, *loads: str) -> list[Check]:
    site = Surroundings(occupancy=occupancy)
    job = replace(even(), rules=RulesInput(surroundings=site), strength=StrengthInput(loads=loads))
    return list(load_checks(job))


_ONE, _TWO, _ROW = Occupancy.ONE_FAMILY, Occupancy.TWO_FAMILY, Occupancy.TOWNHOUSE
_HOUSES = {_ONE, _TWO, _ROW}
ENOUGH = [
    ("ibc-dwelling", {_ONE, _TWO}),  # IBC 2021, 1607.9.1, exception 1, read: one- and two-family dwellings
    ("ibc-not-public", {Occupancy.NOT_PUBLIC}),  # the same, exception 2, read: I-3, F, H, S, not open to the public
    ("irc", _HOUSES),  # IRC 2021, R101.2, from memory: those and townhouses of at most three storeys
    ("en-a", {*_HOUSES, Occupancy.FLAT}),  # EN 1991-1-1, Table 6.1, from memory: A, areas for living
    ("bs-dwelling", _HOUSES),  # BS 6180, Table 2 (i), read: within one dwelling; common stairs of flats are (ii)
    ("as-nzs-a", _HOUSES),  # AS/NZS 1170.1, Table 3.3, A, secondary: inside dwellings
]


@pytest.mark.parametrize(("load", "enough"), ENOUGH)
def test_a_load_of_one_kind_of_building_is_none_for_another(load: str, enough: set[Occupancy]) -> None:
    for occupancy in Occupancy:
        (check,) = checked(occupancy, load)
        assert check.where == load
        assert check.verdict is (Verdict.MEETS if occupancy in enough else Verdict.FAILS)
        assert bool(check.advice) is (occupancy not in enough)
    (check,) = checked(None, load)
    assert (check.verdict, check.missing) == (Verdict.CANNOT_SAY, "surroundings.occupancy")


@pytest.mark.parametrize(
    ("load", "occupancy", "instead"),
    [
        ("ibc-dwelling", Occupancy.FLAT, {"asce-7"}),
        ("irc", Occupancy.OTHER, {"asce-7"}),
        ("as-nzs-a", Occupancy.FLAT, {"as-nzs-c3", "as-nzs-c1", "as-nzs-c5"}),
    ],
)
def test_the_loads_that_would_be_enough_are_named(load: str, occupancy: Occupancy, instead: set[str]) -> None:
    (check,) = checked(occupancy, load)
    assert {name for name in load_names() if name in check.advice} == instead


def test_a_load_for_every_building_asks_nothing() -> None:
    assert checked(None, "asce-7", "osha", "bs-residential", "as-nzs-c3") == []


@pytest.mark.parametrize(("load", "line", "point"), [("as-nzs-c3", 0.75, 600), ("as-nzs-c1", 1.5, 1500)])
def test_areas_where_people_gather_have_a_point_load_too(load: str, line: float, point: float) -> None:
    """AS/NZS 1170.1:2002, Table 3.3, read in a secondary text: C3 0.75 kN/m, 0.6 kN; C1/C2 1.5 kN/m, 1.5 kN.

    At posts nearer than 0.6 / 0.75 = 0.80 m the point load of C3 is the greater.
    """
    found = rail_load(load)
    assert (found.line, found.point) == (line, point)
    assert rail_load("as-nzs-c5").point == rail_load("as-nzs-c1").point  # none was found: no less than there
    c3 = rail_load("as-nzs-c3")
    assert (c3.point or 0) / (c3.line or 1) == pytest.approx(800)
