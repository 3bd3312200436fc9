"""Every shipped job, built once for all tests that look at packs."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import railgen
from railgen.checks import Check
from railgen.job.model import Job
from railgen.layout import Layout
from railgen.members import Fabrication

__all__ = ["BAD", "CATALOGUES", "CONFIGS", "GOOD", "BuiltPack", "built_pack", "copy_catalogues"]

CONFIGS = Path(__file__).parents[1] / "configs"
GOOD = sorted(path.stem for path in CONFIGS.glob("mill_*.toml"))
BAD = sorted(path.stem for path in CONFIGS.glob("bad_*.toml"))
CATALOGUES = sorted(CONFIGS.glob("*_fittings.toml"))


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltPack:
    folder: Path
    job: Job
    layout: Layout
    fabrication: Fabrication
    checks: tuple[Check, ...]


def copy_catalogues(folder: Path) -> None:
    """The shipped jobs' own catalogue files, set beside a job that a test writes into ``folder``."""
    for path in CATALOGUES:
        shutil.copy(path, folder)


@cache
def built_pack(name: str) -> BuiltPack:
    """The pack of a shipped job, built at the first call of a test run."""
    job = railgen.load(CONFIGS / f"{name}.toml")
    layout = railgen.solve(job)
    pack = railgen.build(job, Path(mkdtemp(prefix="railgen-test-")))
    return BuiltPack(
        folder=pack.folder,
        job=job,
        layout=layout,
        fabrication=railgen.fabricate(job, layout),
        checks=pack.checks,
    )
