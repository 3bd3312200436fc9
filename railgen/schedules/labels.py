"""Labels: one for each tube, so that a piece on the bench is known and lands where it belongs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from railgen.job.model import Job
from railgen.job.order_model import Finish
from railgen.members import Fabrication
from railgen.members.facts import prepared
from railgen.members.pieces import Tube, When
from railgen.schedules.table import Column, Quantity, Table

__all__ = ["Label", "label_table", "labels"]

_LEVEL = 0.01  # slope under which both ends of a tube lie equally low, for the eye


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A label for one tube: ``copy`` of ``copies`` with the same mark; ``goes_to`` is its place in the rail.

    ``datum`` says which end is the datum end, ``end_a``, once the tube is in its place.
    """

    mark: str
    copy: int
    copies: int
    job: str
    title: str
    revision: str
    section: str
    length: float
    holes: int
    datum: str
    end_a: str
    end_b: str
    goes_to: str
    notes: tuple[str, ...]


def labels(job: Job, fabrication: Fabrication, finish: Finish) -> tuple[Label, ...]:
    """Every tube of the rail, in walking order."""
    return tuple(_labels(job, fabrication, finish))


def _labels(job: Job, fabrication: Fabrication, finish: Finish) -> Iterator[Label]:
    quantities = fabrication.quantities()
    made: dict[str, int] = {}
    notes = tuple(
        f"{name}: {note}"
        for name, note in (("finish", finish.surface), ("weep holes", finish.weep_holes), ("welds", finish.welds))
        if note
    )
    for place in fabrication.placed:
        piece = fabrication.pieces[place.mark]
        if not isinstance(piece, Tube):
            continue
        made[piece.mark] = made.get(piece.mark, 0) + 1
        end_a, end_b = map(str, prepared(piece))
        wait = sum(hole.when is When.AFTER_FIT for hole in piece.holes)
        waiting = (f"{wait} of {len(piece.holes)} holes wait for the trial fit",) if wait else ()
        yield Label(
            mark=piece.mark,
            copy=made[piece.mark],
            copies=quantities[piece.mark],
            job=job.project.id,
            title=job.project.title,
            revision=job.project.revision,
            section=piece.section.id,
            length=piece.length,
            holes=len(piece.holes),
            datum="lower end" if place.frame.z.z > _LEVEL else "end met first walking up",
            end_a=end_a,
            end_b=end_b,
            goes_to=place.id,
            notes=(*waiting, *notes),
        )


def label_table(made: tuple[Label, ...]) -> Table:
    """One row for each label, for label printers that read a table."""
    names = ("mark", "copy", "copies", "job", "title", "revision", "section", "length_mm", "holes")
    others = ("end_a", "end_b", "goes_to", "notes", "datum_end")
    quantities = dict.fromkeys(("copy", "copies", "holes"), Quantity.COUNT) | {"length_mm": Quantity.LENGTH}
    columns = tuple(Column(name=n, quantity=quantities.get(n, Quantity.TEXT)) for n in (*names, *others))
    rows = tuple(
        (
            label.mark,
            label.copy,
            label.copies,
            label.job,
            label.title,
            label.revision,
            label.section,
            label.length,
            label.holes,
            label.end_a,
            label.end_b,
            label.goes_to,
            "; ".join(label.notes),
            label.datum,
        )
        for label in made
    )
    return Table(name="Labels", columns=columns, rows=rows)
