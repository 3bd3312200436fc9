"""What stands in the pack beside the job sheet, and what was not asked for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection

from railgen.report.artefacts import ABOUT, ALWAYS, Artefact

__all__ = ["pack_lines"]


def pack_lines(files: Collection[str], older: Collection[str] = ()) -> list[tuple[str, str]]:
    """For each other artefact its files, named as they stand in the pack's folder, or how to have it made.

    ``older``: those of the files that do not belong to this state of the job.

    >>> pack_lines(["cut_list.csv", "parts/R1.step", "parts/R2.step", "assembly.glb"])[0]
    ('Solids', 'assembly.glb, 2 STEP files in parts')
    """
    lines = []
    for artefact, about in ABOUT.items():
        if artefact is not Artefact.JOB_SHEET:
            mine = sorted(filter(about.has, files))
            told = _named(mine) or f"not made; railgen build JOB --only {artefact} makes it"
            old = ": OLDER THAN THIS PAGE, do not work from it" if any(name in older for name in mine) else ""
            lines.append((about.title, told + old))
    return [*lines, (ALWAYS.title, ", ".join(ALWAYS.files))]


def _named(files: list[str]) -> str:
    """PDF files and those of the pack's own folder by name, of other folders how many of a kind."""
    named = [name for name in files if "/" not in name or name.endswith(".pdf")]
    kinds = Counter((name.rpartition("/")[0], name.rpartition(".")[2].upper()) for name in files if name not in named)
    counted = [f"{count} {kind} file{'s' if count > 1 else ''} in {folder}" for (folder, kind), count in kinds.items()]
    return ", ".join([*named, *counted])
