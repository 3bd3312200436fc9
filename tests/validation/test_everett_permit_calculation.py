"""Guard rail permit calculation, City of Everett, Washington (2023): 1-1/4 in standard pipe, ANSI/NAAMM AMP 521-01.

Fy 35 ksi, I 0.184 in4, Z 0.305 in3 (design wall); posts 42 in apart, 36 in high; 200 lb, 50 lb/ft; Mn / 1.67.
"""

from __future__ import annotations

import pytest

from railgen.checks.model import Certainty
from railgen.checks.strength.loads import PostReach, RailLoad, post_forces, sharing
from railgen.checks.strength.materials import certified
from railgen.checks.strength.members import bending
from railgen.checks.strength.result import Source, check
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.spans import post_moment, rail_moments
from railgen.checks.strength.systems import system
from railgen.job.strength_model import DesignSystem
from tests.validation.as_printed import INCH, KSI, POUND, as_printed

ASD = system(DesignSystem.ASD)
PIPE = Tube(od=1.660 * INCH, wall=0.140 * INCH)
STEEL = certified("A53 B", proof=35 * KSI, tensile=60 * KSI, certificate="ASTM A53")
LOAD = RailLoad(
    id="calculation",
    title="200 lb, 50 lb/ft",
    line=50 * POUND / (12 * INCH),
    point=200 * POUND,
    source=Source(document="IBC", certainty=Certainty.READ),
)
BAY = 42 * INCH
KIP_INCH = 1000 * POUND * INCH


def test_capacity() -> None:
    able = bending(PIPE, STEEL, ASD)
    assert able.value == as_printed("6.4", KIP_INCH)
    assert able.value is not None
    assert able.value * 1.67 == pytest.approx(10.68 * KIP_INCH, rel=2e-3)
    assert "wall 0.93 t" in able.formula


@pytest.mark.parametrize(
    ("end", "case", "moment", "used"),
    [
        (False, "line load", "4.1", "0.64"),
        (False, "point load", "4.7", "0.73"),
        (True, "line load", "2.7", "0.42"),
        (True, "point load", "6.1", "0.96"),
    ],
)
def test_post(*, end: bool, case: str, moment: str, used: str) -> None:
    reach = PostReach(before=BAY, after=0 if end else BAY)
    force = next(f for f in post_forces(LOAD, reach, ASD, shared=sharing(2)) if f.case == case)
    asked = post_moment(force, 36 * INCH)
    assert asked.value == as_printed(moment, KIP_INCH)
    result = check("post", asked, bending(PIPE, STEEL, ASD))
    assert result.utilisation == as_printed(used)


@pytest.mark.parametrize(("case", "moment", "used"), [("line load", "0.9", "0.14"), ("point load", "2.1", "0.33")])
def test_rail(case: str, moment: str, used: str) -> None:
    asked = next(m for m in rail_moments(LOAD, ASD, span=BAY, mass=0.0) if m.case == case)
    assert asked.value == as_printed(moment, KIP_INCH)
    assert check("rail", asked, bending(PIPE, STEEL, ASD)).utilisation == as_printed(used)
