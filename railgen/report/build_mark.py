"""The build mark: eight characters by which papers of one state of a job are told from those of another."""

from __future__ import annotations

import json
from base64 import b32encode
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import date
from hashlib import sha256
from importlib.metadata import version

from pydantic import BaseModel

from railgen.checks.rules.load import load_rule_sets
from railgen.job.model import Job, Origin
from railgen.job.order_model import OrderInput
from railgen.units import Unit

__all__ = ["build_mark"]

_FORM = ("units", "output.", "print.")
"""Keys that say how lengths are typed or printed."""


def build_mark(job: Job) -> str:
    """The beginning of the sha256 of what a job comes to: its values, hardware and rule sets, and railgen's version.

    A length counts to 1e-6 mm. The order of keys and files, remarks, and the units of typing and printing do not
    count. Whether a value was measured or is a default does: checks and papers tell the two apart. Letters and the
    digits 2 to 7, which no spreadsheet takes for a number and no ear for another.
    """
    plain = OrderInput()
    resolved = replace(
        job,
        output_unit=Unit.MM,
        order=replace(job.order, dimensions=plain.dimensions, projection=plain.projection, paper=plain.paper),
        rules=replace(job.rules, files=()),
        alternatives=(),
        others={},
        origins={key: origin for key, origin in job.origins.items() if _counts(key, origin)},
        notes=(),
        digest="",
    )
    rules = [each.model_copy(update={"units": Unit.MM}) for each in load_rule_sets(job.rules)]
    said = json.dumps(_plain((resolved, rules, version("railgen"))), sort_keys=True)
    return b32encode(sha256(said.encode()).digest()).decode()[:8]


def _counts(key: str, origin: Origin) -> bool:
    return origin is Origin.DEFAULT and not key.startswith(_FORM)


def _plain(value: object) -> object:
    """A value as JSON can hold it, the same whatever order or unit it was typed in."""
    if isinstance(value, float):
        return round(value, 6) + 0.0
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): _plain(each) for key, each in value.items()}
    if isinstance(value, BaseModel):
        return {name: _plain(getattr(value, name)) for name in type(value).model_fields}
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple | list):
        return [_plain(each) for each in value]
    raise TypeError(f"no place in the build mark for {type(value).__name__}")
