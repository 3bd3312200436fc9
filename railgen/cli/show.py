"""What the commands print."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

import click

from railgen.checks import Check, Verdict
from railgen.checks.reading import STRICTEST, allowed, by, clauses, facts, found, like, load
from railgen.checks.table import cautions, count_line, overall, tightest, unjudged
from railgen.errors import printable
from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.pipeline import Pack
from railgen.report.artefacts import CHANGES, NOT_MADE, OLDER
from railgen.units import Figures

if TYPE_CHECKING:
    from railgen.report.changes import Changes

__all__ = ["exit_status", "progress", "show_changes", "show_checks", "show_pack", "show_verdict"]

_MOST = 20
"""Lines about one thing."""

_FEW = 5
"""Lines about one kind of change after a build, which has all in a file."""

_STYLE = {Verdict.MEETS: "green", Verdict.AS_JUDGED: None, Verdict.FAILS: "red", Verdict.CANNOT_SAY: "yellow"}
"""Green is for what was judged."""


def exit_status(checks: Sequence[Check]) -> int:
    """0 where every check is met, else 1."""
    return 0 if overall(checks) in (Verdict.MEETS, Verdict.AS_JUDGED) else 1


def show_checks(job: Job, layout: Layout, checks: Sequence[Check], *, full: bool) -> None:
    """The solved rail in a few lines, then the checks (all, or those that matter), the verdict and the cautions."""
    figures = Figures(style=job.order.dimensions)
    click.secho(job.project.title or job.project.id, bold=True)
    if layout.post_length is not None:
        click.echo(f"posts: {len(layout.posts)}, equal, {figures.named(layout.post_length)} long")
    else:
        lengths = [post.length for post in layout.posts]
        low, high = figures.named(min(lengths)), figures.named(max(lengths))
        click.echo(f"posts: {len(lengths)}, cut to suit, {low} to {high} long")
    for rail in layout.rails:
        pitch = math.degrees(rail.pitch)
        click.echo(f"rail {rail.id}: cut {figures.named(rail.length)}, pitch {pitch:.2f} degrees")
    for node in layout.nodes:
        click.echo(f"elbow {node.id}: {math.degrees(node.deflection):.2f} degrees")
    click.echo()
    _table([(check, 1) for check in checks] if full else tightest(checks), figures, _contested(checks), full=full)
    notes = (*job.notes, *layout.notes)
    if notes:
        click.echo()
    for note in notes:
        click.echo(f"note: {note}")
    show_verdict(checks)


def _contested(checks: Sequence[Check]) -> set[tuple[str, str]]:
    """What is asked where by several documents that do not agree: there it is said which is the strictest."""
    asked: dict[tuple[str, str], dict[str, set[tuple[float | None, float | None]]]] = {}
    for check in checks:
        if check.rule:
            place = asked.setdefault((check.code, check.where), {})
            place.setdefault(check.rule_set, set()).add((check.least, check.most))
    return {place for place, found in asked.items() if len(set(map(frozenset, found.values()))) > 1}


def _table(
    chosen: Sequence[tuple[Check, int]], figures: Figures, contested: Collection[tuple[str, str]], *, full: bool
) -> None:
    """One line for each check, with how many like it it stands for; below it what is open and how it was come by.

    ``full``: the sum and all sources of every check, not the sum and the clauses of those alone that are not met.
    """
    rows = [
        (
            check.verdict.said,
            check.where + like(check, count),
            check.title,
            found(check, figures) or "-",
            allowed(check, figures) or "-",
            (load if check.strength else by)(check)  # the documents of strength fill a line of their own
            + (f", {STRICTEST}" if check.governs and (check.code, check.where) in contested else ""),
        )
        for check, count in chosen
    ]
    heads = ("verdict", "where", "what", "found", "allowed", "by")
    widths = [max(len(row[i]) for row in (heads, *rows)) for i in range(5)]
    click.secho("  ".join(head.ljust(width) for head, width in zip(heads, [*widths, 0], strict=True)), bold=True)
    for (check, _), row in zip(chosen, rows, strict=True):
        cells = [cell.ljust(width) for cell, width in zip(row, [*widths, 0], strict=True)]
        click.echo("  ".join([click.style(cells[0], fg=_STYLE[check.verdict]), *cells[1:]]).rstrip())
        worked_out = full or check.verdict is Verdict.FAILS
        for name, text in facts(check):
            if name != "Worked out" or worked_out:
                click.echo(f"    {name.lower()}: {text}")
        if check.strength and worked_out:
            click.echo(f"    by: {by(check) if full else clauses(check)}")


def show_verdict(checks: Sequence[Check]) -> None:
    """One line that counts the verdicts, and the caution."""
    click.echo()
    verdict = overall(checks)
    told = [verdict.said.capitalize(), *unjudged(checks)]
    click.secho(f"{'; '.join(told)} - {count_line(checks)}", fg=_STYLE[verdict], bold=True)
    for caution in cautions(checks):
        click.echo(caution)


def _plainly(step: str) -> None:
    """A step on a line; no pack is lost because nobody reads it."""
    with suppress(OSError):
        click.echo(f"{step} ...", err=True)


def show_pack(pack: Pack) -> None:
    """Where the pack is, what in it has a new name because railgen did not write it, and what is older than the job."""
    click.echo(printable(f"pack: {pack.folder}"))
    for each in pack.kept[:_MOST]:
        was, now = pack.folder.with_name(each.folder) / each.name, pack.folder / each.to
        click.echo(printable(f"kept: {was}, made or changed by hand, is now {now}"))
    if len(pack.kept) > _MOST:
        click.echo(f"kept: {len(pack.kept) - _MOST} more")
    if (pack.folder / NOT_MADE).exists():
        told = "not made: order, saw list, installation and workbook; why is told in"
        click.secho(printable(f"{told} {pack.folder / NOT_MADE}"), fg="red")
    if pack.older:
        few = f"{', '.join(pack.older[:3])}{f' and {len(pack.older) - 3} more' if len(pack.older) > 3 else ''}"
        told = f"older than the job, do not work from it: {few}; listed in {pack.folder / OLDER}"
        click.secho(printable(told), fg="yellow")
    if pack.changes:
        again = "the same revision had other numbers before" if pack.changes.silent else "other numbers than before"
        listed = f"all listed in {pack.folder / CHANGES}"
        click.secho(printable(f"{again}: {pack.changes.counted()} differ; {listed}"), fg="yellow")
        show_changes(pack.changes, _FEW)
    if pack.uncompared:
        click.secho(f"cannot say what changed since the pack before: {pack.uncompared}", fg="yellow")


def show_changes(changes: Changes, most: int = _MOST) -> None:
    """What differs between two states of a job, the first of each kind."""
    for line in changes.lines(most):
        click.echo(line)


@contextmanager
def progress() -> Iterator[Callable[[str], None]]:
    """A function that shows each step: a live line on a terminal, plain lines elsewhere."""
    if not sys.stderr.isatty():
        yield _plainly
        return
    from rich.console import Console

    with Console(stderr=True).status("starting") as status:
        yield status.update
