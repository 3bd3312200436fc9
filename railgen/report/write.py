"""The pack: solids, schedules, drawings, job sheet and checks of one job, written from the same members."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from enum import StrEnum
from importlib.metadata import version
from pathlib import Path

from railgen.checks import Verdict
from railgen.checks.table import checks_json, worst
from railgen.drawings import write_dxf, write_pdf
from railgen.members.pieces import Fitting, FittingKind, Tube
from railgen.report.content import Content, Worked
from railgen.report.pack import open_pack, write_manifest
from railgen.schedules import cut_list, drill_schedule, layout_json, parts_list
from railgen.schedules.install import installation_text

__all__ = ["Artefact", "Content", "write_pack"]

_PACKAGES = ("railgen", "cadquery", "cadquery-ocp", "ezdxf", "matplotlib", "numpy", "reportlab", "trimesh")


class Artefact(StrEnum):
    """What a pack may hold besides its checks and numbers; each can be asked for alone.

    The parts list comes with the schedules and with the solids, which give its masses.
    """

    SOLIDS = "solids"
    SCHEDULES = "schedules"
    DRAWINGS = "drawings"
    ORDER = "order"
    LABELS = "labels"
    INSTALLATION = "installation"
    HAND_OVER = "hand-over"
    PACK = "pack"
    JOB_SHEET = "job-sheet"


def write_pack(
    content: Content, out: Path, progress: Callable[[str], None], wanted: Collection[Artefact] = tuple(Artefact)
) -> Path:
    """Write the pack and return its folder. Raises OutputError, leaving nothing half-written."""
    job, checks = content.job, content.checks
    with open_pack(out, job.project.id) as folder:
        worked = Worked(content, _solids(content, folder, progress) if Artefact.SOLIDS in wanted else None)
        if Artefact.SCHEDULES in wanted:
            progress("writing schedules")
            _write(folder / "drill_schedule.csv", drill_schedule(content.fabrication))
            _write(folder / "cut_list.csv", cut_list(job, content.fabrication))
        if Artefact.SCHEDULES in wanted or Artefact.SOLIDS in wanted:
            _write(folder / "parts_list.csv", parts_list(job, content.fabrication, worked.volumes))
        versions = {name: version(name) for name in _PACKAGES}
        if Artefact.DRAWINGS in wanted:
            progress("drawing sheets and templates")
            _drawings(worked, folder / "drawings")
        for artefact, doing, write in _PAPERS:
            if artefact in wanted:
                progress(doing)
                write(worked, folder)
        if Artefact.JOB_SHEET in wanted:
            progress("writing the job sheet")
            _job_sheet(worked, folder, versions)
        progress("writing checks and numbers")
        _write(folder / "checks.json", checks_json(checks, [*job.notes, *content.layout.notes]))
        _write(folder / "layout.json", layout_json(job, content.layout, content.fabrication))
        write_manifest(folder, job.digest, versions, checks_met=worst(checks) is Verdict.MEETS)
    return out / job.project.id


def _solids(content: Content, folder: Path, progress: Callable[[str], None]) -> Mapping[str, float]:
    """The assembly as STEP, STL and GLB, and a STEP file for each fabricated piece.

    Answers with the volume (mm3) of each piece.
    """
    progress("loading the solid modeller")
    from railgen import solids

    job, fabrication = content.job, content.fabrication
    progress("building solids")
    shapes = solids.build_all(fabrication)
    progress("writing the assembly")
    solids.write_step(folder / "assembly.step", job, fabrication, shapes)
    solids.write_stl(folder / "assembly.stl", fabrication, shapes)
    solids.write_glb(folder / "assembly.glb", job, fabrication, shapes)
    parts = folder / "parts"
    parts.mkdir()
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, Tube) or (isinstance(piece, Fitting) and piece.kind is FittingKind.BASE_PLATE):
            solids.write_part_step(parts / f"{mark}.step", piece, shapes[mark])
    return solids.volumes(shapes)


def _drawings(worked: Worked, folder: Path) -> None:
    """Set-out, shop drawings and templates, each set as one PDF and every sheet as DXF."""
    folder.mkdir()
    for name, sheets in worked.sheets.named():
        write_pdf(sheets, folder / f"{name}.pdf")
        for sheet in sheets:
            write_dxf(sheet, folder / f"{sheet.name}.dxf")


def _order(worked: Worked, folder: Path) -> None:
    """What to buy and how to saw it, as text and as one workbook."""
    if worked.book is None:
        _write_marked(worked, folder / "order_not_made.txt", f"{worked.no_book}\n")
        return
    _write(folder / "order.csv", worked.book.order_csv())
    _write(folder / "saw_list.csv", worked.book.saw_csv())
    (folder / "workbook.xlsx").write_bytes(worked.book.xlsx(worked.mark))


def _labels(worked: Worked, folder: Path) -> None:
    """A label for each tube, to print and for label printers."""
    from railgen.report.print_pack import write_labels

    _write(folder / "labels.csv", worked.labels.csv())
    write_labels(worked, folder / "labels.pdf")


def _installation(worked: Worked, folder: Path) -> None:
    """The steps, which need a cutting plan."""
    from railgen.report.print_pack import write_installation

    if worked.book is None:
        _write_marked(worked, folder / "order_not_made.txt", f"{worked.no_book}\n")
        return
    text = installation_text(worked.steps, worked.content.job.order.dimensions)
    _write_marked(worked, folder / "installation.txt", text)
    write_installation(worked, folder / "installation.pdf")


def _hand_over(worked: Worked, folder: Path) -> None:
    """The record to be filled in."""
    from railgen.report.print_pack import write_hand_over

    _write_marked(worked, folder / "hand_over.txt", worked.record.text())
    write_hand_over(worked, folder / "hand_over.pdf")


def _pack_book(worked: Worked, folder: Path) -> None:
    """Everything on paper, in one file."""
    from railgen.report.print_pack import write_pack_book

    write_pack_book(worked, folder / "pack.pdf")


_PAPERS: tuple[tuple[Artefact, str, Callable[[Worked, Path], None]], ...] = (
    (Artefact.ORDER, "nesting tubes and writing the order", _order),
    (Artefact.LABELS, "printing labels", _labels),
    (Artefact.INSTALLATION, "printing the installation", _installation),
    (Artefact.HAND_OVER, "printing the hand-over record", _hand_over),
    (Artefact.PACK, "printing the pack", _pack_book),
)
"""What is written from the cutting plan and the lists: artefact, progress, writer."""


def _job_sheet(worked: Worked, folder: Path, versions: Mapping[str, str]) -> None:
    """The page that holds the job, with the solids and the masses where the pack has them."""
    from railgen.report.sheet import job_sheet

    model, parts = folder / "assembly.glb", folder / "parts_list.csv"
    page = job_sheet(
        worked,
        glb=model.read_bytes() if model.exists() else b"",
        parts=parts.read_text(encoding="utf-8") if parts.exists() else "",
        files=[path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()],
        versions=versions,
    )
    _write(folder / "job_sheet.html", page)


def _write_marked(worked: Worked, path: Path, text: str) -> None:
    """Text for people, which begins with what stands on every sheet."""
    _write(path, f"{worked.mark}\n\n{text}" if worked.mark else text)


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="")
