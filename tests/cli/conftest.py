"""A command, run on a job that a test writes."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from railgen.cli import main
from tests.says import Say, Told


@pytest.fixture
def check(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Say:
    """Exit status of ``railgen check`` on a job's text, and all it says."""

    def run(text: str, *words: str, **files: str) -> Told:
        (tmp_path / "job.toml").write_text(text, encoding="utf-8")
        for name, content in files.items():
            (tmp_path / f"{name}.toml").write_text(content, encoding="utf-8")
        monkeypatch.setattr(sys, "argv", ["railgen", "check", str(tmp_path / "job.toml"), *words])
        with pytest.raises(SystemExit) as leave:
            main()
        told = capsys.readouterr()
        return int(leave.value.code or 0), told.out + told.err

    return run
