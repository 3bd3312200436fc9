"""What the commands print."""

from __future__ import annotations

import math
import re
import sys
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager, suppress

import click

from railgen.checks import Check, Verdict
from railgen.checks.model import places
from railgen.checks.table import cautions, count_line, tightest, unjudged, worst
from railgen.errors import printable
from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.pipeline import Pack
from railgen.report.artefacts import OLDER
from railgen.units import Unit, format_length

__all__ = ["exit_status", "progress", "show_checks", "show_pack", "show_verdict"]

_MOST = 20
"""Lines about one thing."""

_RANK = {Verdict.MEETS: "tightest", Verdict.FAILS: "worst", Verdict.CANNOT_SAY: "first"}
_STYLE = {Verdict.MEETS: "green", Verdict.FAILS: "red", Verdict.CANNOT_SAY: "yellow"}


def exit_status(checks: Sequence[Check]) -> int:
    """0 where every check is met, else 1."""
    return 0 if worst(checks) is Verdict.MEETS else 1


def show_checks(job: Job, layout: Layout, checks: Sequence[Check], *, full: bool) -> None:
    """The solved rail in a few lines, then the checks (all, or those that matter), the verdict and the cautions."""
    unit = job.output_unit
    click.secho(job.project.title or job.project.id, bold=True)
    if layout.post_length is not None:
        click.echo(f"posts: {len(layout.posts)}, equal, {format_length(layout.post_length, unit)} long")
    else:
        lengths = [post.length for post in layout.posts]
        low, high = format_length(min(lengths), unit), format_length(max(lengths), unit)
        click.echo(f"posts: {len(lengths)}, cut to suit, {low} to {high} long")
    for rail in layout.rails:
        pitch = math.degrees(rail.pitch)
        click.echo(f"rail {rail.id}: cut {format_length(rail.length, unit)}, pitch {pitch:.2f} degrees")
    for node in layout.nodes:
        click.echo(f"elbow {node.id}: {math.degrees(node.deflection):.2f} degrees")
    click.echo()
    _table([(check, 1) for check in checks] if full else tightest(checks), unit, _contested(checks), full=full)
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
    chosen: Sequence[tuple[Check, int]], unit: Unit, contested: Collection[tuple[str, str]], *, full: bool
) -> None:
    """One line for each check, with how many like it it stands for; below it what is open and how it was come by.

    ``full``: the sum and all sources of every check, not the sum and the clauses of those alone that are not met.
    """
    rows = [
        (
            check.verdict.value,
            check.where + (f" ({_RANK[check.verdict]} of {count})" if count > 1 else ""),
            check.title,
            _value(check, unit),
            _limits(check, unit),
            _source(check)
            + (", the strictest here" if check.governs and (check.code, check.where) in contested else ""),
        )
        for check, count in chosen
    ]
    heads = ("verdict", "where", "what", "found", "allowed", "by")
    widths = [max(len(row[i]) for row in (heads, *rows)) for i in range(5)]
    click.secho("  ".join(head.ljust(width) for head, width in zip(heads, [*widths, 0], strict=True)), bold=True)
    for (check, _), row in zip(chosen, rows, strict=True):
        cells = [cell.ljust(width) for cell, width in zip(row, [*widths, 0], strict=True)]
        click.echo("  ".join([click.style(cells[0], fg=_STYLE[check.verdict]), *cells[1:]]).rstrip())
        if check.missing:
            click.echo(f"    missing: {check.missing}")
        if check.advice and check.verdict is not Verdict.MEETS:
            click.echo(f"    would help: {check.advice}")
        if check.formula and (full or check.verdict is Verdict.FAILS):
            click.echo(f"    worked out: {check.formula}")
            if _is_strength(check):
                click.echo(f"    by: {check.source if full else _clauses(check)}")


def _is_strength(check: Check) -> bool:
    return check.code.startswith("strength-")


def _clauses(check: Check) -> str:
    """The documents and clauses a link of strength rests on, without how sure they are and remarks on them."""
    found = (re.fullmatch(r"(.+) \([^()]+\)", part) for part in check.source.split("; "))
    return "; ".join(part[1] for part in found if part and part[1] != "statics")


def _value(check: Check, unit: Unit) -> str:
    if check.value is not None and _is_strength(check) and math.isfinite(check.value):
        return f"{places(check.value, most=check.most)} used"  # of what it can bear
    found = check.value
    return "-" if found is None else _quantity(found, check.unit, unit, least=check.least, most=check.most)


def _limits(check: Check, unit: Unit) -> str:
    low, high = (None if v is None else _quantity(v, check.unit, unit) for v in (check.least, check.most))
    if low is not None and high is not None:
        return f"{low} to {high}"
    return f"at least {low}" if low is not None else f"at most {high}" if high is not None else "-"


def _quantity(value: float, measure: str, unit: Unit, *, least: float | None = None, most: float | None = None) -> str:
    if math.isinf(value):
        return "nothing holds"
    if measure == "mm":
        return format_length(value, unit)
    return (
        f"{value:.0f}"
        if not measure and value == round(value)
        else f"{places(value, least=least, most=most)} {measure}".rstrip()
    )


def _source(check: Check) -> str:
    if _is_strength(check):  # its sources fill a line of their own
        return f"{check.says} ({check.certainty})" if check.says else check.certainty.value
    return ", ".join(text for text in (check.source, check.clause) if text) or check.certainty.value


def show_verdict(checks: Sequence[Check]) -> None:
    """One line that counts the verdicts, and the caution."""
    click.echo()
    click.secho("; ".join([count_line(checks), *unjudged(checks)]), fg=_STYLE[worst(checks)], bold=True)
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
    if pack.older:
        few = f"{', '.join(pack.older[:3])}{f' and {len(pack.older) - 3} more' if len(pack.older) > 3 else ''}"
        told = f"older than the job, do not work from it: {few}; listed in {pack.folder / OLDER}"
        click.secho(printable(told), fg="yellow")


@contextmanager
def progress() -> Iterator[Callable[[str], None]]:
    """A function that shows each step: a live line on a terminal, plain lines elsewhere."""
    if not sys.stderr.isatty():
        yield _plainly
        return
    from rich.console import Console

    with Console(stderr=True).status("starting") as status:
        yield status.update
