"""A check reads the same wherever it is printed, and what is not met never looks as if it were."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import railgen
from railgen.checks.model import Certainty, Check, Verdict
from railgen.checks.reading import allowed, by, found
from railgen.checks.table import check_rows
from railgen.cli.show import show_checks
from railgen.units import Dimensions, Figures
from tests.packs import CONFIGS, built_pack
from tests.report.pages import made

HEIGHT = Check(
    code="rule-handrail-height",
    title="height of the rail",
    where="flight 1",
    value=863.99,
    unit="mm",
    least=864.0,
    source="a code",
    clause="1.2",
    certainty=Certainty.READ,
    rule="a/height",
)
LINK = replace(
    HEIGHT,
    code="strength-peg",
    value=0.5,
    unit="",
    least=None,
    most=1.0,
    rule="",
    source="EN 1, 6.2 (from memory)",
    clause="6.2",
)


def test_terminal_page_and_table_tell_a_check_in_the_same_words(capsys: pytest.CaptureFixture[str]) -> None:
    job = railgen.load(CONFIGS / "mill_half_turn.toml")
    show_checks(job, railgen.solve(job), [HEIGHT, LINK], full=True)
    terminal = re.sub(r"  +", " | ", capsys.readouterr().out)
    assert (
        "not met | flight 1 | height of the rail | 864 mm (0.010 mm below) | at least 864 mm | a code, 1.2" in terminal
    )
    assert "met | flight 1 | height of the rail | 0.50 used | at most 1 | " in terminal
    page = made(built_pack("mill_half_turn"), checks=(HEIGHT, LINK))
    for told in ("864 mm (0.010 mm below)", "at least 864 mm", "a code, 1.2", "0.50 used", "at most 1"):
        assert f">{told}<" in page
    row, link = check_rows([HEIGHT, LINK])
    assert (row["verdict"], row["found"], row["by"]) == ("not met", "863.990", "a code, 1.2")
    assert (link["verdict"], link["by"]) == ("met", "EN 1, 6.2 (from memory)")  # the clause once


@pytest.mark.parametrize(
    ("style", "value", "told"),
    [
        (Dimensions.MM, 864.0, "864 mm"),
        (Dimensions.MM, 863.9, "863.9 mm"),
        (Dimensions.MM, 863.9999, "864 mm (under 0.001 mm below)"),
        (Dimensions.INCH, 863.995, "34.016 in (0.0002 in below)"),
        (Dimensions.SIXTEENTH, 863.0, '34" (0.0394 in below)'),
        (Dimensions.SIXTEENTH, 860.0, '33-7/8"'),
    ],
)
def test_a_length_too_short_by_less_than_is_printed_says_by_how_much(
    style: Dimensions, value: float, told: str
) -> None:
    """864 mm is 34.0157 in, 863.995 mm 34.0155 in, 863 mm 33.9764 in, 860 mm 33.858 in; a sixteenth is 1.5875 mm."""
    assert found(replace(HEIGHT, value=value), Figures(style=style)) == told


@given(
    bound=st.floats(1, 3000),
    away=st.sampled_from((0.0, 1e-5, -1e-5, 0.01, -0.01, 0.5, -0.5)) | st.floats(-3000, 3000),
    upper=st.booleans(),
    style=st.sampled_from(Dimensions),
)
def test_what_is_not_met_never_reads_as_if_it_were(bound: float, away: float, upper: bool, style: Dimensions) -> None:
    """A length at or near its bound is printed apart from it where it fails; where it is met nothing is added."""
    figures, value = Figures(style=style), bound + away
    check = replace(HEIGHT, value=value, least=None if upper else bound, most=bound if upper else None)
    said = found(check, figures)
    if check.verdict is Verdict.FAILS:
        assert figures.rounded(value) != figures.rounded(bound) or said.endswith("above)" if upper else "below)")
        assert said != figures.named(bound)
    else:
        assert said == figures.named(value)


@given(value=st.floats(0, 100), bound=st.floats(0.01, 100), away=st.sampled_from((0.0, 1e-4, 0.004, 1.0)))
def test_a_number_that_is_not_met_is_outside_the_bound_that_is_allowed(value: float, bound: float, away: float) -> None:
    number = bound + away if away else value
    check = replace(HEIGHT, value=number, least=None, most=bound, unit="deg")
    printed = float(found(check, Figures(style=Dimensions.MM)).removesuffix(" deg"))
    if check.verdict is Verdict.FAILS and number - bound > 1e-5:
        assert printed > bound
    assert allowed(check, Figures(style=Dimensions.MM)).startswith("at most ")


def test_who_asks_is_never_left_out() -> None:
    assert by(replace(HEIGHT, source="", clause="")) == "read in the document"
    assert by(replace(HEIGHT, clause="")) == "a code"
