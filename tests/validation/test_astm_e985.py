"""ASTM E985-00 (withdrawn 2015), section 7: deflection limits of guards, test vectors worked out from its formulas."""

from __future__ import annotations

import pytest

from railgen.checks.strength.deflection import e985_post_limit, e985_rail_horizontal_limit, e985_rail_vertical_limit
from tests.validation.as_printed import INCH, as_printed


@pytest.mark.parametrize(
    ("height", "span", "post", "horizontal", "vertical"),
    [(36, 48, "3.000", "2.000", "0.500"), (42, 60, "3.500", "2.375", "0.625"), (42, 72, "3.500", "2.500", "0.750")],
)
def test_limits(height: float, span: float, post: str, horizontal: str, vertical: str) -> None:
    h, length = height * INCH, span * INCH
    assert e985_post_limit(h).value == as_printed(post, INCH)
    assert e985_rail_horizontal_limit(h, length).value == as_printed(horizontal, INCH)
    assert e985_rail_vertical_limit(length).value == as_printed(vertical, INCH)


def test_the_limit_says_that_it_was_withdrawn() -> None:
    assert "withdrawn" in e985_post_limit(900).caution
