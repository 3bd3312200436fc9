"""Every set on every substrate, by every fixing, over every ground: a verdict that makes sense, or a refusal by name.

All that a job can state is stated, so that only the fixing, and what it bears in, can leave a question open.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import combinations, product
from pathlib import Path
from typing import NamedTuple

import pytest

import railgen
from railgen.catalogue.load import load_catalogue
from railgen.catalogue.models import Substrate
from railgen.checks.model import Verdict
from railgen.checks.strength.link import Link
from railgen.job.strength_model import Fixing, GroundKind
from tests.checks.strength.scenes import links, load, of, text, verdict

THICK = 80  # mm: treads of the scene, and the layer under its plates
HOLD = {
    GroundKind.TIMBER: {"withdrawal", "fixing-steel", "penetration", "splitting", "washer"},
    GroundKind.CONCRETE: {"member", "cone", "bond", "anchor-steel", "anchor-pull", "edge-push", "concrete"},
    GroundKind.STEEL: {"fixings", "thread"},
}
SUITED = {  # None: what the catalogue's own anchor is for
    GroundKind.TIMBER: {None, Fixing.WOOD_SCREW, Fixing.LAG_SCREW, Fixing.THROUGH_BOLT},
    GroundKind.CONCRETE: {None},
    GroundKind.STEEL: {None, Fixing.THROUGH_BOLT},
}
BOLT = """
format = 1
[[anchor]]
id = "bolt"
substrate = "{}"
diameter = 6
length = 120
head_diameter = 12
hole_diameter = 6.5
hole_depth = 112
edge_distance = 30
"""
KNOWN = """
[ground]
species = "red-oak"
wet = false
fixing_root = 4.4
timber_bearing = 5
washer = 60
concrete_strength = 25
"""


class Case(NamedTuple):
    fitting_set: str
    substrate: Substrate
    fixing: Fixing | None
    ground: GroundKind | None
    load: str

    @property
    def suited(self) -> bool:
        fixings = SUITED.get(self.ground, set()) if self.ground else set()
        return self.ground is not None and self.substrate == self.ground.value and self.fixing in fixings

    def links(self, folder: Path) -> tuple[Link, ...]:
        """Through the whole of ``check``; bolts through timber or steel are the user's own, as no set has any."""
        own = self.fixing is Fixing.THROUGH_BOLT and self.substrate is not Substrate.CONCRETE
        (folder / "bolt.toml").write_text(BOLT.format(self.substrate), encoding="utf-8")
        fixing = f'fixing = "{self.fixing}"\n' if self.fixing else ""
        layers = f'[[ground.layers]]\nkind = "{self.ground}"\nthickness = {THICK}\n' if self.ground else ""
        job = load(
            folder,
            text(
                loads=f'["{self.load}"]',
                fitting_set=self.fitting_set,
                substrate=self.substrate,
                hardware='catalogue = ["bolt.toml"]\nanchor = "bolt"' if own else "",
                ground=KNOWN + fixing + layers,
            ),
        )
        layout = railgen.solve(job)
        railgen.check(job, layout)
        railgen.fabricate(job, layout)
        return links(job, layout)

    def wrongs(self, found: tuple[Link, ...]) -> Iterator[str]:
        verdicts: dict[str, set[Verdict]] = {}
        for link in found:
            verdicts.setdefault(link.code, set()).add(link.outcome.verdict)
        held = verdicts.get("fixings", verdicts.get("concrete", set()))
        judged = {kind for kind, codes in HOLD.items() if codes - {"fixings"} & set(verdicts)}
        if self.ground is None:
            yield from _unlike("embedment", verdicts, Verdict.CANNOT_SAY)
        elif not self.ground.bears:
            yield from _unlike("embedment", verdicts, Verdict.FAILS)
        elif not self.suited:
            yield from _unlike("fixings", verdicts, Verdict.CANNOT_SAY)
        elif Verdict.CANNOT_SAY in held or not held:
            yield f"fixings that suit are not judged: {held}"
        if not self.suited and judged:
            yield f"fixings that suit nothing are judged as in {judged}"


def _unlike(code: str, verdicts: dict[str, set[Verdict]], wanted: Verdict) -> Iterator[str]:
    if verdicts.get(code) != {wanted}:
        yield f"{code}: {verdicts.get(code)}"


def _grid() -> list[Case]:
    sets = sorted(load_catalogue().set)
    grounds = (*GroundKind, None)
    return [Case(*values) for values in product(sets, Substrate, (*Fixing, None), grounds, ("asce-7", "en-b"))]


def _pairs(case: Case) -> set[tuple[tuple[int, object], ...]]:
    return set(combinations(enumerate(case), 2))


def _covering(grid: list[Case]) -> list[Case]:
    """Few cases with every pair of values between them: each time the one, first in order, with most pairs to come."""
    left = set().union(*map(_pairs, grid))
    chosen = []
    while left:
        chosen.append(max(grid, key=lambda case: len(_pairs(case) & left)))
        left -= _pairs(chosen[-1])
    return chosen


def _wrongs(cases: Iterable[Case], folder: Path) -> list[str]:
    return [f"{case}: {wrong}" for case in cases for wrong in case.wrongs(case.links(folder))]


def test_every_pair_of_set_substrate_fixing_ground_and_load(tmp_path: Path) -> None:
    assert _wrongs(_covering(_grid()), tmp_path) == []


@pytest.mark.long
def test_every_set_substrate_fixing_ground_and_load(tmp_path: Path) -> None:
    assert _wrongs(_grid(), tmp_path) == []


@pytest.mark.parametrize("substrate", list(Substrate))
@pytest.mark.parametrize("spare", [-4.0, 0.0])
def test_a_fixing_that_ends_within_its_plate_is_not_met(tmp_path: Path, substrate: Substrate, spare: float) -> None:
    """A depth of -4 mm is a verdict, not a fault."""
    ground = KNOWN + f'[[ground.layers]]\nkind = "{substrate}"\nthickness = {THICK}\n'
    job = load(tmp_path, text(substrate=substrate, ground=ground))
    layout = railgen.solve(job)
    plate = job.hardware.base_plate.model_copy(update={"thickness": job.hardware.anchor.length - spare})
    found = links(replace(job, hardware=replace(job.hardware, base_plate=plate)), layout)
    assert verdict(found, "embedment") == {Verdict.FAILS}
    assert {link.outcome.capacity for link in of(found, "embedment")} == {0.0}
