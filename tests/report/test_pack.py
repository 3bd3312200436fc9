"""A pack appears whole or not at all, and a build never deletes what it did not write."""

from __future__ import annotations

import errno
import fcntl
import hashlib
import json
import os
import shutil
import signal
import subprocess
import sys
import textwrap
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from itertools import count
from pathlib import Path

import pytest

from railgen.errors import Fault, OutputError
from railgen.report import pack
from railgen.report.artefacts import OLDER
from railgen.report.draft import Draft, Stamp
from railgen.report.earlier import MANIFEST
from railgen.report.pack import Written, write_folder

PLAIN = {"a.txt": "first", "parts/R1.step": "first"}


def put(
    out: Path, files: Mapping[str, str], state: str = "s", renews: Callable[[str], bool] = lambda _: True
) -> Written:
    """A pack of some files, named "job"."""

    def write(draft: Draft) -> None:
        for name, text in files.items():
            path = draft.folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")

    stamp = Stamp(input="0" * 64, state=state, versions={"railgen": "0"}, checks_met=True)
    return write_folder(out, "job", stamp, write, renews)


def tree(folder: Path) -> dict[str, str]:
    """What is in a folder: text of files, aim of links, "/" for folders; manifests left out."""

    def content(path: Path) -> str:
        if path.is_symlink():
            return f"-> {path.readlink()}"
        return "/" if path.is_dir() else path.read_text(encoding="utf-8") if path.is_file() else "special"

    paths = (path for path in folder.rglob("*") if path.name != MANIFEST)
    return {path.relative_to(folder).as_posix(): content(path) for path in sorted(paths)}


def files(folder: Path) -> dict[str, str]:
    return {name: text for name, text in tree(folder).items() if text != "/"}


def manifest(folder: Path) -> dict[str, object]:
    content = json.loads((folder / MANIFEST).read_text(encoding="ascii"))
    assert isinstance(content, dict)
    return content


def test_a_pack_appears_when_it_is_written(tmp_path: Path) -> None:
    out = tmp_path / "out"

    def write(draft: Draft) -> None:
        (draft.folder / "a.txt").write_text("new", encoding="utf-8")
        assert not (out / "job").exists()

    write_folder(out, "job", Stamp(input="0", state="s", versions={"railgen": "0"}, checks_met=True), write)
    assert [p.name for p in out.iterdir()] == ["job"]
    assert files(out / "job") == {"a.txt": "new"}


def test_a_manifest_names_files_in_subfolders_too(tmp_path: Path) -> None:
    put(tmp_path, {"a.txt": "one", "drawings/sub/x.dxf": "two"})
    content = manifest(tmp_path / "job")
    assert content["files"] == {
        "a.txt": hashlib.sha256(b"one").hexdigest(),
        "drawings/sub/x.dxf": hashlib.sha256(b"two").hexdigest(),
    }
    assert content["written_for"] == {"a.txt": "s", "drawings/sub/x.dxf": "s"}


def test_nothing_is_left_when_the_writing_fails(tmp_path: Path) -> None:
    def write(draft: Draft) -> None:
        (draft.folder / "a.txt").write_text("half", encoding="utf-8")
        raise RuntimeError

    with pytest.raises(RuntimeError):
        write_folder(tmp_path / "not" / "there", "job", Stamp(input="", state="", versions={}, checks_met=True), write)
    assert list(tmp_path.iterdir()) == []


def test_the_previous_pack_is_kept_whole_and_replaced_whole(tmp_path: Path) -> None:
    for text in ("first", "second", "third"):
        put(tmp_path, {"a.txt": text, f"{text}/only.txt": text})
    assert sorted(p.name for p in tmp_path.iterdir()) == ["job", "job.previous"]
    assert files(tmp_path / "job") == {"a.txt": "third", "third/only.txt": "third"}
    assert files(tmp_path / "job.previous") == {"a.txt": "second", "second/only.txt": "second"}
    assert set(manifest(tmp_path / "job.previous")["files"]) == {"a.txt", "second/only.txt"}  # type: ignore[call-overload]


@pytest.mark.parametrize("links", [True, False], ids=["linked", "copied"])
def test_a_strangers_files_and_folders_are_carried_over(
    links: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    outside = tmp_path / "elsewhere"
    outside.mkdir()
    (outside / "deed.txt").write_text("deed", encoding="utf-8")
    out = tmp_path / "out"
    put(out, PLAIN)
    job = out / "job"
    (job / "note.txt").write_text("mine", encoding="utf-8")
    (job / "parts" / "photo.jpg").write_text("mine", encoding="utf-8")
    (job / "site" / "deep" / "empty").mkdir(parents=True)
    (job / "site" / "deep" / "tool.sh").write_text("mine", encoding="utf-8")
    (job / "site" / "deep" / "tool.sh").chmod(0o750)
    (job / "site").chmod(0o700)
    (job / "to_folder").symlink_to(outside)
    (job / "site" / "nowhere").symlink_to("gone")
    (job / ".hidden").write_text("mine", encoding="utf-8")
    number = (job / "note.txt").stat().st_ino
    strangers = {name: text for name, text in tree(job).items() if name not in {*PLAIN, "parts"}}
    assert len(strangers) == 9
    if not links:
        monkeypatch.setattr(os, "link", no_link)
    for text in ("second", "third"):
        written = put(out, {"a.txt": text, "parts/R1.step": text})
        assert written.kept == ()
        assert tree(job) == {**strangers, "a.txt": text, "parts": "/", "parts/R1.step": text}
    assert ((job / "note.txt").stat().st_ino == number) is links
    assert (job / "note.txt").stat().st_nlink == 1
    assert (job / "site" / "deep" / "tool.sh").stat().st_mode & 0o777 == 0o750
    assert (job / "site").stat().st_mode & 0o777 == 0o700
    assert files(out / "job.previous") == {"a.txt": "second", "parts/R1.step": "second"}
    assert tree(outside) == {"deed.txt": "deed"}


def no_link(*_: object, **__: object) -> None:
    """What a disk without hard links answers."""
    raise OSError(errno.EPERM, "Operation not permitted")


def test_what_cannot_be_carried_over_stops_the_build(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    put(tmp_path, PLAIN)
    os.mkfifo(tmp_path / "job" / "pipe")
    put(tmp_path, PLAIN)
    assert tree(tmp_path / "job")["pipe"] == "special"
    before = tree(tmp_path)
    monkeypatch.setattr(os, "link", no_link)
    with pytest.raises(OutputError, match="pipe: this is not railgen's and cannot be carried over"):
        put(tmp_path, {"a.txt": "second"})
    assert tree(tmp_path) == before


def test_a_folder_where_another_disk_is_mounted_stops_the_build(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put(tmp_path, PLAIN)
    (tmp_path / "job" / "stick").mkdir()
    before, stat = tree(tmp_path), Path.stat

    def other_disk(path: Path, **how: bool) -> os.stat_result:
        found = list(stat(path, **how))
        found[2] += path.name == "job"  # st_dev
        return os.stat_result(found)

    monkeypatch.setattr(Path, "stat", other_disk)
    with pytest.raises(OutputError, match="another disk is mounted there"):
        put(tmp_path, PLAIN)
    monkeypatch.undo()
    assert tree(tmp_path) == before


def test_what_is_saved_while_a_build_runs_is_carried_over_too(tmp_path: Path) -> None:
    put(tmp_path, PLAIN)

    def write(draft: Draft) -> None:
        (draft.folder / "a.txt").write_text("second", encoding="utf-8")
        (tmp_path / "job" / "note.txt").write_text("mine", encoding="utf-8")
        (tmp_path / "job" / "a.txt").write_text("by hand", encoding="utf-8")

    write_folder(tmp_path, "job", Stamp(input="", state="", versions={"railgen": "0"}, checks_met=True), write)
    assert files(tmp_path / "job") == {"a.txt": "second", "note.txt": "mine", "kept/a.txt": "by hand"}


def test_a_changed_file_of_ours_is_kept_and_a_later_one_never_takes_its_place(tmp_path: Path) -> None:
    put(tmp_path, PLAIN)
    job = tmp_path / "job"
    for number, at in ((1, "kept"), (2, "kept/2"), (3, "kept/3")):
        (job / "parts" / "R1.step").write_text(f"by hand {number}", encoding="utf-8")
        written = put(tmp_path, PLAIN)
        ((folder, name, to),) = [(kept.folder, kept.name, kept.to) for kept in written.kept]
        assert (folder, name, to) == ("job", "parts/R1.step", f"{at}/parts/R1.step")
    assert files(job) == {
        **PLAIN,
        "kept/parts/R1.step": "by hand 1",
        "kept/2/parts/R1.step": "by hand 2",
        "kept/3/parts/R1.step": "by hand 3",
    }
    assert put(tmp_path, PLAIN).kept == ()
    assert files(job)["kept/2/parts/R1.step"] == "by hand 2"
    assert files(tmp_path / "job.previous") == PLAIN


def test_what_is_kept_for_the_first_time_leaves_a_strangers_kept_file_alone(tmp_path: Path) -> None:
    put(tmp_path, PLAIN)
    (tmp_path / "job" / "a.txt").write_text("by hand", encoding="utf-8")
    (tmp_path / "job" / "kept").mkdir()
    (tmp_path / "job" / "kept" / "a.txt").write_text("mine", encoding="utf-8")
    put(tmp_path, PLAIN)
    assert files(tmp_path / "job") == {**PLAIN, "kept/a.txt": "mine", "kept/2/a.txt": "by hand"}


def test_a_changed_file_that_is_no_longer_written_is_kept_and_an_unchanged_one_goes(tmp_path: Path) -> None:
    put(tmp_path, {"a.txt": "1", "P7.dxf": "old", "P8.dxf": "old"})
    (tmp_path / "job" / "P8.dxf").write_text("by hand", encoding="utf-8")
    put(tmp_path, {"a.txt": "2"})
    assert files(tmp_path / "job") == {"a.txt": "2", "kept/P8.dxf": "by hand"}
    assert files(tmp_path / "job.previous") == {"a.txt": "1", "P7.dxf": "old"}


def test_a_file_of_ours_that_became_a_link_or_a_folder_is_kept(tmp_path: Path) -> None:
    put(tmp_path, {"a.txt": "1", "b.txt": "1"})
    job = tmp_path / "job"
    (job / "a.txt").unlink()
    (job / "a.txt").symlink_to("b.txt")
    (job / "b.txt").unlink()
    (job / "b.txt").mkdir()
    (job / "b.txt" / "inside").write_text("mine", encoding="utf-8")
    put(tmp_path, {"a.txt": "2", "b.txt": "2"})
    assert files(job) == {"a.txt": "2", "b.txt": "2", "kept/a.txt": "-> b.txt", "kept/b.txt/inside": "mine"}


@pytest.mark.parametrize(
    ("stranger", "wanted", "kept"),
    [
        ("new.txt", "new.txt", "kept/new.txt"),
        ("new.txt/inside", "new.txt", "kept/new.txt/inside"),
        ("parts/x", "parts", "kept/parts/x"),
        ("drawings", "drawings/a.dxf", "kept/drawings"),
        ("kept/new.txt", "new.txt", "kept/new.txt"),
        ("manifest.json/x", "a.txt", ""),
        ("kept", "kept_not.txt", "kept/kept"),
    ],
)
def test_a_stranger_whose_name_is_wanted_is_kept(stranger: str, wanted: str, kept: str, tmp_path: Path) -> None:
    put(tmp_path, {"first.txt": "1"})
    path = tmp_path / "job" / stranger
    if stranger.startswith("manifest"):
        (tmp_path / "job" / MANIFEST).unlink()
    path.parent.mkdir(exist_ok=True)
    path.write_text("mine", encoding="utf-8")
    if not kept:
        with pytest.raises(OutputError, match="not a railgen pack"):
            put(tmp_path, {wanted: "2"})
        return
    put(tmp_path, {wanted: "2"})
    assert files(tmp_path / "job") == {wanted: "2", kept: "mine"}


def test_what_somebody_left_in_the_previous_pack_is_kept_in_the_new_one(tmp_path: Path) -> None:
    put(tmp_path, PLAIN)
    put(tmp_path, PLAIN)
    (tmp_path / "job.previous" / "note.txt").write_text("mine", encoding="utf-8")
    (tmp_path / "job.previous" / "a.txt").write_text("by hand", encoding="utf-8")
    written = put(tmp_path, PLAIN)
    assert files(tmp_path / "job") == {**PLAIN, "kept/note.txt": "mine", "kept/a.txt": "by hand"}
    assert {(kept.folder, kept.name) for kept in written.kept} == {
        ("job.previous", "note.txt"),
        ("job.previous", "a.txt"),
    }
    assert files(tmp_path / "job.previous") == PLAIN


def occupied_by_folder(place: Path) -> None:
    place.mkdir()
    (place / "thesis.txt").write_text("mine", encoding="utf-8")


def occupied_by_another_program(place: Path) -> None:
    occupied_by_folder(place)
    (place / MANIFEST).write_text('{"input_sha256": "0", "files": {}, "versions": {}}', encoding="utf-8")


def occupied_by_nonsense(place: Path) -> None:
    occupied_by_folder(place)
    (place / MANIFEST).write_bytes(b"\xff\xfe" + b"[" * 100_000)


def occupied_by_file(place: Path) -> None:
    place.write_text("mine", encoding="utf-8")


def occupied_by_link(place: Path) -> None:
    aim = place.with_name("aim")
    shutil.copytree(place.with_name("pack"), aim)
    place.symlink_to(aim)


def occupied_by_dead_link(place: Path) -> None:
    place.symlink_to("nowhere")


OCCUPIED = (
    occupied_by_folder,
    occupied_by_another_program,
    occupied_by_nonsense,
    occupied_by_file,
    occupied_by_link,
    occupied_by_dead_link,
)


@pytest.mark.parametrize("occupy", OCCUPIED)
@pytest.mark.parametrize("place", ["job", "job.previous"])
def test_a_place_that_something_else_holds_is_refused(
    place: str, occupy: Callable[[Path], None], tmp_path: Path
) -> None:
    put(tmp_path / "x", PLAIN)
    (tmp_path / "x" / "job").rename(tmp_path / "pack")
    if place != "job":
        put(tmp_path, PLAIN)
    occupy(tmp_path / place)
    before, wrote = tree(tmp_path), []
    stamp = Stamp(input="", state="", versions={"railgen": "0"}, checks_met=True)
    with pytest.raises(OutputError, match="not a railgen pack") as told:
        write_folder(tmp_path, "job", stamp, wrote.append)
    (fault,) = told.value.faults
    assert fault.where == str(tmp_path / place)
    assert "move it away" in fault.hint
    assert wrote == []  # it is said before the work is done
    assert tree(tmp_path) == before


def test_what_stands_at_the_previous_place_is_no_matter_to_a_first_build(tmp_path: Path) -> None:
    occupied_by_folder(tmp_path / "job.previous")
    put(tmp_path, PLAIN)
    assert files(tmp_path / "job.previous") == {"thesis.txt": "mine"}


def test_an_empty_folder_is_a_place_for_a_pack(tmp_path: Path) -> None:
    put(tmp_path, {"a.txt": "1"})
    (tmp_path / "job").rename(tmp_path / "job.previous")
    (tmp_path / "job").mkdir()
    put(tmp_path, {"a.txt": "2"})
    assert files(tmp_path) == {"job/a.txt": "2", "job.previous/a.txt": "1"}


def test_a_file_where_the_folder_should_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file", encoding="utf-8")
    for out in (tmp_path / "out", tmp_path / "out" / "deeper", tmp_path / ("long" * 100)):
        with pytest.raises(OutputError, match="cannot write here"):
            put(out, PLAIN)
    assert files(tmp_path) == {"out": "a file"}


def test_a_writers_own_error_is_told_of_the_packs_place(tmp_path: Path) -> None:
    """What a writer says names the folder that a build works in, which nobody but the build knows."""

    def told(cause: OSError | None) -> str:
        def write(draft: Draft) -> None:
            fault = Fault(code="output", where=str(draft.folder / "a.step"), message="the kernel could not")
            raise OutputError(fault) from cause

        with pytest.raises(OutputError) as caught:
            write_folder(tmp_path / "out", "job", Stamp(input="", state="", versions={}, checks_met=True), write)
        return str(caught.value)

    assert told(None) == f"{tmp_path / 'out' / 'job' / 'a.step'}: the kernel could not [output]"
    for full in (errno.ENOSPC, errno.EDQUOT):
        assert told(OSError(full, "no")).startswith(f"{tmp_path / 'out' / 'job'}: cannot write here: the disk is full")
    assert list(tmp_path.iterdir()) == []


def b_alone(name: str) -> bool:
    """A build that renews what begins with b, and the numbers."""
    return name.startswith("b") or name == "numbers"


def test_a_build_of_a_part_adds_renews_leaves_and_marks_what_is_older(tmp_path: Path) -> None:
    job = tmp_path / "job"
    put(tmp_path, {"a.txt": "1", "numbers": "1"}, state="one")
    written = put(tmp_path, {"b1.txt": "1", "b/P7": "1", "numbers": "1"}, state="one", renews=b_alone)
    assert files(job) == {"a.txt": "1", "b1.txt": "1", "b/P7": "1", "numbers": "1"}
    assert (written.older, manifest(job)["older"]) == ((), [])

    written = put(tmp_path, {"b1.txt": "2", "numbers": "2"}, state="two", renews=b_alone)
    told = files(job).pop(OLDER)
    assert files(job) == {"a.txt": "1", "b1.txt": "2", "numbers": "2", OLDER: told}
    assert written.older == ("a.txt",)
    assert manifest(job)["older"] == ["a.txt"]
    assert manifest(job)["written_for"] == {"a.txt": "one", "b1.txt": "two", "numbers": "two", OLDER: "two"}
    assert [line.strip() for line in told.splitlines() if line.startswith("  ")] == ["a.txt"]

    assert put(tmp_path, {"b1.txt": "1", "numbers": "1"}, state="one", renews=b_alone).older == ()
    assert files(job) == {"a.txt": "1", "b1.txt": "1", "numbers": "1"}
    put(tmp_path, {"b1.txt": "2", "numbers": "2"}, state="two", renews=b_alone)
    put(tmp_path, {"a.txt": "2", "numbers": "2"}, state="two")
    assert files(job) == {"a.txt": "2", "numbers": "2"}
    assert put(tmp_path, {"a.txt": "2"}, state="two").kept == ()


def test_a_build_of_a_part_leaves_what_somebody_changed_or_removed_of_the_rest(tmp_path: Path) -> None:
    job = tmp_path / "job"
    put(tmp_path, {"a.txt": "1", "away.txt": "1", "sub/c.txt": "1"})
    (job / "a.txt").write_text("by hand", encoding="utf-8")
    (job / "away.txt").unlink()
    (tmp_path / "store").mkdir()
    shutil.move(job / "sub", tmp_path / "store" / "sub")
    (job / "sub").symlink_to(tmp_path / "store" / "sub")
    written = put(tmp_path, {"b.txt": "1"}, renews=b_alone)
    assert written.kept == ()
    assert files(job) == {"a.txt": "by hand", "b.txt": "1", "sub": f"-> {tmp_path / 'store' / 'sub'}"}
    (kept,) = put(tmp_path, {"a.txt": "2"}).kept
    assert (kept.name, kept.to) == ("a.txt", "kept/a.txt")
    assert files(job)["kept/a.txt"] == "by hand"
    assert files(tmp_path / "store") == {"sub/c.txt": "1"}


def test_a_draft_knows_what_is_current_beside_it(tmp_path: Path) -> None:
    put(tmp_path, {"same.glb": "1", "changed.glb": "1"}, state="one")
    (tmp_path / "job" / "changed.glb").write_text("by hand", encoding="utf-8")
    seen: dict[str, list[str | None]] = {}

    def write(draft: Draft) -> None:
        (draft.folder / "b.txt").write_text("new", encoding="utf-8")
        found = [draft.current(name) for name in ("same.glb", "changed.glb", "none.glb", "b.txt")]
        seen[draft.state] = [path and path.read_text(encoding="utf-8") for path in found]
        assert draft.files == ("b.txt", "changed.glb", "same.glb")

    for state in ("one", "two"):
        stamp = Stamp(input="0", state=state, versions={"railgen": "0"}, checks_met=True)
        write_folder(tmp_path, "job", stamp, write, b_alone)
    assert seen == {"one": ["1", None, None, "new"], "two": [None, None, None, "new"]}


SECOND = {"a.txt": "second", "new/b.txt": "second"}


def dies(step: str, moment: str, at: int, run: Callable[[], object]) -> bool:
    """Whether a child process is killed in a run by the ``at``-th call of a function of os, before or after it acts."""
    child = os.fork()
    if child:
        _, status = os.waitpid(child, 0)
        assert status in (0, signal.SIGKILL)
        return status == signal.SIGKILL
    real, seen, ended = getattr(os, step), 0, 1

    def deadly(*args: object, **how: object) -> object:
        nonlocal seen
        seen += 1
        if seen == at and moment == "before":
            os.kill(os.getpid(), signal.SIGKILL)
        done = real(*args, **how)
        if seen == at:
            os.kill(os.getpid(), signal.SIGKILL)
        return done

    try:
        setattr(os, step, deadly)
        run()
        ended = 0
    finally:
        os._exit(ended)


def killed_runs(tmp_path: Path, step: str) -> Iterator[tuple[Path, bool]]:
    """Folders with two packs in which a third build was killed at each call of a step in turn, the last one not."""
    for moment in ("before", "after"):
        for number in count(1):
            out = tmp_path / f"{moment}-{number}"
            put(out, {"zero.txt": "zero"})
            put(out, {"a.txt": "first", "gone.txt": "first"})
            (out / "job" / "note.txt").write_text("mine", encoding="utf-8")
            (out / "job" / "gone.txt").write_text("by hand", encoding="utf-8")
            killed = dies(step, moment, number, partial(put, out, SECOND))
            yield out, not killed
            if not killed:
                break


@pytest.mark.parametrize(("step", "at_least"), [("rename", 4), ("fsync", 6), ("link", 2), ("rmdir", 2), ("unlink", 3)])
def test_a_run_killed_at_any_step_loses_nothing(step: str, at_least: int, tmp_path: Path) -> None:
    old = {"a.txt": "first", "gone.txt": "by hand", "note.txt": "mine"}
    new = {**SECOND, "note.txt": "mine", "kept/gone.txt": "by hand"}
    runs = 0
    for out, survived in killed_runs(tmp_path, step):
        runs += 1
        left = {path.relative_to(out).as_posix(): files(path) for path in out.rglob("*") if (path / MANIFEST).is_file()}
        place = left.get("job", left.get(".job.railgen/old"))
        assert place in (old, new)
        with pytest.raises(RuntimeError):  # a next run that does not get to its end clears up too
            write_folder(out, "job", Stamp(input="", state="", versions={}, checks_met=True), fail)
        assert sorted(path.name for path in out.iterdir()) == ["job", "job.previous"]
        assert files(out / "job") == place
        previous = files(out / "job.previous")
        if survived:
            assert (place, previous) == (new, {"a.txt": "first"})
        elif place == old:
            assert previous == {"zero.txt": "zero"}
        else:
            assert {"a.txt": "first"}.items() <= previous.items() <= old.items()
        put(out, {"a.txt": "last"})
        assert files(out / "job") == {"a.txt": "last", "note.txt": "mine", "kept/gone.txt": "by hand"}
    assert runs >= 2 * (at_least + 1)


def fail(_: Draft) -> None:
    raise RuntimeError


def died_with_the_new_pack_in_place(out: Path) -> None:
    put(out, {"zero.txt": "zero"})
    put(out, PLAIN)
    assert dies("rename", "after", 2, partial(put, out, SECOND))
    assert files(out) == {
        **{f"job/{name}": text for name, text in SECOND.items()},
        **{f".job.railgen/old/{name}": text for name, text in PLAIN.items()},
        "job.previous/zero.txt": "zero",
        ".job.railgen/lock": "",
    }


def test_what_took_the_previous_place_since_a_run_died_is_left_alone(tmp_path: Path) -> None:
    died_with_the_new_pack_in_place(tmp_path)
    shutil.rmtree(tmp_path / "job.previous")
    occupied_by_folder(tmp_path / "job.previous")
    with pytest.raises(OutputError, match="not a railgen pack"):
        put(tmp_path, {"a.txt": "third"})
    assert files(tmp_path / "job") == SECOND
    assert files(tmp_path / "job.previous") == {"thesis.txt": "mine"}
    (tmp_path / "job.previous").rename(tmp_path / "away")
    put(tmp_path, {"a.txt": "third"})
    assert files(tmp_path / "job") == {"a.txt": "third"}
    assert files(tmp_path / "job.previous") == SECOND


def test_what_came_to_the_previous_pack_since_a_run_died_is_kept(tmp_path: Path) -> None:
    died_with_the_new_pack_in_place(tmp_path)
    (tmp_path / "job.previous" / "note.txt").write_text("mine", encoding="utf-8")
    put(tmp_path, {"a.txt": "third"})
    assert files(tmp_path / "job") == {"a.txt": "third", "kept/note.txt": "mine"}


def test_what_is_saved_into_the_previous_pack_at_the_last_moment_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put(tmp_path, PLAIN)
    (tmp_path / "job" / "note.txt").write_text("mine", encoding="utf-8")
    real, note = pack.flush, tmp_path / "job.previous" / "note.txt"

    def late(path: Path) -> None:
        """Somebody's program had the folder open, and saves by renaming as most do."""
        real(path)
        if note.exists():
            note.with_name("x").write_text("mine, again", encoding="utf-8")
            note.with_name("x").rename(note)

    monkeypatch.setattr(pack, "flush", late)
    put(tmp_path, PLAIN)
    assert note.read_text(encoding="utf-8") == "mine, again"
    monkeypatch.undo()
    put(tmp_path, PLAIN)
    assert files(tmp_path / "job") == {**PLAIN, "note.txt": "mine", "kept/note.txt": "mine, again"}


@pytest.mark.parametrize("step", ["rename", "fsync", "mkdir"])
def test_a_step_that_fails_leaves_everything_as_it_was(
    step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk is full at each call in turn; from the second rename on the new pack is in its place."""
    put(tmp_path, {"zero.txt": "zero"})
    put(tmp_path, PLAIN)
    (tmp_path / "job" / "note.txt").write_text("mine", encoding="utf-8")
    before, real = tree(tmp_path), getattr(os, step)
    refused = 0
    for number in count(1):
        seen = 0

        def full(*args: object, at: int = number, **how: object) -> object:
            nonlocal seen
            seen += 1
            if seen == at:
                raise OSError(errno.ENOSPC, "No space left on device")
            return real(*args, **how)

        with monkeypatch.context() as patch:
            patch.setattr(os, step, full)
            try:
                put(tmp_path, SECOND)
            except OutputError as error:
                refused += "the disk is full" in str(error)
            if (tmp_path / "job" / "new").exists():
                break
        assert tree(tmp_path) == before, number
    assert refused >= 2
    put(tmp_path, SECOND)
    assert files(tmp_path / "job") == {**SECOND, "note.txt": "mine"}
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job", "job.previous"]


def test_a_dead_run_of_another_job_and_a_strangers_hidden_file_are_left_alone(tmp_path: Path) -> None:
    for name in (".job-2.railgen/pack/a.txt", ".job.railgen/mine.txt", ".job.railgen/pack/half.txt"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("x", encoding="utf-8")
    put(tmp_path, PLAIN)
    assert {name for name in files(tmp_path) if name.startswith(".")} == {
        ".job-2.railgen/pack/a.txt",
        ".job.railgen/mine.txt",
    }


def test_all_of_a_pack_is_on_the_disk_before_it_is_renamed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    flushed: set[int] = set()
    real, rename = os.fsync, os.rename

    def seen(handle: int) -> None:
        flushed.add(os.fstat(handle).st_ino)
        real(handle)

    def checked(source: Path, aim: Path) -> None:
        if Path(source).name == "pack":
            inside = [Path(source), *Path(source).rglob("*")]
            assert [path for path in inside if path.stat().st_ino not in flushed] == []
        rename(source, aim)

    monkeypatch.setattr(os, "fsync", seen)
    monkeypatch.setattr(os, "rename", checked)
    put(tmp_path, PLAIN)
    assert len(flushed) >= 6


def test_a_second_build_is_told_and_the_first_ends_whole(tmp_path: Path) -> None:
    def write(draft: Draft) -> None:
        (draft.folder / "a.txt").write_text("from the first", encoding="utf-8")
        with pytest.raises(OutputError, match="another build of this job"):
            put(tmp_path, {"a.txt": "from the second"})
        (draft.folder / "b.txt").write_text("from the first", encoding="utf-8")

    write_folder(tmp_path, "job", Stamp(input="", state="", versions={"railgen": "0"}, checks_met=True), write)
    assert files(tmp_path) == {"job/a.txt": "from the first", "job/b.txt": "from the first"}
    assert put(tmp_path, PLAIN).folder == tmp_path / "job"


def test_a_lock_that_another_build_took_away_is_taken_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It ended between the opening and the locking of the file, and a third one began."""
    real, own = fcntl.flock, tmp_path / ".job.railgen"
    calls: list[int] = []

    def late(handle: int, how: int) -> None:
        calls.append(handle)
        if len(calls) < 3:
            (own / "lock").unlink()
            own.rmdir()
        if len(calls) == 2:
            own.mkdir()
            (own / "lock").write_text("of the third", encoding="utf-8")
        real(handle, how)

    monkeypatch.setattr(fcntl, "flock", late)
    put(tmp_path, PLAIN)
    assert len(calls) == 3
    assert files(tmp_path) == {f"job/{name}": text for name, text in PLAIN.items()}


def test_a_disk_without_locks_is_written_to_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: int) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(fcntl, "flock", none)
    put(tmp_path, PLAIN)
    assert files(tmp_path / "job") == PLAIN


RACER = """
import sys
from pathlib import Path
from railgen.errors import Fault, OutputError
from railgen.report import pack
from tests.report.test_pack import put

told = 0
for turn in range(25):
    try:
        put(Path(sys.argv[1]), {f"{i}.txt": f"{sys.argv[2]}-{turn}" for i in range(5)})
    except OutputError as error:
        assert error.faults[0].code == "output-busy", error
        told += 1
print(25 - told)
"""


def test_builds_at_once_never_mix(tmp_path: Path) -> None:
    command = [sys.executable, "-c", textwrap.dedent(RACER), str(tmp_path / "out")]
    runs = [
        subprocess.Popen(
            [*command, str(number)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        )
        for number in range(3)
    ]
    ended = [(run.communicate(timeout=60), run.returncode) for run in runs]
    assert all(code == 0 for _, code in ended), ended
    assert sum(int(told[0]) for told, _ in ended) >= 2
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == ["job", "job.previous"]
    for name in ("job", "job.previous"):
        found = files(tmp_path / "out" / name)
        assert (len(found), len(set(found.values()))) == (5, 1)
