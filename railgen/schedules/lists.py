"""Cut list and parts list."""

from __future__ import annotations

from collections.abc import Mapping

from railgen.job.model import Job
from railgen.members import Fabrication
from railgen.members.facts import tube_volume
from railgen.members.pieces import StairBody, Tube
from railgen.schedules.rows import number, reading_order, to_csv
from railgen.units import Figures

__all__ = ["CUT_COLUMNS", "PARTS_COLUMNS", "cut_list", "cut_rows", "parts_list", "parts_rows"]

CUT_COLUMNS = ("mark", "quantity", "section", "length_mm", "end_a", "end_b", "material", "mass_kg")
PARTS_COLUMNS = ("mark", "quantity", "kind", "description", "mass_kg", "total_kg", "source")


def cut_list(job: Job, fabrication: Fabrication) -> str:
    """``cut_list.csv``: every tube to cut, finished length, what each end is prepared for."""
    return to_csv(CUT_COLUMNS, cut_rows(job, fabrication))


def cut_rows(job: Job, fabrication: Fabrication) -> list[dict[str, str]]:
    """The cut list's rows, by mark."""
    quantities = fabrication.quantities()
    rows = [
        {
            "mark": mark,
            "quantity": str(quantities[mark]),
            "section": piece.section.id,
            "length_mm": number(piece.length),
            "end_a": f"square; {piece.end_a}",
            "end_b": f"square; {piece.end_b}",
            "material": job.hardware.material.id,
            "mass_kg": number(tube_volume(piece) * job.hardware.material.density * 1e-9),
        }
        for mark, piece in fabrication.pieces.items()
        if isinstance(piece, Tube)
    ]
    return sorted(rows, key=lambda row: reading_order(row["mark"]))


_NO_MASS = "not given"


def parts_list(job: Job, fabrication: Fabrication, volumes: Mapping[str, float] | None = None) -> str:
    """``parts_list.csv``: everything made or bought; masses where there are ``volumes`` (mm3) by mark, of the solids.

    Without them a mass is "not given".
    """
    return to_csv(PARTS_COLUMNS, parts_rows(job, fabrication, volumes))


def parts_rows(job: Job, fabrication: Fabrication, volumes: Mapping[str, float] | None) -> list[dict[str, str]]:
    """The parts list's rows, in the order of the pieces."""
    density = job.hardware.material.density * 1e-9
    quantities = fabrication.quantities()
    rows = []
    for mark, piece in fabrication.pieces.items():
        if isinstance(piece, StairBody):
            continue
        if isinstance(piece, Tube):
            kind, description = "tube", f"{piece.section.id}, {Figures(style=job.order.dimensions).named(piece.length)}"
        else:
            kind, description = piece.kind.value, piece.item.description
        mass = None if volumes is None else volumes[mark] * density
        rows.append(
            {
                "mark": mark,
                "quantity": str(quantities[mark]),
                "kind": kind,
                "description": description,
                "mass_kg": _NO_MASS if mass is None else number(mass, 4),
                "total_kg": _NO_MASS if mass is None else number(mass * quantities[mark], 3),
                "source": "made" if isinstance(piece, Tube) else "bought",
            }
        )
    return rows
