"""Anchors of whole jobs: the factor on what their approval states, and every edge they may push off."""

from __future__ import annotations

from pathlib import Path

import pytest

from railgen.checks.strength.concrete import Concrete
from railgen.checks.strength.concrete_shear import EdgeRow, en_edge_breakout
from tests.checks.strength.scenes import CONCRETE, links, load, of, text


@pytest.mark.parametrize(
    ("load_", "category", "pull", "push"),
    [
        ("asce-7", 1, 0.65, 0.60),  # ACI 318-19, Table 17.5.3: pull-out and bond, brittle steel in shear
        ("asce-7", 2, 0.55, 0.60),
        ("asce-7", 3, 0.45, 0.60),
        ("bs-office", 1, 1 / 1.5, 450 / 700),  # EN 1992-4, Table 4.1, from memory: 1.5 x 1.0, 1.2, 1.4; fyk / fuk
        ("bs-office", 2, 1 / 1.8, 450 / 700),
        ("bs-office", 3, 1 / 2.1, 450 / 700),
    ],
)
def test_what_an_approval_states_has_the_factor_of_the_anchors_category(
    tmp_path: Path, load_: str, category: int, pull: float, push: float
) -> None:
    ground = CONCRETE.replace("[ground]\n", f"[ground]\nanchor_category = {category}\n")
    found = links(load(tmp_path, text(loads=f'["{load_}"]', ground=ground, substrate="concrete")))
    for code, factor in (("anchor-pull", pull), ("anchor-push", push)):
        capacities = [link.outcome.capacity for link in of(found, code)]
        assert capacities == pytest.approx([50_000 * factor] * len(capacities))


def test_the_edge_behind_a_post_counts_as_the_one_in_front_does(tmp_path: Path) -> None:
    """Front and sides far away: what is left is the riser behind the tread, less half the hole pattern."""
    ground = CONCRETE.replace("[ground]\n", "[ground]\nedge_front = 4000\nedge_side = 4000\n")
    job = load(tmp_path, text(loads='["bs-office"]', ground=ground, substrate="concrete"))
    plate = job.hardware.base_plate
    expected = en_edge_breakout(
        EdgeRow(
            edge=270 + job.flights[0].overhang - 125 - plate.hole_spacing_length / 2,
            width=plate.hole_spacing_width,
            slab=200,
            side_a=4000 - plate.hole_spacing_width / 2,
            side_b=1000 - 150 - plate.hole_spacing_width / 2,
        ),
        Concrete(strength=25),
        diameter=8,  # of the sleeve
        embedment=40,
    )
    found = of(links(job), "edge-push")
    assert found[0].outcome.capacity == pytest.approx(expected.value)
