"""The shipped catalogue: public sizes as published, demo fittings that go together with room to spare."""

from __future__ import annotations

import math
from itertools import product

import pytest

from railgen.catalogue.load import SHIPPED, Catalogue, load_catalogue
from railgen.catalogue.models import Elbow, ElbowSaddle, FittingSet, Substrate, TubeSection
from railgen.geometry import Vec

SETS = ["wide-48.3", "close-48.3", "wide-42.4", "close-42.4", "wide-2in", "close-2in"]


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


# EN 10219-2:2006, table of dimensions and sectional properties: mass per metre (kg/m), at 7850 kg/m3
EN_10219_MASS = {
    "33.7x3.2": 2.41,
    "42.4x2.0": 1.99,
    "42.4x2.6": 2.55,
    "42.4x3.2": 3.09,
    "48.3x2.0": 2.28,
    "48.3x2.6": 2.93,
    "48.3x3.2": 3.56,
    "60.3x2.0": 2.88,
    "60.3x3.2": 4.51,
}


@pytest.mark.parametrize(("ident", "mass"), EN_10219_MASS.items())
def test_a_metric_tube_weighs_what_the_standard_prints(catalogue: Catalogue, ident: str, mass: float) -> None:
    tube = catalogue.tube[ident]
    area = math.pi / 4 * (tube.od**2 - tube.bore**2)
    assert area * 1e-6 * 7850 == pytest.approx(mass, abs=0.005)


def test_a_metric_tubes_id_is_its_size(catalogue: Catalogue) -> None:
    metric = [tube for tube in catalogue.tube.values() if not tube.id.endswith("in")]
    assert len(metric) >= 13
    for tube in metric:
        assert tuple(map(float, tube.id.split("x"))) == (tube.od, tube.wall)


def test_an_inch_tubes_id_is_its_size_and_lies_within_astm_a554(catalogue: Catalogue) -> None:
    """ASTM A554: outside diameter up to 16 in, wall 0.020 in and over. 1 in is 25.4 mm exactly."""
    inch = [tube for tube in catalogue.tube.values() if tube.id.endswith("in")]
    assert len(inch) == 10
    for tube in inch:
        od, wall = map(float, tube.id.removesuffix("in").split("x"))
        assert (tube.od, tube.wall) == pytest.approx((od * 25.4, wall * 25.4), abs=1e-9)
        assert od <= 16
        assert wall >= 0.020


def test_stainless_densities_are_those_of_en_10088_1(catalogue: Catalogue) -> None:
    assert {ident: material.density for ident, material in catalogue.material.items()} == {
        "1.4301": 7900,
        "1.4404": 8000,
    }


def test_every_tube_and_material_says_where_its_size_comes_from(catalogue: Catalogue) -> None:
    assert all(tube.source for tube in catalogue.tube.values())
    assert all(material.source for material in catalogue.material.values())


def test_every_entry_has_an_id_of_its_own_and_a_description(catalogue: Catalogue) -> None:
    entries = [entry for _, kind in catalogue.kinds() for entry in kind.values()]
    assert len({entry.id for entry in entries}) == len(entries) >= 60
    assert all(entry.description for entry in entries)
    assert all(catalogue.find(entry.id) is not None for entry in entries)
    assert catalogue.find("no-such-thing") is None


def test_there_are_wide_and_close_sets_with_an_anchor_for_everything(catalogue: Catalogue) -> None:
    assert sorted(catalogue.set) == sorted(SETS)
    for chosen in catalogue.set.values():
        assert set(chosen.anchors) == set(Substrate)


@pytest.mark.parametrize("name", ["48.3", "42.4", "2in"])
def test_a_close_elbows_take_off_is_half_of_what_remains_after_15(catalogue: Catalogue, name: str) -> None:
    """Common practice straight on: the level rail is the clear distance between the posts and 15 mm."""
    chosen = catalogue.set[f"close-{name}"]
    od = catalogue.tube[chosen.post_tube].od
    assert catalogue.elbow[chosen.elbow].take_off == pytest.approx((od - 15) / 2, abs=1e-9)


def parts(catalogue: Catalogue, name: str) -> tuple[FittingSet, TubeSection, Elbow, ElbowSaddle]:
    chosen = catalogue.set[name]
    return (
        chosen,
        catalogue.tube[chosen.tube],
        catalogue.elbow[chosen.elbow],
        catalogue.elbow_saddle[chosen.elbow_saddle],
    )


def end_ring(tube: TubeSection, along: Vec, room: float, count: int = 72) -> list[Vec]:
    """Points on the rim of a tube's square end, ``room`` from the meeting point at the origin."""
    side = Vec(0, 1, 0)
    up = along.cross(side)
    turns = [math.tau * k / count for k in range(count)]
    return [along * room + (side * math.cos(a) + up * math.sin(a)) * tube.radius for a in turns]


@pytest.mark.parametrize("name", SETS)
def test_two_tubes_at_an_elbows_largest_hinge_do_not_touch(catalogue: Catalogue, name: str) -> None:
    """By the points of both rims, not by the formula that the catalogue is held to."""
    _, tube, elbow, _ = parts(catalogue, name)
    room = elbow.take_off - elbow.collar_thickness
    level, bent = Vec(-1, 0, 0), Vec(math.cos(elbow.hinge_max), 0, math.sin(elbow.hinge_max))
    rims = end_ring(tube, level, room), end_ring(tube, bent, room)
    assert min((a - b).length for a, b in product(*rims)) > 0.1
    bisector = (bent - level).unit()  # square to the plane that parts the two
    assert max(point.dot(bisector) for point in rims[0]) < 0 < min(point.dot(bisector) for point in rims[1])


@pytest.mark.parametrize("name", SETS)
def test_the_steepest_tube_and_the_level_one_clear_the_stem(catalogue: Catalogue, name: str) -> None:
    """The pitched tube comes up from below at -x, the level one leaves along +x, the stem stands between."""
    _, tube, elbow, saddle = parts(catalogue, name)
    room = elbow.take_off - elbow.collar_thickness
    down = Vec(-math.cos(saddle.pitch_max), 0, -math.sin(saddle.pitch_max))
    pitched, level = end_ring(tube, down, room), end_ring(tube, Vec(1, 0, 0), room)
    near, far = saddle.stem_offset - saddle.stem_diameter / 2, saddle.stem_offset + saddle.stem_diameter / 2
    assert max(point.x for point in pitched) < near - 0.19
    assert min(point.x for point in level) > far + 0.19


@pytest.mark.parametrize("name", SETS)
def test_a_set_stands_at_least_on_stairs_of_36_degrees(catalogue: Catalogue, name: str) -> None:
    chosen, _, elbow, saddle = parts(catalogue, name)
    least = math.radians(36)
    assert saddle.pitch_max >= least
    assert elbow.hinge_max >= least
    assert catalogue.adjustable_saddle[chosen.adjustable_saddle].pitch_max >= saddle.pitch_max


def test_the_demo_says_that_its_fittings_are_invented() -> None:
    texts = [path.read_text(encoding="utf-8") for path in SHIPPED.glob("fittings-*.toml")]
    assert len(texts) == 3
    assert all("invented for the demo" in text for text in texts)
