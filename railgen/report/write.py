"""The pack: solids, schedules and checks of one job, written side by side from the same members."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from importlib.metadata import version
from pathlib import Path

from railgen.checks import Check, Verdict
from railgen.checks.table import checks_json, worst
from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.members import Fabrication
from railgen.members.pieces import Fitting, FittingKind, Tube
from railgen.report.pack import open_pack, write_manifest
from railgen.schedules import cut_list, drill_schedule, layout_json, parts_list

__all__ = ["write_pack"]

_PACKAGES = ("railgen", "cadquery", "cadquery-ocp", "numpy", "trimesh")


def write_pack(
    job: Job,
    layout: Layout,
    fabrication: Fabrication,
    checks: Sequence[Check],
    out: Path,
    progress: Callable[[str], None],
) -> Path:
    """Write every file of the pack and return its folder. Raises OutputError, leaving nothing half-written."""
    with open_pack(out, job.project.id) as folder:
        progress("loading the solid modeller")
        from railgen import solids

        progress("building solids")
        shapes = solids.build_all(fabrication)
        progress("writing the assembly")
        solids.write_step(folder / "assembly.step", job, fabrication, shapes)
        solids.write_stl(folder / "assembly.stl", fabrication, shapes)
        solids.write_glb(folder / "assembly.glb", job, fabrication, shapes)
        parts = folder / "parts"
        parts.mkdir()
        for mark, piece in fabrication.pieces.items():
            if _fabricated(piece):
                solids.write_part_step(parts / f"{mark}.step", piece, shapes[mark])
        progress("writing schedules and checks")
        notes = [*job.notes, *layout.notes]
        _write(folder / "drill_schedule.csv", drill_schedule(fabrication))
        _write(folder / "cut_list.csv", cut_list(job, fabrication))
        _write(folder / "parts_list.csv", parts_list(job, fabrication, solids.volumes(shapes)))
        _write(folder / "checks.json", checks_json(checks, notes))
        _write(folder / "layout.json", layout_json(job, layout, fabrication))
        versions = {name: version(name) for name in _PACKAGES}
        write_manifest(folder, job.digest, versions, checks_met=worst(checks) is Verdict.MEETS)
    return out / job.project.id


def _fabricated(piece: object) -> bool:
    return isinstance(piece, Tube) or (isinstance(piece, Fitting) and piece.kind is FittingKind.BASE_PLATE)


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="")
