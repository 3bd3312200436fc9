"""What one file of a pack says about one feature of one piece, and where the files of a pack do not agree."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from railgen.units import Dimensions, Unit, parse_length

__all__ = ["Claim", "disagreements", "lengths"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """``source`` says that ``feature`` of ``piece`` is ``value`` (mm or degrees), give or take ``near``."""

    source: str
    piece: str
    feature: str
    value: float
    near: float


def disagreements(claims: Iterable[Claim]) -> list[str]:
    """Each pair of claims about one feature that cannot both be true; angles are compared around the circle."""
    said: dict[tuple[str, str], list[Claim]] = defaultdict(list)
    for claim in claims:
        said[claim.piece, claim.feature].append(claim)
    found = []
    for (piece, feature), group in said.items():
        first = min(group, key=lambda claim: claim.near)
        for other in group:
            apart = abs(other.value - first.value)
            if feature.endswith("clock"):
                apart = min(apart % 360.0, -apart % 360.0)
            if apart > first.near + other.near + 1e-6:
                found.append(f"{piece} {feature}: {first.source} {first.value:.3f}, {other.source} {other.value:.3f}")
    return found


def lengths(text: str, style: Dimensions) -> list[tuple[float, float]]:
    """The lengths in a text (mm), each with half its last digit or fraction: ``871``, ``34-1/4``, ``(44) [1.732]``.

    What is written was rounded to 0.001 mm first.
    """
    found = []
    metric, sixteenths = style.startswith("mm"), style.endswith("1/16")
    for bracket, word in re.findall(r"(\[?)\(?(-?\d+-\d+/\d+|-?\d+/\d+|-?\d+\.\d+|-?\d+)", text):
        inch = bool(bracket) or not metric
        near = 0.05 if not inch else 25.4 / 32 if sixteenths and "." not in word else 25.4 / 2000
        found.append((parse_length(f"{word} in" if inch else float(word), Unit.MM), near + 0.0005))
    return found
