"""A folder that appears whole or not at all: written beside its place, then renamed into it."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import re
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from railgen.errors import Fault, OutputError

__all__ = ["MANIFEST", "open_pack", "write_manifest"]

MANIFEST = "manifest.json"


@contextmanager
def open_pack(out: Path, name: str) -> Iterator[Path]:
    """A folder to write into, which becomes ``out/name`` when the block ends well and is removed when it does not.

    An earlier pack at that place is replaced; anything else there is left alone. Raises OutputError where the place
    cannot be written or holds something that is not a pack.
    """
    place, made = out / name, not out.exists()
    try:
        out.mkdir(parents=True, exist_ok=True)
        _sweep(out, name)
        if place.exists() and not (place / MANIFEST).is_file() and not (place.is_dir() and not any(place.iterdir())):
            raise OutputError(
                Fault(
                    code="output-occupied",
                    where=str(place),
                    message="something that is not a railgen pack is already there",
                    hint="choose another --out folder, or move it away",
                )
            )
        work = out / f".{name}.part-{os.getpid()}"
        work.mkdir()
    except OSError as error:
        raise _cannot_write(out, error) from error
    try:
        yield work
        _swap(work, place)
    except OSError as error:
        if isinstance(error, OutputError):
            raise
        raise _cannot_write(place, error) from error
    finally:
        shutil.rmtree(work, ignore_errors=True)
        if made and not place.exists():
            with suppress(OSError):  # somebody else has put something there meanwhile
                out.rmdir()


def _sweep(out: Path, name: str) -> None:
    """Remove what a killed run left: unfinished folders whose process is gone, and a pack that was being replaced."""
    pattern = re.compile(rf"\.{re.escape(name)}\.(part|old)-(\d+)")
    for entry in out.iterdir():
        found = pattern.fullmatch(entry.name)
        if not found or _alive(int(found[2])):
            continue
        if found[1] == "old" and not (out / name).exists():
            entry.rename(out / name)  # killed between the two renames: the old pack is still whole
        else:
            shutil.rmtree(entry, ignore_errors=True)


def _alive(pid: int) -> bool:
    if pid == os.getpid():
        return False
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True


def _swap(work: Path, place: Path) -> None:
    if not place.exists():
        work.rename(place)
        return
    old = place.with_name(f".{place.name}.old-{os.getpid()}")
    place.rename(old)
    try:
        work.rename(place)
    except OSError:
        old.rename(place)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _cannot_write(place: Path, error: OSError) -> OutputError:
    if isinstance(error, OutputError):
        return error
    reason = "the disk is full" if error.errno == errno.ENOSPC else (error.strerror or str(error))
    return OutputError(
        Fault(
            code="output", where=str(place), message=f"cannot write here: {reason}", hint="choose another --out folder"
        )
    )


def write_manifest(folder: Path, digest: str, versions: Mapping[str, str], *, checks_met: bool) -> None:
    """``manifest.json``: what went in, what made it, and the sha256 of every file."""
    files = {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
    content = {"input_sha256": digest, "checks_met": checks_met, "versions": dict(versions), "files": files}
    (folder / MANIFEST).write_text(json.dumps(content, indent=1, sort_keys=True) + "\n", encoding="ascii")
