"""Malformed files are refused with the right code, place, line and words, and with no word of the libraries below."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from railgen.errors import Fault, InputError
from railgen.job.read import load_job
from tests.job.cases import GOOD, GOOD_CATALOGUE, Case
from tests.job.malformed import CASES, write_case

FOREIGN = re.compile(
    r"pydantic|https?:|Input should|input_value|Traceback|validation error|NoneType|\bdict\b|\bstr\b", re.IGNORECASE
)


def refused(path: Path) -> tuple[Fault, ...]:
    with pytest.raises(InputError) as caught:
        load_job(path)
    return caught.value.faults


@pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])
def test_a_malformed_file_is_told_with_its_place(case: Case, tmp_path: Path) -> None:
    faults = refused(write_case(case, tmp_path))
    told = [fault for fault in faults if (fault.code, fault.where) == (case.code, case.where)]
    assert told, "\n".join(map(str, faults))
    assert {fault.file for fault in told} == {str(tmp_path / case.at)}
    assert {fault.line for fault in told} == {case.line}
    assert any(all(word in str(fault) for word in case.words) for fault in told), "\n".join(map(str, told))


@pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])
def test_no_fault_is_told_in_a_librarys_words(case: Case, tmp_path: Path) -> None:
    for fault in refused(write_case(case, tmp_path)):
        assert not FOREIGN.search(str(fault).replace(str(tmp_path), "")), str(fault)


def test_the_files_they_are_made_from_are_good(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(GOOD, encoding="utf-8")
    assert len(load_job(tmp_path / "job.toml").flights) == 2
    (tmp_path / "mine.toml").write_text(GOOD_CATALOGUE, encoding="utf-8")
    text = GOOD.replace('set = "wide-48.3"', 'set = "mine"\ncatalogue = ["mine.toml"]')
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    assert load_job(tmp_path / "job.toml").hardware.base_plate.id == "my-plate"


def test_there_are_many_and_each_has_a_name_of_its_own() -> None:
    assert len(CASES) >= 45
    assert len({case.name for case in CASES}) == len(CASES)


def test_a_folder_is_no_job(tmp_path: Path) -> None:
    (fault,) = refused(tmp_path)
    assert (fault.code, fault.file) == ("not-a-file", str(tmp_path))


def test_a_missing_file_names_the_one_that_was_meant(tmp_path: Path) -> None:
    (tmp_path / "granary.toml").write_text(GOOD, encoding="utf-8")
    (fault,) = refused(tmp_path / "granery.toml")
    assert (fault.code, fault.hint) == ("no-file", "did you mean granary.toml?")


@pytest.mark.parametrize("name", ["no/such/job.toml", "a\0b.toml", "x" * 300 + ".toml"])
def test_a_name_that_no_file_can_have_is_an_input_error(name: str, tmp_path: Path) -> None:
    (fault,) = refused(tmp_path / name)
    assert fault.code in {"no-file", "cannot-read"}


def test_a_device_is_no_job() -> None:
    (fault,) = refused(Path("/dev/null"))
    assert fault.code == "not-a-file"


def test_two_lengths_in_inches_are_told_each(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(GOOD.replace("[251, 248]", "[10, 9.8]"), encoding="utf-8")
    faults = refused(tmp_path / "job.toml")
    assert [fault.where for fault in faults] == ["stair[0].goings[0]", "stair[0].goings[1]"]
    assert all("looks like inches" in fault.hint for fault in faults)


def test_more_of_them_are_told_once_with_the_first_place_and_their_number(tmp_path: Path) -> None:
    text = GOOD.replace("  176,\n  181,\n  178,", "  7, 7.1, '7-1/16'").replace("[251, 248]", "[10, 9.8]")
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    (fault,) = refused(tmp_path / "job.toml")
    assert fault.where == "stair[0].risers[0]"
    assert "4 more lengths (stair[0].risers, stair[0].goings)" in fault.message
    assert "look like inches" in fault.hint


def test_nosings_in_inches_are_told_once(tmp_path: Path) -> None:
    nosings = "nosings = [[0, 7], [10, 14], [20, 21]]\nwidth = 900"
    text = GOOD.replace("rise = 178\ngoing = 250\nriser_count = 4\nwidth = 900", nosings)
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    (fault,) = refused(tmp_path / "job.toml")
    assert fault.where == "stair[2].nosings[0]"
    assert "riser 1 comes to 7 mm" in fault.message
    assert "4 more lengths (stair[2].nosings)" in fault.message


def test_other_faults_stand_beside_the_one(tmp_path: Path) -> None:
    text = GOOD.replace("  176,\n  181,\n  178,", "  7, 7.1, 7").replace("width = 120", "wall = 120")
    text = text.replace("setback = 125", "setback = 7000")
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    assert [fault.where for fault in refused(tmp_path / "job.toml")] == ["posts.setback", "stair[0].risers[0]"]
