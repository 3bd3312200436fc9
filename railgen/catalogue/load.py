"""The shipped catalogue and the user's files as one, every entry held against itself and against its partners."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any

from railgen.catalogue.entries import entry_faults
from railgen.catalogue.fits import Fit, misfits
from railgen.catalogue.models import (
    AdjustableSaddle,
    Anchor,
    BasePlate,
    CatalogueFile,
    CoverPlate,
    Cradle,
    Elbow,
    ElbowSaddle,
    EndCap,
    EndScroll,
    Entry,
    FittingSet,
    FixedSaddle,
    Material,
    PostHead,
    Rivet,
    Screw,
    TubeSection,
)
from railgen.errors import MOST_TOLD, Fault, InputError
from railgen.fields.document import Document, read_document
from railgen.fields.explain import read_tables, unit_of
from railgen.fields.filekind import FileKind, misplaced
from railgen.fields.lines import line_of
from railgen.fields.nearest import hint_near, one_of

__all__ = ["SHIPPED", "Catalogue", "assemble", "fit_of", "load_catalogue"]

SHIPPED = Path(__file__).parent / "data"


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """Every entry by its kind, named as in the files, and by its id; no id is used twice."""

    material: Mapping[str, Material] = field(default_factory=dict)
    tube: Mapping[str, TubeSection] = field(default_factory=dict)
    rivet: Mapping[str, Rivet] = field(default_factory=dict)
    screw: Mapping[str, Screw] = field(default_factory=dict)
    anchor: Mapping[str, Anchor] = field(default_factory=dict)
    base_plate: Mapping[str, BasePlate] = field(default_factory=dict)
    cover_plate: Mapping[str, CoverPlate] = field(default_factory=dict)
    fixed_saddle: Mapping[str, FixedSaddle] = field(default_factory=dict)
    adjustable_saddle: Mapping[str, AdjustableSaddle] = field(default_factory=dict)
    elbow_saddle: Mapping[str, ElbowSaddle] = field(default_factory=dict)
    elbow: Mapping[str, Elbow] = field(default_factory=dict)
    end_cap: Mapping[str, EndCap] = field(default_factory=dict)
    end_scroll: Mapping[str, EndScroll] = field(default_factory=dict)
    set: Mapping[str, FittingSet] = field(default_factory=dict)

    def kinds(self) -> Iterator[tuple[str, Mapping[str, Entry]]]:
        """Name of each kind, and its entries by id."""
        for kind in fields(self):
            yield kind.name, getattr(self, kind.name)

    def find(self, ident: str) -> tuple[str, Entry] | None:
        """Kind and entry of an id; None where there is none."""
        return next(((kind, entries[ident]) for kind, entries in self.kinds() if ident in entries), None)

    def ids(self, kind: str) -> tuple[str, ...]:
        return tuple(getattr(self, kind))


def load_catalogue(paths: Sequence[Path] = ()) -> Catalogue:
    """The shipped entries and those of the files. Raises InputError with every fault found."""
    faults: list[Fault] = []
    documents: list[Document] = []
    for path in paths:
        try:
            documents.append(read_document(path))
        except InputError as error:
            faults += error.faults
    catalogue, found = assemble(documents)
    if faults or found:
        raise InputError([*faults, *found])
    return catalogue


def assemble(documents: Sequence[Document]) -> tuple[Catalogue, tuple[Fault, ...]]:
    """The shipped entries and those of the documents, with every fault found; a faulty entry is left out."""
    builder = _Builder()
    for path in sorted(SHIPPED.glob("*.toml")):
        builder.add(read_document(path))
    for document in documents:
        builder.add(document)
    builder.check()
    return builder.catalogue, tuple(builder.faults)


@dataclass(frozen=True, slots=True)
class _Place:
    """Where an entry stands."""

    document: Document
    kind: str
    number: int


class _Builder:
    """Gathers entries and faults; lines are looked up only for a fault."""

    def __init__(self) -> None:
        self.entries: dict[str, dict[str, Any]] = {kind.name: {} for kind in fields(Catalogue)}
        self.places: dict[str, _Place] = {}
        self.faults: list[Fault] = []

    @property
    def catalogue(self) -> Catalogue:
        return Catalogue(**self.entries)

    def add(self, document: Document) -> None:
        """Take up a file's entries, in the order they stand."""
        stray = misplaced(document, FileKind.CATALOGUE)
        if stray is not None:
            self.faults.append(stray)
            return
        file, faults = read_tables(CatalogueFile, document, unit_of(document))
        self.faults += faults
        if file is None:
            return
        for kind, entries in self.entries.items():
            for number, entry in enumerate(getattr(file, kind)):
                place = _Place(document, kind, number)
                other = self.places.get(entry.id)
                if other is not None:
                    shipped = other.document.path.parent == SHIPPED
                    self._fault(
                        place,
                        "id",
                        code="id-taken",
                        message=f'"{entry.id}" is in use already, for the {_plain(other.kind)} in '
                        f"{'the shipped catalogue' if shipped else other.document.name}",
                        allowed="an id of its own for every entry",
                    )
                    continue
                self.places[entry.id] = place
                entries[entry.id] = entry

    def check(self) -> None:
        """Hold every entry against itself, its references and, in a set, its partners."""
        for entries in self.entries.values():
            for entry in entries.values():
                place = self.places[entry.id]
                for wrong in entry_faults(entry):
                    self._fault(
                        place,
                        wrong.key,
                        code="catalogue-entry",
                        message=wrong.message,
                        allowed=wrong.allowed,
                        hint=wrong.hint,
                    )
                for key, wanted, ident in _references(entry):
                    if ident not in self.entries[wanted]:
                        self._fault(
                            place,
                            key,
                            code="unknown-reference",
                            message=f'there is no {_plain(wanted)} "{ident}"',
                            allowed=one_of(self.entries[wanted] or ["none yet"]),
                            hint=hint_near(ident, self.entries[wanted]) if len(self.faults) < MOST_TOLD else "",
                        )
        if not self.faults:
            for chosen in self.entries["set"].values():
                self._check_set(chosen)

    def _check_set(self, chosen: FittingSet) -> None:
        catalogue, place = self.catalogue, self.places[chosen.id]
        told: dict[str, None] = {}
        for substrate, ident in chosen.anchors.items():
            anchor = catalogue.anchor[ident]
            if anchor.substrate is not substrate:
                self._fault(
                    place,
                    "anchors",
                    code="anchor-substrate",
                    message=f"anchor {ident} is for {anchor.substrate}, not {substrate}",
                    allowed=f"an anchor for {substrate}",
                )
            for misfit in misfits(fit_of(catalogue, chosen, anchor)):
                if misfit.message in told:
                    continue
                told[misfit.message] = None
                self._fault(
                    place,
                    "anchors" if misfit.options[0] == "anchor" else misfit.options[0],
                    code="misfit",
                    message=f"set {chosen.id}: {misfit.message}",
                    allowed=misfit.allowed,
                    hint=misfit.hint,
                )

    def _fault(self, place: _Place, key: str, *, code: str, message: str, allowed: str = "", hint: str = "") -> None:
        self.faults.append(
            Fault(
                code=code,
                where=f"{place.kind}[{place.number}].{key}",
                message=message,
                allowed=allowed,
                hint=hint,
                file=place.document.name,
                line=line_of(place.document.lines(), (place.kind, place.number, key)),
            )
        )


def fit_of(catalogue: Catalogue, chosen: FittingSet, anchor: Anchor) -> Fit:
    """A set's entries together, with one of its anchors."""
    return Fit(
        tube=catalogue.tube[chosen.tube],
        post_tube=catalogue.tube[chosen.post_tube],
        base_plate=catalogue.base_plate[chosen.base_plate],
        cover_plate=catalogue.cover_plate[chosen.cover_plate],
        fixed_saddle=catalogue.fixed_saddle[chosen.fixed_saddle],
        adjustable_saddle=catalogue.adjustable_saddle[chosen.adjustable_saddle],
        elbow_saddle=catalogue.elbow_saddle[chosen.elbow_saddle],
        elbow=catalogue.elbow[chosen.elbow],
        end_cap=catalogue.end_cap[chosen.end_cap],
        end_scroll=catalogue.end_scroll[chosen.end_scroll],
        anchor=anchor,
        rivets=catalogue.rivet,
        screws=catalogue.screw,
    )


def _references(entry: Entry) -> Iterator[tuple[str, str, str]]:
    """Key, kind wanted and id of every reference an entry makes."""
    if isinstance(entry, BasePlate | PostHead):
        yield "rivet", "rivet", entry.rivet
    if isinstance(entry, Cradle | Elbow):
        yield "screw", "screw", entry.screw
    if isinstance(entry, FittingSet):
        for key in FittingSet.model_fields:
            if key in {"tube", "post_tube"}:
                yield key, "tube", getattr(entry, key)
            elif key not in {"id", "description", "anchors"}:
                yield key, key, getattr(entry, key)
        for ident in entry.anchors.values():
            yield "anchors", "anchor", ident


def _plain(kind: str) -> str:
    return kind.replace("_", " ")
