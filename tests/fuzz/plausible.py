"""Jobs that somebody could have typed: of usual measures, with many flights, or at the bounds of every option."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from railgen.catalogue.load import load_catalogue
from railgen.checks.rules.load import shipped_rule_sets
from railgen.checks.strength.loads import load_names
from tests.fuzz.toml import Tree

__all__ = ["OPTIONS", "Kind", "plausible", "put"]

Draw = Callable[[Random], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """What stairs are drawn: how many flights, and whether measures reach from bound to bound."""

    flights: tuple[int, ...] = (1, 1, 2, 2, 3, 4)
    extreme: bool = False


_SHIPPED = load_catalogue()
_TURNS = ("straight", "quarter-left", "quarter-right", "half-left", "half-right")


def _between(low: float, high: float) -> Draw:
    return lambda chance: round(chance.uniform(low, high), chance.choice((0, 1, 3)))


def _word(*words: object) -> Draw:
    return lambda chance: chance.choice(words)


def _yes_or_no(chance: Random) -> object:
    return chance.random() < 0.5


def _some(words: tuple[str, ...], most: int) -> Draw:
    return lambda chance: chance.sample(words, chance.randint(1, most))


def _layers(chance: Random) -> object:
    kinds = ("timber", "concrete", "steel", "finish", "cap", "mortar")
    return [
        {"kind": chance.choice(kinds), "thickness": round(chance.uniform(1, 2000), 1)}
        for _ in range(chance.randint(1, 5))
    ]


OPTIONS: tuple[tuple[str, Draw], ...] = (
    ("rail.least_height", _between(300, 2000)),
    ("rail.bottom.level_extension", _between(50, 1000)),
    ("rail.top.level_extension", _between(50, 1000)),
    ("rail.top.overhang", _between(20, 1000)),
    ("rail.bottom.overhang", _between(20, 1000)),
    ("rail.bottom.finish", _word("cap", "scroll", "open")),
    ("rail.side", _word("left", "right")),
    ("posts.lengths", _word("equal", "cut")),
    ("posts.setback", _between(20, 600)),
    ("posts.setback_band", lambda chance: sorted(round(chance.uniform(20, 600), 1) for _ in range(2))),
    ("posts.edge_offset", _between(20, 600)),
    ("posts.largest_span", _between(300, 6000)),
    ("posts.span_by", _word("rule", "strength")),
    ("posts.substrate", _word("timber", "concrete", "steel")),
    ("rules.sets", _some(shipped_rule_sets(), 4)),
    ("rules.uniform_within", _between(0, 20)),
    ("strength.loads", _some(load_names(), 3)),
    ("strength.system", _word("lrfd", "eurocode", "as-nzs", "asd")),
    ("strength.share_between_posts", _yes_or_no),
    ("strength.deflection_most", _between(1, 200)),
    ("ground.layers", _layers),
    ("ground.fixing", _word("wood-screw", "lag-screw", "through-bolt")),
    ("ground.species", _word("red-oak", "hem-fir", "southern-pine")),
    ("ground.gravity", _between(0.2, 1.2)),
    ("ground.concrete_strength", _between(8, 100)),
    ("ground.edge_front", _between(5, 5000)),
    ("ground.edge_side", _between(5, 5000)),
    ("ground.critical_edge", _between(5, 5000)),
    ("ground.fixing_root", _between(1, 40)),
    ("ground.timber_bearing", _between(0.5, 20)),
    ("ground.cracked", _yes_or_no),
    ("ground.anchor_category", _word(1, 2, 3)),
    ("site.origin", lambda chance: [round(chance.uniform(-1e7, 1e7), 1) for _ in range(3)]),
    ("site.rotation", _between(-360, 360)),
    ("output.units", _word("mm", "inch")),
    ("print.dimensions", _word("mm", "inch", "inch-1/16", "mm and inch", "mm and inch-1/16")),
    ("surroundings.beside", _word("wall", "open")),
    ("surroundings.wall_distance", _between(0, 1000)),
    ("surroundings.headroom", _between(500, 20000)),
    ("surroundings.guarding", _word("none", "infill", "separate")),
    ("surroundings.ground_level", _between(-1e5, 1e5)),
    ("surroundings.everywhere", _yes_or_no),
    ("surroundings.occupancy", _word("one-family", "two-family", "townhouse", "flat", "not-public", "other")),
    ("surroundings.storeys", _word(1, 2, 3, 4, 50)),
    ("surroundings.other.beside", _word("wall", "open")),
    ("surroundings.other.ground_level", _between(-1e5, 1e5)),
    ("surroundings.other.guarding", _word("none", "infill", "separate")),
    ("hardware.elbow", _word(*_SHIPPED.elbow)),
    ("hardware.tube", _word(*_SHIPPED.tube)),
    ("hardware.post_tube", _word(*_SHIPPED.tube)),
    ("hardware.anchor", _word(*_SHIPPED.anchor)),
)
"""Options by their key, and values within their bounds."""

_SELDOM = ("hardware.", "rail.least", "posts.setback", "posts.largest", "posts.edge", "overhang", "level_extension")


def plausible(chance: Random, kind: Kind) -> Tree:
    """A job whose every value is within its bounds; it may still be one that cannot be built."""
    pick = _picker(chance, kind)
    width = pick(700, 1300, 300, 6000)
    tree: Tree = {
        "format": 1,
        "project": {"id": "fuzz"},
        "hardware": {"set": chance.choice(tuple(_SHIPPED.set))},
        "rail": {"side": chance.choice(("left", "right")), "least_height": pick(800, 1100, 300, 2000)},
        "posts": {"edge_offset": pick(45, 120, 20, 600)},
    }
    for end in ("bottom", "top"):
        put(tree, f"rail.{end}.finish", chance.choice(("cap", "scroll", "open")))
        form = chance.random()
        if form < 0.7:
            level = form > 0.45
            key, low, high = ("level_extension", 150, 500) if level else ("overhang", 80, 300)
            put(tree, f"rail.{end}.{key}", pick(low, high, 50, 1000))
    stair: list[Tree] = []
    for number in range(chance.choice(kind.flights)):
        if number:
            stair.append(_landing(chance, pick, width))
        stair.append(_flight(chance, pick, width, kind))
    for _ in range(chance.randint(0, 8)):
        key, draw = chance.choice(OPTIONS)
        if kind.extreme or chance.random() < 0.1 or not any(part in key for part in _SELDOM):
            put(tree, key, draw(chance))
    return {**tree, "stair": stair}


def put(tree: Tree, key: str, value: object) -> None:
    """Set a value by its dotted key, making its tables where something else stands there too."""
    *above, last = key.split(".")
    for part in above:
        inner = tree.get(part)
        if not isinstance(inner, dict):
            inner = tree[part] = {}
        tree = inner
    tree[last] = value


Pick = Callable[[float, float, float, float], float]


def _picker(chance: Random, kind: Kind) -> Pick:
    """Draws a length between usual measures, or between bounds."""

    def pick(low: float, high: float, least: float, most: float) -> float:
        return round(chance.uniform(least, most) if kind.extreme else chance.uniform(low, high), 1)

    return pick


def _landing(chance: Random, pick: Pick, width: float) -> Tree:
    turn = chance.choice(_TURNS)
    length = pick(850, 2600, 300, 12000) if turn == "straight" else pick(width, width + 400, 300, 12000)
    landing: Tree = {"kind": "landing", "length": length, "turn": turn}
    if turn.startswith("half"):
        landing["well"] = pick(50, 400, 0, 3000)
        if chance.random() < 0.3:
            landing["square"] = True
    if turn.startswith("quarter") and chance.random() < 0.4:
        landing["corner"] = chance.choice(("auto", "rise-piece", "climb"))
    if turn != "straight" and chance.random() < 0.5:
        landing["upper_offset"] = chance.choice((0, 40, 130, pick(-300, 300, -3000, 3000)))
    if chance.random() < 0.2:
        landing["thickness"] = pick(20, 200, 5, 500)
    return landing


def _flight(chance: Random, pick: Pick, width: float, kind: Kind) -> Tree:
    count = chance.choice((1, 2, 3, 8, 20, 60) if kind.extreme else (1, 2, 3, 5, 8, 12))
    riser, going, uneven = pick(150, 195, 60, 400), pick(220, 320, 120, 900), chance.choice((0, 1, 5))
    risers = [_within(riser + chance.uniform(-uneven, uneven), 60, 400) for _ in range(count)]
    goings = [_within(going + chance.uniform(-uneven, uneven), 120, 900) for _ in range(count - 1)]
    flight: Tree = {"kind": "flight", "width": width}
    form = chance.random()
    if form < 0.7:
        flight |= {"risers": risers, "goings": goings}
    elif form < 0.85:
        flight |= {"rise": riser, "going": going, "riser_count": count}
    else:
        along, up, nosings = 0.0, 0.0, []
        for number in range(count):
            along += goings[number - 1] if number else 0
            up += risers[number]
            nosings.append([round(along, 1), round(up, 1)])
        flight["nosings"] = nosings
    if count == 1:
        flight["design_going"] = going
    if chance.random() < 0.2:
        flight["nosing_overhang"] = pick(0, 40, 0, 100)
    if chance.random() < 0.2:
        flight["tread_thickness"] = pick(20, 80, 5, 500)
    if chance.random() < 0.06:
        flight["posts"] = sorted(chance.sample(range(count + 1), chance.randint(1, min(4, count + 1))))
    return flight


def _within(value: float, least: float, most: float) -> float:
    return round(min(most, max(least, value)), 1)
