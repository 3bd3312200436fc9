"""A small file, whatever it holds, is answered soon, in few words that are safe to show, and never with a traceback."""

from __future__ import annotations

import json
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from railgen.cli import main
from railgen.errors import MOST_TOLD, Fault, InputError
from railgen.fields.document import MOST_BYTES
from tests.cli.hostile import HOSTILE
from tests.job.cases import GOOD
from tests.says import Say, changed, lines

MOST_SECONDS = 10  # of processor time; none takes more than 3 on a slow machine
MOST_CHARACTERS = 30_000

CHILD = """
import contextlib, io, json, sys, time
from pathlib import Path
from railgen.cli import main

for folder in sorted(Path(sys.argv.pop(1)).iterdir()):
    sys.argv[1:] = ["check", str(folder / "job.toml")]
    said, start, status = io.StringIO(), time.process_time(), None
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        try:
            main()
        except SystemExit as leave:
            status = leave.code
    print(json.dumps([folder.name, status, time.process_time() - start, said.getvalue()]), flush=True)
"""


def test_no_small_file_keeps_the_program_busy_or_makes_it_talk(tmp_path: Path) -> None:
    for name, files in HOSTILE.items():
        (tmp_path / name).mkdir()
        for file, text in files.items():
            assert len(text) <= MOST_BYTES, name
            (tmp_path / name / file).write_text(text, encoding="utf-8")
    most = MOST_SECONDS * len(HOSTILE)
    done = subprocess.run(
        [sys.executable, "-c", CHILD, str(tmp_path)],
        capture_output=True,
        text=True,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (most, most)),
    )
    assert done.stderr == ""
    told = [json.loads(line) for line in done.stdout.splitlines()]
    assert {name for name, *_ in told} == set(HOSTILE)
    for name, status, seconds, said in told:
        assert status in ({0, 1} if name in {"tubes that fit", "the largest stair"} else {2}), (name, said[-500:])
        assert seconds < MOST_SECONDS, (name, seconds)
        assert len(said) < MOST_CHARACTERS, (name, len(said))
        assert max(map(len, said.splitlines())) < 2000, name
        assert "Traceback" not in said, name
        assert all(line.isprintable() for line in said.splitlines()), name


def test_a_file_of_256_kb_is_read_and_a_byte_more_is_not(check: Say) -> None:
    code, told = check(GOOD + "#" * (MOST_BYTES - len(GOOD)))
    assert code == 0, told
    code, told = check(GOOD + "#" * (MOST_BYTES - len(GOOD) + 1))
    assert code == 2
    assert "job.toml: this file is too large, with 262145 bytes; allowed: at most 256 KB" in told
    code, told = check(changed(('"wide-48.3"', '"wide-48.3"\ncatalogue = ["m.toml"]')), m="#" * (MOST_BYTES + 1))
    assert code == 2
    assert "m.toml: this file is too large" in told
    code, told = check(f'{GOOD}[rules]\nfiles = ["m.toml"]\n', m="#" * (MOST_BYTES + 1))
    assert code == 2
    assert "m.toml: this file is too large" in told


def test_fifty_faults_are_told_and_the_rest_counted(check: Say) -> None:
    text = GOOD + "".join(f"x{number} = 1\n" for number in range(73))
    code, told = check(text)
    assert code == 2
    assert len(lines(told)) == MOST_TOLD + 1
    assert lines(told)[-1] == "railgen: and 23 more"
    assert "and " not in check(GOOD + "".join(f"x{number} = 1\n" for number in range(50)))[1]


@pytest.mark.parametrize(
    ("old", "new", "where", "allowed"),
    [
        ("goings = [251, 248]", f"goings = {[250] * 101}", "stair[0].goings: the list holds 101", "at most 100"),
        ('"wide-48.3"', f'"x"\ncatalogue = {["a.toml"] * 11}', "hardware.catalogue: the list holds 11", "at most 10"),
        ("[rail]", f"[rules]\nsets = {['none'] * 51}\n[rail]", "rules.sets: the list holds 51", "at most 50"),
        ('"granary"', '"' + "g" * 61 + '"', "project.id: it is 61 characters long", "at most 60"),
    ],
)
def test_a_list_or_name_too_long_is_told_with_what_is_allowed(
    old: str, new: str, where: str, allowed: str, check: Say
) -> None:
    code, told = check(changed((old, new)))
    assert code == 2
    assert f"{where}; allowed: {allowed} [" in told


def test_what_a_terminal_would_obey_is_written_as_its_code(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "a\x1b[31m\u202eb"
    folder.mkdir()
    job = folder / "c\nd.toml"
    job.write_text(changed(("edge_offset = 60", '"edge\\u001B[2J\\u202E" = 60')), encoding="utf-8")
    for words in (["check", str(job)], ["new", str(job)], ["catalogue", "\x1b[2J"], ["--\x1b[2J"], ["\x1b[2J"]):
        monkeypatch.setattr(sys, "argv", ["railgen", *words])
        with pytest.raises(SystemExit) as leave:
            main()
        said = capsys.readouterr()
        assert leave.value.code == 2
        assert all(line.isprintable() for line in (said.out + said.err).splitlines()), said
        assert "\\x1b" in said.err, words


def test_texts_of_a_fault_are_short_and_printable_whatever_they_are_made_from() -> None:
    fault = Fault(code="x", where="a\nb" * 999, message="\x1b" * 9999, allowed="\u200f" * 999, hint="\ud800" * 999)
    assert str(fault).isprintable()
    assert len(str(fault)) < 2000
    assert len(str(InputError([fault] * 99_999))) < 2000 * (MOST_TOLD + 1)
