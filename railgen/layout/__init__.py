"""Where posts stand and how the rail runs: the solver."""

from railgen.layout.model import Layout
from railgen.layout.skew import skew_notes
from railgen.layout.solve import solve

__all__ = ["Layout", "skew_notes", "solve"]
