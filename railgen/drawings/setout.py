"""Set-out drawings: the whole stair in plan, each flight in elevation, each landing in detail."""

from __future__ import annotations

from railgen.drawings.elevation import draw_elevation
from railgen.drawings.frame import Draft, finish
from railgen.drawings.landing import draw_landing
from railgen.drawings.plan import draw_plans
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Sheet
from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.members.fabrication import Fabrication

__all__ = ["set_out_sheets"]


def set_out_sheets(job: Job, layout: Layout, fabrication: Fabrication, setting: Setting) -> tuple[Sheet, ...]:
    """Plans first, then every flight, then every landing."""
    drafts: list[Draft] = draw_plans(job, layout, fabrication, setting)
    drafts += [draw_elevation(job, layout, fabrication, flight, setting) for flight in layout.survey.flights]
    drafts += [draw_landing(job, layout, fabrication, landing.number, setting) for landing in job.landings]
    return finish(job, setting, drafts)
