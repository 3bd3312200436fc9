"""Points and directions that a STEP file says over and over are said once; every reference then goes to the first."""

from __future__ import annotations

import re

__all__ = ["say_once"]

_PLAIN = re.compile(r"#(\d+) = ((?:DIRECTION|CARTESIAN_POINT)\([^;]*\));\n")
_REFERENCE = re.compile(r"#(\d+)")


def say_once(text: str) -> str:
    """The same file with equal points and directions merged; sets of placements keep their members apart."""
    head, data = text.split("DATA;\n", 1)
    first: dict[str, str] = {}
    merged: dict[str, str] = {}

    def keep(found: re.Match[str]) -> str:
        number, body = found[1], found[2]
        known = first.setdefault("".join(body.split()), number)
        if known == number:
            return found[0]
        merged[number] = known
        return ""

    data = _PLAIN.sub(keep, data)
    # a number after # inside a quoted name is left alone: names are ASCII marks, which hold none
    data = _REFERENCE.sub(lambda found: f"#{merged.get(found[1], found[1])}", data)
    return f"{head}DATA;\n{data}"
