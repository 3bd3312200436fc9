"""Figures and angles, as the other papers of a job write them."""

from railgen.units import Dimensions as Style
from railgen.units import Figures, degrees

__all__ = ["Figures", "Style", "degrees"]
