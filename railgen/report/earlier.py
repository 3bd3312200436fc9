"""What stands already where a pack is to go: whose each file is, and how what is not ours comes into the new pack."""

from __future__ import annotations

import errno
import filecmp
import hashlib
import json
import os
import shutil
import stat
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import chain, count
from pathlib import Path, PurePosixPath

from railgen.errors import Fault, OutputError

__all__ = ["MANIFEST", "Brought", "Earlier", "bring", "flush", "read_earlier", "same", "sha256"]

MANIFEST = "manifest.json"
KEPT = "kept"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ours:
    """What a manifest holds of a file: its sha256 as it was written, and the state of the job it was written for."""

    sha256: str
    state: str


@dataclass(frozen=True, kw_only=True)
class Earlier:
    """An earlier pack, as its manifest says it was written."""

    folder: Path
    files: Mapping[str, Ours]

    @cached_property
    def found(self) -> Mapping[str, bool]:
        """All that is in the folder by name, folders before what they hold, and whether it is a folder.

        A link is never followed. Raises OSError, and OutputError where another disk is mounted inside.
        """
        return dict(self._walk())

    def _walk(self) -> Iterator[tuple[str, bool]]:
        disk, left = self.folder.stat().st_dev, [""]
        while left:
            under = left.pop()
            with os.scandir(self.folder / under) as entries:
                for entry in sorted(entries, key=lambda entry: entry.name):
                    name, folder = under + entry.name, entry.is_dir(follow_symlinks=False)
                    if folder and entry.stat(follow_symlinks=False).st_dev != disk:
                        raise _not_carried(self.folder / name, "another disk is mounted there")
                    if folder:
                        left.append(f"{name}/")
                    yield name, folder

    def untouched(self, name: str) -> bool:
        """Whether a file that is there is as it was written."""
        return name in self.files and self.is_file(name) and sha256(self.folder / name) == self.files[name].sha256

    def is_file(self, name: str) -> bool:
        """Whether there is a file of this name: no folder, no link."""
        return self.found.get(name) is False and stat.S_ISREG((self.folder / name).lstat().st_mode)

    @cached_property
    def not_ours(self) -> tuple[str, ...]:
        """Names of what railgen did not write, or what somebody changed since."""
        folders = {str(parent) for name in self.files for parent in PurePosixPath(name).parents}
        return tuple(
            name
            for name, folder in self.found.items()
            if (name not in folders if folder else name != MANIFEST and not self.untouched(name))
        )


def read_earlier(place: Path) -> Earlier | None:
    """The pack at a place; None where there is nothing, or an empty folder.

    Raises OutputError where something stands there that railgen did not write.
    """
    if not os.path.lexists(place) or (_is_folder(place) and not any(place.iterdir())):
        return None
    try:
        content: object = json.loads((place / MANIFEST).read_bytes()) if _is_folder(place) else None
    except (OSError, ValueError, RecursionError):
        content = None
    match content:
        case {"versions": {"railgen": str()}, "input_sha256": str(first), "files": dict(files), **more}:
            known = more.get("written_for")
            states = known if isinstance(known, dict) else {}
            return Earlier(
                folder=place,
                files={
                    name: Ours(sha256=str(digest), state=str(states.get(name, first))) for name, digest in files.items()
                },
            )
    raise OutputError(
        Fault(
            code="output-occupied",
            where=str(place),
            message="something that is not a railgen pack is already there",
            hint="move it away, or choose another --out folder",
        )
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """What came from an earlier pack's folder into the new one: under which name it was, and is."""

    folder: str
    name: str
    to: str


def bring(earlier: Earlier, names: Iterable[str], new: Path, *, aside: bool = False) -> Iterator[Brought]:
    """Bring things of an earlier pack into the ``new`` one, each under its name or, where that is taken, under kept/.

    A file that railgen wrote goes to kept/ always, as do all ``aside``, but for those that are there already. Raises
    OSError, and OutputError for what can be neither linked nor copied.
    """
    plain: list[str] = []
    others: list[str] = []
    for name in names:
        own = not aside and name not in earlier.files and (name != KEPT or earlier.found[name])
        (plain if own and _free(new / name, new, folder=earlier.found[name]) else others).append(name)
    made: list[tuple[Path, Path]] = []
    for name, to in chain(((name, name) for name in plain), _aside(earlier, others, new, unless_there=aside)):
        source, aim = earlier.folder / name, new / to
        aim.parent.mkdir(parents=True, exist_ok=True)
        if earlier.found[name]:
            aim.mkdir(exist_ok=True)
            made.append((source, aim))
        elif not os.path.lexists(aim):
            _link(source, aim)
        yield Brought(folder=earlier.folder.name, name=name, to=to)
    for source, aim in reversed(made):  # what a folder holds is there: now it may be closed to writing
        shutil.copystat(source, aim)


def _aside(earlier: Earlier, names: Iterable[str], new: Path, *, unless_there: bool) -> Iterator[tuple[str, str]]:
    for name in names:
        source = earlier.folder / name
        if unless_there and same(source, new / name):
            continue
        for number in count(1):
            to = f"{KEPT}/{name}" if number == 1 else f"{KEPT}/{number}/{name}"
            if same(source, new / to) or _free(new / to, new, folder=earlier.found[name]):
                yield name, to
                break


def _free(path: Path, new: Path, *, folder: bool) -> bool:
    """Whether a name can be given in the new pack; two folders of one name become one."""
    parents = [parent for parent in path.parents if new in parent.parents]
    if any(os.path.lexists(parent) and not _is_folder(parent) for parent in parents):
        return False
    return not os.path.lexists(path) or (folder and _is_folder(path))


def _link(source: Path, aim: Path) -> None:
    """The same file under a second name; a copy where the disk knows no such thing."""
    try:
        os.link(source, aim, follow_symlinks=False)
    except OSError:
        mode = source.lstat().st_mode
        if not stat.S_ISREG(mode) and not stat.S_ISLNK(mode):
            raise _not_carried(source, "it is neither a file nor a link") from None
        shutil.copy2(source, aim, follow_symlinks=False)
        if stat.S_ISREG(mode):
            flush(aim)


def same(one: Path, other: Path) -> bool:
    """Whether two paths hold the same: two folders, two links to one place, two files of one content."""
    kinds = {stat.S_IFMT(path.lstat().st_mode) if os.path.lexists(path) else 0 for path in (one, other)}
    if kinds == {stat.S_IFLNK}:
        return one.readlink() == other.readlink()
    if kinds == {stat.S_IFREG}:
        return one.samefile(other) or filecmp.cmp(one, other, shallow=False)
    return kinds == {stat.S_IFDIR}


def _is_folder(path: Path) -> bool:
    return path.is_dir() and not path.is_symlink()


def _not_carried(path: Path, why: str) -> OutputError:
    return OutputError(
        Fault(
            code="output-stranger",
            where=str(path),
            message=f"this is not railgen's and cannot be carried over into the new pack: {why}",
            hint="move it out of the pack's folder",
        )
    )


def sha256(path: Path) -> str:
    """Of a file's content."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def flush(path: Path) -> None:
    """See that a file, or a folder's list of names, is on the disk; not every kind of disk can say so of a folder."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in {errno.EINVAL, errno.ENOTSUP}:
            raise
    finally:
        os.close(handle)
