"""How papers look follows from the unit of the job, unless the job says otherwise."""

from __future__ import annotations

import math
import shutil
from pathlib import Path

import pytest

from railgen import InputError, load
from railgen.drawings import Paper, Setting
from railgen.job.order_model import Projection
from railgen.units import Dimensions
from tests.packs import CONFIGS

METRIC, INCH = (CONFIGS / f"{name}.toml" for name in ("mill_loft_timber", "mill_weir_steps_inch"))


def written(tmp_path: Path, base: Path, more: str) -> Path:
    for beside in CONFIGS.glob("*_fittings.toml"):  # the catalogues the demos name
        shutil.copy(beside, tmp_path)
    path = tmp_path / "job.toml"
    text = base.read_text(encoding="utf-8")
    path.write_text(f"{text}\n{more}\n", encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("base", "dimensions", "projection", "paper"),
    [
        (METRIC, Dimensions.MM, Projection.FIRST_ANGLE, Paper.ISO),
        (INCH, Dimensions.INCH, Projection.THIRD_ANGLE, Paper.US),
    ],
)
def test_what_is_left_out_follows_the_unit(
    base: Path, dimensions: Dimensions, projection: Projection, paper: Paper
) -> None:
    setting = Setting.of(load(base))
    assert (setting.figures.style, setting.projection, setting.paper) == (dimensions, projection, paper)


def test_each_can_be_asked_for_by_itself(tmp_path: Path) -> None:
    more = '[print]\ndimensions = "mm and inch"\nprojection = "third-angle"\npaper = "US"'
    setting = Setting.of(load(written(tmp_path, METRIC, more)))
    assert setting.figures.style is Dimensions.BOTH
    assert (setting.projection, setting.paper) == (Projection.THIRD_ANGLE, Paper.US)
    setting = Setting.of(load(written(tmp_path, INCH, '[print]\npaper = "A"')))
    assert (setting.projection, setting.paper) == (Projection.THIRD_ANGLE, Paper.ISO)


def test_tolerances_reach_the_shop(tmp_path: Path) -> None:
    more = '[finish]\ngeneral_tolerance = "ISO 2768-f"\nhole_tolerance = 0.3\nangle_tolerance = 0.2'
    finish = Setting.of(load(written(tmp_path, METRIC, more))).finish
    assert (finish.general_tolerance, finish.hole_tolerance) == ("ISO 2768-f", 0.3)
    assert finish.angle_tolerance == pytest.approx(math.radians(0.2))


def test_a_paper_nobody_has_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"print\.paper"):
        load(written(tmp_path, METRIC, '[print]\npaper = "B"'))
