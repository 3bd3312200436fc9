"""What is under a base plate, as layers from the top: only what bears counts towards an embedment."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from railgen.checks.model import Certainty
from railgen.checks.strength.result import Measure, Source, StrengthCheck, num

__all__ = ["Layer", "bearing_embedment", "embedments", "least_distance"]

_LAYERS = Source(
    document="layers of the substrate", clause="embedment in the bearing layer only", certainty=Certainty.PRACTICE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer: ``bears`` says whether it is structure; a finish, a cap, mortar or screed is not."""

    name: str
    thickness: float
    bears: bool


def embedments(layers: Sequence[Layer], length: float) -> tuple[tuple[Layer, float], ...]:
    """How deep (mm) a fixing that reaches ``length`` below the surface lies in each layer it meets."""
    found, top = [], 0.0
    for layer in layers:
        depth = min(layer.thickness, length - top)
        if depth <= 0:
            break
        found.append((layer, depth))
        top += layer.thickness
    return tuple(found)


def bearing_embedment(layers: Sequence[Layer], length: float) -> float:
    """Depth (mm) of the fixing in the one bearing layer that holds most of it; layers are never added up.

    >>> stack = (Layer(name="cap", thickness=50, bears=False), Layer(name="slab", thickness=150, bears=True))
    >>> bearing_embedment(stack, 40), bearing_embedment(stack, 110)
    (0.0, 60.0)
    """
    return max((depth for layer, depth in embedments(layers, length) if layer.bears), default=0.0)


def least_distance(
    name: str, *, needed: float, given: float | None, why: str, source: Source, layers: Sequence[Layer] = ()
) -> StrengthCheck:
    """A length (mm) that must be at least ``needed``, such as an edge distance or an embedment.

    >>> edge = Source(document="the product's approval", certainty=Certainty.JOB)
    >>> least_distance("edge distance", needed=63.5, given=12.7, why="2-1/2 in", source=edge).line()
    'edge distance: 5.00 not met'
    """
    stack = " over ".join(f"{layer.name} {num(layer.thickness)} mm" for layer in layers)
    where = f" in {stack}" if stack else ""
    return StrengthCheck(
        name=name,
        demand=needed,
        capacity=given,
        measure=Measure.LENGTH,
        case="",
        formula=f"needed {why} = {num(needed)} mm; "
        + ("not given" if given is None else f"given {num(given)} mm{where}"),
        sources=(source, _LAYERS) if layers else (source,),
        missing="" if given is not None else f"the {name}",
    )
