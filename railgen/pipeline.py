"""The order of the stages: job file -> Job -> Survey -> Layout -> Fabrication -> solids, schedules, checks -> pack."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from railgen.checks.model import Check
    from railgen.job.model import Job
    from railgen.layout.model import Layout
    from railgen.members import Fabrication
    from railgen.report.changes import Changes
    from railgen.report.earlier import Brought
    from railgen.report.snapshot import Snapshot

__all__ = ["Pack", "build", "check", "compare", "fabricate", "load", "solve"]

Progress = Callable[[str], None]
"""Called with a short sentence before each step of a build."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A written pack: its folder, and the checks it was written with.

    ``kept``: what somebody made or changed there that has another name now; ``older``: the files that ``only`` left and
    that do not belong to this state of the job; ``changes``: from the pack that was there before, or why they are
    ``uncompared``.
    """

    folder: Path
    checks: tuple[Check, ...]
    kept: tuple[Brought, ...] = ()
    older: tuple[str, ...] = ()
    changes: Changes | None = None
    uncompared: str = ""


def load(path: Path | str) -> Job:
    """Read and resolve a job file, the rule sets and the loads it names. Raises InputError with every fault found."""
    from railgen.checks.notes import check_notes
    from railgen.errors import InputError
    from railgen.job.read import load_job, placed

    job = load_job(Path(path))
    try:
        notes = check_notes(job)
    except InputError as error:
        raise InputError(placed(error.faults, Path(path))) from None
    return replace(job, notes=(*job.notes, *notes))


def solve(job: Job) -> Layout:
    """Survey and lay out, by strength too where asked. Raises ImpossibleError with every reason for no such rail."""
    from railgen.settle import settle

    return settle(job)


def fabricate(job: Job, layout: Layout) -> Fabrication:
    """Every piece, every hole, every occurrence."""
    from railgen.members import fabricate as make

    return make(job, layout)


def check(job: Job, layout: Layout) -> tuple[Check, ...]:
    """Every check of a solved rail, in the order it is printed."""
    from railgen.checks import run_checks

    return run_checks(job, layout)


def build(job: Job, out: Path | str, progress: Progress = lambda _: None, only: Collection[str] | None = None) -> Pack:
    """Write the pack of ``job`` into ``out/<job id>/``, whole or not at all; ``only`` renews the artefacts it names.

    Raises ImpossibleError or OutputError. A pack is written even where a check is not met: look at ``checks``.
    """
    progress("solving the layout")
    layout = solve(job)
    fabrication = fabricate(job, layout)
    checks = check(job, layout)
    from railgen.report.artefacts import Artefact
    from railgen.report.content import Content
    from railgen.report.write import write_pack

    content = Content(job=job, layout=layout, fabrication=fabrication, checks=checks)
    wanted = tuple(Artefact) if only is None else tuple(Artefact(name) for name in only)
    written = write_pack(content, Path(out), progress, wanted)
    return Pack(
        folder=written.folder,
        checks=checks,
        kept=written.kept,
        older=written.older,
        changes=written.changes,
        uncompared=written.uncompared,
    )


def compare(old: Path | str, new: Path | str) -> Changes:
    """What differs between two job files or packs, in any mix; nothing is written.

    Raises InputError for what cannot be read, ImpossibleError for a job that comes to no rail.
    """
    from railgen.report.changes import compared

    return compared(_snapshot(Path(old)), _snapshot(Path(new)))


def _snapshot(path: Path) -> Snapshot:
    from railgen.report.content import Content
    from railgen.report.snapshot import of_content, of_pack

    if path.is_dir():
        return of_pack(path)
    job = load(path)
    layout = solve(job)
    return of_content(Content(job=job, layout=layout, fabrication=fabricate(job, layout), checks=check(job, layout)))
