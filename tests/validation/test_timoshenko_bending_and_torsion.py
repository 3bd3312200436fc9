"""Timoshenko, Strength of Materials, part I, p. 299, problem 2: a bar bent and twisted by a force on an arm.

Bar 300 in long, 250 lb on an arm of 36 in, section modulus 10 in3: largest principal stress 7527, shear 3777 psi.
"""

from __future__ import annotations

import math

from railgen.checks.strength.interaction import principal_stresses
from railgen.checks.strength.sections import Tube
from tests.validation.as_printed import INCH, PSI, as_printed


def test_printed_stresses() -> None:
    found = principal_stresses(normal=250 * 300 / 10, shear=250 * 36 / (2 * 10))
    assert found.largest == as_printed("7527")
    assert found.shear == as_printed("3777")


def test_the_torsion_modulus_of_a_tube_is_twice_its_elastic_modulus() -> None:
    """The problem's shear stress is T / 2W: the same must come out of a tube's own torsion modulus."""
    tube = Tube(od=6 * INCH, wall=0.5 * INCH)
    moment, torque = 250 * 300 * PSI * INCH**3, 250 * 36 * PSI * INCH**3
    found = principal_stresses(normal=moment / tube.elastic, shear=torque / tube.torsion)
    w = tube.elastic / INCH**3
    expected = (250 * 300 + math.hypot(250 * 300, 250 * 36)) / (2 * w) * PSI
    assert math.isclose(found.largest, expected, rel_tol=1e-12)
