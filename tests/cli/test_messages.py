"""What a new user is told, through the command line: the one cause, where it stands, and what would mend it."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from railgen.cli import main
from tests.job.cases import GOOD

Told = tuple[int, str]
Say = Callable[..., Told]


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


def changed(*changes: tuple[str, str]) -> str:
    """The good job with parts of its text replaced."""
    text = GOOD
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


HELD = ("[rail]", '[rules]\nsets = ["us-ibc-2021"]\n[rail]')


def test_a_measure_that_was_never_typed_passes_no_code(check: Say) -> None:
    code, told = check(changed(HELD), "--all")
    assert code == 1
    assert "missing: stair[0].nosing_overhang" in told
    assert "missing: stair[2].nosing_overhang" in told
    assert "missing: stair[1].upper_offset" in told
    typed = changed(HELD, ("well = 120", "well = 120\nupper_offset = 0"))
    typed = typed.replace("width = 900\n", "width = 900\nnosing_overhang = 20\n")
    assert "missing: stair[" not in check(typed, "--all")[1]


def test_a_landing_too_short_along_what_was_measured_fails_all_the_same(check: Say) -> None:
    """IBC 2021, 1011.6: as long as the stair is wide, here 900 mm."""
    _, told = check(changed(HELD, ("length = 950", "length = 880")), "--all")
    assert "missing: stair[1].upper_offset" not in told
    assert "does not meet  landing 1 " in told
