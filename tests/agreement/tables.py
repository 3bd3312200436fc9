"""Claims of the CSV files."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path

from tests.agreement.claims import Claim

__all__ = ["Row", "csv_claims", "rows"]

Row = dict[str, str]
_FINE = 0.0005  # half the last digit


def rows(path: Path) -> list[Row]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def csv_claims(folder: Path) -> Iterator[Claim]:
    for row in rows(folder / "drill_schedule.csv"):
        yield from _hole(row)
    for name in ("cut_list", "saw_list", "labels"):
        for row in rows(folder / f"{name}.csv"):
            yield Claim(source=name, piece=row["mark"], feature="length", value=float(row["length_mm"]), near=_FINE)
    for row in rows(folder / "labels.csv"):
        yield Claim(source="labels", piece=row["mark"], feature="holes", value=float(row["holes"]), near=0)
    for row in rows(folder / "saw_list.csv"):
        for end in ("a", "b"):
            angle = float(row[f"blade_{end}_deg"])
            yield Claim(source="saw_list", piece=row["mark"], feature=f"end {end} from square", value=angle, near=0.005)
    for row in rows(folder / "cut_list.csv"):
        for end in ("a", "b"):
            assert row[f"end_{end}"].startswith("square")
            yield Claim(source="cut_list", piece=row["mark"], feature=f"end {end} from square", value=0.0, near=0.0)


def _hole(row: Row) -> Iterator[Claim]:
    for column, feature in (
        ("distance_mm", "station"),
        ("clock_deg", "clock"),
        ("diameter_mm", "diameter"),
        ("countersink_mm", "countersink"),
        ("x_mm", "x"),
        ("y_mm", "y"),
        ("from_nosing_mm", "from nosing"),
        ("from_edge_mm", "from edge"),
    ):
        if row[column]:
            yield Claim(
                source="drill_schedule",
                piece=row["part"],
                feature=f"{row['hole']} {feature}",
                value=float(row[column]),
                near=_FINE,
            )
