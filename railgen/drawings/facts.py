"""Names as the sheets list them."""

from __future__ import annotations

import re
from collections.abc import Iterable

__all__ = ["short_list"]


def short_list(names: Iterable[str]) -> str:
    """Names in one line, runs of numbers drawn together.

    >>> short_list(["H1", "H2", "H3", "H7", "a:S1"])
    'H1 to H3, H7, a:S1'
    """
    runs: list[list[str]] = []
    for name in names:
        if runs and _follows(runs[-1][-1], name):
            runs[-1].append(name)
        else:
            runs.append([name])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _follows(name: str, later: str) -> bool:
    one, two = (re.fullmatch(r"(.*?)(\d+)", text) for text in (name, later))
    return bool(one and two and one[1] == two[1] and int(two[2]) == int(one[2]) + 1)
