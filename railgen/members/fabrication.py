"""The whole rail as pieces: what the workshop makes and buys, where each sits, which holes mate."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.members.pieces import Joint, Piece, Placed, StairBody
from railgen.members.posts import SurfaceHoles, add_post
from railgen.members.rails import add_rail
from railgen.members.stair import body_of, stair_bodies
from railgen.members.workshop import Workshop
from railgen.survey import SurfaceId

__all__ = ["Fabrication", "fabricate"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabrication:
    """Distinct pieces by mark, their occurrences, and the joints between them."""

    pieces: Mapping[str, Piece]
    placed: tuple[Placed, ...]
    joints: tuple[Joint, ...]
    _places: Mapping[str, Placed] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_places", {place.id: place for place in self.placed})

    def place(self, occurrence: str) -> Placed:
        """Where an occurrence is. Raises KeyError."""
        return self._places[occurrence]

    def mark(self, occurrence: str) -> str:
        """The mark of an occurrence."""
        return self._places[occurrence].mark

    def piece(self, occurrence: str) -> Piece:
        """What an occurrence is made or bought as."""
        return self.pieces[self.mark(occurrence)]

    def body(self, surface: SurfaceId) -> tuple[StairBody, Placed]:
        """A surface's body and where it is."""
        place = self.place(body_of(surface))
        body = self.pieces[place.mark]
        if not isinstance(body, StairBody):
            raise TypeError(f"{surface} is no part of the stair")
        return body, place

    def named(self, occurrence: str) -> str:
        """An occurrence with its mark, where that is another name."""
        mark = self.mark(occurrence)
        return occurrence if mark == occurrence else f"{occurrence} ({mark})"

    def quantities(self) -> Counter[str]:
        """How many of each mark the assembly has."""
        return Counter(place.mark for place in self.placed)


def fabricate(job: Job, layout: Layout) -> Fabrication:
    """Every piece and every occurrence of the rail and its stair, with the joints between them."""
    shop = Workshop(job=job)
    surfaces: SurfaceHoles = {}
    for post in layout.posts:
        add_post(shop, layout, post, surfaces)
    for rail in layout.rails:
        add_rail(shop, layout, rail)
    for body, place in stair_bodies(job, layout, surfaces):
        shop.pieces[body.mark] = body
        shop.placed.append(place)
    return Fabrication(pieces=shop.pieces, placed=tuple(shop.placed), joints=tuple(shop.joints))
