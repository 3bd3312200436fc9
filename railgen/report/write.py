"""The pack: solids, schedules, drawings, job sheet and checks of one job, written from the same members."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from importlib.metadata import version
from pathlib import Path

from railgen.checks import Check, Verdict
from railgen.checks.table import CHECK_COLUMNS, check_rows, checks_json, worst
from railgen.drawings import Setting, set_out_sheets, shop_sheets, templates, write_dxf, write_pdf
from railgen.drawings.sheet import Sheet
from railgen.errors import ImpossibleError
from railgen.job.model import Job
from railgen.job.order_model import Stock
from railgen.layout.model import Layout
from railgen.members import Fabrication
from railgen.members.pieces import Fitting, FittingKind, Tube
from railgen.report.pack import open_pack, write_manifest
from railgen.schedules import cut_list, drill_schedule, layout_json, parts_list

__all__ = ["Artefact", "Content", "write_pack"]

_PACKAGES = ("railgen", "cadquery", "cadquery-ocp", "ezdxf", "numpy", "reportlab", "trimesh")
_NOT_MET = {Verdict.FAILS: "CHECKS NOT MET", Verdict.CANNOT_SAY: "CHECKS INCOMPLETE", Verdict.MEETS: ""}


class Artefact(StrEnum):
    """What a pack may hold besides its checks and numbers; each can be asked for alone."""

    SOLIDS = "solids"
    SCHEDULES = "schedules"
    DRAWINGS = "drawings"
    JOB_SHEET = "job-sheet"
    ORDER = "order"


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """All that a pack is written from."""

    job: Job
    layout: Layout
    fabrication: Fabrication
    checks: Sequence[Check]


def write_pack(
    content: Content, out: Path, progress: Callable[[str], None], wanted: Collection[Artefact] = tuple(Artefact)
) -> Path:
    """Write the pack and return its folder. Raises OutputError, leaving nothing half-written."""
    job, checks = content.job, content.checks
    with open_pack(out, job.project.id) as folder:
        if Artefact.SOLIDS in wanted:
            _solids(content, folder, progress)
        if Artefact.SCHEDULES in wanted:
            progress("writing schedules")
            _write(folder / "drill_schedule.csv", drill_schedule(content.fabrication))
            _write(folder / "cut_list.csv", cut_list(job, content.fabrication))
        versions = {name: version(name) for name in _PACKAGES}
        if Artefact.DRAWINGS in wanted:
            progress("drawing sheets and templates")
            _drawings(content, folder / "drawings")
        if Artefact.ORDER in wanted:
            progress("nesting tubes and writing the order")
            _order(content, folder)
        if Artefact.JOB_SHEET in wanted:
            progress("writing the job sheet")
            _job_sheet(content, folder, versions)
        progress("writing checks and numbers")
        _write(folder / "checks.json", checks_json(checks, [*job.notes, *content.layout.notes]))
        _write(folder / "layout.json", layout_json(job, content.layout, content.fabrication))
        write_manifest(folder, job.digest, versions, checks_met=worst(checks) is Verdict.MEETS)
    return out / job.project.id


def _solids(content: Content, folder: Path, progress: Callable[[str], None]) -> None:
    """The assembly as STEP, STL and GLB, a STEP file for each fabricated piece, and the parts list with its masses."""
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
    _write(folder / "parts_list.csv", parts_list(job, fabrication, solids.volumes(shapes)))


def _drawings(content: Content, folder: Path) -> None:
    """Set-out, shop drawings and templates, each set as one PDF and every sheet as DXF."""
    folder.mkdir()
    for name, sheets in _sheet_sets(content):
        write_pdf(sheets, folder / f"{name}.pdf")
        for sheet in sheets:
            write_dxf(sheet, folder / f"{sheet.name}.dxf")


def _order(content: Content, folder: Path) -> None:
    """What to buy, saw, label, install and hand over, as text and as one workbook."""
    from railgen.schedules.book import make_book
    from railgen.schedules.install import hand_over, installation, installation_text
    from railgen.schedules.table import Table

    job, layout, fabrication, order = content.job, content.layout, content.fabrication, content.job.order
    checks = Table.of_texts("Checks", CHECK_COLUMNS, check_rows(content.checks))
    try:
        book = make_book(job, fabrication, order, checks)
    except ImpossibleError as error:
        if order.stock != Stock():
            raise
        # no stock was named: a rail longer than the usual bar is no reason to withhold the rest of the pack
        _write(folder / "order_not_made.txt", f"{error}\nName your stock under [stock] and build again.\n")
        return
    _write(folder / "order.csv", book.order_csv())
    _write(folder / "saw_list.csv", book.saw_csv())
    _write(folder / "labels.csv", book.table("Labels").csv())
    (folder / "workbook.xlsx").write_bytes(book.xlsx())
    steps = installation(job, layout, fabrication, book.nesting, order.finish)
    _write(folder / "installation.txt", installation_text(steps, order.dimensions))
    record = hand_over(job, layout, fabrication, order.finish, checks, order.dimensions)
    _write(folder / "hand_over.txt", record.text())


def _sheet_sets(content: Content) -> Iterator[tuple[str, tuple[Sheet, ...]]]:
    job, layout, fabrication = content.job, content.layout, content.fabrication
    setting = Setting.of(job, _NOT_MET[worst(content.checks)])
    yield "set_out", set_out_sheets(job, layout, fabrication, setting)
    yield "shop", shop_sheets(job, fabrication, setting)
    yield "templates", templates(job, layout, fabrication, setting)


def _job_sheet(content: Content, folder: Path, versions: Mapping[str, str]) -> None:
    """The page that holds the job, with the solids and the masses where the pack has them."""
    from railgen.report.sheet import job_sheet

    job, fabrication = content.job, content.fabrication
    model, parts = folder / "assembly.glb", folder / "parts_list.csv"
    schedules = [("Drill schedule", drill_schedule(fabrication)), ("Cut list", cut_list(job, fabrication))]
    if parts.exists():
        schedules.append(("Parts list", parts.read_text(encoding="utf-8")))
    page = job_sheet(
        job,
        content.layout,
        fabrication,
        content.checks,
        glb=model.read_bytes() if model.exists() else b"",
        schedules=schedules,
        versions=versions,
    )
    _write(folder / "job_sheet.html", page)


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="")
