"""Where posts stand and how the rail runs: the solver."""

from railgen.layout.model import Layout
from railgen.layout.solve import solve

__all__ = ["Layout", "solve"]
