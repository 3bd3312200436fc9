"""The whole rail as pieces: what the workshop makes and buys, where each sits, which holes mate."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from railgen.members.pieces import Joint, Piece, Placed

__all__ = ["Fabrication"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabrication:
    """Distinct pieces by mark, their occurrences, and the joints between them."""

    pieces: Mapping[str, Piece]
    placed: tuple[Placed, ...]
    joints: tuple[Joint, ...]

    def quantities(self) -> Counter[str]:
        """How many of each mark the assembly has."""
        return Counter(place.mark for place in self.placed)
