"""A folder that appears whole or not at all: written beside its place, then renamed into it.

While a build runs, ``out/.NAME.railgen`` holds the new pack, and for a moment the earlier one and the one before that.
A lock on a file in it keeps a second build of the same job out; whoever gets the lock finishes what a dead run left.
"""

from __future__ import annotations

import errno
import fcntl
import os
import shutil
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path

from railgen.errors import Fault, OutputError
from railgen.report.changes import Changes
from railgen.report.draft import Draft, Stamp, complete
from railgen.report.earlier import Brought, Earlier, bring, flush, read_earlier, same

__all__ = ["PREVIOUS", "Written", "write_folder"]

PREVIOUS = ".previous"
_FULL = {errno.ENOSPC, errno.EDQUOT}


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A pack in its place, what of it somebody else's hand made has a new name, and what is older than the job.

    ``changes``: from the pack that was there before; where there are none, ``uncompared`` may say why.
    """

    folder: Path
    kept: tuple[Brought, ...] = ()
    older: tuple[str, ...] = ()
    changes: Changes | None = None
    uncompared: str = ""


def write_folder(
    out: Path, name: str, stamp: Stamp, write: Callable[[Draft], None], renews: Callable[[str], bool] = lambda _: True
) -> Written:
    """The pack that ``write`` writes, in ``out/name``; the one before it becomes ``out/name.previous``.

    Files of the earlier pack that ``renews`` denies stay. What railgen did not write is carried over under its name, or
    under kept/ where that is taken; so is a file of ours that somebody changed. Raises OutputError, leaving all as it
    was, where the place cannot be written, holds something else, or another build of it is running.
    """
    place, previous, own = out / name, out / f"{name}{PREVIOUS}", out / f".{name}.railgen"
    try:
        with _gone_if_empty(out), _held(own, place):
            try:
                _settle(own, place, previous)
                new = own / "pack"
                new.mkdir()
                begun, _ = _both(place, previous)
                write(Draft.begun(new, stamp.state, begun, renews))
                earlier, before = _both(place, previous)  # again: people save files meanwhile
                draft = Draft.begun(new, stamp.state, earlier, renews)
                brought = complete(draft, before, stamp)
                if earlier:
                    place.rename(own / "old")
                new.rename(place)
                flush(out)
            finally:
                _settle(own, place, previous)
            flush(out)
            _leave(previous, place, brought)
    except OSError as error:
        raise _told(error, own / "pack", place) from error
    kept = tuple(each for each in brought if each.to != each.name)
    return Written(folder=place, kept=kept, older=draft.older)


def _both(place: Path, previous: Path) -> tuple[Earlier | None, Earlier | None]:
    """The pack at its place and, where that is to take its name, the one before it. Raises OutputError for others."""
    earlier = read_earlier(place)
    return earlier, read_earlier(previous) if earlier else None


@contextmanager
def _gone_if_empty(out: Path) -> Iterator[None]:
    """Folders on the way to a pack that were not there before go again where no pack came about."""
    absent = [folder for folder in (out, *out.parents) if not folder.exists()]
    try:
        yield
    finally:
        for folder in absent:
            with suppress(OSError):
                folder.rmdir()


@contextmanager
def _held(own: Path, place: Path) -> Iterator[None]:
    """The folder of a running build, this build's alone. Raises OutputError where another one has it."""
    path = own / "lock"
    while True:
        own.mkdir(parents=True, exist_ok=True)
        try:
            lock = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
        except FileNotFoundError:
            continue  # another build ended just now and took the folder away
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            os.close(lock)
            raise OutputError(
                Fault(
                    code="output-busy",
                    where=str(place),
                    message="another build of this job is writing here",
                    hint="wait until it has ended, then build again",
                )
            ) from None
        except OSError:
            pass  # a disk without locks
        with suppress(FileNotFoundError):
            if os.fstat(lock).st_ino == path.stat().st_ino:
                break
        os.close(lock)
    try:
        yield
    finally:
        path.unlink(missing_ok=True)
        with suppress(OSError):
            own.rmdir()
        os.close(lock)


def _settle(own: Path, place: Path, previous: Path) -> None:
    """Bring a replacement that broke off, here or in a dead run, to its end or back, and remove what is left of it."""
    old, gone = own / "old", own / "gone"
    if old.exists():
        if os.path.lexists(place):
            before = read_earlier(previous)
            shutil.rmtree(gone, ignore_errors=True)
            if before:
                list(bring(before, before.not_ours, place, aside=True))  # what came there since a run died
                previous.rename(gone)
            old.rename(previous)
        else:
            old.rename(place)
    for rest in (own / "pack", gone):
        shutil.rmtree(rest, ignore_errors=True)


def _leave(previous: Path, place: Path, brought: Iterable[Brought]) -> None:
    """Take what went over into the new pack out of the previous one, which then holds only what railgen wrote."""
    for each in reversed([each for each in brought if each.folder == place.name]):
        path = previous / each.name
        with suppress(OSError):  # what stays is kept by the next build
            if not same(path, place / each.to):
                continue
            if path.is_dir() and not path.is_symlink():
                path.rmdir()
            else:
                path.unlink()


def _told(error: OSError, new: Path, place: Path) -> OutputError:
    """The error as the user knows the place: nobody has heard of the folder that a build works in."""
    if isinstance(error, OutputError):
        if not isinstance(error.__cause__, OSError):
            return OutputError(
                replace(fault, where=fault.where.replace(str(new), str(place))) for fault in error.faults
            )
        error = error.__cause__
    reason = "the disk is full" if error.errno in _FULL else (error.strerror or str(error))
    return OutputError(
        Fault(
            code="output", where=str(place), message=f"cannot write here: {reason}", hint="choose another --out folder"
        )
    )
