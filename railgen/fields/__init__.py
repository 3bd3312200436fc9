"""What job and catalogue files may hold, how they are read, and how a fault in one is told."""

from railgen.fields.kinds import (
    MOST_ENTRIES,
    MOST_FILES,
    MOST_NAMES,
    Angle,
    Ident,
    Length,
    Most,
    Number,
    Slug,
    Table,
    Text,
)

__all__ = [
    "MOST_ENTRIES",
    "MOST_FILES",
    "MOST_NAMES",
    "Angle",
    "Ident",
    "Length",
    "Most",
    "Number",
    "Slug",
    "Table",
    "Text",
]
