"""Shop drawings: one for each distinct piece the workshop makes."""

from __future__ import annotations

from railgen.drawings.frame import Draft, finish
from railgen.drawings.plate import draw_plate
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Sheet
from railgen.drawings.tube import draw_tube
from railgen.job.model import Job
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import Fitting, FittingKind, Tube

__all__ = ["shop_sheets"]


def shop_sheets(job: Job, fabrication: Fabrication, setting: Setting) -> tuple[Sheet, ...]:
    """The shop drawings of all tubes and base plates, in the order of the pieces."""
    drafts: list[Draft] = []
    for piece in fabrication.pieces.values():
        if isinstance(piece, Tube):
            drafts += draw_tube(job, fabrication, piece, setting)
        elif isinstance(piece, Fitting) and piece.kind is FittingKind.BASE_PLATE:
            drafts.append(draw_plate(job, fabrication, piece, setting))
    return finish(job, setting, drafts)
