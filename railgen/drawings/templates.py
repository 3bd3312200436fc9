"""Everything that is printed at 1:1: strips for tubes, drilling templates for plates, setback gauges."""

from __future__ import annotations

from railgen.drawings.plates import drilling_template, gauges
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Sheet
from railgen.drawings.strip import strip
from railgen.drawings.tiles import paged
from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import Tube

__all__ = ["templates"]


def templates(job: Job, layout: Layout, fabrication: Fabrication, setting: Setting) -> tuple[Sheet, ...]:
    """Pages of A4 or Letter, in the order of the work: tubes, then plates, then gauges."""
    tubes = [piece for piece in fabrication.pieces.values() if isinstance(piece, Tube) and piece.holes]
    return paged(
        job,
        setting,
        [
            *(strip(tube, setting) for tube in tubes),
            *(drilling_template(job, layout, fabrication, post, setting) for post in layout.posts),
            *gauges(job, layout, fabrication, setting),
        ],
    )
