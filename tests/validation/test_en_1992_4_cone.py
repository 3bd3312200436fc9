"""EN 1992-4:2018, 7.2.1.4 (coefficients from memory): characteristic cone resistance, worked out."""

from __future__ import annotations

import pytest

from railgen.checks.strength.concrete import AnchorGroup, Concrete, en_basic_breakout, en_breakout
from tests.validation.as_printed import as_printed


@pytest.mark.parametrize(
    ("k1", "strength", "embedment", "worked_out"),
    [(7.7, 20, 60, "16.00"), (11.0, 20, 60, "22.86"), (7.7, 25, 80, "27.55")],
)
def test_basic_cone(k1: float, strength: float, embedment: float, worked_out: str) -> None:
    found = en_basic_breakout(coefficient=k1, strength=strength, embedment=embedment)
    assert found == as_printed(worked_out, 1e3)


def test_cracked_unless_said() -> None:
    alone = AnchorGroup(anchors=((0.0, 0.0),))
    usual = en_breakout(alone, Concrete(strength=20), embedment=60, installation=1.0, sparse_reinforcement=True)
    assert usual.value == pytest.approx(16.00e3 / 1.5, rel=1e-3)
    sound = en_breakout(
        alone, Concrete(strength=20, cracked=False), embedment=60, installation=1.0, sparse_reinforcement=True
    )
    assert sound.value == pytest.approx(22.86e3 / 1.5, rel=1e-3)
