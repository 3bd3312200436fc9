"""Round tubes: exact section properties.

Mind the factor 2: the second moment of area about a diameter is I = pi/64 (D^4 - d^4); pi/32 (D^4 - d^4) is the polar
moment J, for torsion only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

__all__ = ["Tube"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tube:
    """A round tube of outside diameter ``od`` and wall ``wall`` (mm), measured, never nominal sizes.

    Raises ValueError where the wall is not between nothing and a solid bar.

    >>> tube = Tube(od=48.3, wall=3.2)  # EN 10219-2 prints 4.53 cm2, 11.6 cm4, 4.80 and 6.52 cm3
    >>> [f"{x:.4g}" for x in (tube.area / 1e2, tube.inertia / 1e4, tube.elastic / 1e3, tube.plastic / 1e3)]
    ['4.534', '11.59', '4.797', '6.52']
    """

    od: float
    wall: float

    def __post_init__(self) -> None:
        if not 0 < self.wall <= self.od / 2:
            raise ValueError(f"a wall of {self.wall} mm does not make a tube of {self.od} mm")

    @property
    def bore(self) -> float:
        """Inside diameter, mm."""
        return self.od - 2 * self.wall

    @property
    def area(self) -> float:
        """A = pi/4 (D^2 - d^2), mm2."""
        return math.pi * self.wall * (self.od - self.wall)

    @property
    def inertia(self) -> float:
        """I = pi/64 (D^4 - d^4), mm4, about any diameter: for bending and deflection."""
        return math.pi / 64 * (self.od**4 - self.bore**4)

    @property
    def polar(self) -> float:
        """J = pi/32 (D^4 - d^4) = 2 I, mm4: for torsion only."""
        return 2 * self.inertia

    @property
    def elastic(self) -> float:
        """Elastic section modulus Wel (S in the US) = I / (D/2), mm3."""
        return 2 * self.inertia / self.od

    @property
    def plastic(self) -> float:
        """Plastic section modulus Wpl (Z in the US) = (D^3 - d^3) / 6, mm3."""
        return (self.od**3 - self.bore**3) / 6

    @property
    def torsion(self) -> float:
        """Torsion section modulus Wt = J / (D/2), mm3."""
        return 2 * self.elastic

    @property
    def shear_area(self) -> float:
        """2 A / pi, mm2 (EN 1993-1-1:2005, 6.2.6(3)g, from memory); V over it is the mean shear stress across it."""
        return 2 * self.area / math.pi

    @property
    def slenderness(self) -> float:
        """D / t."""
        return self.od / self.wall

    def mass(self, density: float) -> float:
        """Mass in kg per metre for ``density`` in kg/m3.

        >>> round(Tube(od=48.3, wall=3.2).mass(7900), 3)
        3.582
        """
        return self.area * density * 1e-6

    def with_wall(self, share: float) -> Tube:
        """The same tube with ``share`` of its wall, such as the design wall 0.93 t of AISC 360."""
        return Tube(od=self.od, wall=self.wall * share)
