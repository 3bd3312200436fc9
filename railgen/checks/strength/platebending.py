"""The plate itself, bent between the post it carries and the fixings or the ground that hold it."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from railgen.checks.model import Certainty
from railgen.checks.strength.baseplate import PULL_MODEL, UNIT, Plate, Pulls, all_pulls, borne, outline
from railgen.checks.strength.materials import Steel
from railgen.checks.strength.result import Demand, Measure, Source, StrengthCheck, num, show, unverified
from railgen.checks.strength.systems import System

__all__ = ["plate_bending"]

_LINE = Source(
    document="AISC Design Guide 1",
    edition="2006",
    clause="bending line at 0.8 of a round section's diameter, load spread at 45 degrees",
    certainty=Certainty.MEMORY,
)


def plate_bending(
    name: str, plate: Plate, steel: Steel | None, system: System, *, moment: Demand, bearing: float | None = None
) -> StrengthCheck:
    """The plate in bending along the tangent at 0.8 of the socket's diameter, in the worst direction of the load.

    Pulled side: sum of T x lever over a breadth of 2 levers per pulled fixing, at most the plate. Pressed side: the
    compression x its lever over the breadth of the plate there. Elastic, b t^2 / 6 x fy, factored.
    """
    if steel is None:
        return unverified(name, "the strength of the base plate: its standard and grade")
    if moment.value is None:
        return unverified(name, moment.missing or "the moment on the plate")
    share = borne(bearing, moment.value)
    if all_pulls(plate, share) is None:
        return unverified(name, "a hole pattern, or ground, that can hold this plate in every direction")
    worst = _worst(replace(plate, thickness=0.0), share)
    if worst is None:
        return unverified(name, "a fixing outside the socket: the plate's bending cannot be told")
    limit = steel.proof * system.strength.value
    bent, breadth, where = worst[0] * moment.value / UNIT, worst[1], worst[2]
    able = breadth * plate.thickness**2 / 6 * limit
    text = (
        f"{where}: m = {show(bent, Measure.MOMENT)}; {num(breadth)} mm x ({num(plate.thickness)} mm)^2 / 6 x "
        f"{num(steel.proof)} MPa {system.strength} = {show(able, Measure.MOMENT)}"
    )
    if moment.basis is not system.basis:
        raise ValueError(f"{name}: demand is {moment.basis}, resistance {system.basis}")
    return StrengthCheck(
        name=name,
        demand=bent,
        capacity=able,
        measure=Measure.MOMENT,
        case=moment.case,
        formula=f"{moment.formula}; {text}",
        sources=(*moment.sources, PULL_MODEL, _LINE, steel.source, system.strength.source),
        missing=moment.missing,
    )


@lru_cache(maxsize=256)
def _worst(plate: Plate, bearing: float | None) -> tuple[float, float, str] | None:
    """Under a unit moment: moment, breadth and place of the line where a plate is bent most for its breadth."""
    worst: tuple[float, float, str] | None = None
    for found in all_pulls(plate, bearing) or ():
        for side, bent, breadth in (("pulled", *_pulled(plate, found)), ("pressed", *_pressed(plate, found))):
            if bent > 0 and (worst is None or bent * worst[1] > worst[0] * breadth * (1 + 1e-9)):
                worst = (bent, breadth, f"{side} side, towards {num(math.degrees(found.direction))} degrees")
    return worst


def _pulled(plate: Plate, found: Pulls) -> tuple[float, float]:
    ux, uy = math.cos(found.direction), math.sin(found.direction)
    line = -0.4 * plate.socket
    bent = breadth = 0.0
    for (x, y), pull in zip(plate.fixings, found.tensions, strict=True):
        lever = line - (x * ux + y * uy)
        if lever <= 0 or pull <= 0:
            continue
        bent += pull * lever
        breadth += 2 * lever
    return bent, min(breadth, _chord(plate, found.direction, line))


def _pressed(plate: Plate, found: Pulls) -> tuple[float, float]:
    line = 0.4 * plate.socket
    lever = found.line - line
    return (found.compression * lever, _chord(plate, found.direction, line)) if lever > 0 else (0.0, 1.0)


def _chord(plate: Plate, direction: float, line: float) -> float:
    return _across(plate.length, plate.width, plate.corner, direction, line)


@lru_cache(maxsize=4096)
def _across(length: float, width: float, corner: float, direction: float, line: float) -> float:
    """Breadth (mm) of the plate along the line at ``line`` from its centre, square to ``direction``."""
    ux, uy = math.cos(direction), math.sin(direction)
    edge = outline(length, width, corner)
    across = []
    for (x1, y1), (x2, y2) in zip(edge, edge[1:] + edge[:1], strict=True):
        a, b = x1 * ux + y1 * uy - line, x2 * ux + y2 * uy - line
        if (a < 0) != (b < 0):
            k = a / (a - b)
            x, y = x1 + k * (x2 - x1), y1 + k * (y2 - y1)
            across.append(y * ux - x * uy)
    return max(across) - min(across) if len(across) >= 2 else 0.0
