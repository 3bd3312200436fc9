"""The hand-over record: what was designed, with room for what was built, measured and signed."""

from __future__ import annotations

from dataclasses import dataclass

from railgen.catalogue.models import AnchorHold, Entry, Substrate
from railgen.job.model import Job
from railgen.job.order_model import Dimensions, Finish
from railgen.layout.model import Layout
from railgen.members import Fabrication
from railgen.schedules.install import cautions
from railgen.schedules.install.assumed import stated_by_the_job
from railgen.schedules.install.facts import Facts
from railgen.schedules.install.heights import clearances, ends, heights
from railgen.schedules.install.model import Caution, Limit, Measure, RecordRow
from railgen.schedules.table import Cell, Column, Table

__all__ = ["HandOver", "hand_over"]

_STATED = "Stated by the job, to be provided or proved by others"
"""Heading of what the checks lean on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOver:
    """The record of one job; ``checks`` is the table of verdicts it was built with, ``stated`` what they lean on."""

    job: Job
    dimensions: Dimensions
    as_installed: tuple[Measure, ...]
    checks: Table
    stated: tuple[RecordRow, ...]
    materials: tuple[RecordRow, ...]
    anchors: tuple[RecordRow, ...]
    maintenance: tuple[RecordRow, ...]
    sign_off: tuple[RecordRow, ...]
    cautions: tuple[Caution, ...]

    def tables(self) -> tuple[Table, ...]:
        """The record in tables, cells to fill in left empty."""
        style = self.dimensions
        measured: tuple[tuple[Cell, ...], ...] = tuple(
            (m.what, m.where, m.target(style), m.accepted(style), None, None) for m in self.as_installed
        )
        names = ("what", "where", "designed", "accepted", "as installed", "initials")
        return (
            Table(name="As installed", columns=tuple(Column(name=name) for name in names), rows=measured),
            self.checks,
            *(_rows(name, rows) for name, rows in self.lists()),
            _rows("Sign-off", self.sign_off, notes=tuple(f"{c.text} [{c.source}]" for c in self.cautions)),
        )

    def lists(self) -> tuple[tuple[str, tuple[RecordRow, ...]], ...]:
        """What is filled in line by line after the checks, by heading; a list without lines is left out."""
        named = (
            (_STATED, self.stated),
            ("Materials", self.materials),
            ("Anchors in concrete", self.anchors),
            ("Maintenance", self.maintenance),
        )
        return tuple((name, rows) for name, rows in named if rows)

    def text(self) -> str:
        """The record as plain text."""
        project = self.job.project
        head = [f"Hand-over record: {project.title or project.id}"]
        head += [f"{name}: {value}" for name, value in _project(self.job) if value]
        return "\n".join([*head, "", *(table.text() for table in self.tables())])


def hand_over(
    job: Job,
    layout: Layout,
    fabrication: Fabrication,
    finish: Finish,
    checks: Table,
    style: Dimensions,
    limits: tuple[Limit, ...] = (),
) -> HandOver:
    """The record of a job: as-installed dimensions, checks, materials, maintenance, sign-off.

    ``limits`` are what the job's codes set to what is measured.
    """
    facts = Facts(job=job, layout=layout, fabrication=fabrication, limits=limits)
    return HandOver(
        job=job,
        dimensions=style,
        as_installed=(
            *facts.set_out(),
            *facts.spans(),
            *heights(facts),
            *ends(facts),
            *clearances(facts),
            *facts.pitches(),
            *facts.elbows(),
        ),
        checks=checks,
        stated=stated_by_the_job(job),
        materials=_materials(job, finish),
        anchors=_anchors(facts),
        maintenance=_MAINTENANCE,
        sign_off=tuple(
            RecordRow(what=role, given="", blank="name, date, signature")
            for role in ("made by", "installed by", "inspected by", "received by")
        ),
        cautions=(cautions.CODES, cautions.CLEANING),
    )


_MAINTENANCE = (  # common practice
    RecordRow(
        what="wash with water and a mild chloride-free cleaner, rinse, dry",
        given="twice a year indoors; monthly near the sea, a pool or salted paths",
        blank="interval agreed",
    ),
    RecordRow(
        what="check screws, rivets and anchors for play, plates for cracks around them", given="once a year", blank=""
    ),
    RecordRow(what="check after any blow, flood or fire", given="before the stair is used again", blank=""),
    RecordRow(what="remove rust spots with products for stainless steel only", given="when seen", blank=""),
)


def _project(job: Job) -> tuple[tuple[str, str], ...]:
    project = job.project
    date = project.date.isoformat() if project.date else ""
    return (("job", project.id), ("client", project.client), ("revision", project.revision), ("date", date))


def _materials(job: Job, finish: Finish) -> tuple[RecordRow, ...]:
    hardware = job.hardware
    entries = [
        ("rail tube", hardware.tube, "certificate, heat number"),
        ("post tube", hardware.post_tube, "certificate, heat number"),
        ("material", hardware.material, "grade as delivered"),
        ("anchors", hardware.anchor, "approval, batch"),
        *(("rivets", rivet, "material, batch") for rivet in hardware.rivets.values()),
        *(("screws", screw, "material, batch") for screw in hardware.screws.values()),
    ]
    rows = [RecordRow(what=what, given=_named(entry), blank=blank) for what, entry, blank in entries]
    notes = (
        ("surface finish", finish.surface),
        ("weep holes", finish.weep_holes),
        ("welds", finish.welds),
        ("protection", finish.protection),
    )
    rows += [RecordRow(what=name, given=note, blank="as done") for name, note in notes if note]
    return tuple(rows)


def _anchors(facts: Facts) -> tuple[RecordRow, ...]:
    """What whoever sets anchors in concrete has to show: installation as approved, and a pull test."""
    job, anchor = facts.job, facts.job.hardware.anchor
    if job.posts.substrate is not Substrate.CONCRETE:
        return ()
    hole, depth = facts.drill(anchor.hole_diameter), facts.length(anchor.hole_depth)
    resin = (("resin", "as the approval names it", "product, batch, use by"),)
    cure = (("cure time", "as the resin's maker says, for the concrete's temperature", "temperature, hours, from, to"),)
    bonded = anchor.hold is AnchorHold.BONDED
    rows = (
        ("set by", "somebody trained for this anchor", "name, certificate"),
        ("holes drilled and cleaned", f"{hole} wide, {depth} deep, cleaned as the approval says", "as done, date"),
        *(resin if bonded else ()),
        *(cure if bonded else ()),
        ("torque", "as the anchor's maker says", "torque, wrench, date"),
        ("pull test", "share and load as the engineer or the approval says", "anchors tested, load, date"),
        ("pull test, result", "each anchor holds its load, without movement", "passed or not, tested by"),
    )
    return tuple(RecordRow(what=what, given=given, blank=blank) for what, given, blank in rows)


def _named(entry: Entry) -> str:
    return f"{entry.id}: {entry.description}" if entry.description else entry.id


def _rows(name: str, rows: tuple[RecordRow, ...], notes: tuple[str, ...] = ()) -> Table:
    columns = tuple(Column(name=column) for column in ("what", "given", "to fill in", "entry"))
    return Table(
        name=name, columns=columns, rows=tuple((row.what, row.given, row.blank, None) for row in rows), notes=notes
    )
