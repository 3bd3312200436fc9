"""The table of artefacts fits what is written, and a part that is built alone fits what stands there."""

from __future__ import annotations

import csv
import shutil
import subprocess
import sys
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import pytest

import railgen
from railgen.report import write
from railgen.report.artefacts import ABOUT, ALWAYS, Artefact, renews
from railgen.report.write import state_of
from tests.packs import CONFIGS, built_pack

MAIN = "mill_half_turn"
RULES = """
format = 1
id = "our-shop"
title = "Rules of our shop"
units = "mm"

[[rule]]
id = "grip"
kind = "grip"
unit = "length"
most = 50
certainty = "own"
says = "the rail fits the hand"
"""


def test_every_file_of_a_pack_belongs_to_one_artefact_and_each_has_some() -> None:
    folder = built_pack(MAIN).folder
    names = [path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()]
    owners = {name: [about.title for about in (*ABOUT.values(), ALWAYS) if about.has(name)] for name in names}
    assert {name: titles for name, titles in owners.items() if len(titles) != 1} == {}
    assert {titles[0] for titles in owners.values()} == {about.title for about in (*ABOUT.values(), ALWAYS)}
    assert set(ABOUT) == set(Artefact)


def test_what_two_artefacts_write_is_renewed_with_either() -> None:
    assert renews("parts_list.csv", [Artefact.SCHEDULES])
    assert renews("parts_list.csv", [Artefact.SOLIDS])
    assert renews("order_not_made.txt", [Artefact.INSTALLATION])
    assert not renews("parts_list.csv", [Artefact.DRAWINGS])
    assert renews("drawings/of_a_post_long_gone.dxf", [Artefact.DRAWINGS])
    assert not renews("of_an_earlier_version.txt", [Artefact.DRAWINGS])
    assert renews("of_an_earlier_version.txt", tuple(Artefact))


def test_a_part_built_alone_has_the_solids_and_masses_that_stand_there(tmp_path: Path) -> None:
    pack = built_pack(MAIN)
    place = tmp_path / pack.folder.name
    shutil.copytree(pack.folder, place)
    parts, page = ((place / name).read_bytes() for name in ("parts_list.csv", "job_sheet.html"))
    for name in ("parts_list.csv", "job_sheet.html"):
        (place / name).unlink()
    shutil.copy(pack.folder / "parts_list.csv", place)
    made = railgen.build(pack.job, tmp_path, only=["schedules", "job-sheet"])
    assert (made.older, made.kept) == ((), ())
    assert (place / "parts_list.csv").read_bytes() == parts
    with (place / "parts_list.csv").open(encoding="utf-8", newline="") as file:
        assert "not given" not in {row["mass_kg"] for row in csv.DictReader(file)}
    assert len((place / "job_sheet.html").read_bytes()) == pytest.approx(len(page), rel=0.001)
    assert "without the solids" not in (place / "job_sheet.html").read_text(encoding="utf-8")


def test_solids_and_masses_of_another_state_of_the_job_are_not_taken_for_current(tmp_path: Path) -> None:
    pack = built_pack(MAIN)
    place = tmp_path / "out" / pack.folder.name
    shutil.copytree(pack.folder, place)
    text = (CONFIGS / f"{MAIN}.toml").read_text(encoding="utf-8")
    assert "least_height = 902" in text
    (tmp_path / "job.toml").write_text(text.replace("least_height = 902", "least_height = 907"), encoding="utf-8")
    for path in CONFIGS.glob("millrace_*.toml"):
        shutil.copy(path, tmp_path)
    made = railgen.build(railgen.load(tmp_path / "job.toml"), tmp_path / "out", only=["schedules", "job-sheet"])
    assert {"assembly.glb", "pack.pdf", "drawings/shop.pdf"} <= set(made.older)
    assert {"parts_list.csv", "job_sheet.html", "checks.json"}.isdisjoint(made.older)
    assert "without the solids" in (place / "job_sheet.html").read_text(encoding="utf-8")
    with (place / "parts_list.csv").open(encoding="utf-8", newline="") as file:
        assert {row["mass_kg"] for row in csv.DictReader(file)} == {"not given"}


def same(text: str) -> str:
    return f"# a remark\n{text}".replace("least_height = 900", "least_height = '900 mm'")


def longer(text: str) -> str:
    return text.replace("least_height = 900", "least_height = 901")


def typed(text: str) -> str:
    """What was a default is typed: a check may now rest on it."""
    return text.replace("least_height = 900", "least_height = 900\nbottom.overhang = 150")


@pytest.mark.parametrize(("change", "alike"), [(same, True), (longer, False), (typed, False)])
def test_the_state_of_a_job_is_what_it_comes_to(change: Callable[[str], str], alike: bool, tmp_path: Path) -> None:
    text = (
        'format = 1\nproject.id = "one"\nhardware.set = "wide-48.3"\nposts.edge_offset = 62\n'
        '[rail]\nside = "left"\nleast_height = 900\n'
        '[[stair]]\nkind = "flight"\nrise = 170\ngoing = 280\nriser_count = 8\nwidth = 1000\n'
    )
    assert change(text) != text
    states = []
    for name, content in (("a.toml", text), ("b.toml", change(text))):
        (tmp_path / name).write_text(content, encoding="utf-8")
        states.append(state_of(railgen.load(tmp_path / name)))
    assert (states[0] == states[1]) is alike
    assert len(states[0]) == 64


def test_the_state_of_a_job_holds_its_hardware_its_rules_and_the_version(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = tmp_path / "job.toml"
    job.write_text(
        'format = 1\nproject.id = "one"\nhardware = { set = "my-set", catalogue = ["my_fittings.toml"] }\n'
        'posts.edge_offset = 62\nrules.files = ["my_rules.toml"]\n'
        'rail = { side = "left", least_height = 900 }\n'
        '[[stair]]\nkind = "flight"\nrise = 170\ngoing = 280\nriser_count = 8\nwidth = 1000\n',
        encoding="utf-8",
    )
    readme = (CONFIGS.parent / "README.md").read_text(encoding="utf-8")
    fittings = readme.split("```toml\n")[1].split("```")[0]
    (tmp_path / "my_fittings.toml").write_text(fittings, encoding="utf-8")
    (tmp_path / "my_rules.toml").write_text(RULES, encoding="utf-8")
    states = [state_of(railgen.load(job))]
    (tmp_path / "my_fittings.toml").write_text(fittings.replace("wall = 1.95", "wall = 1.96"), encoding="utf-8")
    states.append(state_of(railgen.load(job)))
    (tmp_path / "my_rules.toml").write_text(RULES.replace("50", "51"), encoding="utf-8")
    states.append(state_of(railgen.load(job)))
    monkeypatch.setattr(write, "version", lambda name: version(name) + ".1")
    states.append(state_of(railgen.load(job)))
    assert len(set(states)) == 4


def test_the_state_of_a_job_is_that_of_every_process_and_folder(tmp_path: Path) -> None:
    for path in CONFIGS.glob("*.toml"):
        shutil.copy(path, tmp_path)
    code = "import railgen, sys; from railgen.report.write import state_of; print(state_of(railgen.load(sys.argv[1])))"
    found = {
        subprocess.run(
            [sys.executable, "-c", code, str(folder / f"{MAIN}.toml")], capture_output=True, text=True, check=True
        ).stdout
        for folder in (CONFIGS, tmp_path)
    }
    assert found == {f"{state_of(built_pack(MAIN).job)}\n"}
