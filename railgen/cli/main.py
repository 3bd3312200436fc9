"""``railgen``: commands and exit status.

0 done and every check met · 1 a check is not met or cannot be said · 2 the input is wrong or no rail can be built ·
3 a fault of the program.
"""

from __future__ import annotations

import json
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

import click

import railgen
from railgen.errors import RailgenError, printable
from railgen.report.artefacts import Artefact

__all__ = ["main"]

_JOB = click.Path(path_type=Path)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(railgen.__version__, prog_name="railgen")
def cli() -> None:
    """Handrails for stairs as they are: layout, checks, solids, drill schedule and cut list from one job file."""


@cli.command()
@click.argument("job", type=_JOB)
def new(job: Path) -> None:
    """Write a commented starter job to JOB; an existing file is never overwritten."""
    from railgen.job.starter import write_starter

    write_starter(job)
    click.echo(printable(f"wrote {job}: edit it, then run: railgen check {job}"))


@cli.command()
@click.argument("job", type=_JOB)
@click.option("--all", "full", is_flag=True, help="Print every check, not only the tightest of those that are met.")
@click.option("--json", "as_json", is_flag=True, help="Print the checks as JSON.")
def check(job: Path, *, full: bool, as_json: bool) -> None:
    """Solve and check JOB without building a solid."""
    from railgen.checks.table import checks_json
    from railgen.cli.show import exit_status, show_checks
    from railgen.report.build_mark import build_mark

    loaded = railgen.load(job)
    layout = railgen.solve(loaded)
    checks = railgen.check(loaded, layout)
    if as_json:
        click.echo(checks_json(checks, [*loaded.notes, *layout.notes], build_mark(loaded)), nl=False)
    else:
        show_checks(loaded, layout, checks, full=full)
    sys.exit(exit_status(checks))


@cli.command()
@click.argument("job", type=_JOB)
@click.option("--out", type=_JOB, default=Path("out"), show_default=True, help="Folder that holds the packs.")
@click.option(
    "--only",
    multiple=True,
    type=click.Choice([artefact.value for artefact in Artefact]),
    help="Write these artefacts alone and leave what else the pack has; may be given several times.",
)
def build(job: Path, out: Path, only: tuple[str, ...]) -> None:
    """Build the whole pack of JOB into OUT/<job id>/; the one before it becomes OUT/<job id>.previous/."""
    from railgen.cli.show import exit_status, progress, show_pack, show_verdict

    loaded = railgen.load(job)
    with progress() as step:
        pack = railgen.build(loaded, out, step, only or None)
    show_verdict(pack.checks)
    show_pack(pack)
    sys.exit(exit_status(pack.checks))


@cli.command()
@click.argument("old", type=_JOB)
@click.argument("new", type=_JOB)
@click.option("--json", "as_json", is_flag=True, help="Print every difference as JSON.")
def compare(old: Path, new: Path, *, as_json: bool) -> None:
    """Tell how NEW differs from OLD: each a pack's folder or a job file. Exit status 0: same, 1: they differ."""
    from railgen.cli.show import show_changes

    changes = railgen.compare(old, new)
    if as_json:
        click.echo(changes.json(), nl=False)
    else:
        show_changes(changes)
    sys.exit(1 if changes.found else 0)


@cli.command()
@click.option(
    "--for",
    "file",
    type=click.Choice(["job", "catalogue", "rules"]),
    default="job",
    show_default=True,
    help="Which file: a job, a catalogue of your own, or a rule set of your own.",
)
def schema(file: str) -> None:
    """Print the JSON Schema of a file, for editors: every key with its meaning and bounds."""
    from railgen.job.schema import file_schema, job_schema

    if file == "catalogue":
        from railgen.catalogue.models import CatalogueFile

        found = file_schema(CatalogueFile)
    elif file == "rules":
        from railgen.checks.rules.model import RuleSet

        found = file_schema(RuleSet)
    else:
        found = job_schema()
    click.echo(json.dumps(found, indent=1))


@cli.command()
@click.argument("entry", required=False)
@click.option("--file", "files", type=_JOB, multiple=True, help="Read this catalogue file too.")
def catalogue(entry: str | None, files: tuple[Path, ...]) -> None:
    """List the hardware, rule sets and loads to choose from, or show one ENTRY with every dimension, rule or source."""
    from railgen.cli.listing import show_catalogue

    show_catalogue(entry, files)


def main() -> None:
    """Run the command line; errors raised on purpose are printed to standard error and exit with 2."""
    try:
        cli(standalone_mode=False)
    except RailgenError as error:
        _leave(2, *(f"railgen: {line}" for line in error.lines()))
    except click.exceptions.Exit as leave:
        sys.exit(leave.exit_code)
    except (click.Abort, KeyboardInterrupt):
        _leave(130, "railgen: stopped")
    except click.ClickException as error:
        usage = [error.ctx.get_usage()] if isinstance(error, click.UsageError) and error.ctx else []
        _leave(2, *usage, f"Error: {printable(error.format_message(), 600)}")
    except Exception as error:  # noqa: BLE001 - the last border: anything else is a fault of the program
        if isinstance(error, OSError) and error.filename is None:  # files are opened by name, streams are not
            _leave(2, f"railgen: what was asked for cannot be written: {error.strerror}")
        import traceback

        told = f"railgen: a fault of the program, please report it: {type(error).__name__}: {error}"
        _leave(3, traceback.format_exc(), printable(told))


def _leave(status: int, *lines: str) -> NoReturn:
    """End with ``status``, whether or not anybody can be told why."""
    with suppress(OSError):
        for line in lines:
            click.echo(line, err=True)
    for stream in (sys.stdout, sys.stderr):  # what a full disk or a closed pipe did not take is not tried again
        try:
            stream.flush()
        except OSError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
    sys.exit(status)
