"""BS 6180: loads of Table 2, the 25 mm of the 1999 edition's section 6, and a public calculation sheet for one rail.

The sheet: 0.74 kN/m, span 1 m, factor 1.6: M 0.148 kNm, design line force 1.184 kN/m.
"""

from __future__ import annotations

import pytest

from railgen.checks.strength.deflection import bs_6180_limit, post_sway
from railgen.checks.strength.loads import PostReach, post_forces, rail_load
from railgen.checks.strength.result import check
from railgen.checks.strength.sections import Tube
from railgen.checks.strength.spans import post_moment, rail_moments
from railgen.checks.strength.systems import system
from railgen.job.strength_model import DesignSystem
from tests.validation.as_printed import as_printed


@pytest.mark.parametrize(
    ("name", "line", "point"),
    [
        ("bs-dwelling", 0.36, 250),
        ("bs-residential", 0.74, 500),
        ("bs-office", 0.74, 500),
        ("bs-light-industrial", 0.36, 250),
        ("bs-gangway", 0.22, None),
        ("bs-seating", 1.5, 1500),
    ],
)
def test_loads(name: str, line: float, point: float | None) -> None:
    load = rail_load(name)
    assert (load.line, load.point) == (line, point)


def test_rail_of_the_calculation_sheet() -> None:
    factored = system(DesignSystem.EUROCODE).model_copy(update={"imposed": 1.6})
    line = rail_moments(rail_load("bs-residential"), factored, span=1000, mass=0.0)[0]
    assert line.value == as_printed("0.148", 1e6)
    reach = PostReach(before=1000, after=1000)
    force = post_forces(rail_load("bs-residential"), reach, factored)[0]
    assert force.value == as_printed("1.184", 1e3)


@pytest.mark.parametrize(("wall", "sway"), [(2.0, "11.51"), (2.6, "9.20")])
def test_post_sway(wall: float, sway: str) -> None:
    """Worked out: 0.74 kN at 0.9 m on 48.3 mm, E 200 000: F h^3 / 3 E I, within 25 mm."""
    force = post_forces(rail_load("bs-residential"), PostReach(before=1000, after=1000), None)[0]
    found = post_sway(force, height=900, tube=Tube(od=48.3, wall=wall), modulus=200_000)
    assert found.value == as_printed(sway)
    assert check("post sway", found, bs_6180_limit()).utilisation == pytest.approx(float(sway) / 25, abs=3e-4)


def test_governing_load_case_of_one_post() -> None:
    """0.9 m high, 1.0 m of rail: which case governs differs from country to country (worked out)."""
    reach = PostReach(before=1000, after=1000)

    def moments(load: str, name: DesignSystem) -> dict[str, float]:
        found = (post_moment(force, 900) for force in post_forces(rail_load(load), reach, system(name)))
        return {moment.case: moment.value / 1e6 for moment in found if moment.value is not None}

    australia = moments("as-nzs-a", DesignSystem.AS_NZS)
    assert australia == {"line load": pytest.approx(0.4725), "point load": pytest.approx(0.810)}
    america = moments("asce-7", DesignSystem.LRFD)
    assert america == {"line load": pytest.approx(1.0512), "point load": pytest.approx(1.2816)}
    britain = moments("bs-residential", DesignSystem.EUROCODE)
    assert britain["line load"] == pytest.approx(0.999) == max(britain.values())
    assert moments("bs-dwelling", DesignSystem.EUROCODE)["line load"] == pytest.approx(0.486)
