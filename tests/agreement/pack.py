"""Every claim of a written pack, and which files have to speak of which feature."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from statistics import fmean

from railgen.job.model import Job
from railgen.survey import survey_job
from tests.agreement.claims import Claim
from tests.agreement.drawn import Drawn, joined, read_dxf, read_pdf
from tests.agreement.sheets import mark_of, plate_sheet, posts_row, tube_sheet
from tests.agreement.solids import plate_claims, stair_claims, tube_claims
from tests.agreement.strips import drilling_page, gauge_page, strip_page, title_of
from tests.agreement.tables import Row, csv_claims, rows

__all__ = ["pack_claims", "silent"]


def pack_claims(folder: Path, job: Job) -> list[Claim]:
    """What all files of a pack say; ``job`` tells how the sheets write lengths and where the flights stand."""
    schedule, plate = rows(folder / "drill_schedule.csv"), job.hardware.base_plate.id
    found = [*csv_claims(folder), *_posts(schedule, job)]
    for path in sorted((folder / "parts").glob("*.step")):
        found += plate_claims(path) if path.stem == plate else tube_claims(path)
    found += stair_claims(folder / "assembly.step", schedule, survey_job(job))
    for kind in ("DXF", "PDF"):
        shop, setout, templates = _sheets(folder / "drawings", kind)
        for sheet in shop:
            read = plate_sheet if mark_of(sheet) == plate else tube_sheet
            found += read(sheet, f"shop {kind}", job.order.dimensions)
        for sheet in _whole(templates):
            found += _template(sheet, f"template {kind}", job, schedule)
        for sheet in setout:
            found += _elevation(sheet, f"set-out {kind}", job, schedule)
    return found


def _sheets(drawings: Path, kind: str) -> list[list[Drawn]]:
    """Shop sheets, set-out sheets and templates."""
    if kind == "PDF":
        return [read_pdf(drawings / f"{name}.pdf") for name in ("shop", "set_out", "templates")]
    return [
        [read_dxf(path) for path in sorted(drawings.glob(f"{name}-*.dxf"))] for name in ("shop", "setout", "template")
    ]


def _whole(templates: list[Drawn]) -> Iterator[Drawn]:
    """Drilling templates put together from their tiles; the rest page by page, for each tile has its own ruler."""
    tiles: dict[str, list[Drawn]] = {}
    for sheet in templates:
        title = title_of(sheet)
        if "drilling template" in title:
            tiles.setdefault(title, []).append(sheet)
        else:
            yield sheet
    yield from map(joined, tiles.values())


def _template(sheet: Drawn, source: str, job: Job, schedule: list[Row]) -> Iterator[Claim]:
    title = title_of(sheet)
    if "wrap-around strip" in title:
        yield from strip_page(sheet, source, job.order.dimensions)
    elif "drilling template" in title:
        yield from drilling_page(sheet, source, job.order.dimensions, schedule)
    else:
        assert title.startswith("Setback gauges")
        yield from gauge_page(sheet, source)


def _elevation(sheet: Drawn, source: str, job: Job, schedule: list[Row]) -> Iterator[Claim]:
    titles = [re.fullmatch(r"Flight (\d+), elevation", text.words) for text in sheet.texts]
    number = next((title[1] for title in titles if title), None)
    if number is not None:
        posts = sorted({row["hole"].split(".")[0] for row in schedule if row["hole"].startswith(f"F{number}-P")})
        yield from posts_row(sheet, source, job.order.dimensions, posts)


def _posts(schedule: list[Row], job: Job) -> Iterator[Claim]:
    """Where a post's axis stands by the holes of its plate: their mean."""
    groups: dict[tuple[str, str], list[Row]] = {}
    for row in schedule:
        if row["measured_from"]:
            groups.setdefault((row["hole"].split(".")[0], row["measured_from"]), []).append(row)
    for (post, measured), group in groups.items():
        found = re.fullmatch(r"flight (\d+): nosing (\d+), \w+ edge", measured)
        assert found
        along = fmean(float(row["from_nosing_mm"]) for row in group)
        across = fmean(float(row["from_edge_mm"]) for row in group)
        goings = job.flights[int(found[1]) - 1].goings[: int(found[2]) - 1]
        for feature, value in (
            (f"axis from nosing {found[2]} of flight {found[1]}", abs(along)),
            (f"axis from side edge of flight {found[1]}", abs(across)),
            ("along the flight", sum(goings) + along),
        ):
            yield Claim(source="drill_schedule", piece=post, feature=feature, value=value, near=0.0006)


_SHEETS = tuple(f"shop {kind}" for kind in ("DXF", "PDF"))
_TEXT = tuple(f"{sheet}, text" for sheet in _SHEETS)
_CIRCLE = tuple(f"{sheet}, circle" for sheet in _SHEETS)
_RUNNING = tuple(f"{sheet}, running" for sheet in _SHEETS)
_LAID = tuple(f"template {kind}, {how}" for kind in ("DXF", "PDF") for how in ("text", "measured"))
_MEASURED = tuple(f"template {kind}, measured" for kind in ("DXF", "PDF"))
_BOTH = ("drill_schedule", "STEP")


def silent(folder: Path, claims: list[Claim]) -> list[str]:
    """Features of which a file that has to speak of them says nothing."""
    said = {(claim.piece, claim.feature, claim.source) for claim in claims}
    return [
        f"{piece} {feature}: nothing in {source}"
        for piece, feature, sources in _duties(folder)
        for source in sources
        if (piece, feature, source) not in said
    ]


def _duties(folder: Path) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    for row in rows(folder / "cut_list.csv"):
        mark = row["mark"]
        yield mark, "length", ("cut_list", "saw_list", "labels", "STEP", *_TEXT, *_RUNNING)
        yield mark, "holes", ("labels", "STEP", *_SHEETS)
        for end in "ab":
            yield mark, f"end {end} from square", ("cut_list", "saw_list", "STEP", *_SHEETS)
    tubes = {row["mark"] for row in rows(folder / "cut_list.csv")}
    for row in rows(folder / "drill_schedule.csv"):
        part, hole = row["part"], row["hole"]
        if part in tubes:
            yield part, f"{hole} station", (*_BOTH, *_TEXT, *_RUNNING, *_LAID)
            yield part, f"{hole} clock", (*_BOTH, *_TEXT, *_CIRCLE, *_LAID)
            yield part, f"{hole} diameter", (*_BOTH, *_TEXT, *_CIRCLE, *_LAID)
        elif row["x_mm"]:
            for feature in ("x", "y", "diameter", *(["countersink"] if row["countersink_mm"] else [])):
                yield part, f"{hole} {feature}", (*_BOTH, *_TEXT, *_CIRCLE)
        elif row["distance_mm"]:
            yield part, f"{hole} station", (*_BOTH, *_TEXT)
            yield part, f"{hole} clock", (*_BOTH, *_SHEETS)
            yield part, f"{hole} diameter", (*_BOTH, *_TEXT)
        else:
            corner = re.match(r"L\d+-C", hole)  # its template is measured from the landing's own edges
            for feature in ("from nosing", "from edge", "diameter"):
                yield part, f"{hole} {feature}", (*_BOTH, *(() if corner else _MEASURED))
            post = hole.split(".")[0]
            yield post, "hole distance 6", ("drill_schedule", "template DXF", "template PDF")
            if not corner:
                yield post, "along the flight", ("drill_schedule", "set-out DXF", "set-out PDF")
                yield post, "plate holes", ("drill_schedule", "template DXF", "template PDF")
                found = re.fullmatch(r"flight (\d+): nosing (\d+), \w+ edge", row["measured_from"])
                assert found
                for line in (f"nosing {found[2]} of flight {found[1]}", f"side edge of flight {found[1]}"):
                    yield post, f"axis from {line}", ("drill_schedule", *_LAID)
