"""A long piece on a short sheet: plain stretches are broken out, everything else stays to scale."""

from __future__ import annotations

import itertools
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from railgen.drawings.sheet import Scale

__all__ = ["LengthMap", "map_length"]

_BREAK = 3.0  # mm on paper between the two edges of a break
_LEAST = 9.0  # mm on paper that a broken stretch keeps at least


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthMap:
    """Where each true length (mm from the datum end) is on paper; ``breaks`` are the edges of each break on paper."""

    true: tuple[float, ...]
    paper: tuple[float, ...]
    breaks: tuple[tuple[float, float], ...]

    def at(self, length: float) -> float:
        """Place on paper (mm) of a true length."""
        index = min(max(bisect_right(self.true, length) - 1, 0), len(self.true) - 2)
        (a, b), (p, q) = self.true[index : index + 2], self.paper[index : index + 2]
        return p if b == a else p + (q - p) * (length - a) / (b - a)

    def broken(self, start: float, end: float) -> bool:
        """Whether a break lies between two true lengths."""
        return any(self.at(start) < middle < self.at(end) for low, high in self.breaks for middle in [(low + high) / 2])

    def runs(self) -> tuple[tuple[float, float], ...]:
        """Stretches of paper between the breaks."""
        edges = [self.paper[0], *(edge for pair in self.breaks for edge in pair), self.paper[-1]]
        return tuple(zip(edges[::2], edges[1::2], strict=True))


def map_length(features: Sequence[float], scale: Scale, left: float, room: float) -> LengthMap | None:
    """The map of a piece with ``features`` (true lengths, its two ends among them) into ``room`` mm from ``left``.

    The longest plain stretches are shortened to one common length. None where that leaves too little of them.
    """
    stops = sorted(set(features))
    gaps = [(b - a) * scale.ratio for a, b in itertools.pairwise(stops)]
    if sum(gaps) <= room:
        limit = max(gaps)
    else:
        found = _limit(gaps, room)
        if found is None:
            return None
        limit = found
    true, paper, breaks = [stops[0]], [left], []
    for (a, b), gap in zip(itertools.pairwise(stops), gaps, strict=True):
        start = paper[-1]
        if gap <= limit + 1e-9:
            true.append(b)
            paper.append(start + gap)
            continue
        half = (limit - _BREAK) / 2
        breaks.append((start + half, start + half + _BREAK))
        true += [a + half / scale.ratio, b - half / scale.ratio, b]
        paper += [start + half, start + half + _BREAK, start + limit]
    return LengthMap(true=tuple(true), paper=tuple(paper), breaks=tuple(breaks))


def _limit(gaps: Sequence[float], room: float) -> float | None:
    """The common length to which the longest gaps are cut so that all fit into ``room``."""
    ordered = sorted(gaps)
    kept = 0.0
    for index, gap in enumerate(ordered):
        share = (room - kept) / (len(ordered) - index)
        if gap > share:
            return share if share >= _LEAST else None
        kept += gap
    return ordered[-1]
