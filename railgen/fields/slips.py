"""Slips that show over several values: a file in another unit, and decimals behind a comma."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace

from railgen.errors import Fault
from railgen.fields.kinds import SLIPS
from railgen.fields.lines import KeyPath

__all__ = ["decimals", "told_once"]

_FEW = 2  # so many lengths in another unit are told one by one: each may be a slip of its own


def told_once(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """The same faults, but many lengths that may all be in one other unit told as one, at the first of them."""
    told = list(faults)
    readings = [_readings(fault.hint) for fault in told]
    common = Counter(unit for units in readings for unit in units)
    alike: dict[str, list[int]] = {}
    for at, units in enumerate(readings):
        if units:
            alike.setdefault(max(units, key=lambda unit: common[unit]), []).append(at)
    one: dict[int, Fault | None] = {}
    for unit, group in alike.items():
        if len(group) > _FEW:
            first = told[group[0]]
            keys = dict.fromkeys(re.sub(r"(\[[0-9]+\])+$", "", told[at].where) for at in group)
            place = ", ".join(keys) if len(keys) <= 3 else "in this file"
            message = f"{first.message}, and so it is with {len(group) - 1} more lengths ({place})"
            hint = SLIPS[unit].replace("this looks", "they all look")
            example = readings[group[0]][unit]
            one |= dict.fromkeys(group)
            one[group[0]] = replace(first, message=message, hint=f"{hint}; {example}" if example else hint)
    return tuple(fault for fault in (one.get(at, fault) for at, fault in enumerate(told)) if fault is not None)


def _readings(hint: str) -> dict[str, str]:
    """The units that a length may be in by its hint, the likeliest first, each with what the length is then."""
    best = next((unit for unit, slip in SLIPS.items() if hint.startswith(slip)), None)
    if best is None:
        return {}
    return {found[1]: found[0] for found in re.finditer(r"[0-9.e+-]+ (in|mm|cm|m) is [0-9.]+ \w+", hint)} or {best: ""}


def decimals(tree: Mapping[str, object], path: KeyPath) -> str:
    """What to do where a value may be the decimals of the one before it: a list of whole numbers, typed with commas."""
    node: object = tree
    for part in path[:-1]:
        if isinstance(node, Mapping) and isinstance(part, str):
            node = node.get(part)
        elif isinstance(node, list) and isinstance(part, int):
            node = node[part]
    at = path[-1] if path else ""
    if not isinstance(node, list) or not isinstance(at, int) or at % 2 == 0 or len(node) % 2:
        return ""
    if not all(type(value) is int for value in node):
        return ""
    if not all(0 <= less < min(more, 100) for more, less in zip(node[::2], node[1::2], strict=True)):
        return ""
    return f"are these decimals? they stand behind a point: {node[at - 1]}.{node[at]}"
