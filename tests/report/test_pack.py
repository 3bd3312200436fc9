"""A pack appears whole or not at all."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from railgen.errors import OutputError
from railgen.report.pack import MANIFEST, open_pack, write_manifest


def fill(folder: Path, text: str) -> None:
    (folder / "parts").mkdir()
    (folder / "a.txt").write_text(text, encoding="utf-8")
    write_manifest(folder, "0" * 64, {"railgen": "0"}, checks_met=True)


def test_a_pack_appears_when_the_block_ends(tmp_path: Path) -> None:
    with open_pack(tmp_path / "out", "job") as folder:
        fill(folder, "new")
        assert not (tmp_path / "out" / "job").exists()
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == ["job"]
    content = json.loads((tmp_path / "out" / "job" / MANIFEST).read_text(encoding="utf-8"))
    assert content["files"] == {"a.txt": hashlib.sha256(b"new").hexdigest()}


def test_nothing_is_left_when_the_block_fails(tmp_path: Path) -> None:
    with pytest.raises(RuntimeError), open_pack(tmp_path, "job") as folder:
        fill(folder, "half")
        raise RuntimeError
    assert list(tmp_path.iterdir()) == []


def test_an_earlier_pack_is_replaced_whole_and_kept_on_failure(tmp_path: Path) -> None:
    with open_pack(tmp_path, "job") as folder:
        fill(folder, "first")
    with pytest.raises(RuntimeError), open_pack(tmp_path, "job") as folder:
        fill(folder, "second")
        raise RuntimeError
    assert (tmp_path / "job" / "a.txt").read_text(encoding="utf-8") == "first"
    with open_pack(tmp_path, "job") as folder:
        fill(folder, "third")
    assert (tmp_path / "job" / "a.txt").read_text(encoding="utf-8") == "third"
    assert [p.name for p in tmp_path.iterdir()] == ["job"]


def test_a_folder_that_is_no_pack_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "job").mkdir()
    (tmp_path / "job" / "thesis.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match="not a railgen pack"), open_pack(tmp_path, "job"):
        pass
    assert [p.name for p in (tmp_path / "job").iterdir()] == ["thesis.txt"]
    assert [p.name for p in tmp_path.iterdir()] == ["job"]


def test_a_file_where_the_folder_should_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file", encoding="utf-8")
    with pytest.raises(OutputError, match="cannot write here"), open_pack(tmp_path / "out", "job"):
        pass
    with pytest.raises(OutputError, match="cannot write here"), open_pack(tmp_path / "out" / "deeper", "job"):
        pass


def test_a_full_disk_is_told_as_such(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="the disk is full"), open_pack(tmp_path, "job"):
        raise OSError(errno.ENOSPC, "No space left on device")
    assert list(tmp_path.iterdir()) == []


def test_what_a_killed_run_left_is_swept_by_the_next(tmp_path: Path) -> None:
    code = (
        "import os, sys\nfrom pathlib import Path\nfrom railgen.report.pack import open_pack\n"
        "with open_pack(Path(sys.argv[1]), 'job') as folder:\n"
        "    (folder / 'a.txt').write_text('half'); os.kill(os.getpid(), 9)\n"
    )
    done = subprocess.run([sys.executable, "-c", code, str(tmp_path)], check=False)
    assert done.returncode == -9
    (left,) = tmp_path.iterdir()
    assert left.name.startswith(".job.part-")
    with open_pack(tmp_path, "job") as folder:
        fill(folder, "whole")
    assert [p.name for p in tmp_path.iterdir()] == ["job"]


def test_a_run_killed_between_the_renames_loses_nothing(tmp_path: Path) -> None:
    gone = subprocess.run([sys.executable, "-c", "import os; print(os.getpid())"], capture_output=True, check=True)
    old = tmp_path / f".job.old-{int(gone.stdout)}"
    old.mkdir()
    fill(old, "earlier")
    with pytest.raises(RuntimeError), open_pack(tmp_path, "job"):
        raise RuntimeError
    assert (tmp_path / "job" / "a.txt").read_text(encoding="utf-8") == "earlier"


def test_another_running_build_is_not_swept(tmp_path: Path) -> None:
    other = tmp_path / f".job.part-{os.getppid()}"
    other.mkdir()
    with open_pack(tmp_path, "job") as folder:
        fill(folder, "mine")
    assert other.exists()
