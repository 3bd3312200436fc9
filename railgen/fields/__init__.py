"""What job and catalogue files may hold, how they are read, and how a fault in one is told."""

from railgen.fields.kinds import Angle, Ident, Length, Number, Slug, Table, Text

__all__ = ["Angle", "Ident", "Length", "Number", "Slug", "Table", "Text"]
