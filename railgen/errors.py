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

__all__ = ["Fault", "ImpossibleError", "InputError", "OutputError", "RailgenError"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong, told so that the reader can mend it.

    ``code`` is stable (``unknown-key``, ``out-of-range``, ...); ``where`` is a key path such as
    ``stair[0].risers[3]`` or a place such as ``flight 1, tread 4``; ``file`` and ``line`` say where it was typed.
    """

    code: str
    where: str
    message: str
    allowed: str = ""
    hint: str = ""
    file: str = ""
    line: int | None = None

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
        super().__init__("\n".join(str(fault) for fault in self.faults))


class InputError(RailgenError, ValueError):
    """The job file or a catalogue file is wrong."""


class ImpossibleError(InputError):
    """The input reads well but no rail that could be built answers it."""


class OutputError(RailgenError, OSError):
    """The pack cannot be written where it was asked for."""
