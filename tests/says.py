"""What a command says of the good job with something changed; shared by the tests of messages."""

from __future__ import annotations

from collections.abc import Callable

from tests.job.cases import GOOD

__all__ = ["Say", "Told", "changed", "lines"]

Told = tuple[int, str]
Say = Callable[..., Told]


def changed(*changes: tuple[str, str]) -> str:
    """The good job with parts of its text replaced."""
    text = GOOD
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def lines(told: str) -> list[str]:
    """The faults among what was said."""
    return [line for line in told.splitlines() if line.startswith("railgen: ")]
