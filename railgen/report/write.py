"""The pack: solids, schedules, drawings, job sheet and checks of one job, written from the same members."""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from functools import partial
from importlib.metadata import version
from pathlib import Path

from railgen.checks import Verdict
from railgen.checks.rules.load import load_rule_sets
from railgen.checks.table import checks_json, overall
from railgen.drawings import write_dxf, write_pdf
from railgen.errors import InputError
from railgen.job.model import Job
from railgen.members.pieces import Fitting, FittingKind, Tube
from railgen.report.artefacts import ABOUT, ALWAYS, CHANGES, NOT_MADE, Artefact, renews
from railgen.report.build_mark import build_mark
from railgen.report.changes import Changes, compared
from railgen.report.content import Content, Worked
from railgen.report.draft import Draft, Stamp
from railgen.report.pack import Written, write_folder
from railgen.report.snapshot import of_content, of_earlier
from railgen.schedules import Quantity, Table, layout_json
from railgen.schedules.install import installation_text

__all__ = ["write_pack"]

_PACKAGES = ("railgen", "cadquery", "cadquery-ocp", "ezdxf", "matplotlib", "numpy", "reportlab", "trimesh")


def write_pack(
    content: Content, out: Path, progress: Callable[[str], None], wanted: Collection[Artefact] = tuple(Artefact)
) -> Written:
    """Write the pack, or those artefacts of it that are wanted. Raises OutputError, leaving nothing half-written."""
    job, checks = content.job, content.checks
    stamp = Stamp(
        input=job.digest,
        state=state_of(job),
        build=build_mark(job),
        versions={name: version(name) for name in _PACKAGES},
        checks_met=overall(checks) is Verdict.MEETS,
    )

    changes: Changes | str | None = None

    def write(draft: Draft) -> None:
        nonlocal changes
        changes = _changes(content, draft)
        if isinstance(changes, Changes):
            _write(draft.folder / CHANGES, changes.text())
        solids = Artefact.SOLIDS in wanted
        worked = Worked(content, _solids(content, draft.folder, stamp.build, progress) if solids else None)
        if solids or Artefact.SCHEDULES in wanted:
            _write(draft.folder / "parts_list.csv", _parts(worked, draft).stamped(stamp.build).csv())
        for artefact, writer in _WRITERS.items():
            if artefact in wanted:
                progress(ABOUT[artefact].doing)
                writer(worked, draft.folder)
        if Artefact.JOB_SHEET in wanted:
            progress(ABOUT[Artefact.JOB_SHEET].doing)
            _job_sheet(worked, draft, stamp.versions)
        progress(ALWAYS.doing)
        _write(draft.folder / "checks.json", checks_json(checks, [*job.notes, *content.layout.notes], stamp.build))
        _write(draft.folder / "layout.json", layout_json(job, content.layout, content.fabrication, stamp.build))

    written = write_folder(out, job.project.id, stamp, write, partial(renews, wanted=wanted))
    if isinstance(changes, Changes):
        return replace(written, changes=changes)
    return replace(written, uncompared=changes or "")


def _changes(content: Content, draft: Draft) -> Changes | str | None:
    """From the pack that is there to this one; in words, why that cannot be said; None where nothing differs."""
    if draft.earlier is None:
        return None
    try:
        changes = compared(of_earlier(draft.earlier), of_content(content))
    except InputError as error:
        same = all(ours.state == draft.state for ours in draft.earlier.files.values())
        return None if same else f"{error}"
    return changes if changes.found else None


def state_of(job: Job) -> str:
    """Sha256 of all that decides what is written: the job and its hardware as resolved, its rule sets, the version."""
    rules = load_rule_sets(job.rules)
    resolved = replace(job, digest="", rules=replace(job.rules, files=()))
    return hashlib.sha256(repr((resolved, rules, version("railgen"))).encode()).hexdigest()


def _solids(content: Content, folder: Path, build: str, progress: Callable[[str], None]) -> Mapping[str, float]:
    """The assembly as STEP, STL and GLB, and a STEP file for each fabricated piece.

    Answers with the volume (mm3) of each piece.
    """
    progress(ABOUT[Artefact.SOLIDS].doing)
    from railgen import solids

    job, fabrication = content.job, content.fabrication
    progress("building solids")
    shapes = solids.build_all(fabrication)
    progress("writing the assembly")
    solids.write_step(folder / "assembly.step", job, fabrication, shapes, build)
    solids.write_stl(folder / "assembly.stl", fabrication, shapes)
    solids.write_glb(folder / "assembly.glb", job, fabrication, shapes)
    parts = folder / "parts"
    parts.mkdir()
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, Tube) or (isinstance(piece, Fitting) and piece.kind is FittingKind.BASE_PLATE):
            solids.write_part_step(parts / f"{mark}.step", piece, shapes[mark], build)
    return solids.volumes(shapes)


def _parts(worked: Worked, draft: Draft) -> Table:
    """The parts list, with the masses of the solids: those just built, or those that stay in the pack."""
    table, known = worked.parts, draft.current("parts_list.csv")
    if worked.volumes is not None or not known or not draft.current("assembly.step"):
        return table
    with known.open(encoding="utf-8", newline="") as file:
        told = [[float(row[name]) for name in ("mass_kg", "total_kg")] for row in csv.DictReader(file)]
    masses = [n for n, column in enumerate(table.columns) if column.quantity is Quantity.MASS]
    first, end = masses[0], masses[-1] + 1
    rows = tuple((*row[:first], *mass, *row[end:]) for row, mass in zip(table.rows, told, strict=True))
    return replace(table, rows=rows)


def _schedules(worked: Worked, folder: Path) -> None:
    """Every hole and every cut."""
    _write(folder / "drill_schedule.csv", worked.drill.stamped(worked.build).csv())
    _write(folder / "cut_list.csv", worked.cut.stamped(worked.build).csv())


def _drawings(worked: Worked, folder: Path) -> None:
    """Set-out, shop drawings and templates, each set as one PDF and every sheet as DXF."""
    folder = folder / "drawings"
    folder.mkdir()
    for name, sheets in worked.sheets.named():
        write_pdf(sheets, folder / f"{name}.pdf")
        for sheet in sheets:
            write_dxf(sheet, folder / f"{sheet.name}.dxf")


def _order(worked: Worked, folder: Path) -> None:
    """What to buy and how to saw it, as text and as one workbook."""
    if worked.book is None:
        _write_marked(worked, folder / NOT_MADE, f"{worked.no_book}\n")
        return
    _write(folder / "order.csv", worked.book.order_csv(worked.build))
    _write(folder / "saw_list.csv", worked.book.saw_csv(worked.build))
    (folder / "workbook.xlsx").write_bytes(worked.book.xlsx(worked.mark, worked.build))


def _labels(worked: Worked, folder: Path) -> None:
    """A label for each tube, to print and for label printers."""
    from railgen.report.paper.files import write_labels

    _write(folder / "labels.csv", worked.labels.stamped(worked.build).csv())
    write_labels(worked, folder / "labels.pdf")


def _installation(worked: Worked, folder: Path) -> None:
    """The steps, which need a cutting plan."""
    from railgen.report.paper.files import write_installation

    if worked.book is None:
        _write_marked(worked, folder / NOT_MADE, f"{worked.no_book}\n")
        return
    text = installation_text(worked.steps, worked.content.job.order.dimensions)
    _write_marked(worked, folder / "installation.txt", text)
    write_installation(worked, folder / "installation.pdf")


def _hand_over(worked: Worked, folder: Path) -> None:
    """The record to be filled in."""
    from railgen.report.paper.files import write_hand_over

    _write_marked(worked, folder / "hand_over.txt", worked.record.text())
    write_hand_over(worked, folder / "hand_over.pdf")


def _pack_book(worked: Worked, folder: Path) -> None:
    """Everything on paper, in one file."""
    from railgen.report.paper.files import write_pack_book

    write_pack_book(worked, folder / "pack.pdf")


_WRITERS: Mapping[Artefact, Callable[[Worked, Path], None]] = {
    Artefact.SCHEDULES: _schedules,
    Artefact.DRAWINGS: _drawings,
    Artefact.ORDER: _order,
    Artefact.LABELS: _labels,
    Artefact.INSTALLATION: _installation,
    Artefact.HAND_OVER: _hand_over,
    Artefact.PACK: _pack_book,
}
"""Of what is written from the members and the lists alone; solids and job sheet ask and give more."""


def _job_sheet(worked: Worked, draft: Draft, versions: Mapping[str, str]) -> None:
    """The page that holds the job, with the solids and the masses where the pack has them."""
    from railgen.report.page.sheet import job_sheet

    model = draft.current("assembly.glb")
    page = job_sheet(
        worked,
        glb=model.read_bytes() if model else b"",
        parts=_parts(worked, draft),
        files=draft.files,
        older=draft.older,
        versions=versions,
    )
    _write(draft.folder / "job_sheet.html", page)


def _write_marked(worked: Worked, path: Path, text: str) -> None:
    """Text for people, which begins with what stands on every sheet and ends with its build."""
    head = f"{worked.mark}\n\n" if worked.mark else ""
    _write(path, f"{head}{text.rstrip()}\n\nbuild {worked.build}\n")


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="")
