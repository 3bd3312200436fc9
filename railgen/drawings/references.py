"""What a post is measured from on site: two lines square to each other, and how far its axis is from each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from railgen.geometry import Vec
from railgen.job.model import Job
from railgen.layout.model import Layout, Post
from railgen.members.fabrication import Fabrication

__all__ = ["Reference", "references"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """A line on the surface; ``towards`` is the unit direction from the post's axis square on to it."""

    name: str
    towards: Vec
    distance: float


def references(job: Job, layout: Layout, fabrication: Fabrication, post: Post) -> tuple[Reference, Reference]:
    """Nosing and side edge of the post's flight; of a post of no flight, the nearest edges of its landing."""
    if post.setback is None:
        near = sorted(_edges(layout, fabrication, post), key=lambda edge: edge.distance)
        first = near[0]
        second = next(edge for edge in near[1:] if abs(edge.towards.dot(first.towards)) < 0.5)
        return first, second
    flight, nosing = layout.survey.flights[post.setback.flight - 1], post.setback.tread or 1
    along = flight.along(post.base) - flight.tread_x(nosing)
    inside, outwards = flight.inside(job.rail.side, post.base), job.rail.side.outwards(flight.left)
    return (
        Reference(
            name=f"nosing {nosing} of flight {flight.flight.number}",
            towards=-flight.ahead if along > 0 else flight.ahead,
            distance=abs(along),
        ),
        Reference(
            name=f"side edge of flight {flight.flight.number}",
            towards=outwards if inside > 0 else -outwards,
            distance=abs(inside),
        ),
    )


def _edges(layout: Layout, fabrication: Fabrication, post: Post) -> Iterator[Reference]:
    """Every outer edge of the landing under a post, seen from the post, named as seen walking up on to the landing."""
    body, place = fabrication.body(post.surface)
    corners = [place.frame.point(Vec(x, y, 0.0)) for x, y in body.outline]
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        along = (b - a).unit()
        out = along.cross(Vec(0.0, 0.0, 1.0))  # the outline runs anticlockwise
        distance, share = (a - post.base).dot(out), (post.base - a).dot(along)
        if distance > 0 and -1e-6 <= share <= (b - a).length + 1e-6:
            name = f"{_side(layout, post, out)} edge of landing {post.surface.number}"
            yield Reference(name=name, towards=out, distance=distance)


def _side(layout: Layout, post: Post, out: Vec) -> str:
    """Where an edge lies, as seen by someone who walks up the flight below the landing."""
    below = layout.survey.flights[post.surface.flight - 1]
    sides = (("far", below.ahead), ("near", -below.ahead), ("left", below.left), ("right", -below.left))
    return max(sides, key=lambda side: side[1].dot(out))[0]
