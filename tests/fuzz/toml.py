"""Trees of values written as TOML; the standard library only reads it."""

from __future__ import annotations

import datetime
import json
import math
from collections.abc import Mapping

__all__ = ["Raw", "Tree", "written"]

Tree = dict[str, object]


class Raw(str):
    """Text that goes into the file as it stands, such as a number in a form that no value has."""

    __slots__ = ()


def written(tree: Mapping[str, object], above: tuple[str, ...] = ()) -> str:
    """The tree as a TOML file: plain values first, then tables and lists of tables under their headers."""
    lines = [f"{_key(key)} = {_value(value)}" for key, value in tree.items() if not _table(value) and not _many(value)]
    for key, value in tree.items():
        path = (*above, _key(key))
        if isinstance(value, dict):
            lines += ["", f"[{'.'.join(path)}]", written(value, path)]
        elif _many(value) and isinstance(value, list):
            for each in value:
                lines += ["", f"[[{'.'.join(path)}]]", written(each, path)]
    return "\n".join(lines)


def _table(value: object) -> bool:
    return isinstance(value, dict)


def _many(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(each, dict) for each in value)


def _key(key: str) -> str:
    bare = key and all(mark.isascii() and (mark.isalnum() or mark in "-_") for mark in key)
    return key if bare else _text(key)


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _value(value: object) -> str:
    match value:
        case Raw():
            return str(value)
        case bool():
            return "true" if value else "false"
        case float():
            return repr(value) if math.isfinite(value) else str(value)  # nan, inf and -inf are TOML's words too
        case str():
            return _text(value)
        case list():
            return f"[{', '.join(map(_value, value))}]"
        case dict():
            return f"{{{', '.join(f'{_key(key)} = {_value(each)}' for key, each in value.items())}}}"
        case datetime.date() | datetime.time():
            return value.isoformat()
        case _:
            return str(value)
