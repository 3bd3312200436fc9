"""Which line of a TOML text each key stands on; the standard library's reader does not tell.

The text must already have been read by :mod:`tomllib`: the scanner trusts that it is valid TOML 1.0.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

__all__ = ["MOST_DEEP", "KeyPath", "key_lines", "line_of", "too_deep"]

KeyPath = tuple[str | int, ...]

MOST_DEEP = 10
"""Lists, inline tables and parts of a dotted key within each other; no key of ours stands deeper than 5."""

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_SCALAR = re.compile(r"[^,\]}\r\n#]*")
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"""(?:"{0,2})'  # up to two quotes may stand before the closing three
    r"|'''.*?'''(?:'{0,2})"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)


_MARK = re.compile(rf"(?P<string>{_STRING.pattern})|#[^\n]*|(?P<mark>[][{{}}.=,\n\"'])", re.DOTALL)


def too_deep(text: str) -> int | None:
    r"""Line where brackets and dots are nested deeper than ``MOST_DEEP``; None where nowhere. The text may be any.

    Readers of TOML recurse into brackets and take the square of a dotted key's length, so this is asked first.

    >>> too_deep("a = 1\nb = [[[[[[[[[[[1]]]]]]]]]]]"), too_deep("a = '[[[[[[[[[[['")
    (2, None)
    """
    open_, dots = 0, 0
    for found in _MARK.finditer(text):
        mark = found["mark"]
        if mark is None:
            continue
        if mark in "\"'":  # a string without an end: no reader goes on
            return None
        if mark in "[{":
            open_ += 1
        elif mark in "]}":
            open_ = max(0, open_ - 1)
        dots = dots + 1 if mark == "." else 0
        if open_ + dots > MOST_DEEP:
            return text.count("\n", 0, found.start()) + 1
    return None


def key_lines(text: str) -> Mapping[KeyPath, int]:
    r"""Line (from 1) of every table, key and array element, by its path from the top.

    >>> key_lines("a = 1\n[[b]]\nc.d = [\n 2,\n 3]")[("b", 0, "c", "d", 1)]
    5
    """
    return _Scanner(text).scan()


def line_of(lines: Mapping[KeyPath, int], path: KeyPath) -> int | None:
    """Line of the key, or of the nearest table around it; None where not even that was typed."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path)


class _Scanner:
    """One pass over the text; ``at`` is the position, ``lines`` what was found."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line = 1
        self.counted = 0  # position up to which `line` was counted
        self.lines: dict[KeyPath, int] = {}
        self.sizes: dict[KeyPath, int] = {}  # arrays of tables: how many elements so far

    def scan(self) -> Mapping[KeyPath, int]:
        table: KeyPath = ()
        while self._skip_blank() < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
        return self.lines

    def _skip(self, pattern: re.Pattern[str]) -> str:
        """Step over what the pattern matches here, and give it."""
        found = pattern.match(self.text, self.at)
        if found is None:  # not valid TOML after all: go on rather than stand still
            self.at += 1
            return ""
        self.at = found.end()
        return found[0]

    def _skip_blank(self) -> int:
        self._skip(_BLANK)
        return self.at

    def _note(self, path: KeyPath) -> None:
        """Remember the first place of a path and of whatever it implies above it."""
        self.line += self.text.count("\n", self.counted, self.at)
        self.counted = self.at
        for size in range(1, len(path) + 1):
            self.lines.setdefault(path[:size], self.line)

    def _key(self) -> KeyPath:
        """A bare, quoted or dotted key; stops behind it and the blanks around its dots."""
        parts: list[str] = []
        while True:
            self._skip(_SPACE)
            if self.text[self.at] in "\"'":
                parts.append(self._string())
            else:
                parts.append(self._skip(_BARE_KEY))
            self._skip(_SPACE)
            if not self.text.startswith(".", self.at):
                return tuple(parts)
            self.at += 1

    def _string(self) -> str:
        """The text of a quoted key; multi-line strings are never keys, so their content is not needed."""
        quoted = self._skip(_STRING)
        return _unescaped(quoted[1:-1]) if quoted.startswith('"') else quoted[1:-1]

    def _header(self) -> KeyPath:
        many = self.text.startswith("[[", self.at)
        start = self.at
        self.at += 2 if many else 1
        path = self._within_arrays(self._key(), inner=not many)
        end = self.at + (2 if many else 1)
        self.at = start
        if many:
            number = self.sizes.get(path, 0)
            self.sizes[path] = number + 1
            self._note(path)
            path = (*path, number)
        self._note(path)
        self.at = end
        return path

    def _within_arrays(self, key: KeyPath, *, inner: bool) -> KeyPath:
        """A header's key, with the index of the last element wherever it passes an array of tables."""
        path: KeyPath = ()
        for place, part in enumerate(key):
            path = (*path, part)
            if path in self.sizes and (inner or place < len(key) - 1):
                path = (*path, self.sizes[path] - 1)
        return path

    def _pair(self, table: KeyPath) -> None:
        """``key = value``, at the top, in a table or in an inline table."""
        start = self.at
        path = (*table, *self._key())
        behind, self.at = self.at, start
        self._note(path)
        self.at = behind + 1  # the equals sign
        self._value(path)

    def _value(self, path: KeyPath) -> None:
        self._skip_blank()
        mark = self.text[self.at]
        if mark == "[":
            self.at += 1
            self._array(path)
        elif mark == "{":
            self.at += 1
            while self._skip_blank() < len(self.text) and self.text[self.at] != "}":
                self._pair(path)
                self._skip_comma()
            self.at += 1
        elif mark in "\"'":
            self._string()
        else:
            self._skip(_SCALAR)

    def _array(self, path: KeyPath) -> None:
        number = 0
        while self._skip_blank() < len(self.text) and self.text[self.at] != "]":
            self._note((*path, number))
            self._value((*path, number))
            self._skip_comma()
            number += 1
        self.at += 1

    def _skip_comma(self) -> None:
        self._skip_blank()
        if self.text.startswith(",", self.at):
            self.at += 1


_ESCAPE = re.compile(r'\\(u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}|[btnfr"\\])')
_PLAIN = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


def _unescaped(body: str) -> str:
    return _ESCAPE.sub(lambda found: _PLAIN.get(found[1]) or chr(int(found[1][1:], 16)), body)
