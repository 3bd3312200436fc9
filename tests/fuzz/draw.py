"""The job of a number, the same on every machine: a range of numbers is a run that can be split, or gone on with."""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from random import Random

from railgen.checks.rules.load import shipped_rule_sets
from tests.fuzz.mutate import mutated, mutated_text
from tests.fuzz.plausible import Kind, plausible, put
from tests.fuzz.toml import Tree, written
from tests.packs import CATALOGUES, CONFIGS

__all__ = ["Files", "drawn"]

Files = Mapping[str, bytes]
"""``job.toml`` and what it names."""

_TEXTS = {path.name: path.read_text(encoding="utf-8") for path in sorted(CONFIGS.glob("*.toml"))}
_CATALOGUES = {path.name: _TEXTS.pop(path.name) for path in CATALOGUES}
_JOBS = {name: tomllib.loads(text) for name, text in _TEXTS.items() if not name.startswith("bad_mixed")}
_WITH_CATALOGUE = [tree for tree in _JOBS.values() if "catalogue" in tree["hardware"]]
_RULES = Path(__file__).parents[2] / "railgen" / "checks" / "rules" / "data"


def drawn(number: int) -> Files:
    """Files of the job ``number``."""
    chance = Random(number)  # noqa: S311 - not for secrets
    draw = chance.choices([draw for draw, _ in _DRAWS], [weight for _, weight in _DRAWS])[0]
    beside = {name: text.encode() for name, text in _CATALOGUES.items()}
    return beside | dict(draw(chance))


def _bytes(tree: Tree) -> bytes:
    return written(tree).encode("utf-8", "replace")


def _demo(chance: Random) -> Files:
    tree = chance.choice(list(_JOBS.values()))
    return {"job.toml": _bytes(mutated(chance, tree, chance.choice((1, 1, 1, 2, 3, 5)), list(_JOBS.values())))}


def _text(chance: Random) -> Files:
    return {"job.toml": mutated_text(chance, chance.choice(list(_TEXTS.values())))}


def _stair(kind: Kind) -> Callable[[Random], Files]:
    return lambda chance: {"job.toml": _bytes(plausible(chance, kind))}


def _bent(chance: Random) -> Files:
    tree = plausible(chance, Kind())
    return {"job.toml": _bytes(mutated(chance, tree, chance.choice((1, 2)), list(_JOBS.values())))}


def _catalogue(chance: Random) -> Files:
    text = tomllib.loads(chance.choice(list(_CATALOGUES.values())))
    job = copy.deepcopy(chance.choice(_WITH_CATALOGUE))
    put(job, "hardware.catalogue", ["mine.toml"])
    return {
        "mine.toml": _bytes(mutated(chance, text, chance.choice((1, 1, 2, 3)), [text])),
        "job.toml": _bytes(job),
    }


def _rules(chance: Random) -> Files:
    name = chance.choice([name for name in shipped_rule_sets() if name != "none"])
    rules = tomllib.loads((_RULES / f"{name}.toml").read_text(encoding="utf-8")) | {"id": "mine"}
    job = plausible(chance, Kind())
    put(job, "rules.sets", ["none"])
    put(job, "rules.files", ["mine.toml"])
    return {
        "mine.toml": _bytes(mutated(chance, rules, chance.choice((1, 1, 2, 3)), [rules])),
        "job.toml": _bytes(job),
    }


_DRAWS: tuple[tuple[Callable[[Random], Files], int], ...] = (
    (_demo, 28),
    (_text, 10),
    (_stair(Kind()), 30),
    (_stair(Kind(flights=(5, 8, 12, 20))), 4),
    (_stair(Kind(extreme=True)), 10),
    (_bent, 6),
    (_catalogue, 7),
    (_rules, 5),
)
"""Ways to draw a job, and how often each is taken."""
