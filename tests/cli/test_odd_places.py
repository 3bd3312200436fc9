"""Odd files, folders, streams and moments: an answer and an exit status, never a traceback, nothing half-written."""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from railgen.cli import main
from railgen.job.starter import starter_text
from tests.job.cases import GOOD
from tests.packs import CONFIGS
from tests.says import Say, changed

LOFT = str(CONFIGS / "mill_loft_timber.toml")
FULL = Path("/dev/full")


def start(*words: str, **options: object) -> subprocess.Popen[str]:
    """A command in a process of its own."""
    return subprocess.Popen([sys.executable, "-m", "railgen", *words], text=True, **options)  # type: ignore[call-overload]


def ended(monkeypatch: pytest.MonkeyPatch, *words: str) -> int:
    """Exit status of a command, in this process."""
    monkeypatch.setattr(sys, "argv", ["railgen", *words])
    with pytest.raises(SystemExit) as leave:
        main()
    return int(leave.value.code or 0)


@pytest.mark.skipif(not FULL.exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize("words", [("check", LOFT), ("schema",), ("--help",)])
def test_a_full_output_is_told_and_ends_with_two(words: tuple[str, ...]) -> None:
    with FULL.open("w", encoding="utf-8") as full, start(*words, stdout=full, stderr=subprocess.PIPE) as run:
        _, told = run.communicate(timeout=300)
    assert run.returncode == 2
    assert told == "railgen: what was asked for cannot be written: No space left on device\n"


@pytest.mark.skipif(not FULL.exists(), reason="this system has no device that is always full")
def test_where_not_even_the_fault_can_be_told_the_status_says_it(tmp_path: Path) -> None:
    with FULL.open("w", encoding="utf-8") as full, start("check", str(tmp_path), stdout=full, stderr=full) as run:
        assert run.wait(timeout=300) == 2


@pytest.mark.parametrize("words", [("schema",), ("catalogue",), ("check", LOFT, "--all")])
def test_a_reader_that_goes_away_is_no_fault(words: tuple[str, ...]) -> None:
    far, near = os.pipe()
    os.close(far)
    with start(*words, stdout=near, stderr=subprocess.PIPE) as run:
        os.close(near)
        _, told = run.communicate(timeout=300)
    assert told == ""
    assert run.returncode == 1


def test_a_build_whose_progress_nobody_reads_writes_its_pack(tmp_path: Path) -> None:
    far, near = os.pipe()
    os.close(far)
    out = ("--only", "schedules", "--out", str(tmp_path))
    with start("build", LOFT, *out, stdout=subprocess.DEVNULL, stderr=near) as run:
        os.close(near)
        assert run.wait(timeout=300) == 0
    assert (tmp_path / "mill_loft_timber" / "manifest.json").is_file()


def test_a_build_that_is_interrupted_says_so_and_leaves_nothing(tmp_path: Path) -> None:
    with start("build", LOFT, "--out", str(tmp_path / "out"), stderr=subprocess.PIPE, stdout=subprocess.PIPE) as run:
        assert run.stderr is not None
        assert run.stderr.readline().startswith("solving")
        run.send_signal(signal.SIGINT)
        said, told = run.communicate(timeout=300)
    assert run.returncode == 130
    assert "Traceback" not in told + said
    assert told.splitlines()[-1] == "railgen: stopped"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["x" * 300, "/".join(["y" * 200] * 30)])
def test_an_output_folder_that_cannot_be_named_ends_with_two(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(monkeypatch, "build", LOFT, "--only", "schedules", "--out", str(tmp_path / name)) == 2
    told = capsys.readouterr().err
    assert "cannot write here: " in told
    assert "Traceback" not in told
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["x" * 300, "", "no/such/folder.toml"])
def test_a_starter_job_that_cannot_be_written_ends_with_two(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(monkeypatch, "new", str(tmp_path / name)) == 2
    assert "[cannot-write]" in (told := capsys.readouterr().err) or "there is a folder already" in told
    assert list(tmp_path.iterdir()) == []


def test_a_starter_job_that_breaks_off_is_removed(tmp_path: Path) -> None:
    """A limit on file size stands in for a full disk."""
    limit = len(starter_text()) // 2
    with start(
        "new",
        str(tmp_path / "mine.toml"),
        stderr=subprocess.PIPE,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit)),
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
    ) as run:
        _, told = run.communicate(timeout=300)
    assert run.returncode == 2
    assert "it cannot be written: File too large" in told
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["CON.toml", "-x.toml", "..toml", "a\nb.toml", "\udcff.toml", "aux", "x" * 200])
def test_whatever_its_file_is_called_a_starter_job_reads(name: str, tmp_path: Path, check: Say) -> None:
    code, told = check(starter_text(name))
    assert code == 0, told


@pytest.mark.parametrize("name", ["CON", "nul", "Com7"])
def test_a_job_is_not_called_like_a_device(name: str, check: Say) -> None:
    code, told = check(changed(('"granary"', f'"{name}"')))
    assert code == 2
    assert f"project.id: Windows keeps {name} for a device" in told
    assert "[reserved-name]" in told


@pytest.mark.parametrize("name", ["..", ".hidden", "-x", "old.previous", "a/b", "", "a b", "ä"])
def test_a_job_is_not_called_like_a_path_or_an_option(name: str, check: Say) -> None:
    code, told = check(changed(('"granary"', f'"{name}"')))
    assert code == 2
    assert "project.id: " in told
    assert "[bad-text]" in told


@pytest.mark.parametrize(
    "mark", ["\\u202E", "\\u2066", "\\u200F", "\\u200B", "\\u0007", "\\u009B", "\\uFEFF", "\\u2028"]
)
def test_a_title_has_no_character_that_is_not_seen(mark: str, check: Say) -> None:
    code, told = check(changed(("date = 2026-03-14", f'title = "a{mark}b"')))
    assert code == 2
    assert "project.title: " in told
    assert "allowed: one line of text, without control characters or others that are not seen" in told
    assert told.rstrip("\n").isprintable()


def test_a_byte_order_mark_and_other_line_ends_change_nothing(check: Say) -> None:
    told = check(GOOD)
    assert told[0] == 0
    assert check("\ufeff" + GOOD) == told
    assert check(GOOD.replace("\n", "\r\n")) == told


@pytest.mark.parametrize(
    ("number", "where"),
    [
        (f"0x{'f' * 5000}", "posts.edge_offset: this whole number is larger than TOML has any"),
        (f"-0b{'1' * 70}", "not valid TOML"),
        (f"0o{'7' * 30}", "posts.edge_offset: this whole number is larger than TOML has any"),
        ("0x7fffffffffffffff", "posts.edge_offset: expected a length, got "),
        ("1e9999", "posts.edge_offset: expected a length, got inf"),
        ("nan", "posts.edge_offset: expected a length, got nan"),
        ("1979-05-27T07:32:00+99:99", "not valid TOML"),
        ('"\\uD800"', "not valid TOML"),
    ],
)
def test_numbers_in_every_form_of_toml_are_read_or_refused(number: str, where: str, check: Say) -> None:
    code, told = check(changed(("edge_offset = 60", f"edge_offset = {number}")))
    assert code == 2
    assert where in told


@pytest.mark.parametrize("number", ["0x3C", "0o74", "0b111100", "6e1", "6_0", "+60", "60.0"])
def test_sixty_is_sixty_however_it_is_written(number: str, check: Say) -> None:
    assert check(changed(("edge_offset = 60", f"edge_offset = {number}"))) == check(GOOD)


def test_a_rule_file_that_leads_back_to_itself_is_not_there(tmp_path: Path, check: Say) -> None:
    (tmp_path / "loop.toml").symlink_to(tmp_path / "loop.toml")
    code, told = check(f'{GOOD}[rules]\nfiles = ["loop.toml"]\n')
    assert code == 2
    assert 'rules.files[0]: there is no file "loop.toml"' in told


@pytest.mark.parametrize("device", ["/dev/zero", "/dev/null", "/", "x" * 300])
def test_a_catalogue_is_an_ordinary_file(
    device: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(monkeypatch, "catalogue", "--file", device) == 2
    assert capsys.readouterr().err.startswith("railgen: ")
