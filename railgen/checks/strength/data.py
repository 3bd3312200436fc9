"""The tables of the strength checks: read from the package and validated; each user keeps what it read."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Literal, TypeVar

from pydantic import ConfigDict

from railgen.fields import Table

__all__ = ["DataFile", "read_data"]


class DataFile(Table):
    """A data file of the strength checks."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    format: Literal[1]


_File = TypeVar("_File", bound=DataFile)


def read_data(name: str, kind: type[_File]) -> _File:
    """The data file ``name`` of the package as ``kind``. Raises pydantic's ValidationError where it is wrong."""
    text = files(__package__).joinpath("data", name).read_text(encoding="utf-8")
    return kind.model_validate(tomllib.loads(text))
