"""What a pack may hold: one table, read by the command line, the writing, the job sheet and the test of README.md."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum
from fnmatch import fnmatchcase

__all__ = ["ABOUT", "ALWAYS", "CHANGES", "NOT_MADE", "OLDER", "About", "Artefact", "pack_lines", "renews"]

NOT_MADE = "order_not_made.txt"
"""Stands in the place of what needs a cutting plan, and says why there is none."""

OLDER = "OLDER.txt"
"""Names what in a pack was left by a build of a part of it and is older than the job; gone when nothing is."""


CHANGES = "changes.txt"
"""How the numbers differ from those of the pack that was there before; gone when they do not."""


class Artefact(StrEnum):
    """What can be asked for alone, in the order in which it is written."""

    SOLIDS = "solids"
    SCHEDULES = "schedules"
    DRAWINGS = "drawings"
    ORDER = "order"
    LABELS = "labels"
    INSTALLATION = "installation"
    HAND_OVER = "hand-over"
    PACK = "pack"
    JOB_SHEET = "job-sheet"


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What an artefact is called, its files as patterns, what they are for, and what is shown while it is written."""

    title: str
    files: tuple[str, ...]
    purpose: str
    doing: str
    also: tuple[str, ...] = ()  # files of another artefact that are written again with this one

    def has(self, name: str) -> bool:
        """Whether a file, by its name in the pack's folder, is one of its own."""
        return any(fnmatchcase(name, pattern) for pattern in self.files)


_PARTS, _NO_ORDER = "parts_list.csv", "order_not_made.txt"

ABOUT = {
    Artefact.SOLIDS: About(
        title="Solids",
        files=("assembly.step", "assembly.stl", "assembly.glb", "parts/*.step"),
        purpose="the solids, for the architect or the machine: STEP and STL in millimetres, GLB in metres",
        doing="loading the solid modeller",
        also=(_PARTS,),  # the masses come from the solids
    ),
    Artefact.SCHEDULES: About(
        title="Schedules",
        files=("drill_schedule.csv", "cut_list.csv", _PARTS),
        purpose="every hole, every cut, every part",
        doing="writing schedules",
    ),
    Artefact.DRAWINGS: About(
        title="Drawings and templates",
        files=("drawings/*.pdf", "drawings/*.dxf"),
        purpose="set-out, shop drawings and 1:1 templates, each set as PDF and every sheet as DXF",
        doing="drawing sheets and templates",
    ),
    Artefact.ORDER: About(
        title="Order and saw list",
        files=("order.csv", "saw_list.csv", "workbook.xlsx", _NO_ORDER),
        purpose="what to buy, which piece to saw from which bar, and all tables in one workbook, with a cost sheet "
        "where there are prices; or why there is no cutting plan",
        doing="nesting tubes and writing the order",
    ),
    Artefact.LABELS: About(
        title="Labels", files=("labels.pdf", "labels.csv"), purpose="a label for each piece", doing="printing labels"
    ),
    Artefact.INSTALLATION: About(
        title="Installation",
        files=("installation.pdf", "installation.txt"),
        purpose="the sequence on site, with hold points, what to measure and the cautions at their step",
        doing="printing the installation",
        also=(_NO_ORDER,),
    ),
    Artefact.HAND_OVER: About(
        title="Hand-over record, to fill in and sign",
        files=("hand_over.pdf", "hand_over.txt"),
        purpose="the record to fill in, sign and leave with the owner",
        doing="printing the hand-over record",
    ),
    Artefact.PACK: About(
        title="All sheets as one file to print",
        files=("pack.pdf",),
        purpose="all of it on paper, with contents and page numbers",
        doing="printing the pack",
    ),
    Artefact.JOB_SHEET: About(
        title="Job sheet",
        files=("job_sheet.html",),
        purpose="one page that opens offline, on a phone or at a desk: the assembly in 3D with parts to pick, "
        "drawings, schedules, order, installation, every check with its formula",
        doing="writing the job sheet",
    ),
}

ALWAYS = About(
    title="In every pack",
    files=("checks.json", "layout.json", "manifest.json"),
    purpose="verdicts, numbers, and what the pack was made with, for other programs",
    doing="writing checks and numbers",
)


def renews(name: str, wanted: Collection[Artefact]) -> bool:
    """Whether a build of the wanted artefacts writes the file again, or does away with it.

    >>> renews("parts_list.csv", [Artefact.SOLIDS]), renews("cut_list.csv", [Artefact.SOLIDS])
    (True, False)
    """
    if len(set(wanted)) == len(Artefact) or ALWAYS.has(name):
        return True
    return any(ABOUT[each].has(name) or name in ABOUT[each].also for each in wanted)


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
