"""Where every post stands, as a table."""

from __future__ import annotations

from collections.abc import Sequence

from railgen.drawings.table import Table
from railgen.job.model import Job
from railgen.layout.model import Layout, Post
from railgen.members.fabrication import Fabrication
from railgen.units import Figures

__all__ = ["edge_of", "post_table"]


def post_table(job: Job, layout: Layout, fabrication: Fabrication, posts: Sequence[Post], figures: Figures) -> Table:
    """One row for each post, in walking order."""
    return Table(
        headings=("Post", "Mark", "Length", "Stands on", "Setback", "from", "Moved", "From edge", "Carries"),
        rows=tuple(
            (
                post.id,
                fabrication.mark(post.id),
                figures.length(post.length),
                str(post.surface),
                "-" if post.setback is None else figures.length(post.setback.distance),
                _nosing(post),
                "-" if post.setback is None else figures.length(post.setback.move),
                "-" if (edge := edge_of(layout, job, post)) is None else figures.length(edge),
                post.role.value,
            )
            for post in posts
        ),
    )


def _nosing(post: Post) -> str:
    if post.setback is None:
        return "-"
    return f"nosing {post.setback.tread}" if post.setback.tread else "nosing 0 (projected)"


def edge_of(layout: Layout, job: Job, post: Post) -> float | None:
    """How far (mm) inside the side edge of its flight a post's axis is; None for a post of no flight."""
    if post.setback is None:
        return None
    return layout.survey.flights[post.setback.flight - 1].inside(job.rail.side, post.base)
