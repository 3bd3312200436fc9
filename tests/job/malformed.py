"""Every file that must be refused, each with the fault that tells why and where; shared with the commands' tests."""

from __future__ import annotations

from pathlib import Path

from tests.job.cases import Case
from tests.job.malformed_catalogues import CATALOGUES
from tests.job.malformed_jobs import JOBS
from tests.job.malformed_values import VALUES

__all__ = ["CASES", "Case", "write_case"]

CASES: tuple[Case, ...] = (*VALUES, *JOBS, *CATALOGUES)


def write_case(case: Case, folder: Path) -> Path:
    """Write a case's files into a folder; returns the job's path."""
    for name, text in case.files.items():
        (folder / name).write_text(text, encoding="utf-8")
    path = folder / "job.toml"
    if case.job is not None:
        path.write_bytes(case.job if isinstance(case.job, bytes) else case.job.encode())
    return path
