"""Which of the three files a document looks like, so that one in another's place is told as that and nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Any

from railgen.errors import Fault
from railgen.fields.document import Document
from railgen.fields.lines import line_of

__all__ = ["KEYS", "FileKind", "misplaced"]


class FileKind(StrEnum):
    """What a TOML file of ours is."""

    JOB = "job file"
    CATALOGUE = "catalogue file"
    RULES = "rule set file"


_JOB = (
    "project site output hardware rail posts rules surroundings strength ground stock prices labour finish print stair"
)
_CATALOGUE = (
    "material tube rivet screw anchor base_plate cover_plate fixed_saddle adjustable_saddle elbow_saddle elbow "
    "end_cap end_scroll set"
)
_RULES = "id title edition use notes not_judged rule"

KEYS: Mapping[FileKind, frozenset[str]] = {
    FileKind.JOB: frozenset(_JOB.split()),
    FileKind.CATALOGUE: frozenset(_CATALOGUE.split()),
    FileKind.RULES: frozenset(_RULES.split()),
}
"""What only a file of that kind has at its top: each key but ``format`` and ``units``."""

_BELONGS = {
    FileKind.JOB: "check it with: railgen check {name}",
    FileKind.CATALOGUE: "a job names it under hardware.catalogue; list it with: railgen catalogue --file {name}",
    FileKind.RULES: "a job names it under rules.files",
}


def misplaced(document: Document, wanted: FileKind) -> Fault | None:
    """The fault of a file of another kind than is ``wanted`` here: it has no key of this kind, and some of another."""
    found = {kind: _shared(document.tree, keys) for kind, keys in KEYS.items()}
    likely = max(found, key=lambda kind: len(found[kind]))
    if found[wanted] or not found[likely]:
        return None
    keys = found[likely]
    shown = ", ".join(keys[:3]) + (", ..." if len(keys) > 3 else "")
    return Fault(
        code="other-file",
        where="",
        message=f"this looks like a {likely} ({shown}), and a {wanted} is wanted here",
        hint=_BELONGS[likely].format(name=document.path.name),
        file=document.name,
        line=line_of(document.lines(), (keys[0],)),
    )


def _shared(tree: Mapping[str, Any], keys: frozenset[str]) -> list[str]:
    return [key for key in tree if key in keys]
