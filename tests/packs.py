"""Every shipped job, built once in a test run for all tests that look at packs, in whichever process they run."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from filelock import FileLock

import railgen
from railgen.checks import Check
from railgen.job.model import Job
from railgen.layout import Layout
from railgen.members import Fabrication

__all__ = ["BAD", "CATALOGUES", "CONFIGS", "GOOD", "RUN", "BuiltPack", "built_pack", "copy_catalogues"]

CONFIGS = Path(__file__).parents[1] / "configs"
GOOD = sorted(path.stem for path in CONFIGS.glob("mill_*.toml"))
BAD = sorted(path.stem for path in CONFIGS.glob("bad_*.toml"))
CATALOGUES = sorted(CONFIGS.glob("*_fittings.toml"))
RUN: list[Path] = []
"""The one folder that all processes of a test run share; conftest.py puts it here."""


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
    """The pack of a shipped job, built by the first process that asks for it; to be looked at, never written to."""
    job = railgen.load(CONFIGS / f"{name}.toml")
    layout = railgen.solve(job)
    (run,) = RUN
    folder = run / "packs" / job.project.id
    folder.parent.mkdir(exist_ok=True)
    with FileLock(f"{folder}.lock"):
        if not folder.exists():
            assert railgen.build(job, folder.parent).folder == folder
    return BuiltPack(
        folder=folder,
        job=job,
        layout=layout,
        fabrication=railgen.fabricate(job, layout),
        checks=railgen.check(job, layout),
    )
