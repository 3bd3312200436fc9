"""A tree of values held against its tables: what the checking library finds, told in our own words."""

from __future__ import annotations

import re
import types
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from enum import StrEnum
from typing import Annotated, Literal, TypeVar, Union, get_args, get_origin

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from railgen.errors import MOST_TOLD, Fault
from railgen.fields.document import Document
from railgen.fields.kinds import PATTERN_WORDS, Table
from railgen.fields.lines import KeyPath, line_of
from railgen.fields.nearest import hint_near, one_of
from railgen.fields.slips import decimals, told_once
from railgen.units import Unit, kind_of, shown

__all__ = ["path_of", "read_tables", "spell", "tables_of", "unit_of"]

AnyTable = TypeVar("AnyTable", bound=Table)

_WANTED = {
    "string_type": "text in quotes",
    "int_type": "a whole number",
    "bool_type": "true or false",
    "date_type": "a date such as 2026-03-14, without quotes",
    "tuple_type": "a list in [ ]",
    "list_type": "a list in [ ]",
    "dict_type": "a table",
    "model_type": "a table",
    "model_attributes_type": "a table",
}


def read_tables(
    model: type[AnyTable], document: Document, unit: Unit = Unit.MM
) -> tuple[AnyTable | None, tuple[Fault, ...]]:
    """The document as ``model``, or None and every fault found; bare lengths are in ``unit``."""
    large = tuple(_large(document.tree))
    if large:
        lines = document.lines()
        return None, tuple(
            Fault(
                code="not-toml",
                where=spell(path),
                message="this whole number is larger than TOML has any",
                allowed=f"{-(1 << 63)} to {(1 << 63) - 1}",
                file=document.name,
                line=line_of(lines, path),
            )
            for path in large
        )
    try:
        return model.model_validate(dict(document.tree), context={"unit": unit}), ()
    except ValidationError as error:
        lines = document.lines()
        found = error.errors(include_url=False)
        filled = {detail["loc"][:size] for detail in found for size in range(len(detail["loc"]))}
        details = [  # a list that holds a fault itself is only found too short because of it
            detail for detail in found if detail["type"] != "too_short" or detail["loc"] not in filled
        ]
        faults = [
            _fault(model, detail, document, lines, hint_near if at < MOST_TOLD else _no_hint)
            for at, detail in enumerate(details)
        ]
        if any(fault.where == "units" for fault in faults):  # bounds of a unit not understood say nothing
            faults = [fault for fault in faults if fault.code != "out-of-range"]
        return None, told_once(faults)


def _large(node: object, path: KeyPath = ()) -> Iterator[KeyPath]:
    """Places of whole numbers beyond 64 bits, which TOML 1.0 refuses and Python's reader lets pass."""
    if isinstance(node, Mapping | list):
        for key, value in node.items() if isinstance(node, Mapping) else enumerate(node):
            yield from _large(value, (*path, key))
    elif isinstance(node, int) and not -(1 << 63) <= node < 1 << 63:
        yield path


def unit_of(document: Document) -> Unit:
    """Unit of the document's bare lengths; mm where ``units`` is left out.

    Where it is not understood, a fault in itself, inch: then fractions are no further faults.
    """
    return Unit.MM if document.tree.get("units", Unit.MM) == Unit.MM.value else Unit.INCH


def spell(path: KeyPath) -> str:
    """A key path as people write it.

    >>> spell(("stair", 0, "risers", 3))
    'stair[0].risers[3]'
    """
    text = ""
    for part in path:
        text += f"[{part}]" if isinstance(part, int) else f".{part}" if text else part
    return text


def path_of(text: str) -> KeyPath:
    """The key path that :func:`spell` wrote.

    >>> path_of("stair[0].risers[3]")
    ('stair', 0, 'risers', 3)
    """
    parts = re.findall(r"\[([0-9]+)\]|([^.\[\]]+)", text)
    return tuple(int(number) if number else word for number, word in parts)


Near = Callable[[str, Iterable[str]], str]
"""What may have been meant by a word that is not known, as :func:`hint_near` tells it."""


def _no_hint(_given: str, _known: Iterable[str]) -> str:
    """For faults that are counted and not told: looking for near words takes long."""
    return ""


def _fault(
    model: type[Table], detail: ErrorDetails, document: Document, lines: Mapping[KeyPath, int], near: Near
) -> Fault:
    path, around = _typed(model, detail["loc"])
    code, message, allowed, hint = _told(detail, path, around, near)
    if code == "out-of-range":
        hint = decimals(document.tree, path) or hint
    return Fault(
        code=code,
        where=spell(path),
        message=message,
        allowed=allowed,
        hint=hint,
        file=document.name,
        line=line_of(lines, path) or 1,
    )


Told = tuple[str, str, str, str]
"""Code, message, allowed, hint."""


def _told(detail: ErrorDetails, path: KeyPath, around: Sequence[type[Table]], near: Near) -> Told:
    given = detail["input"]
    match detail["type"]:
        case "missing":
            return "missing-key", f"a value is needed: {_meaning(around, _last_word(path))}", "", ""
        case "extra_forbidden":
            keys = tuple(key for table in around for key in table.model_fields)
            return "unknown-key", "there is no such key", one_of(keys), near(str(path[-1]), keys)
        case "union_tag_not_found":
            return "missing-key", "a value is needed", one_of(_words(around, path)), ""
        case "enum" | "literal_error" | "union_tag_invalid":
            words = _words(around, path)
            word = given.get(path[-1]) if isinstance(given, dict) else given
            hint = near(word, words) if isinstance(word, str) else ""
            return "unknown-word", f"{shown(word)} is not known here", one_of(words), hint
        case _:
            return _told_of_value(detail, path, around)


def _told_of_value(detail: ErrorDetails, path: KeyPath, around: Sequence[type[Table]]) -> Told:
    given, context = detail["input"], detail.get("ctx", {})
    match detail["type"]:
        case "range":
            return "out-of-range", detail["msg"], str(context.get("allowed", "")), str(context.get("hint", ""))
        case "length":
            return "not-a-length", str(context.get("reason", "")), "", str(context.get("hint", ""))
        case "number":
            return "wrong-type", detail["msg"], "", ""
        case "string_too_long":
            return "bad-text", f"it is {len(given)} characters long", f"at most {context.get('max_length')}", ""
        case "string_pattern_mismatch":
            allowed = PATTERN_WORDS.get(str(context.get("pattern")), _meaning(around, _last_word(path)))
            return "bad-text", f"{shown(given)} cannot stand here", allowed, ""
        case "too_short" | "too_long" as kind:
            limit = context.get("min_length" if kind == "too_short" else "max_length")
            side = "at least" if kind == "too_short" else "at most"
            return "wrong-count", f"the list holds {context.get('actual_length')}", f"{side} {limit}", ""
        case "greater_than_equal" | "less_than_equal" as kind:
            limit = context.get("ge", context.get("le"))
            side = "at least" if kind == "greater_than_equal" else "at most"
            return "out-of-range", f"{shown(given)} is out of range", f"{side} {limit}", ""
        case _:
            return _told_of_kind(detail, path, around)


def _told_of_kind(detail: ErrorDetails, path: KeyPath, around: Sequence[type[Table]]) -> Told:
    """A value of another kind than its key wants, or what a table says of its values together."""
    context = detail.get("ctx", {})
    if detail["type"] == "value_error":
        return "bad-table", str(context.get("error", "")), "", ""
    if "hint" in context:
        return detail["type"], detail["msg"], str(context.get("allowed", "")), str(context["hint"])
    hint = _brackets(detail, path, around)
    wanted = "a list of tables" if hint.endswith("]]") else _WANTED.get(detail["type"], "another kind of value")
    got = "one table" if hint.endswith("]]") else kind_of(detail["input"])
    return "wrong-type", f"expected {wanted}, got {got}", "", hint


def _brackets(detail: ErrorDetails, path: KeyPath, around: Sequence[type[Table]]) -> str:
    """How a table, or each of a list of tables, begins, where the one was typed for the other."""
    key, listed = path[-1] if path else "", isinstance(detail["input"], list)
    name = ".".join(part for part in path if isinstance(part, str))
    for table in around:
        field = table.model_fields.get(str(key))
        if field is None or not tables_of(field.annotation):
            continue
        if isinstance(detail["input"], dict) and detail["type"] in {"tuple_type", "list_type"}:
            return f"there may be several: begin each with two brackets, [[{name}]]"
        if listed and detail["type"] in {"model_type", "model_attributes_type"}:
            return f"there is only one: begin it with one bracket on each side, [{name}]"
    return ""


def _last_word(path: KeyPath) -> str | int:
    return next((part for part in reversed(path) if isinstance(part, str)), "")


def _meaning(around: Sequence[type[Table]], key: str | int) -> str:
    """What a key stands for, from its definition."""
    for table in around:
        if key in table.model_fields:
            return table.model_fields[str(key)].description or ""
    return ""


def _words(around: Sequence[type[Table]], path: KeyPath) -> tuple[str, ...]:
    """The words a key may hold, from its definition; of a key that tells tables apart, those of all of them."""
    known = (part for part in reversed(path) if any(part in table.model_fields for table in around))
    key = str(next(known, ""))  # the last part, or what it stands in: a table whose keys are words
    kinds = [table.model_fields[key].annotation for table in around if key in table.model_fields]
    return tuple(dict.fromkeys(word for kind in kinds for word in _words_of(kind)))


def _words_of(kind: object) -> Iterator[str]:
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        yield from (member.value for member in kind)
    elif get_origin(kind) is Literal:
        yield from (str(word) for word in get_args(kind))
    else:
        for inner in get_args(kind):
            yield from _words_of(inner)


def _typed(model: type[Table], loc: Sequence[int | str]) -> tuple[KeyPath, Sequence[type[Table]]]:
    """The path as typed in the file, and the tables that the path's last key may stand in."""
    path: list[int | str] = []
    kind: object = model
    around: list[type[Table]] = [model]
    for part in loc:
        options = tables_of(kind)
        tagged = [table for table in options if part in _tags(table, options)]
        if tagged:
            kind = tagged[0]
            around = tagged
            continue
        if part == "[key]":
            continue
        if isinstance(part, str) and options:
            around = options
            field = next((table.model_fields[part] for table in options if part in table.model_fields), None)
            kind = field.annotation if field else None
        path.append(part)
    if loc and isinstance(loc[-1], int) and len(tables_of(kind)) > 1:  # a table that does not say which it is
        around = tables_of(kind)
        path.append(_tag_key(around))
    return tuple(path), around


def tables_of(kind: object) -> list[type[Table]]:
    """Every table a field may hold, itself or in a list."""
    if isinstance(kind, type) and issubclass(kind, Table):
        return [kind]
    if get_origin(kind) in {Annotated, Union, types.UnionType, tuple, list, dict}:
        return [table for inner in get_args(kind) for table in tables_of(inner)]
    return []


def _tag_key(options: Sequence[type[Table]]) -> str:
    """The key that tells tables apart: each has words of its own there."""
    for key in options[0].model_fields:
        words = [_words_of(table.model_fields[key].annotation) for table in options if key in table.model_fields]
        known = [word for each in words for word in each]
        if len(words) == len(options) and known and len(known) == len(set(known)):
            return key
    return ""


def _tags(table: type[Table], options: Sequence[type[Table]]) -> tuple[str, ...]:
    key = _tag_key(options) if len(options) > 1 else ""
    return tuple(_words_of(table.model_fields[key].annotation)) if key else ()
