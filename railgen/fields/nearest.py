"""The word the reader probably meant."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

__all__ = ["hint_near", "one_of"]


_MOST_WORDS = 15
_LONGEST = 60  # of a word that has a near one


def hint_near(given: str, known: Iterable[str]) -> str:
    """A question that names the nearest known word; empty where none is near.

    >>> hint_near("least_hight", ["side", "least_height"])
    'did you mean least_height?'
    """
    if len(given) > _LONGEST:
        return ""
    folded = {word.lower(): word for word in known}
    begun = [word for word in folded if word.startswith(given.lower())] if given else []
    near = [min(begun, key=len)] if begun else difflib.get_close_matches(given.lower(), folded, n=1, cutoff=0.6)
    return f"did you mean {folded[near[0]]}?" if near else ""


def one_of(words: Iterable[str]) -> str:
    """``a, b or c``; of a long list, how many there are."""
    *first, last = [*words] or [""]
    if len(first) >= _MOST_WORDS:
        return f"{', '.join(first[:_MOST_WORDS])}, ... ({len(first) + 1} in all)"
    return f"{', '.join(first)} or {last}" if first else last
