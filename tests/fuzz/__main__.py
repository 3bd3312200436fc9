"""``python -m tests.fuzz FIRST LAST FOLDER``: try a range of jobs; counts and findings go into FOLDER, each at once.

The same command goes on where it was stopped. Ranges can run beside each other, each with a folder of its own.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.fuzz.draw import drawn
from tests.fuzz.trial import Trial, tried

__all__ = ["Tally", "run"]

_KEPT = 3  # files of so many findings of a kind are kept


class Tally:
    """Counts of a range, kept in a file after every hundred jobs."""

    def __init__(self, folder: Path, first: int) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self.folder, self.file = folder, folder / "tally.json"
        kept = json.loads(self.file.read_text(encoding="utf-8")) if self.file.exists() else {}
        self.following = int(kept.get("next", first))
        self.outcomes: Counter[str] = Counter(kept.get("outcomes", {}))
        self.kinds: Counter[str] = Counter(kept.get("findings", {}))
        self.longest: list[float] = kept.get("longest", [0, 0])

    def add(self, number: int, trial: Trial) -> None:
        self.following = number + 1
        self.outcomes[trial.outcome.value] += 1
        self.longest = max(self.longest, [round(trial.seconds, 2), number])
        if trial.found:
            self.kinds[trial.kind] += 1
            if self.kinds[trial.kind] <= _KEPT:
                case = self.folder / str(number)
                case.mkdir(exist_ok=True)
                for name, data in drawn(number).items():
                    (case / name).write_bytes(data)
                (case / "finding.txt").write_text(f"{trial.outcome}: {trial.detail}\n", encoding="utf-8")

    def keep(self) -> None:
        content = {"next": self.following, "outcomes": self.outcomes, "findings": self.kinds, "longest": self.longest}
        self.file.write_text(json.dumps(content, indent=1, sort_keys=True), encoding="utf-8")


def run(first: int, last: int, folder: Path) -> Tally:
    """Try the jobs from ``first`` up to ``last`` (not with it) that the folder's tally has not had."""
    tally = Tally(folder, first)
    with TemporaryDirectory() as scratch:
        for number in range(tally.following, last):
            tally.add(number, tried(drawn(number), Path(scratch)))
            if number % 100 == 99:
                tally.keep()
    tally.keep()
    return tally


if __name__ == "__main__":
    done = run(int(sys.argv[1]), int(sys.argv[2]), Path(sys.argv[3]))
    sys.stdout.write(done.file.read_text(encoding="utf-8") + "\n")
    sys.exit(1 if done.kinds else 0)
