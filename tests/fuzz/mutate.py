"""Mutations that know what a job, a catalogue or a rule set is made of: values, keys, lists, and the text itself."""

from __future__ import annotations

import copy
import datetime
from collections.abc import Iterator, Sequence
from random import Random

from tests.fuzz.plausible import OPTIONS, put
from tests.fuzz.toml import Raw, Tree

__all__ = ["mutated", "mutated_text"]

_NUMBERS: tuple[object, ...] = (
    *(0, -0.0, -1, 1, 1e-9, 1e308, -1e308, float("nan"), float("inf"), float("-inf"), 10**30, 2**63, 2**64 + 1),
    *(-(10**400), 0.1 + 0.2, 9007199254740993, 1e-320, True, False),
    *(Raw(text) for text in ("0x10", "0b1", "0o7", "1e400", "+1", f"0x{'f' * 5000}", "1_0", "1979-05-27T07:32:00Z")),
)
_TEXTS: tuple[object, ...] = (
    *("", " ", "7-3/4", '7 3/4"', "4 ft 11-1/2 in", "180 mm", "180mm", "1/0", "1/0 in", "0/5 in", "-3 in", "4' 12\""),
    *("٣", "180", "NaN", "inf mm", "1e3", "1_000", "a" * 50, "a" * 10000, "\u202eabc", "\u0000", "\u0001\u0002"),
    *("🙂", "<script>alert(1)</script>", "=1+1", "@SUM(A1)", "../../etc/passwd", "/dev/zero", "CON", "none"),
    *("mm", "inch", "left", "half-left", "straight", "scroll", "equal", "strength", "concrete", "steel", "timber"),
    *("us-irc-2021", "asce-7", "\r", "\u2028", " 180 mm ", "1-1/2 mm", "12 in", "0.0000001 in", "9" * 35 + "/1"),
    Raw("'''x\ny'''"),
)
_OTHERS: tuple[object, ...] = (
    *([], [[]], [1], [1, 2], [1, 2, 3], {}, {"a": 1}, [{}], [{"kind": "flight"}]),
    *(datetime.date(2026, 1, 1), datetime.datetime(2026, 1, 1, 1, 1), datetime.time(1, 1)),  # noqa: DTZ001 - TOML has it
)
ODD = (*_NUMBERS, *_TEXTS, *_OTHERS)

_KEYS = (
    "__class__",
    "model_fields",
    "self",
    "x" * 300,
    "",
    "a.b",
    "é",
    "\u202e",
    "kind",
    "units",
    "id",
    "set",
    "posts",
)
_MARKS = ('"', "'", "[", "]", "{", "}", "=", ",", ".", "#", "\n", "\x00", "é", "\u202e", "1", "-", "e9", "nan", '"""')
_MARKS += ("'''", "\\", "\\u0000", "\\uD800", "0x", "_", "\r")
_WORDS = (("mm", "in"), ("inch", '"'), ("left", ""), ('= "', "="), (" = ", " == "), ("\n", ""))

Path = tuple[str | int, ...]


def mutated(chance: Random, tree: Tree, times: int, donors: Sequence[Tree]) -> Tree:
    """The tree with so many changes; whole tables may come from ``donors``."""
    tree = copy.deepcopy(tree)
    for _ in range(times):
        _change(chance, tree, donors)
    return tree


def _change(chance: Random, tree: Tree, donors: Sequence[Tree]) -> None:
    paths = list(_paths(tree))
    if not paths:
        return
    path, other = chance.choice(paths), chance.choice(paths)
    around = _at(tree, path[:-1])
    assert isinstance(around, dict | list)
    key: object = path[-1]
    form = chance.random()
    if form < 0.5:
        around[key] = _tweaked(chance, around[key])  # type: ignore[index,call-overload]
    elif form < 0.58:
        del around[key]  # type: ignore[arg-type]
    elif form < 0.66:
        around[key] = _odd(chance)  # type: ignore[index,call-overload]
    elif form < 0.74:
        around[key] = copy.deepcopy(_at(tree, other))  # type: ignore[index,call-overload]
    elif form < 0.8 and isinstance(around, dict):
        around[chance.choice(_KEYS)] = _odd(chance)
    elif form < 0.9:
        option, draw = chance.choice(OPTIONS)
        put(tree, option, draw(chance))
    elif form < 0.93:
        deep: object = 1
        for _ in range(chance.choice((3, 12, 60))):
            deep = [deep] if chance.random() < 0.9 else {"a": deep}
        around[key] = deep  # type: ignore[index,call-overload]
    else:
        donor = chance.choice(donors)
        table = chance.choice(list(donor))
        tree[table] = copy.deepcopy(donor[table])


def _odd(chance: Random) -> object:
    return copy.deepcopy(chance.choice(ODD))


def _paths(node: object, path: Path = ()) -> Iterator[Path]:
    if isinstance(node, dict | list):
        for key, value in node.items() if isinstance(node, dict) else enumerate(node):
            yield (*path, key)
            yield from _paths(value, (*path, key))


def _at(node: object, path: Path) -> object:
    for key in path:
        assert isinstance(node, dict | list)
        node = node[key]  # type: ignore[index,call-overload]
    return node


def _tweaked(chance: Random, value: object) -> object:
    """The value a little or much off, in another form, or an odd one in its place."""
    form = chance.random()
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float) and form < 0.85 and abs(value) < 1e12:
        return _number(chance, float(value))
    if isinstance(value, str) and value and form < 0.4:
        at = chance.randrange(len(value))
        return value[:at] + chance.choice(("", "x", '"', "-", " ", "é", "\n", "0", "/")) + value[at + 1 :]
    if isinstance(value, list) and form < 0.6:
        return _list(chance, copy.deepcopy(value))
    return _odd(chance)


def _number(chance: Random, value: float) -> object:
    forms = (
        lambda: value * chance.choice((0.5, 0.9, 0.99, 1.01, 1.1, 2, 10, 0.1, 25.4, 1 / 25.4, -1, 1e3)),
        lambda: round(value + chance.uniform(-10, 10), 1),
        lambda: value + chance.choice((1e-9, -1e-9, 1e-6, 0.05, -0.05, 1, -1)),
        lambda: f"{value} mm",
        lambda: f"{value / 25.4:.4f} in",
        lambda: f"{int(value // 25.4)}-{chance.randint(0, 15)}/16",
        lambda: str(value),
    )
    return chance.choices(forms, (6, 4, 2, 2, 1, 1, 1))[0]()


def _list(chance: Random, value: list[object]) -> list[object]:
    for _ in range(chance.randint(1, 3)):
        form = chance.random()
        if value and form < 0.3:
            value.pop(chance.randrange(len(value)))
        elif value and form < 0.6:
            value.insert(chance.randrange(len(value) + 1), copy.deepcopy(chance.choice(value)))
        elif form < 0.8:
            chance.shuffle(value)
        elif form < 0.85:
            value = value * chance.choice((2, 10))
        else:
            value.append(_odd(chance))
    return value


def mutated_text(chance: Random, text: str) -> bytes:
    """The text with lines, marks or bytes changed; it may be no TOML any more, nor UTF-8."""
    for _ in range(chance.randint(1, 6)):
        text = _text_change(chance, text)
    data = bytearray(text.encode("utf-8", "surrogatepass"))
    if data and chance.random() < 0.15:
        data[chance.randrange(len(data))] = chance.randrange(256)
    return bytes(data)


def _text_change(chance: Random, text: str) -> str:
    lines, form, at = text.split("\n"), chance.random(), chance.randrange(len(text) + 1)
    if form < 0.15:
        lines.pop(chance.randrange(len(lines)))
        return "\n".join(lines)
    if form < 0.35:
        lines.insert(chance.randrange(len(lines) + 1), chance.choice(lines))
        return "\n".join(lines)
    if form < 0.5:
        return text.replace("\n", "\r\n") if form < 0.45 else "\ufeff" + text
    if form < 0.78:
        return text[:at] + chance.choice(_MARKS) + text[at + chance.randint(0, 3) :]
    if form < 0.83:
        return text[:at]
    if form < 0.87:
        return text + text[at : at + 5000]
    if form < 0.9:
        return text.translate({ord(str(digit)): chr(0x660 + digit) for digit in range(10)})
    old, new = chance.choice(_WORDS)
    return text.replace(old, new, 1)
