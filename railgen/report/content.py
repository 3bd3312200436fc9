"""What a pack is written from, and what several of its files share, worked out when it is first asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from railgen.checks import Check, Verdict
from railgen.checks.table import CHECK_COLUMNS, cautions, check_rows, overall, unjudged
from railgen.drawings import Setting, set_out_sheets, shop_sheets, templates
from railgen.drawings.sheet import Sheet
from railgen.errors import ImpossibleError
from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.members import Fabrication
from railgen.report.build_mark import build_mark
from railgen.schedules import (
    Book,
    Column,
    HandOver,
    Step,
    Table,
    cut_table,
    drill_table,
    hand_over,
    installation,
    make_book,
    parts_table,
)
from railgen.schedules.alike import alike_table
from railgen.schedules.install import Asked, Limit
from railgen.schedules.labels import label_table, labels

__all__ = ["DEFERS", "STATUS", "Content", "SheetSets", "Worked"]

STATUS = {
    Verdict.FAILS: "CHECKS NOT MET",
    Verdict.CANNOT_SAY: "CHECKS INCOMPLETE",
    Verdict.AS_JUDGED: "",
    Verdict.MEETS: "",
}
"""What stands large on every sheet of a job whose checks came out so."""

DEFERS = "Local codes and licensed practice decide."
"""Stands beside it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """All that a pack is written from."""

    job: Job
    layout: Layout
    fabrication: Fabrication
    checks: Sequence[Check]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSets:
    """Every drawing of a job, by what it is for."""

    set_out: tuple[Sheet, ...]
    shop: tuple[Sheet, ...]
    templates: tuple[Sheet, ...]

    def named(self) -> tuple[tuple[str, tuple[Sheet, ...]], ...]:
        """The sets with the names of their files."""
        return ("set_out", self.set_out), ("shop", self.shop), ("templates", self.templates)


class Worked:
    """The drawings, the order and the papers of one pack; ``volumes`` (mm3) by mark come from its solids, if any."""

    def __init__(self, content: Content, volumes: Mapping[str, float] | None = None) -> None:
        self.content = content
        self.volumes = volumes

    @property
    def status(self) -> str:
        return STATUS[overall(self.content.checks)]

    @property
    def verdict(self) -> str:
        """The verdict on all checks in the words that people read, and what none of them speaks of."""
        checks = self.content.checks
        return "; ".join([(self.status or f"checks {overall(checks).said}").capitalize(), *unjudged(checks)])

    @cached_property
    def build(self) -> str:
        """The build mark, which stands on all that is written."""
        return build_mark(self.content.job)

    @property
    def mark(self) -> str:
        """The status with what it defers to, as it heads papers without a drawn frame; empty where checks are met."""
        return f"{self.status}. {DEFERS}" if self.status else ""

    @cached_property
    def setting(self) -> Setting:
        return Setting.of(self.content.job, self.status, self.build)

    @cached_property
    def sheets(self) -> SheetSets:
        job, layout, fabrication = self.content.job, self.content.layout, self.content.fabrication
        return SheetSets(
            set_out=set_out_sheets(job, layout, fabrication, self.setting),
            shop=shop_sheets(job, fabrication, self.setting),
            templates=templates(job, layout, fabrication, self.setting),
        )

    @cached_property
    def checks(self) -> Table:
        found = self.content.checks
        columns = tuple(Column(name=name) for name in CHECK_COLUMNS)
        rows = tuple(tuple(row[name] for name in CHECK_COLUMNS) for row in check_rows(found))
        untold = "; ".join(unjudged(found)).capitalize()
        notes = (*([f"{untold}."] if untold else []), *cautions(found))
        return Table(name="Checks", columns=columns, rows=rows, notes=notes)

    @property
    def cut(self) -> Table:
        return cut_table(self.content.job, self.content.fabrication)

    @property
    def drill(self) -> Table:
        return drill_table(self.content.fabrication)

    @property
    def parts(self) -> Table:
        """Every piece, with its mass where there are solids."""
        return parts_table(self.content.job, self.content.fabrication, self.volumes)

    @property
    def labels(self) -> Table:
        job, fabrication = self.content.job, self.content.fabrication
        return label_table(labels(job, fabrication, job.order.finish))

    @property
    def alike(self) -> Table:
        return alike_table(self.content.fabrication)

    @cached_property
    def _order(self) -> tuple[Book | None, str]:
        job = self.content.job
        try:
            return make_book(job, self.content.fabrication, job.order, self.checks, self.volumes), ""
        except ImpossibleError as error:
            if any(fault.code != "longer-than-stock" for fault in error.faults):
                raise
            # a check says that it is not met: that is no reason to withhold the rest of the pack
            return None, f"{error}\nName a longer bar under [stock] and build again."

    @property
    def book(self) -> Book | None:
        """Cutting plan, order and cost; None where a tube is longer than any bar.

        Raises ImpossibleError where the stock that the job names runs out.
        """
        return self._order[0]

    @property
    def no_book(self) -> str:
        """Why there is no ``book``; empty where there is one."""
        return self._order[1]

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """The installation; none where there is no cutting plan."""
        content, job = self.content, self.content.job
        if self.book is None:
            return ()
        return installation(job, content.layout, content.fabrication, self.book.nesting, job.order.finish, self._limits)

    @cached_property
    def record(self) -> HandOver:
        content, order = self.content, self.content.job.order
        return hand_over(
            content.job,
            content.layout,
            content.fabrication,
            order.finish,
            self.checks,
            order.dimensions,
            self._limits,
        )

    @property
    def _limits(self) -> tuple[Limit, ...]:
        """What the codes set to what is measured on site, by the checks that know it."""
        asked = {each.value: each for each in Asked}
        return tuple(
            Limit(asked=asked[check.code], where=check.where, least=check.least, most=check.most, value=check.value)
            for check in self.content.checks
            if check.code in asked
        )
