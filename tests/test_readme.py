"""What README.md promises is there: its commands, its links, its option table."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from railgen import check as check_job
from railgen import load, solve
from railgen.catalogue.models import CatalogueFile
from railgen.checks import Verdict
from railgen.cli.main import cli
from railgen.job.starter import starter_text
from railgen.report.artefacts import ABOUT, ALWAYS, OLDER, Artefact
from railgen.report.pack import PREVIOUS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMANDS = dict(re.findall(r"^<!-- command: (\w+) -->\n```sh\n(.*?)\n```$", README, flags=re.MULTILINE | re.DOTALL))


def section(name: str) -> str:
    """The text between two marks."""
    (found,) = re.findall(rf"<!-- {name}:begin -->\n(.*?)\n?<!-- {name}:end -->", README, flags=re.DOTALL)
    return str(found)


def test_two_commands_are_all_there_is_to_set_up() -> None:
    assert set(COMMANDS) == {"build", "test"}
    assert README.count("<!-- command: ") == README.count("```sh\n") == len(COMMANDS)


def pasted(name: str, folder: Path, *, sudo: bool = False, unknown: str = "no such") -> tuple[int, list[str]]:
    """Exit status of a command on a machine of stand-ins that know no package ``unknown``, and what they were asked."""
    log, paths = folder / "log", [folder / "bin", folder / ".venv" / "bin"]
    scripts = {
        "bin/sudo": 'echo "sudo" >> "$LOG"; exec "$@"',
        "bin/apt-get": 'echo "apt-get $DEBIAN_FRONTEND $*" >> "$LOG"; case "$*" in *"$UNKNOWN"*) exit 100;; esac',
        **dict.fromkeys(
            ("bin/python3", ".venv/bin/pip", ".venv/bin/railgen", ".venv/bin/pytest"),
            'echo "${0#"$HERE"/} $*" >> "$LOG"',
        ),
    }
    for path in paths:
        path.mkdir(parents=True)
    for script, text in scripts.items():
        if sudo or script != "bin/sudo":
            (folder / script).write_text(f"#!/bin/sh\n{text}\n", encoding="ascii")
            (folder / script).chmod(0o755)
    (folder / "bin" / "sh").symlink_to("/bin/sh")
    bash = shutil.which("bash")
    assert bash
    env = {"PATH": str(paths[0]), "LOG": str(log), "HERE": str(folder), "UNKNOWN": unknown}
    done = subprocess.run([bash, "-c", COMMANDS[name]], cwd=folder, env=env, capture_output=True, check=False)
    return done.returncode, log.read_text(encoding="utf-8").splitlines()


@pytest.mark.parametrize("name", sorted(COMMANDS))
@pytest.mark.parametrize("sudo", [False, True], ids=["root", "sudo"])
def test_a_command_is_whole_for_root_and_with_sudo(name: str, sudo: bool, tmp_path: Path) -> None:
    status, asked = pasted(name, tmp_path, sudo=sudo)
    assert status == 0
    assert ("sudo" in asked) is sudo
    asked = [line for line in asked if line != "sudo"]
    system = [line for line in asked if line.startswith("apt-get ")]
    assert system[0] == "apt-get noninteractive update"
    assert all(line.startswith("apt-get noninteractive install --yes ") for line in system[1:])
    venv, install, last = asked[len(system) :]
    assert venv.endswith("python3 -m venv .venv")
    assert re.match(r"\.venv/bin/pip install .*--constraint \.ci/constraints\.txt .*--editable \.", install)
    assert last.split()[0] == {"build": ".venv/bin/railgen", "test": ".venv/bin/pytest"}[name]


def test_the_tests_run_where_there_is_no_browser(tmp_path: Path) -> None:
    """Ubuntu has neither chromium-driver nor a chromium that is not a snap."""
    status, asked = pasted("test", tmp_path, unknown="chromium")
    assert status == 0
    assert asked[-1].startswith(".venv/bin/pytest")
    assert not any("chromium" in line and "libglu1-mesa" in line for line in asked)


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_a_library_that_cannot_be_installed_stops_the_command(name: str, tmp_path: Path) -> None:
    status, asked = pasted(name, tmp_path, unknown="libgl1")
    assert status != 0
    assert not any(line.startswith(".venv") for line in asked)


def test_the_build_command_names_a_job_that_is_there() -> None:
    words = COMMANDS["build"].split("\n")[-1].split()
    assert words[:2] == [".venv/bin/railgen", "build"]
    assert (ROOT / words[2]).is_file()


def test_the_checkouts_own_check_runs_the_readmes_commands() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert {name.strip('"') for name in re.findall(r"^ *run (.+)$", script, flags=re.MULTILINE)} == set(COMMANDS)


def test_every_subcommand_is_told_and_every_told_one_exists() -> None:
    told = set(re.findall(r"^\| `railgen (\w+)", README, flags=re.MULTILINE))
    assert told == set(cli.commands)
    assert set(re.findall(r"railgen (new|check|build|compare|catalogue|schema)\b", README)) == told


def test_every_link_to_a_file_leads_somewhere() -> None:
    targets = [target for target in re.findall(r"\]\(([^)#]+)\)", README) if "://" not in target]
    assert targets
    assert [target for target in targets if not (ROOT / target).exists()] == []


def test_the_job_is_told_before_anything_else() -> None:
    title, paragraph = README.split("\n\n")[:2]
    assert title == "# railgen"
    assert paragraph.startswith("railgen ")


def test_the_option_table_is_that_of_the_job_file() -> None:
    from railgen.job.schema import option_table

    assert section("options").strip() == option_table().strip()


def test_the_table_of_the_pack_is_that_of_the_artefacts() -> None:
    told = section("pack").strip().splitlines()
    rows = [
        f"| {', '.join(f'`{name}`' for name in about.files)} | {about.purpose} |" for about in (*ABOUT.values(), ALWAYS)
    ]
    assert sorted(told) == sorted(["| file | for |", "|---|---|", *rows])
    (line,) = re.findall(r"`--only (\w+)` \(or ([^)]+)\)", README)
    assert {line[0], *line[1].split(", ")} == set(Artefact)
    assert f"`{OLDER}`" in README
    assert f"`<job id>{PREVIOUS}/`" in README


def test_the_fittings_of_the_readme_are_a_file_that_a_job_can_use(tmp_path: Path) -> None:
    fittings, hardware = re.findall(r"```toml\n(.*?)```", section("fittings"), flags=re.DOTALL)
    (tmp_path / "my_fittings.toml").write_text(fittings, encoding="utf-8")
    text = starter_text()
    (shipped,) = re.findall(r"^\[hardware\]\nset = .*\n", text, flags=re.MULTILINE)
    (tmp_path / "job.toml").write_text(text.replace(shipped, hardware), encoding="utf-8")
    job = load(tmp_path / "job.toml")
    assert (job.hardware.post_tube.od, job.hardware.base_plate.width) == (48.2, 90)
    assert all(check.verdict is not Verdict.FAILS for check in check_job(job, solve(job)))
    tables = re.findall(r"`(\w+)`", README[README.index("The other kinds of entry") :].split(";")[0])
    shown = re.findall(r"^\[\[(\w+)\]\]", fittings, flags=re.MULTILINE)
    assert {*tables, *shown} == {key for key in CatalogueFile.model_fields if key not in {"format", "units"}}
