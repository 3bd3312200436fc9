"""A job printed without its solids, and what a reader finds on the pages."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

import pdfplumber

import railgen
from railgen.job.model import Job
from railgen.report.content import Content, Worked
from railgen.report.paper.files import write_hand_over, write_installation, write_labels, write_pack_book
from tests.packs import CONFIGS, RUN

__all__ = ["CONFIGS", "MM", "Printed", "Seen", "printed", "squeezed", "worked"]

MM = 72 / 25.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One page: size in mm, words with their boxes (points, from the upper left), the text as it is read."""

    width: float
    height: float
    words: tuple[dict[str, Any], ...]
    text: str
    lines: tuple[dict[str, Any], ...]
    rects: tuple[dict[str, Any], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    worked: Worked
    folder: Path
    pack: tuple[Seen, ...]
    labels: tuple[Seen, ...]
    installation: tuple[Seen, ...]
    hand_over: tuple[Seen, ...]

    @property
    def files(self) -> tuple[tuple[Seen, ...], ...]:
        return self.pack, self.labels, self.installation, self.hand_over


def worked(job: Job) -> Worked:
    layout = railgen.solve(job)
    return Worked(
        Content(job=job, layout=layout, fabrication=railgen.fabricate(job, layout), checks=railgen.check(job, layout))
    )


def print_all(job: Job) -> Printed:
    made, folder = worked(job), Path(mkdtemp(prefix="print-", dir=RUN[0]))
    write_pack_book(made, folder / "pack.pdf")
    write_labels(made, folder / "labels.pdf")
    write_installation(made, folder / "installation.pdf")
    write_hand_over(made, folder / "hand_over.pdf")
    return Printed(
        worked=made,
        folder=folder,
        **{name: _read(folder / f"{name}.pdf") for name in ("pack", "labels", "installation", "hand_over")},
    )


@cache
def printed(name: str) -> Printed:
    """A shipped job on paper, printed once in a test run."""
    return print_all(railgen.load(CONFIGS / f"{name}.toml"))


def _read(path: Path) -> tuple[Seen, ...]:
    with pdfplumber.open(path) as pdf:
        return tuple(
            Seen(
                width=float(page.width) / MM,
                height=float(page.height) / MM,
                words=tuple(page.extract_words(use_text_flow=False, keep_blank_chars=False)),
                text=page.extract_text(),
                lines=tuple(page.lines),
                rects=tuple(page.rects),
            )
            for page in pdf.pages
        )


def squeezed(text: str) -> str:
    """Without white space, which line breaks put in or take out."""
    return "".join(text.split())
