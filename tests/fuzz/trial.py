"""One job tried in this process: what became of it, within a limit on processor time."""

from __future__ import annotations

import re
import signal
import time
import traceback
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from types import FrameType

import railgen
from tests.fuzz.invariants import broken, poor

__all__ = ["MOST_SECONDS", "Outcome", "Trial", "tried"]

MOST_SECONDS = 10
"""Of processor time, for one job."""


class Outcome(StrEnum):
    """What became of a job; the last three are findings."""

    SOLVED = "solved"
    REFUSED = "refused"
    IMPOSSIBLE = "impossible"
    BROKEN = "an invariant does not hold"
    CRASHED = "traceback"
    SPENT = "too long"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """Outcome of one job; ``detail`` tells a finding, ``seconds`` is processor time."""

    outcome: Outcome
    detail: str = ""
    seconds: float

    @property
    def found(self) -> bool:
        return self.outcome in {Outcome.BROKEN, Outcome.CRASHED, Outcome.SPENT}

    @property
    def kind(self) -> str:
        """The finding without its numbers, by which findings alike are counted together."""
        return f"{self.outcome}: {re.sub(r'-?[0-9][-0-9.e]*', '#', self.detail)[:160]}"


class SpentError(BaseException):
    """Out of processor time; no handler of the program's takes it for a fault of a job."""


@contextmanager
def _limited(seconds: float) -> Iterator[None]:
    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise SpentError

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def tried(files: Mapping[str, bytes], folder: Path, seconds: float = MOST_SECONDS) -> Trial:
    """Write the files into ``folder`` and load, solve, check and fabricate ``job.toml``."""
    for name, data in files.items():
        (folder / name).write_bytes(data)
    start = time.process_time()
    try:
        with _limited(seconds):
            outcome, detail = _run(folder / "job.toml")
    except SpentError as error:
        outcome, detail = Outcome.SPENT, " < ".join(_places(error)[-4:][::-1])
    except Exception as error:  # noqa: BLE001 - any other exception is what is looked for
        where = _places(error)
        outcome, detail = Outcome.CRASHED, f"{type(error).__name__}: {str(error)[:200]} in {where[-1]}"
    return Trial(outcome=outcome, detail=detail, seconds=time.process_time() - start)


def _run(path: Path) -> tuple[Outcome, str]:
    try:
        job = railgen.load(path)
        layout = railgen.solve(job)
        checks = railgen.check(job, layout)
        fabrication = railgen.fabricate(job, layout)
    except railgen.InputError as error:
        faults = next(poor(error.faults), "")
        usual = Outcome.IMPOSSIBLE if isinstance(error, railgen.ImpossibleError) else Outcome.REFUSED
        return (Outcome.BROKEN, faults) if faults else (usual, "")
    found = next(broken(job, layout, fabrication, checks), "")
    return (Outcome.BROKEN, found) if found else (Outcome.SOLVED, "")


def _places(error: BaseException) -> list[str]:
    """The program's own lines that an exception came through, the innermost last."""
    frames = [frame for frame in traceback.extract_tb(error.__traceback__) if "railgen" in Path(frame.filename).parts]
    return [f"{Path(frame.filename).name}:{frame.lineno} {frame.name}" for frame in frames] or ["no line of railgen's"]
