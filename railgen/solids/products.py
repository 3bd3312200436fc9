"""Which pieces share one solid: treads and landings of one shape are stored once, whatever their names."""

from __future__ import annotations

from collections.abc import Mapping

from railgen.members.fabrication import Fabrication
from railgen.members.pieces import StairBody

__all__ = ["product_names"]

_FINE = 4  # decimals of a millimetre that tell two slabs apart


def product_names(fabrication: Fabrication) -> Mapping[str, str]:
    """Name of the stored solid of each mark: the mark itself, or ``slab-1``, ``slab-2``, ... for the stair's bodies."""
    slabs: dict[tuple[object, ...], str] = {}
    names = {}
    for mark, piece in fabrication.pieces.items():
        names[mark] = (
            slabs.setdefault(_shape(piece), f"slab-{len(slabs) + 1}") if isinstance(piece, StairBody) else mark
        )
    return names


def _shape(body: StairBody) -> tuple[object, ...]:
    """Outline, thickness and holes, rounded; names and the order of the holes do not count."""
    outline = tuple((round(x, _FINE) + 0.0, round(y, _FINE) + 0.0) for x, y in body.outline)
    holes = sorted(
        tuple(round(v, _FINE) + 0.0 for v in (*hole.point, hole.diameter, hole.depth)) for hole in body.holes
    )
    return outline, round(body.thickness, _FINE), tuple(holes)
