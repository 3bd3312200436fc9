"""Stainless tube handrails for measured stairs: load a job, solve it, check it, build its pack.

>>> from railgen import load, solve, check, build  # doctest: +SKIP
>>> job = load("configs/mill_half_turn.toml")  # doctest: +SKIP
>>> layout = solve(job)  # doctest: +SKIP
>>> [str(c.verdict) for c in check(job, layout)]  # doctest: +SKIP
>>> build(job, "out").folder  # doctest: +SKIP
"""

from railgen.errors import ImpossibleError, InputError, OutputError, RailgenError
from railgen.pipeline import Pack, build, check, compare, fabricate, load, solve

__all__ = [
    "ImpossibleError",
    "InputError",
    "OutputError",
    "Pack",
    "RailgenError",
    "build",
    "check",
    "compare",
    "fabricate",
    "load",
    "solve",
]

__version__ = "0.1.0"
