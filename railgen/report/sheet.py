"""The job sheet: one HTML page that holds a whole job and needs nothing else, neither network nor other files."""

from __future__ import annotations

import hashlib
from base64 import b64encode
from collections.abc import Collection, Iterator, Mapping
from importlib.resources import files as package_files

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from railgen.checks import Verdict
from railgen.checks.table import cautions, count_line, unjudged, worst
from railgen.drawings import svg_text
from railgen.report.content import Worked
from railgen.report.sheet_checks import check_table, open_groups, shortened
from railgen.report.sheet_grid import table_grid
from railgen.report.sheet_install import bar_views, step_views
from railgen.report.sheet_pack import pack_lines
from railgen.report.sheet_pieces import piece_views, places_by_group
from railgen.report.sheet_stair import layout_tables, summary, survey_tables
from railgen.report.viewer import as_text, drawing_library
from railgen.schedules import Table
from railgen.units import Figures

__all__ = ["job_sheet"]


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
        title=job.project.title or job.project.id,
        status="; ".join([(worked.status or "Checks met").capitalize(), *unjudged(checks)]),
        met=worst(checks) is Verdict.MEETS,
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
    return f"'sha256-{b64encode(hashlib.sha256(script.encode()).digest()).decode('ascii')}'"
