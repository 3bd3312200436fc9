"""Everything railgen raises on purpose.

RailgenError
├── InputError          (also ValueError)   the job or a catalogue file is wrong            exit 2
│   └── ImpossibleError                     the file reads well, but no rail can be built   exit 2
└── OutputError         (also OSError)      the pack cannot be written where it was asked   exit 2

Every other exception that leaves the program is a fault of the program: exit 3.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["DEVICES", "MOST_TOLD", "Fault", "ImpossibleError", "InputError", "OutputError", "RailgenError", "printable"]

MOST_TOLD = 50
"""So many faults are told; of the rest, how many there are."""

DEVICES = frozenset(("CON", "PRN", "AUX", "NUL", *(f"{port}{k}" for port in ("COM", "LPT") for k in range(1, 10))))
"""Names that Windows gives to no file or folder, in capitals or not (Microsoft, Naming Files; from memory)."""


def printable(text: str, most: int = 4096) -> str:
    r"""The text on one line of at most ``most`` characters; what a terminal obeys or hides is written as its code.

    >>> printable("\x1b[31mred\u202e")
    '\\x1b[31mred\\u202e'
    """
    cut = text if len(text) <= most else f"{text[: most - 3]}..."
    if cut.isprintable():
        return cut
    shown = "".join(mark if mark.isprintable() else mark.encode("unicode_escape").decode() for mark in cut)
    return shown if len(shown) <= most else f"{shown[: most - 3]}..."


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong, told so that the reader can mend it.

    ``code`` is stable (``unknown-key``, ``out-of-range``, ...); ``where`` is a key path such as
    ``stair[0].risers[3]`` or a place such as ``flight 1, tread 4``; ``file`` and ``line`` say where it was typed.
    Whatever they are made from, its texts are short and printable.
    """

    code: str
    where: str
    message: str
    allowed: str = ""
    hint: str = ""
    file: str = ""
    line: int | None = None

    def __post_init__(self) -> None:
        for name, most in (("where", 200), ("message", 600), ("allowed", 600), ("hint", 400), ("file", 4096)):
            object.__setattr__(self, name, printable(getattr(self, name), most))

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}: " if self.line is not None else (f"{self.file}: " if self.file else "")
        text = f"{place}{self.where}: {self.message}" if self.where else f"{place}{self.message}"
        if self.allowed:
            text += f"; allowed: {self.allowed}"
        if self.hint:
            text += f" ({self.hint})"
        return f"{text} [{self.code}]"


class RailgenError(Exception):
    """Base of all errors raised on purpose; ``faults`` lists everything found, not only the first."""

    def __init__(self, faults: Fault | Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = (faults,) if isinstance(faults, Fault) else tuple(faults)
        super().__init__("\n".join(self.lines()))

    def lines(self) -> tuple[str, ...]:
        """The first faults, a line each, and how many more there are."""
        more = len(self.faults) - MOST_TOLD
        told = tuple(str(fault) for fault in self.faults[:MOST_TOLD])
        return (*told, f"and {more} more") if more > 0 else told


class InputError(RailgenError, ValueError):
    """The job file or a catalogue file is wrong."""


class ImpossibleError(InputError):
    """The input reads well but no rail that could be built answers it."""


class OutputError(RailgenError, OSError):
    """The pack cannot be written where it was asked for."""
