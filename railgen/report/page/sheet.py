"""The job sheet: one HTML page that holds a whole job and needs nothing else, neither network nor other files."""

from __future__ import annotations

import base64
import hashlib
import io
import zipfile
from collections.abc import Collection, Iterator, Mapping
from importlib.metadata import distribution
from importlib.resources import files as package_files
from pathlib import Path

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from railgen.checks import Verdict
from railgen.checks.table import cautions, count_line, overall
from railgen.drawings import svg_text
from railgen.report.artefacts import pack_lines
from railgen.report.content import Worked
from railgen.report.grid import table_grid
from railgen.report.page.checks import check_table, open_groups, shortened
from railgen.report.page.install import bar_views, step_views
from railgen.report.page.pieces import piece_views, places_by_group
from railgen.report.page.stair import layout_tables, summary, survey_tables
from railgen.schedules import Table
from railgen.units import Figures

__all__ = ["as_text", "drawing_library", "job_sheet"]

_BUNDLE = "trimesh/resources/templates/viewer.zip"
_PAGE = "viewer.html.template"
_BEGIN, _END = "<script>", "THREE.GLTFLoader=GLTFLoader;})();"

_BANNERS = {
    Verdict.MEETS: "meets",
    Verdict.AS_JUDGED: "judged",
    Verdict.FAILS: "fails",
    Verdict.CANNOT_SAY: "fails",
}
"""How the verdict on all checks is shown: in a neutral colour where it goes only as far as was judged."""


def job_sheet(
    worked: Worked,
    *,
    glb: bytes = b"",
    parts: Table | None = None,
    files: Collection[str] = (),
    older: Collection[str] = (),
    versions: Mapping[str, str] | None = None,
) -> str:
    """The page as text.

    ``glb`` is the assembly and ``parts`` the parts list as the pack has them: without the first there is no 3D view.
    ``files`` names what stands beside the page, ``older`` what of it is for another state of the job. Raises
    ImpossibleError where the stock named does not do.
    """
    content = worked.content
    job, layout, fabrication, checks = content.job, content.layout, content.fabrication, content.checks
    figures = Figures(style=job.order.dimensions)
    own = ("viewer.js", "tables.js", "drawings.js")
    scripts = [script for script in (_as_it_is(drawing_library()), *map(_own, own)) if script]
    sheets = (*worked.sheets.set_out, *worked.sheets.shop)
    page = Environment(
        loader=PackageLoader("railgen.report", "page"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    ).get_template("sheet.html")
    return page.render(
        project=job.project,
        build=worked.build,
        title=job.project.title or job.project.id,
        status=worked.verdict,
        banner=_BANNERS[overall(checks)],
        counted=count_line(checks),
        open_checks=open_groups(checks, figures),
        cautions=cautions(checks),
        notes=[*job.notes, *layout.notes],
        summary=summary(job, layout, figures),
        groups=places_by_group(fabrication),
        drawings=[(sheet, _as_it_is(svg_text(sheet))) for sheet in sheets],
        drawn={sheet.name for sheet in sheets},
        pieces=piece_views(job, fabrication, figures),
        lengths=figures.words,
        schedules=[table_grid(table, figures).filled() for table in _schedules(worked, parts or worked.parts)],
        bars=bar_views(worked.book.nesting, figures) if worked.book is not None else [],
        order=[table_grid(table, figures).filled() for table in _order(worked)],
        no_order=worked.no_book,
        steps=step_views(worked.steps, job.order.dimensions),
        checks=shortened(check_table(checks, figures)),
        layout=layout_tables(layout, fabrication, figures),
        survey=survey_tables(job, layout, figures),
        files=pack_lines(files, older),
        digest=job.digest,
        versions=dict(versions or {}),
        model=as_text(glb),
        style=_own("sheet.css"),
        scripts=scripts,
        allowed=" ".join(_fingerprint(script) for script in scripts),
    )


def _schedules(worked: Worked, parts: Table) -> Iterator[Table]:
    """What the workshop works by, in the order it is needed."""
    book = worked.book
    yield worked.cut
    if book is not None:
        yield book.table("Saw list")
    yield worked.drill
    if book is not None:
        yield from (book.table("Labels"), book.table("Like pieces"))
    yield parts


def _order(worked: Worked) -> Iterator[Table]:
    """What is to buy, and what it costs where the job has prices."""
    book = worked.book
    if book is not None:
        yield book.table("Order")
        if any(line.price is not None for line in book.lines):
            yield book.table("Cost")


def _own(name: str) -> Markup:
    """A file of the page."""
    return _as_it_is(package_files("railgen.report").joinpath("page", name).read_text(encoding="utf-8"))


def _as_it_is(text: str) -> Markup:
    """Text that no user wrote, which goes into the page unchanged: our own files, three.js, our own drawings."""
    return Markup(text)  # noqa: S704 - that is what it is for


def _fingerprint(script: str) -> str:
    """What the page's Content-Security-Policy knows a script by: no other one runs, whatever a name contains."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(script.encode()).digest()).decode('ascii')}'"


def drawing_library() -> str:
    """three.js with its reader of GLB files (both MIT), as trimesh's wheel carries them; empty where it has none.

    The part of trimesh's own page from its first script to the end of the GLB reader; what follows is trimesh's
    viewer, which cannot pick parts and needs a mouse.
    """
    try:
        bundle = Path(str(distribution("trimesh").locate_file(_BUNDLE))).read_bytes()
        page = zipfile.ZipFile(io.BytesIO(bundle)).read(_PAGE).decode("utf-8")
    except (OSError, KeyError, zipfile.BadZipFile):
        return ""
    begin, end = page.find(_BEGIN), page.find(_END)
    if begin < 0 or end < begin:
        return ""
    return page[begin + len(_BEGIN) : end + len(_END)].replace("\r\n", "\n")


def as_text(glb: bytes) -> str:
    """The model as base64, in lines that a text editor can open."""
    return base64.encodebytes(glb).decode("ascii").strip()
