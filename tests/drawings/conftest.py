from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from railgen import load
from railgen.drawings import Setting, Sheet, set_out_sheets, shop_sheets, templates
from railgen.job.model import CornerJoint, EndFinish, Job, PostLengths, RailEnd, Side, Turn
from railgen.layout import Layout, solve
from railgen.members import Fabrication, fabricate
from railgen.survey import survey_job
from railgen.units import Dimensions
from tests.jobs import flight, job, landing, worked_job

_CONFIGS = Path(__file__).parents[2] / "configs"
CONFIGS = sorted([*_CONFIGS.glob("mill_*.toml"), _CONFIGS / "weak_mezzanine.toml"])


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A job, what the stages made of it, and its sheets."""

    job: Job
    layout: Layout
    fabrication: Fabrication
    shop: tuple[Sheet, ...]
    set_out: tuple[Sheet, ...]
    templates: tuple[Sheet, ...]

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        return (*self.shop, *self.set_out, *self.templates)


def make(given: Job, setting: Setting | None = None) -> Made:
    layout = solve(given, survey_job(given))
    fabrication = fabricate(given, layout)
    setting = setting or Setting.of(given)
    return Made(
        job=given,
        layout=layout,
        fabrication=fabrication,
        shop=shop_sheets(given, fabrication, setting),
        set_out=set_out_sheets(given, layout, fabrication, setting),
        templates=templates(given, layout, fabrication, setting),
    )


def tall_job() -> Job:
    """Five flights round half turns, each above the one before the last."""
    flights = [flight(n, [178 + n] * 9, [250] * 8) for n in range(1, 6)]
    return job(flights, [landing(n, Turn.HALF_LEFT, 1000, well=120) for n in range(1, 5)])


def level_job() -> Job:
    """Level parts over the floor at both ends of the rail, the upper one over a post."""
    top, bottom = (RailEnd(finish=EndFinish.CAP, overhang=100, level=reach) for reach in (305, 300))
    return job([flight(1, [178] * 7, [250] * 6, posts=(0, 4, 7))], top=top, bottom=bottom)


def printed(given: Job, style: Dimensions) -> Job:
    """The same job, its papers in other units."""
    return replace(given, order=replace(given.order, dimensions=style))


JOBS = {
    **{path.stem: (lambda path=path: load(path)) for path in CONFIGS},
    "half": worked_job,
    "half-outer": lambda: worked_job(side=Side.RIGHT),
    "straight": lambda: worked_job(Turn.STRAIGHT),
    "quarter-outer": lambda: worked_job(Turn.QUARTER_RIGHT),
    "quarter-inner": lambda: worked_job(Turn.QUARTER_LEFT, corner=CornerJoint.CLIMB),
    "cut": lambda: worked_job(lengths=PostLengths.CUT),
    "tall": tall_job,
    "level-ends": level_job,
    **{f"{path.stem} dual": (lambda path=path: printed(load(path), Dimensions.BOTH)) for path in CONFIGS},
    "half sixteenths": lambda: printed(worked_job(), Dimensions.SIXTEENTH),
    "quarter dual sixteenths": lambda: printed(worked_job(Turn.QUARTER_RIGHT), Dimensions.BOTH_SIXTEENTH),
    "tall dual": lambda: printed(tall_job(), Dimensions.BOTH),
}
_MADE: dict[str, Made] = {}


@pytest.fixture(params=JOBS)
def made(request: pytest.FixtureRequest) -> Made:
    if request.param not in _MADE:
        _MADE[request.param] = make(JOBS[request.param]())
    return _MADE[request.param]


@pytest.fixture
def half() -> Made:
    if "half" not in _MADE:
        _MADE["half"] = make(JOBS["half"]())
    return _MADE["half"]
