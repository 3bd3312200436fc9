"""A TOML file on disk: read once, with every way it can fail told as a fault."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from railgen.errors import Fault, InputError
from railgen.fields.lines import MOST_DEEP, KeyPath, key_lines, too_deep
from railgen.fields.nearest import hint_near
from railgen.units import Unit, parse_length

__all__ = ["MOST_BYTES", "Document", "read_document"]

MOST_BYTES = 256 * 1024
"""Of one file; a stair of a hundred flights takes a tenth of it."""

_MOST_CHARACTERS = 200  # of a line that is looked at for a hint
_LINE = re.compile(r"\(at line (\d+), column \d+\)$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """What a TOML file says, as bytes and as a tree; ``name`` is how faults call it."""

    path: Path
    name: str
    data: bytes
    tree: Mapping[str, Any]

    def lines(self) -> Mapping[KeyPath, int]:
        """Line of every key; scanned where a fault first needs it."""
        return _lines(self.data)


@lru_cache(maxsize=32)
def _lines(data: bytes) -> Mapping[KeyPath, int]:
    return key_lines(_text(data).replace("\r\n", "\n"))


def read_document(path: Path) -> Document:
    """Read a TOML file. Raises InputError: missing, a folder, unreadable, not UTF-8, not TOML (with its line)."""
    name = str(path)
    data = _read(path, name)
    try:
        text = _text(data)
    except UnicodeDecodeError as error:
        utf16 = data.startswith((b"\xff\xfe", b"\xfe\xff"))
        raise InputError(
            Fault(
                code="not-utf8",
                where="",
                message="it is saved as UTF-16" if utf16 else f"it is not UTF-8 text (byte {error.start + 1})",
                hint="save it as UTF-8",
                file=name,
                line=None if utf16 else data.count(b"\n", 0, error.start) + 1,
            )
        ) from None
    deep = too_deep(text)
    if deep is not None:
        message, allowed = "its lists, tables or dotted keys are nested too deeply", f"at most {MOST_DEEP} levels"
        raise InputError(Fault(code="not-toml", where="", message=message, allowed=allowed, file=name, line=deep))
    try:
        tree = tomllib.loads(text)
    except ValueError as error:  # TOMLDecodeError, or a number with more digits than Python converts
        raise InputError(_toml_fault(str(error), text, name)) from None
    return Document(path=path, name=name, data=data, tree=tree)


def _read(path: Path, name: str) -> bytes:
    try:
        if path.is_dir():
            raise InputError(
                Fault(code="not-a-file", where="", message="this is a folder, a TOML file is wanted", file=name)
            )
        if not path.exists():
            raise InputError(_missing(path, name))
        if not path.is_file():
            raise InputError(
                Fault(code="not-a-file", where="", message="this is no ordinary file, a TOML file is wanted", file=name)
            )
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
        if len(data) > MOST_BYTES:
            raise InputError(
                Fault(
                    code="too-large",
                    where="",
                    message=f"this file is too large, with {path.stat().st_size} bytes",
                    allowed=f"at most {MOST_BYTES // 1024} KB (1 KB = 1024 bytes)",
                    file=name,
                )
            )
    except (OSError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "the name is not one a file has"
        raise InputError(
            Fault(code="cannot-read", where="", message=f"it cannot be read: {reason}", file=name)
        ) from None
    return data


def _missing(path: Path, name: str) -> Fault:
    folder = path.parent
    if not folder.is_dir():
        return Fault(code="no-file", where="", message=f"there is no folder {str(folder)!r}", file=name)
    beside = sorted(other.name for other in folder.glob("*.toml"))[:1000]
    return Fault(
        code="no-file", where="", message="there is no such file", hint=hint_near(path.name, beside), file=name
    )


def _text(data: bytes) -> str:
    """The file as text; a byte order mark, as some editors write, is no part of it."""
    return data.decode("utf-8-sig")


def _toml_fault(reason: str, text: str, name: str) -> Fault:
    found = _LINE.search(reason)
    line = int(found[1]) if found else None
    if reason.endswith("(at end of document)"):
        line = max(1, len(text.splitlines()))
    elif found is None:
        reason = "a number has too many digits" if "digit" in reason else reason
    plain = reason.rsplit(" (at ", 1)[0]
    typed = text.split("\n")[line - 1][:_MOST_CHARACTERS] if line is not None else ""
    return Fault(
        code="not-toml",
        where="",
        message=f"this is not valid TOML: {plain[:1].lower()}{plain[1:]}",
        hint=_toml_hint(typed) or "text stands in quotes, a list in [ ], one key = value on a line",
        file=name,
        line=line,
    )


_HEADER = re.compile(r"\s*\[([^\[\]]+)\]\s*(?:#.*)?")
_COMMA = re.compile(r"[+-]?[0-9]+,[0-9]+")


def _toml_hint(line: str) -> str:
    """What to write instead of a line that people type often and TOML does not know; empty for any other."""
    header = _HEADER.fullmatch(line)
    if header and "=" not in header[1]:
        key = header[1].strip()
        return f"each table stands once; where there may be several, each wants two brackets: [[{key}]]"
    if re.search("[“„«]", line):
        return "text stands in straight quotes: \"...\" or, where it holds an inch mark, '...'"
    value = line.partition("#")[0].partition("=")[2] or line.partition("#")[0]
    if _COMMA.fullmatch(value.strip()):
        return f"decimals stand behind a point: {value.strip().replace(',', '.')}"
    for part in re.split(r"[\[\],{}=]", value):
        word = part.strip()
        if _is_length(word):
            return f"a length that is no plain number stands in quotes: {_quoted(word)}"
    return ""


def _is_length(word: str) -> bool:
    try:
        float(word)
    except ValueError:
        pass
    else:
        return False  # a plain number needs no quotes
    try:
        parse_length(word, Unit.INCH)
    except ValueError:
        return False
    return True


def _quoted(word: str) -> str:
    if '"' not in word:
        return f'"{word}"'
    return f"'{word}'" if "'" not in word else '"' + word.replace('"', '\\"') + '"'
