"""From a job file to a job: read, held against its tables and its catalogue, every default filled in."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from railgen.catalogue.load import assemble
from railgen.errors import Fault, InputError
from railgen.fields import MOST_FILES, Table
from railgen.fields.document import Document, read_document
from railgen.fields.explain import path_of, read_tables, spell, unit_of
from railgen.fields.filekind import FileKind, misplaced
from railgen.fields.lines import line_of
from railgen.fields.slips import told_once
from railgen.geometry import Vec
from railgen.job.alternatives import alternatives, others
from railgen.job.file import FORMAT, HardwareTable, JobFile, PostsTable, RailEndTable
from railgen.job.hardware import choose
from railgen.job.model import Job, Origin, Posts, Project, Rail, RailEnd, site_frame
from railgen.job.order_model import OrderInput
from railgen.job.rules_model import rules_input
from railgen.job.stair import StairReading, read_stair
from railgen.units import Unit, format_length, shown

__all__ = ["load_job", "placed"]


def load_job(path: Path) -> Job:
    """Read and resolve a job file and the catalogue files it names beside it.

    Raises InputError with every fault found: first of what is typed, then, once that reads well, of what does not go
    together.
    """
    document = read_document(path)
    other = misplaced(document, FileKind.JOB)
    if other is not None:
        raise InputError(other)
    _check_format(document)
    file, faults = read_tables(JobFile, document, unit_of(document))
    documents, missing = _catalogue_documents(document)
    catalogue, wrong = assemble(documents)
    faults += (*missing, *wrong)
    if file is None or faults:
        raise InputError(faults)
    stair = read_stair(file)
    hardware, notes, flaws = choose(file.hardware, file.posts.substrate, catalogue)
    flaws = [*stair.flaws, *flaws, *_band_flaws(file.posts, file.units), *_end_flaws(file, stair)]
    if hardware is None or flaws:
        raise InputError(told_once(_placed(flaws, document)))
    rail, posts, unit = file.rail, file.posts, file.output.units or file.units
    rules = rules_input(file.rules, file.surroundings, path.parent)
    order = OrderInput(stock=file.stock, prices=file.prices, labour=file.labour, finish=file.finish)
    return Job(
        project=Project(**dict(file.project)),
        flights=tuple(stair.flights),
        landings=tuple(stair.landings),
        rail=Rail(
            side=rail.side,
            least_height=rail.least_height,
            bottom=_rail_end(rail.bottom),
            top=_rail_end(rail.top),
        ),
        posts=Posts(
            lengths=posts.lengths,
            setback=posts.setback,
            setback_min=posts.setback_band[0],
            setback_max=posts.setback_band[1],
            edge_offset=posts.edge_offset,
            largest_span=posts.largest_span,
            substrate=posts.substrate,
            span_by=posts.span_by,
        ),
        hardware=hardware,
        output_unit=unit,
        rules=rules,
        strength=file.strength.regraded(None, hardware.material.id),
        ground=file.ground,
        order=order.printed(file.print, unit),
        alternatives=alternatives(file.hardware, hardware, catalogue, unit) if file.strength.loads else (),
        others=others(file.hardware, hardware, catalogue),
        site=site_frame(Vec(*file.site.origin), file.site.rotation),
        origins=dict(_origins(file)),
        notes=(*stair.notes, *notes),
        digest=_digest(document, documents, rules.files),
    )


def placed(faults: Iterable[Fault], path: Path) -> tuple[Fault, ...]:
    """Faults found later of what the job file at ``path`` says, with its name and their lines."""
    return _placed(faults, read_document(path))


def _placed(faults: Iterable[Fault], document: Document) -> tuple[Fault, ...]:
    lines = document.lines()
    return tuple(
        fault
        if fault.file
        else replace(fault, file=document.name, line=line_of(lines, path_of(fault.where)) if fault.where else None)
        for fault in faults
    )


def _check_format(document: Document) -> None:
    given = document.tree.get("format")
    if given is None:
        message, line = f"the file does not say its format; write format = {FORMAT} on its first line", 1
    elif type(given) is int and given == FORMAT:
        return
    else:
        message, line = f"this version of railgen does not know format {shown(given)}", 0
    raise InputError(
        Fault(
            code="format",
            where="format",
            message=message,
            allowed=str(FORMAT),
            file=document.name,
            line=line or line_of(document.lines(), ("format",)),
        )
    )


def _catalogue_documents(job: Document) -> tuple[list[Document], list[Fault]]:
    """The catalogue files named in the job that can be read; names of the wrong kind are told elsewhere."""
    documents: list[Document] = []
    faults: list[Fault] = []
    hardware = job.tree.get("hardware")
    names = hardware.get("catalogue") if isinstance(hardware, dict) else None
    for at, name in enumerate(names[:MOST_FILES] if isinstance(names, list) else []):
        if not isinstance(name, str) or "/" in name or "\\" in name or not name.endswith(".toml"):
            continue
        try:
            documents.append(read_document(job.path.parent / name))
        except InputError as error:
            faults += error.faults
            if error.faults[0].code == "no-file":
                faults[-1] = _not_beside(job, at, name, faults[-1].hint)
    return documents, faults


def _not_beside(job: Document, at: int, name: str, hint: str) -> Fault:
    path = ("hardware", "catalogue", at)
    return Fault(
        code="no-file",
        where=spell(path),
        message=f'there is no file "{name}" beside the job file',
        hint=hint,
        file=job.name,
        line=line_of(job.lines(), path),
    )


def _band_flaws(posts: PostsTable, unit: Unit) -> Iterator[Fault]:
    low, high = posts.setback_band
    if low > high:
        yield Fault(
            code="setback-band",
            where="posts.setback_band",
            message=f"{format_length(low, unit)} to {format_length(high, unit)} is no band",
            allowed="[least, largest]",
        )
    elif not low <= posts.setback <= high:
        yield Fault(
            code="setback-band",
            where="posts.setback" if "setback" in posts.model_fields_set else "posts.setback_band",
            message=f"setback {format_length(posts.setback, unit)} lies outside setback_band",
            allowed=f"{format_length(low, unit)} to {format_length(high, unit)}",
        )


def _end_flaws(file: JobFile, stair: StairReading) -> Iterator[Fault]:
    """Ends of the rail that are told in two ways, or bend where nothing holds the rail below."""
    for key, end in (("bottom", file.rail.bottom), ("top", file.rail.top)):
        if end.level_extension is not None and "overhang" in end.model_fields_set:
            yield Fault(
                code="end-form",
                where=f"rail.{key}.overhang",
                message="the end is given in two ways: overhang, level_extension",
                allowed="overhang, for a rail that runs on at its pitch, or level_extension",
            )
    last = stair.flights[-1] if stair.flights else None
    if file.rail.top.level_extension is not None and last is not None and len(last.risers) == 1:
        yield Fault(
            code="level-extension",
            where="rail.top.level_extension",
            message=f"flight {last.number} has one riser: below its nosing there is one place for a post, and a "
            "pitched rail that bends there needs two",
            allowed="a last flight of two risers or more",
            hint="end the rail with an overhang",
        )


def _digest(job: Document, catalogues: Sequence[Document], rule_files: Sequence[Path]) -> str:
    """Of the job file's bytes and then those of each catalogue file and rule set file it names."""
    digest = hashlib.sha256(job.data)
    for document in catalogues:
        digest.update(document.data)
    for path in rule_files:
        with suppress(InputError):  # the checks refuse one that cannot be read
            digest.update(read_document(path).data)
    return digest.hexdigest()


def _rail_end(end: RailEndTable) -> RailEnd:
    return RailEnd(finish=end.finish, overhang=end.overhang, level=end.level_extension)


def _origins(table: Table, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str, Origin]]:
    """Where each value came from, by key path; keys left out that come to nothing are left out here too."""
    unset = Origin.CATALOGUE if isinstance(table, HardwareTable) else Origin.DEFAULT
    for key, field in type(table).model_fields.items():
        value = getattr(table, key)
        here = (*path, key)
        if isinstance(value, Table):
            yield from _origins(value, here)
        elif key in table.model_fields_set:
            parts = [item for item in value if isinstance(item, Table)] if isinstance(value, tuple) else []
            for at, item in enumerate(parts):
                yield from _origins(item, (*here, at))
            if not parts:
                yield spell(here), Origin.FILE
        elif value is None and field.json_schema_extra:
            yield spell(here), unset
        elif value is not None:
            yield spell(here), Origin.DEFAULT
