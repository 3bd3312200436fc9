"""Files that appear whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from railgen.errors import Fault, OutputError

__all__ = ["not_written", "write_whole"]


def write_whole(path: Path, content: bytes) -> None:
    """Write beside ``path`` and rename into it. Raises OutputError, leaving nothing behind and an old file alone."""
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        beside.write_bytes(content)
        if beside.stat().st_size != len(content):
            raise not_written(path, "the file is shorter than what was written")
        beside.replace(path)
    except OSError as error:
        beside.unlink(missing_ok=True) if path.parent.is_dir() else None
        if isinstance(error, OutputError):
            raise
        raise not_written(path, error.strerror or str(error)) from error


def not_written(path: Path, reason: str) -> OutputError:
    """The error for a file that cannot be written."""
    return OutputError(
        Fault(
            code="output", where=str(path), message=f"cannot write here: {reason}", hint="choose another --out folder"
        )
    )
