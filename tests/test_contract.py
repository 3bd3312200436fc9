"""What the package promises to whoever installs it: a quick start, and a wheel that holds all it needs."""

from __future__ import annotations

import ast
import email
import itertools
import pkgutil
import re
import shutil
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

import pytest

import railgen

ROOT = Path(__file__).parents[1]
HEAVY = ("cadquery", "OCP", "vtk", "vtkmodules", "numpy", "scipy", "trimesh", "ezdxf")


DISTRIBUTIONS = {  # where the name of the module differs, or another brings it
    "OCP": "cadquery",
    "PIL": "pillow",
    "Pynite": "pynitefea",
    "annotated_types": "pydantic",
    "pydantic_core": "pydantic",
}


def loaded_by(statement: str) -> set[str]:
    """Top-level modules that a fresh interpreter holds after a statement."""
    code = f"{statement}\nimport sys\nprint(*sorted({{name.split('.')[0] for name in sys.modules}}))"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return set(done.stdout.split())


def modules() -> Iterator[str]:
    """Every module of railgen but those that may load the CAD kernel or draw."""
    for info in pkgutil.walk_packages(railgen.__path__, "railgen."):
        if not info.name.startswith(("railgen.solids", "railgen.drawings")) and not info.name.endswith("__main__"):
            yield info.name


def test_importing_railgen_loads_nothing_but_python_itself() -> None:
    loaded = loaded_by("import railgen")
    assert "railgen" in loaded
    assert not loaded.intersection((*HEAVY, "pydantic", "click", "rich"))


def test_no_stage_before_the_solids_loads_a_heavy_library() -> None:
    names = list(modules())
    assert {"railgen.job.model", "railgen.layout.solve", "railgen.members.fabrication", "railgen.cli"} <= set(names)
    loaded = loaded_by("import " + ", ".join(names))
    assert "pydantic" in loaded
    assert not loaded.intersection(HEAVY)


def imported_by(folder: str) -> set[str]:
    """Distributions whose modules the files of a folder import, Python's own and the project's left out."""
    found = set()
    for path in (ROOT / folder).rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.add(node.module.split(".")[0])
    found -= {*sys.stdlib_module_names, "railgen", "tests"}
    return {DISTRIBUTIONS.get(name, name).lower().replace("_", "-") for name in found}


def declared(requirements: list[str]) -> set[str]:
    """Distributions that requirements name."""
    return {re.split(r"[^\w.-]", line, maxsplit=1)[0].lower() for line in requirements}


def test_whatever_is_imported_is_declared() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed, tests = declared(project["dependencies"]), declared(project["optional-dependencies"]["test"])
    used = imported_by("railgen")
    assert {"click", "pydantic"} <= used
    assert used - needed == set()
    assert imported_by("tests") - needed - tests == set()


def test_every_dependency_has_the_version_last_tested() -> None:
    """Those that pyproject.toml names and, as far as they are installed here, those that these need in turn."""
    lines = (ROOT / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines()
    assert [line for line in lines if not re.fullmatch(r"[\w.-]+==[\w.]+", line)] == []
    pinned = {plain(line.partition("==")[0]) for line in lines}
    assert len(pinned) == len(lines)
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *itertools.chain(*project["optional-dependencies"].values())]
    installed = {plain(found.name): found.requires or [] for found in metadata.distributions()}
    needed: set[str] = set()
    while fresh := {plain(name) for name in declared(wanted)} - needed - {"railgen"}:
        needed |= fresh
        lines = [line for name in fresh for line in installed.get(name, []) if "extra ==" not in line]
        wanted = [line for line in lines if plain(*declared([line])) in installed]
    assert needed - pinned == set()


def plain(name: str) -> str:
    """A distribution's name as it is compared: the name rules of the Python packaging guide."""
    return re.sub(r"[-_.]+", "-", name).lower()


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout, built from a copy so that the checkout stays clean."""
    work = tmp_path_factory.mktemp("wheel")
    source = work / "source"
    source.mkdir()
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    shutil.copytree(ROOT / "railgen", source / "railgen", ignore=shutil.ignore_patterns("__pycache__"))
    command = [sys.executable, "-m", "pip", "wheel", "--no-deps", "--no-build-isolation", "-w", str(work), str(source)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    (built,) = work.glob("railgen-*.whl")
    return built


def test_the_wheel_holds_every_file_of_the_package(wheel: Path) -> None:
    inside = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    tree = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "railgen").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert inside == tree
    assert "railgen/py.typed" in inside
    assert any(name.startswith("railgen/catalogue/data/") and name.endswith(".toml") for name in inside)


def test_the_wheel_says_what_it_is(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as files:
        folder = f"railgen-{railgen.__version__}.dist-info"
        about = email.message_from_bytes(files.read(f"{folder}/METADATA"))
        assert files.read(f"{folder}/licenses/LICENSE") == (ROOT / "LICENSE").read_bytes()
    assert about["License-Expression"] == "MIT"
    assert about["Requires-Python"] == ">=3.11"
    needed = [line for line in about.get_all("Requires-Dist") if "extra ==" not in line]
    assert any(line.startswith("cadquery") for line in needed)
    assert not any(line.startswith("gmsh") for line in needed), "gmsh is under the GPL: for tests only"


def test_the_wheel_checks_a_job_without_the_source_tree(wheel: Path, tmp_path: Path) -> None:
    zipfile.ZipFile(wheel).extractall(tmp_path / "site")
    job = shutil.copy(ROOT / "configs" / "mill_half_turn.toml", tmp_path)
    code = (
        f"import sys; sys.path.insert(0, {str(tmp_path / 'site')!r})\n"
        "import railgen; print(railgen.__file__, file=sys.stderr)\n"
        f"sys.argv = ['railgen', 'check', {str(job)!r}]\n"
        "from railgen.cli import main; main()"
    )
    # -I: neither the current folder nor the environment leads back to the source tree
    done = subprocess.run([sys.executable, "-I", "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.stderr.splitlines()[0].startswith(str(tmp_path)), done.stderr
    assert done.returncode == 0, done.stdout + done.stderr
