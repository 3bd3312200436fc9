"""``railgen``: commands and exit status.

0 done and every check met · 1 a check is not met or cannot be said · 2 the input is wrong or no rail can be built ·
3 a fault of the program.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

import railgen
from railgen.errors import RailgenError

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
    click.echo(f"wrote {job}: edit it, then run: railgen check {job}")


@cli.command()
@click.argument("job", type=_JOB)
@click.option("--all", "full", is_flag=True, help="Print every check, not only the tightest of those that are met.")
@click.option("--json", "as_json", is_flag=True, help="Print the checks as JSON.")
def check(job: Path, *, full: bool, as_json: bool) -> None:
    """Solve and check JOB without building a solid."""
    from railgen.checks.table import checks_json
    from railgen.cli.show import exit_status, show_checks

    loaded = railgen.load(job)
    layout = railgen.solve(loaded)
    checks = railgen.check(loaded, layout)
    if as_json:
        click.echo(checks_json(checks, [*loaded.notes, *layout.notes]), nl=False)
    else:
        show_checks(loaded, layout, checks, full=full)
    sys.exit(exit_status(checks))


@cli.command()
@click.argument("job", type=_JOB)
@click.option("--out", type=_JOB, default=Path("out"), show_default=True, help="Folder that holds the packs.")
@click.option(
    "--only",
    multiple=True,
    type=click.Choice(
        ["solids", "schedules", "drawings", "order", "labels", "installation", "hand-over", "pack", "job-sheet"]
    ),
    help="Leave out all but these artefacts; may be given several times.",
)
def build(job: Path, out: Path, only: tuple[str, ...]) -> None:
    """Build the whole pack of JOB into OUT/<job id>/."""
    from railgen.cli.show import exit_status, progress, show_verdict

    loaded = railgen.load(job)
    with progress() as step:
        pack = railgen.build(loaded, out, step, only or None)
    show_verdict(pack.checks)
    click.echo(f"pack: {pack.folder}")
    sys.exit(exit_status(pack.checks))


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
        for fault in error.faults:
            click.echo(f"railgen: {fault}", err=True)
        sys.exit(2)
    except click.exceptions.Exit as leave:
        sys.exit(leave.exit_code)
    except click.Abort:
        click.echo("railgen: stopped", err=True)
        sys.exit(130)
    except click.ClickException as error:
        error.show()
        sys.exit(2)
    except BrokenPipeError:
        sys.exit(0)
    except Exception as error:  # noqa: BLE001 - the last border: anything else is a fault of the program
        import traceback

        traceback.print_exc()
        click.echo(f"railgen: a fault of the program, please report it: {type(error).__name__}: {error}", err=True)
        sys.exit(3)
