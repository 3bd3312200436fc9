"""What stands in the pack beside the job sheet, and what was not asked for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection

__all__ = ["pack_lines"]

_KINDS = (
    ("Solids", "solids", ("assembly.", "parts/")),
    ("Schedules", "schedules", ("drill_schedule.csv", "cut_list.csv", "parts_list.csv")),
    ("Drawings and templates", "drawings", ("drawings/",)),
    ("Labels", "labels", ("labels.",)),
    ("Installation", "installation", ("installation.",)),
    ("Hand-over record, to fill in and sign", "hand-over", ("hand_over.",)),
    ("All sheets as one file to print", "pack", ("pack.pdf",)),
    ("Order and saw list", "order", ()),  # everything else
)


def pack_lines(files: Collection[str]) -> list[tuple[str, str]]:
    """For each kind of artefact its files, named as they stand in the pack's folder, or how to have it made.

    >>> pack_lines(["cut_list.csv", "parts/R1.step", "parts/R2.step", "assembly.glb"])[0]
    ('Solids', 'assembly.glb, 2 STEP files in parts')
    """
    left = sorted(files)
    lines = []
    for title, artefact, starts in _KINDS:
        mine = [name for name in left if not starts or name.startswith(starts)]
        left = [name for name in left if name not in mine]
        lines.append((title, _named(mine) or f"not made; railgen build JOB --only {artefact} makes it"))
    return [*lines, ("In every pack", "checks.json, layout.json, manifest.json")]


def _named(files: list[str]) -> str:
    """PDF files and those of the pack's own folder by name, of other folders how many of a kind."""
    named = [name for name in files if "/" not in name or name.endswith(".pdf")]
    kinds = Counter((name.rpartition("/")[0], name.rpartition(".")[2].upper()) for name in files if name not in named)
    counted = [f"{count} {kind} file{'s' if count > 1 else ''} in {folder}" for (folder, kind), count in kinds.items()]
    return ", ".join([*named, *counted])
