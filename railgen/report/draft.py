"""A pack being written: what its build made, what stays of the earlier one, its manifest."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from railgen.report.artefacts import CHANGES, OLDER
from railgen.report.earlier import MANIFEST, Brought, Earlier, bring, flush, sha256

__all__ = ["Draft", "Stamp", "complete"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """What a manifest says of a build: the input's sha256, the state and build mark of the job, what made the pack."""

    input: str
    state: str
    versions: Mapping[str, str]
    checks_met: bool
    build: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A pack being written into ``folder``; ``stay``: files of the earlier one that this build leaves as they are."""

    folder: Path
    state: str
    earlier: Earlier | None
    stay: tuple[str, ...] = ()

    @classmethod
    def begun(cls, folder: Path, state: str, earlier: Earlier | None, renews: Callable[[str], bool]) -> Draft:
        """For a build that writes, or does away with, what it ``renews``."""
        there = (name for name in earlier.files if earlier.is_file(name)) if earlier else ()
        stay = tuple(name for name in there if name not in (OLDER, CHANGES) and not renews(name))
        return cls(folder=folder, state=state, earlier=earlier, stay=stay)

    @property
    def older(self) -> tuple[str, ...]:
        """What of that was written for another state of the job."""
        return tuple(
            sorted(name for name in self.stay if self.earlier and self.earlier.files[name].state != self.state)
        )

    @property
    def files(self) -> tuple[str, ...]:
        """Every file that there is or that stays, by name."""
        return tuple(sorted({*_written(self.folder), *self.stay}))

    def current(self, name: str) -> Path | None:
        """A file of this state of the job where the pack has one: just written, or from before and unchanged."""
        path = self.folder / name
        if path.exists():
            return path
        if self.earlier and self.earlier.untouched(name) and self.earlier.files[name].state == self.state:
            return self.earlier.folder / name
        return None


def complete(draft: Draft, before: Earlier | None, stamp: Stamp) -> tuple[Brought, ...]:
    """Bring into a draft what stays and what railgen did not write, and have all of it on the disk, its manifest last.

    ``before`` is the pack before the earlier one, of which only that is brought, under kept/, which is nowhere else.
    Answers with what was brought that is not ours. Raises OSError, and OutputError for what cannot be brought.
    """
    new, earlier = draft.folder, draft.earlier
    if draft.older:
        (new / OLDER).write_text(_older_text(draft.older), encoding="ascii")
    sums = {name: sha256(new / name) for name in _written(new)}
    states = dict.fromkeys(sums, stamp.state)
    brought: list[Brought] = []
    if earlier:
        for name in draft.stay:
            (new / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(earlier.folder / name, new / name)
            sums[name], states[name] = earlier.files[name].sha256, earlier.files[name].state
        brought += (Brought(folder=earlier.folder.name, name=n, to=n) for n in draft.stay if n in earlier.not_ours)
    for name in sums:
        flush(new / name)
    if earlier:
        brought += bring(earlier, [name for name in earlier.not_ours if name not in draft.stay], new)
    if before:
        brought += bring(before, before.not_ours, new, aside=True)
    content = {
        "input_sha256": stamp.input,
        "state": stamp.state,
        "build": stamp.build,
        "checks_met": stamp.checks_met,
        "versions": dict(stamp.versions),
        "files": sums,
        "written_for": states,
        "older": draft.older,
    }
    (new / MANIFEST).write_text(json.dumps(content, indent=1, sort_keys=True) + "\n", encoding="ascii")
    flush(new / MANIFEST)
    for folder in (new, *(path for path in new.rglob("*") if path.is_dir() and not path.is_symlink())):
        flush(folder)
    return tuple(brought)


def _older_text(names: Iterable[str]) -> str:
    listed = "".join(f"  {name}\n" for name in names)
    return (
        "DO NOT WORK FROM THESE FILES: they were written for an earlier state of the job.\n\n"
        f"{listed}\n"
        "All other files of the pack are newer. A build without --only writes these again too.\n"
    )


def _written(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
