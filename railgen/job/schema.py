"""The files' definitions for others: JSON Schemas for editors, and the job's options as a table for the README."""

from __future__ import annotations

import datetime
import types
from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from annotated_types import Ge, Le
from pydantic.fields import FieldInfo

from railgen.fields import Length, Number, Table
from railgen.fields.explain import tables_of
from railgen.fields.nearest import one_of
from railgen.job.file import JobFile

__all__ = ["file_schema", "job_schema", "option_table"]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def job_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of the job file. It knows no unit: bounds of bare numbers are the wider of mm and inch."""
    schema = JobFile.model_json_schema()
    flight = schema["$defs"]["FlightTable"]
    flight["oneOf"] = [
        {"required": ["risers"], **_without("nosings", "rise", "going", "riser_count")},
        {"required": ["nosings"], **_without("risers", "goings", "rise", "going", "riser_count")},
        {
            "required": ["rise", "riser_count"],
            "anyOf": [{"required": ["going"]}, {"properties": {"riser_count": {"const": 1}}}],
            **_without("risers", "goings", "nosings"),
        },
    ]
    half = {"properties": {"turn": {"enum": ["half-left", "half-right"]}}, "required": ["turn"]}
    schema["$defs"]["LandingTable"] |= {
        "if": half,
        "then": {"required": ["well"]},
        "else": {"properties": {"well": False, "square": {"const": False}}},
    }
    schema["properties"]["stair"] |= {
        "items": {"if": _kind("flight"), "then": _ref("FlightTable"), "else": _ref("LandingTable")}
    }
    return {"$schema": _DIALECT, **_tidied(schema)}


def file_schema(table: type[Table]) -> dict[str, Any]:
    """JSON Schema (2020-12) of a catalogue or rule set file; as with the job's, it knows no unit."""
    return {"$schema": _DIALECT, **_tidied(table.model_json_schema())}


def option_table() -> str:
    """Every option of the job file as a Markdown table: key, kind, default, allowed, meaning."""
    rows = ["| key | kind | default | allowed | meaning |", "|---|---|---|---|---|"]
    rows += [f"| `{key}` | {' | '.join(cell.replace('|', '&#124;') for cell in cells)} |" for key, *cells in _rows()]
    return "\n".join(rows)


def _without(*keys: str) -> dict[str, Any]:
    return {"properties": dict.fromkeys(keys, False)}


def _kind(word: str) -> dict[str, Any]:
    return {"properties": {"kind": {"const": word}}}


def _ref(name: str) -> dict[str, str]:
    return {"$ref": f"#/$defs/{name}"}


def _tidied(node: Any) -> Any:
    """Without what a TOML file cannot say (null), and without titles that only repeat the key."""
    if isinstance(node, list):
        return [_tidied(item) for item in node]
    if not isinstance(node, dict):
        return node
    choices = [item for item in node.get("anyOf", []) if item != {"type": "null"}]
    if len(choices) == 1:
        node = {**choices[0], **{key: value for key, value in node.items() if key != "anyOf"}}
    return {
        key: _tidied(value)
        for key, value in node.items()
        if not (key == "title" and isinstance(value, str)) and not (key == "default" and value is None)
    }


def _rows() -> Iterator[tuple[str, str, str, str, str]]:
    yield from _rows_of(JobFile, "")


def _rows_of(table: type[Table], above: str) -> Iterator[tuple[str, str, str, str, str]]:
    for name, field in table.model_fields.items():
        key = f"{above}{name}"
        inner = tables_of(field.annotation)
        if not inner:
            kind, allowed = _kind_of(field)
            yield key, kind, _default(field), allowed, field.description or ""
        elif len(inner) == 1:
            yield from _rows_of(inner[0], f"{key}.")
        else:
            for each in inner:
                yield from _rows_of(each, f"{key}[{_tag(each)}].")


def _tag(table: type[Table]) -> str:
    return str(get_args(table.model_fields["kind"].annotation)[0])


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return "required"
    if isinstance(field.json_schema_extra, dict):
        return str(field.json_schema_extra["x-otherwise"])
    return _shown(field.get_default(call_default_factory=True))


def _shown(value: object) -> str:
    match value:
        case None | () | "" | dict():
            return "-"
        case bool():
            return "true" if value else "false"
        case StrEnum():
            return value.value
        case float() | int():
            return f"{value:g}"
        case tuple():
            return f"[{', '.join(map(_shown, value))}]"
        case _:
            return str(value)


def _kind_of(field: FieldInfo) -> tuple[str, str]:
    """Kind of value and what is allowed, from a field's type and bounds."""
    marks: list[object] = list(field.metadata)
    return _described(field.annotation, marks)


def _described(kind: object, marks: list[object]) -> tuple[str, str]:
    origin = get_origin(kind)
    if origin is Annotated:
        inner, *more = get_args(kind)
        return _described(inner, [*more, *marks])
    if origin in {Union, types.UnionType}:
        options = [option for option in get_args(kind) if option is not type(None)]
        return _described(options[0], marks)
    if origin is tuple:
        inner, *more = get_args(kind)
        name, allowed = _described(inner, [])
        return ("list of " if Ellipsis in more else f"{len(more) + 1} of ") + name, allowed
    if origin is dict:
        name, allowed = _described(get_args(kind)[1], [])
        return f"{name} for each id", allowed
    if origin is Literal:
        return "word" if isinstance(get_args(kind)[0], str) else "number", one_of(map(str, get_args(kind)))
    for mark in marks:
        if isinstance(mark, Length):
            return "length", mark.allowed()
        if isinstance(mark, Number):
            return "number", mark.allowed()
    return _plain(kind, marks)


def _plain(kind: object, marks: list[object]) -> tuple[str, str]:
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return "word", one_of(member.value for member in kind)
    if kind is int:
        bounds = {type(mark): mark for inner in marks for mark in getattr(inner, "metadata", [inner])}
        low, high = bounds.get(Ge), bounds.get(Le)
        return "whole number", f"{low.ge} to {high.le}" if isinstance(low, Ge) and isinstance(high, Le) else "-"
    names: dict[object, tuple[str, str]] = {bool: ("yes or no", "true or false"), datetime.date: ("date", "-")}
    return names.get(kind, ("text", "-"))
