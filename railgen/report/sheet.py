"""The job sheet: one HTML page that holds a whole job and needs nothing else, neither network nor other files."""

from __future__ import annotations

import hashlib
from base64 import b64encode
from collections.abc import Mapping, Sequence
from importlib.resources import files

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from railgen.checks import Check, Verdict
from railgen.checks.table import cautions, worst
from railgen.drawings import Figures, Style
from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.members import Fabrication
from railgen.report.sheet_checks import check_table, count_line, open_checks
from railgen.report.sheet_grid import grid_of_csv
from railgen.report.sheet_pieces import piece_views, places_by_group
from railgen.report.sheet_stair import layout_tables, summary, survey_tables
from railgen.report.viewer import as_text, drawing_library

__all__ = ["job_sheet"]

_STATUS = {
    Verdict.MEETS: "Checks met",
    Verdict.FAILS: "Checks not met",
    Verdict.CANNOT_SAY: "Checks incomplete",
}


def job_sheet(
    job: Job,
    layout: Layout,
    fabrication: Fabrication,
    checks: Sequence[Check],
    *,
    glb: bytes = b"",
    schedules: Sequence[tuple[str, str]] = (),
    drawings: Sequence[tuple[str, str]] = (),
    versions: Mapping[str, str] | None = None,
) -> str:
    """The page as text.

    ``glb`` is the assembly as the pack has it, without which there is no 3D view; ``schedules`` are titles with the
    text of the pack's CSV files; ``drawings`` are titles with SVG elements, which are trusted and stand in the page as
    they are. Raises ValueError for a drawing without an SVG element.
    """
    figures = Figures(style=Style.of(job.output_unit))
    library, viewer, tables = _as_it_is(drawing_library()), _own("viewer.js"), _own("tables.js")
    scripts = [script for script in (library, viewer, tables) if script]
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
        status=_STATUS[worst(checks)],
        met=worst(checks) is Verdict.MEETS,
        counted=count_line(checks),
        open_checks=open_checks(checks, figures),
        cautions=cautions(checks),
        notes=[*job.notes, *layout.notes],
        summary=summary(job, layout, figures),
        groups=places_by_group(fabrication),
        pieces=piece_views(job, fabrication, figures),
        survey=survey_tables(job, layout, figures),
        layout=layout_tables(layout, fabrication, figures),
        checks=check_table(checks, figures),
        schedules=[grid_of_csv(title, text) for title, text in schedules],
        drawings=[(title, _svg(title, svg)) for title, svg in drawings],
        digest=job.digest,
        versions=dict(versions or {}),
        model=as_text(glb),
        style=_own("sheet.css"),
        scripts=scripts,
        allowed=" ".join(_fingerprint(script) for script in scripts),
    )


def _own(name: str) -> Markup:
    """A file of the page."""
    return _as_it_is(files("railgen.report").joinpath("page", name).read_text(encoding="utf-8"))


def _as_it_is(text: str) -> Markup:
    """Text that no user wrote, which goes into the page unchanged: our own files, three.js, our own drawings."""
    return Markup(text)  # noqa: S704 - that is what it is for


def _fingerprint(script: str) -> str:
    """What the page's Content-Security-Policy knows a script by: no other one runs, whatever a name contains."""
    return f"'sha256-{b64encode(hashlib.sha256(script.encode()).digest()).decode('ascii')}'"


def _svg(title: str, text: str) -> Markup:
    begin = text.find("<svg")
    if begin < 0:
        raise ValueError(f"drawing {title!r} is no SVG")
    return _as_it_is(text[begin:])
