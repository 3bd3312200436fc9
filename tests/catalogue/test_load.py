"""A user's catalogue beside the shipped one: read in its own unit, held against itself, every fault told."""

from __future__ import annotations

import dataclasses
import math
import re
from pathlib import Path

import pytest

from railgen.catalogue.entries import rivet_note
from railgen.catalogue.fits import Fit, misfits
from railgen.catalogue.load import fit_of, load_catalogue
from railgen.catalogue.models import Rivet
from railgen.errors import InputError
from tests.job.cases import GOOD_CATALOGUE


def written(folder: Path, text: str, name: str = "mine.toml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_a_users_entries_stand_beside_the_shipped_ones(tmp_path: Path) -> None:
    catalogue = load_catalogue([written(tmp_path, GOOD_CATALOGUE)])
    assert {"mine", "wide-48.3"} <= set(catalogue.set)
    assert catalogue.base_plate["my-plate"].hole_spacing_length == 74
    assert catalogue.find("my-plate") == ("base_plate", catalogue.base_plate["my-plate"])


def test_a_catalogue_may_be_in_inches(tmp_path: Path) -> None:
    text = 'format = 1\nunits = "inch"\n[[tube]]\nid = "mine"\nod = "1-1/2"\nwall = 0.065\n'
    tube = load_catalogue([written(tmp_path, text)]).tube["mine"]
    assert (tube.od, tube.wall) == pytest.approx((38.1, 1.651))


def test_angles_are_typed_in_degrees_and_held_in_radians() -> None:
    assert load_catalogue().elbow["wide-elbow-48.3"].hinge_max == pytest.approx(math.radians(100))


def test_entries_may_refer_from_one_file_to_another(tmp_path: Path) -> None:
    first, second = GOOD_CATALOGUE.split("[[base_plate]]", 1)
    paths = [written(tmp_path, "format = 1\n[[base_plate]]" + second, "a.toml"), written(tmp_path, first, "b.toml")]
    assert load_catalogue(paths).base_plate["my-plate"].rivet == "my-rivet"


def test_the_faults_of_all_files_are_told_at_once(tmp_path: Path) -> None:
    bad = written(tmp_path, 'format = 1\n[[tube]]\nid = "thick"\nod = 40\nwall = 21\n', "bad.toml")
    with pytest.raises(InputError) as caught:
        load_catalogue([tmp_path / "none.toml", bad])
    told = [(Path(fault.file).name, fault.code, fault.where, fault.line) for fault in caught.value.faults]
    assert told == [
        ("none.toml", "no-file", "", None),
        ("bad.toml", "catalogue-entry", "tube[0].wall", 5),
    ]


# Hole for a metric blind rivet: public rivet hole tables (secondary source)
@pytest.mark.parametrize(("diameter", "published"), [(2.4, 2.5), (3.2, 3.3), (4.0, 4.1), (4.8, 4.9), (6.4, 6.5)])
def test_a_rivet_hole_looser_than_published_is_noted(diameter: float, published: float) -> None:
    def note(hole: float) -> str:
        return rivet_note(
            Rivet(
                id="r",
                diameter=diameter,
                hole_diameter=hole,
                length=10,
                head_diameter=9,
                head_height=1,
                edge_distance=9,
            )
        )

    assert note(published) == ""
    assert f"{published:g} mm of published tables" in note(published + 0.2)
    assert f"{published + 0.2:g} mm is what is drilled" in note(published + 0.2)


def test_a_rivet_that_no_table_lists_is_not_judged() -> None:
    odd = Rivet(id="r", diameter=3.0, hole_diameter=3.9, length=10, head_diameter=9, head_height=1, edge_distance=9)
    assert rivet_note(odd) == ""


@pytest.fixture(scope="module")
def fit() -> Fit:
    catalogue = load_catalogue()
    chosen = catalogue.set["close-48.3"]
    return fit_of(catalogue, chosen, catalogue.anchor["timber-screw-6.3x45"])


def test_what_goes_together_has_no_misfit(fit: Fit) -> None:
    assert list(misfits(fit)) == []


@pytest.mark.parametrize(
    ("part", "key", "value"),
    [
        ("fixed_saddle", "centre_height", 30),
        ("fixed_saddle", "hole_spacing", 20),
        ("fixed_saddle", "cap_diameter", 40),
        ("fixed_saddle", "rivet_depth", 5),
        ("adjustable_saddle", "hole_spacing", 62),
        ("adjustable_saddle", "pivot_height", 18),
        ("adjustable_saddle", "cradle_length", 120),
        ("elbow_saddle", "node_height", 25),
        ("elbow_saddle", "stem_offset", 11),
        ("elbow_saddle", "stem_offset", 5),
        ("elbow", "hub_diameter", 70),
        ("elbow", "screw_distance", 6),
        ("elbow", "spigot_od", 44.25),
        ("end_cap", "spigot_od", 42.9),
        ("end_scroll", "spigot_od", 44.2),
        ("base_plate", "socket_od", 43.0),
        ("base_plate", "rivet_height", 9),
        ("anchor", "hole_depth", 30),
        ("anchor", "diameter", 8),
        ("anchor", "head_diameter", 14),
    ],
)
def test_one_dimension_that_does_not_fit_is_told_of_its_part(fit: Fit, part: str, key: str, value: float) -> None:
    changed = dataclasses.replace(fit, **{part: getattr(fit, part).model_copy(update={key: value})})
    found = list(misfits(changed))
    assert found
    assert all(misfit.options[0] == part for misfit in found)
    assert all(re.search(r"\d", misfit.message) and misfit.allowed and misfit.hint for misfit in found)


@pytest.mark.parametrize(("length", "count"), [(5.5, 3), (40, 2)])
def test_a_screw_of_the_wrong_length_is_told(fit: Fit, length: float, count: int) -> None:
    """5.5 mm is short of trough and wall (6.1) and of the spigot's thread; 40 mm reaches across the tube."""
    screw = fit.screws["screw-M6"].model_copy(update={"length": length})
    found = list(misfits(dataclasses.replace(fit, screws={"screw-M6": screw})))
    assert len(found) == count


def test_the_pitch_that_is_advised_would_do_and_hardly_more(fit: Fit) -> None:
    def with_pitch(degrees: float) -> list[str]:
        saddle = fit.elbow_saddle.model_copy(update={"pitch_max": math.radians(degrees)})
        return [misfit.hint for misfit in misfits(dataclasses.replace(fit, elbow_saddle=saddle))]

    (hint,) = with_pitch(45)
    advised = float(re.findall(r"pitch_max of ([0-9.]+)", hint)[0])
    assert with_pitch(advised) == []
    assert with_pitch(advised + 0.11) != []


def test_the_hinge_that_is_advised_would_do_and_hardly_more(fit: Fit) -> None:
    def with_hinge(degrees: float) -> list[str]:
        elbow = fit.elbow.model_copy(update={"hinge_max": math.radians(degrees)})
        return [misfit.hint for misfit in misfits(dataclasses.replace(fit, elbow=elbow))]

    (hint,) = with_hinge(90)
    advised = int(re.findall(r"hinge_max of ([0-9]+)", hint)[0])
    assert with_hinge(advised) == []
    assert with_hinge(advised + 1) != []
