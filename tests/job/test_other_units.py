"""Numbers that imply another unit, and decimals behind a comma: the key, the likely unit and the value in it."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import pytest

from railgen import InputError, load
from railgen.errors import Fault
from railgen.fields import Length
from railgen.units import MM_PER_INCH, Unit
from tests.job.cases import GOOD

Refused = Callable[..., tuple[Fault, ...]]

INCH = (
    GOOD.replace('units = "mm"', 'units = "inch"')
    .replace("least_height = 900", "least_height = 36")
    .replace("overhang = 150", "overhang = 6")
    .replace(
        "setback = 125\nsetback_band = [70, 180]\nedge_offset = 60",
        "setback = 5\nsetback_band = [3, 7]\nedge_offset = 3",
    )
    .replace("  176,\n  181,\n  178,", "  7, 7, 7,")
    .replace("[251, 248]", "[10, 10]")
    .replace("total_rise = 536\nwidth = 900", "total_rise = 21\nwidth = 36")
    .replace("length = 950", "length = 38")
    .replace("well = 120", "well = 5")
    .replace(
        "rise = 178\ngoing = 250\nriser_count = 4\nwidth = 900", "rise = 7\ngoing = 10\nriser_count = 4\nwidth = 36"
    )
)


@pytest.fixture
def refused(tmp_path: Path) -> Refused:
    def read(old: str, new: str, text: str = GOOD) -> tuple[Fault, ...]:
        assert text.count(old) == 1, old
        (tmp_path / "job.toml").write_text(text.replace(old, new), encoding="utf-8")
        with pytest.raises(InputError) as refusal:
            load(tmp_path / "job.toml")
        return refusal.value.faults

    return read


@pytest.mark.parametrize(
    ("old", "new", "where", "meant"),
    [
        ("  181,", "  18.1,", "stair[0].risers[1]", "18.1 cm is 181 mm"),
        ("  181,", "  0.181,", "stair[0].risers[1]", "0.181 m is 181 mm"),
        ("  181,", "  7.125,", "stair[0].risers[1]", "7.125 in is 181 mm"),
        ("goings = [251, 248]", "goings = [25.1, 248]", "stair[0].goings[0]", "25.1 cm is 251 mm"),
        ("least_height = 900", "least_height = 90", "rail.least_height", "90 cm is 900 mm"),
        ("least_height = 900", "least_height = 0.9", "rail.least_height", "0.9 m is 900 mm"),
        ("least_height = 900", "least_height = 36", "rail.least_height", "36 in is 914.4 mm"),
        ("setback = 125", "setback = 12.5", "posts.setback", "12.5 cm is 125 mm"),
        ("total_rise = 536", "total_rise = 53.6", "stair[0].total_rise", "53.6 cm is 536 mm"),
        ("total_rise = 536", "total_rise = 5360", "stair[0].total_rise", "is a step left out"),
        ("length = 950", "length = 95", "stair[1].length", "95 cm is 950 mm"),
    ],
)  # fmt: skip
def test_a_number_in_another_unit_is_told_in_the_likely_one(
    refused: Refused, old: str, new: str, where: str, meant: str
) -> None:
    (fault,) = refused(old, new)
    assert fault.where == where
    assert meant in fault.hint


@pytest.mark.parametrize(
    ("old", "new", "where", "meant"),
    [
        ("7, 7, 7,", "7, 178, 7,", "stair[0].risers[1]", "178 mm is 7.008 in"),
        ("7, 7, 7,", "7, 17.8, 7,", "stair[0].risers[1]", "17.8 cm is 7.008 in"),
        ("least_height = 36", "least_height = 92", "rail.least_height", "92 cm is 36.22 in"),
        ("least_height = 36", "least_height = 0.92", "rail.least_height", "0.92 m is 36.22 in"),
    ],
)
def test_a_number_in_an_inch_file_is_told_in_inches(
    refused: Refused, old: str, new: str, where: str, meant: str
) -> None:
    (fault,) = refused(old, new, INCH)
    assert fault.where == where
    assert meant in fault.hint


def test_a_stair_in_centimetres_is_told_once(refused: Refused) -> None:
    text = GOOD.replace("[251, 248]", "[25.1, 24.8]")
    (fault,) = refused("  176,\n  181,\n  178,", "  17.6, 18.1, 17.8", text)
    assert "4 more lengths (stair[0].risers, stair[0].goings)" in fault.message
    assert fault.hint == "they all look like centimetres: lengths here are in mm or inches; 17.6 cm is 176 mm"


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("'17,5'", 'decimals stand behind a point: "17.5"; and this looks like centimetres'),
        ("'175,5'", 'decimals stand behind a point: "175.5"'),
        ("'175,5 mm'", 'decimals stand behind a point: "175.5 mm"'),
        ("'17.5 cm'", 'write it in mm or inches: "175 mm"'),
        ("'17,5 cm'", 'write it in mm or inches: "175 mm"'),
        ("'0.175 m'", 'write it in mm or inches: "175 mm"'),
    ],
)
def test_a_decimal_comma_or_a_unit_not_read_is_told_as_it_is_to_be_typed(
    refused: Refused, typed: str, meant: str
) -> None:
    (fault,) = refused("  181,", f"  {typed},")
    assert (fault.code, fault.where) == ("not-a-length", "stair[0].risers[1]")
    assert meant in fault.hint


def test_a_mark_between_thousands_is_none(refused: Refused) -> None:
    (fault,) = refused("least_height = 900", "least_height = '1,020'")
    assert fault.hint == 'nothing stands between thousands: "1020"'


def test_decimal_commas_in_a_list_were_taken_for_steps(refused: Refused) -> None:
    """TOML reads 176,5 as two whole numbers."""
    faults = refused("  176,\n  181,\n  178,", "  176,5, 181,2, 178,5")
    assert [fault.where for fault in faults] == [f"stair[0].risers[{at}]" for at in (1, 3, 5)]
    assert [fault.hint for fault in faults] == [
        f"are these decimals? they stand behind a point: {text}" for text in ("176.5", "181.2", "178.5")
    ]


def test_decimal_commas_within_bounds_were_counted_as_steps(refused: Refused) -> None:
    """In inches 7,5 is two risers that there may be; the goings then do not go with them."""
    (fault,) = refused("7, 7, 7,", "7,5, 7,5, 7,5", INCH)
    assert fault.code == "step-count"
    assert "2 goings for 6 risers" in fault.message
    assert "are decimals typed behind commas?" in fault.hint
    (fault,) = refused("7, 7, 7,", "7, 7.25, 7.5, 7", INCH)
    assert "commas" not in fault.hint


@pytest.mark.parametrize(
    ("old", "new", "asked"),
    [
        (
            "going = 250\nriser_count = 4",
            "design_going = 1100\nriser_count = 1",
            "a ramp typed as a step, or a landing",
        ),
        ("  181,", "  900,", "the rise of a whole flight, or of a ramp"),
    ],
)
def test_a_step_longer_or_higher_than_any_is_asked_what_it_is(refused: Refused, old: str, new: str, asked: str) -> None:
    (fault,) = refused(old, new)
    assert asked in fault.hint


@pytest.mark.parametrize("unit", list(Unit))
@pytest.mark.parametrize("bounds", [(60, 400), (120, 900), (300, 2000), (0, 100), (-3000, 3000)])
def test_the_unit_that_is_named_brings_the_value_within(unit: Unit, bounds: tuple[float, float]) -> None:
    """Whatever is typed; nothing is named where no unit does."""
    length = Length(ge=bounds[0], le=bounds[1])
    sizes = {"in": MM_PER_INCH, "mm": 1.0, "cm": 10.0, "m": 1000.0}
    own = "in" if unit is Unit.INCH else "mm"
    for step in range(-40, 60):
        typed = 10 ** (step / 12)
        hint = length.slip(typed * sizes[own], unit)
        others = [name for name, size in sizes.items() if name != own and bounds[0] <= typed * size <= bounds[1]]
        if not others:
            assert hint == ""
        else:
            name = hint.partition("; ")[2].split()[1]
            assert name in others
            assert math.isfinite(float(hint.partition("; ")[2].split()[0]))
