"""What a set of sheets has in common: paper, projection, figures, status."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from railgen.job.model import Job
from railgen.job.order_model import Finish, Projection
from railgen.units import Figures

__all__ = ["Paper", "Projection", "Setting"]


class Paper(Enum):
    """Sheet for drawings (landscape) and page for templates (portrait), mm.

    A series: ISO 216:2007; tabloid and letter: ANSI/ASME Y14.1 sizes B and A (both from memory).
    """

    ISO = ("A3", (420.0, 297.0), "A4", (210.0, 297.0))
    US = ("Tabloid", (431.8, 279.4), "Letter", (215.9, 279.4))

    def __init__(self, sheet_name: str, sheet: tuple[float, float], page_name: str, page: tuple[float, float]) -> None:
        self.sheet_name = sheet_name
        self.sheet = sheet
        self.page_name = page_name
        self.page = page


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """Every sheet bears ``status`` in large letters, such as ``CHECKS NOT MET``, unless it is empty, and ``build``."""

    figures: Figures
    paper: Paper = Paper.ISO
    projection: Projection = Projection.FIRST_ANGLE
    finish: Finish = field(default_factory=Finish)
    status: str = ""
    build: str = ""

    @classmethod
    def of(cls, job: Job, status: str = "", build: str = "") -> Setting:
        """What the job asks for."""
        order = job.order
        return cls(
            figures=Figures(style=order.dimensions),
            paper=Paper[order.paper.name],
            projection=order.projection,
            finish=order.finish,
            status=status,
            build=build,
        )
