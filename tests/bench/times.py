"""Whole-process times against the budgets, as ratios within one run: ``python tests/bench/times.py [rounds]``.

Every command runs in a process of its own; the best of the rounds counts, since other work on the machine only ever
adds. Builds are also told as what they take beyond the import of the CAD kernel, measured in the same run.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
MAIN = ROOT / "configs" / "mill_half_turn.toml"
_SKEWED = ((20, 0.8), (100, 3.0))  # flights, seconds


def flights(count: int, *, distinct: bool) -> str:
    """A job of ``count`` flights with half-turn landings; ``distinct`` makes every flight's steps differ."""
    head = '[project]\nid = "bench"\n[hardware]\nset = "SET"\n'
    head += '[rail]\nside = "left"\nleast_height = 900\n[posts]\nedge_offset = 62\n'
    used = MAIN.read_text(encoding="utf-8").split("set =", 1)[1].split("\n", 1)[0].strip().strip('"')
    parts = ["format = 1\n", head.replace("SET", used)]
    for i in range(count):
        k = i if distinct else 0
        risers = [round(176 + (k * 7 + s * 3) % 5 + k * 0.1, 1) for s in range(8)]
        goings = [round(249 + (k * 5 + s * 2) % 4 + k * 0.1, 1) for s in range(7)]
        if i:
            parts.append('[[stair]]\nkind = "landing"\nlength = 1000\nturn = "half-left"\nwell = 140\n')
        parts.append(
            f'[[stair]]\nkind = "flight"\nrisers = {risers}\ngoings = {goings}\nwidth = 950\ndesign_going = 250\n'
        )
    return "".join(parts)


def best(command: list[str], rounds: int) -> float:
    """Least wall time (s) of a command over some rounds."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
        times.append(time.perf_counter() - start)
        if done.returncode not in (0, 1):
            raise SystemExit(f"{' '.join(command)} ended with {done.returncode}:\n{done.stderr}")
    return min(times)


def main() -> None:
    """Print one line for each budget."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    work = Path(tempfile.mkdtemp(prefix="railgen-bench-"))
    rail = [sys.executable, "-m", "railgen"]
    try:
        (work / "same.toml").write_text(flights(20, distinct=False), encoding="utf-8")
        (work / "differ.toml").write_text(flights(20, distinct=True), encoding="utf-8")
        bare = best([sys.executable, "-c", "pass"], rounds)
        kernel = best([sys.executable, "-c", "import cadquery"], rounds)
        print(f"python itself {bare:.2f} s, import of cadquery {kernel:.2f} s")
        build = [*rail, "build", str(MAIN), "--out", str(work / "out")]
        rows = [
            ("check", [*rail, "check", str(MAIN)], 0.5, 0.0),
            ("check, failing, loads and two rule sets", [*rail, "check", str(_loaded(work))], 0.5, 0.0),
            *((f"check, {n} skewed flights", [*rail, "check", str(_skewed(work, n))], b, 0.0) for n, b in _SKEWED),
            ("check with advice, two flights", [*rail, "check", str(_weak(work))], 1.0, 0.0),
            ("nesting of 200 lengths", _nested(200), 10.0, 0.0),
            ("schema", [*rail, "schema"], 0.35, 0.0),
            ("build, solids and schedules", [*build, "--only", "solids", "--only", "schedules"], 1.2, kernel),
            ("build, the whole pack", build, 5.2, kernel),
            ("solids and STEP, 20 different flights", _solids(work / "differ.toml", work), 2.5, kernel),
            ("solids and STEP, 20 like flights", _solids(work / "same.toml", work), 1.0, kernel),
        ]
        start = time.perf_counter()
        subprocess.run([*rail, "new", str(work / "new.toml")], cwd=ROOT, check=True, capture_output=True)
        print(f"{'new':42} {time.perf_counter() - start:6.2f} s   budget 0.20 s")
        times: dict[str, float] = {}
        for name, command, budget, base in rows:
            times[name] = took = best(command, rounds) - base
            share = f"{took / budget:4.0%}   {took / bare:5.1f} x python"
            print(f"{name:42} {took:6.2f} s   budget {budget:.2f} s   {share}")
        papers = times["build, the whole pack"] - times["build, solids and schedules"]
        print(f"{'drawings, job sheet, workbook and PDFs':42} {papers:6.2f} s   budget 4.00 s   {papers / 4:4.0%}")
        for name in ("differ", "same"):
            size = (work / f"{name}.step").stat().st_size / 1e6
            print(f"STEP of 20 flights, {name}: {size:.2f} MB   budget {5.0 if name == 'differ' else 1.2} MB")
    finally:
        shutil.rmtree(work, ignore_errors=True)


def _skewed(work: Path, count: int) -> Path:
    """Flights whose riser offset puts every joining rail out of square."""
    path = work / f"skewed-{count}.toml"
    path.write_text(
        flights(count, distinct=False).replace("well = 140", "well = 140\nupper_offset = 40"), encoding="utf-8"
    )
    return path


def _weak(work: Path) -> Path:
    """Two flights with plates on soft timber, which few changes mend."""
    path = work / "weak.toml"
    ground = '[strength]\nloads = ["en-c5"]\nfastener_class = "70"\ntube = { standard = "en-welded-tube" }\n'
    ground += 'plate = { standard = "en-hot-strip" }\n[ground]\ntimber_bearing = 1\nspecies = "red-oak"\n'
    ground += '[[ground.layers]]\nkind = "timber"\nthickness = 60\n'
    path.write_text(flights(2, distinct=True) + ground, encoding="utf-8")
    return path


def _nested(count: int) -> list[str]:
    code = (
        "import sys; from railgen.job.order_model import Stock; from railgen.schedules.nesting import Blank, nest\n"
        "sizes = [600 + 2900 * (n * 0.6180339887498949 % 1.0) for n in range(int(sys.argv[1]))]\n"
        "pieces = [Blank(mark=str(n), section='t', length=size, quantity=1) for n, size in enumerate(sizes)]\n"
        "nest(pieces, Stock(), 't')\n"
    )
    return [sys.executable, "-c", code, str(count)]


def _loaded(work: Path) -> Path:
    """The job that fails on purpose, held to two rule sets."""
    content = (ROOT / "configs" / "weak_mezzanine.toml").read_text(encoding="utf-8")
    shutil.copy(ROOT / "configs" / "millrace_fittings.toml", work)
    path = work / "loaded.toml"
    path.write_text(content.replace('"us-osha-1910"', '"us-osha-1910", "us-ibc-2021"'), encoding="utf-8")
    return path


def _solids(job: Path, work: Path) -> list[str]:
    code = (
        "import sys, railgen\nfrom pathlib import Path\n"
        "job = railgen.load(sys.argv[1]); made = railgen.fabricate(job, railgen.solve(job))\n"
        "from railgen import solids\n"
        "solids.write_step(Path(sys.argv[2]), job, made, solids.build_all(made))\n"
    )
    return [sys.executable, "-c", code, str(job), str(work / f"{job.stem}.step")]


if __name__ == "__main__":
    main()
