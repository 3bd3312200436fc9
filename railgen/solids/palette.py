"""Colours of the assembly: quiet metals by what a piece is for, the stair in the background."""

from __future__ import annotations

from railgen.members.fabrication import Fabrication
from railgen.members.pieces import Fitting, FittingKind, Group, Piece, StairBody
from railgen.solids.products import product_names

__all__ = ["Colour", "colour_of", "colours"]

Colour = tuple[float, float, float]
"""Red, green and blue, 0 to 1, sRGB."""

_BY_GROUP: dict[Group, Colour] = {
    Group.RAIL: (0.62, 0.69, 0.75),
    Group.POSTS: (0.45, 0.53, 0.60),
    Group.FITTINGS: (0.34, 0.38, 0.43),
    Group.FIXINGS: (0.72, 0.56, 0.27),
    Group.STAIR: (0.86, 0.83, 0.77),
}
_BY_KIND: dict[FittingKind, Colour] = {  # what turns on another piece is told from it
    FittingKind.SADDLE_CRADLE: (0.50, 0.43, 0.38),
    FittingKind.ELBOW_FORK: (0.50, 0.43, 0.38),
    FittingKind.ELBOW_PIN: (0.72, 0.56, 0.27),
}


def colours(fabrication: Fabrication) -> dict[str, Colour]:
    """Colour of each distinct solid, by product name; it follows the group a piece is first placed in."""
    names = product_names(fabrication)
    found: dict[str, Colour] = {}
    for place in fabrication.placed:
        found.setdefault(names[place.mark], _colour(fabrication.pieces[place.mark], place.group))
    return found


def colour_of(piece: Piece) -> Colour:
    """Colour of a piece that is shown alone."""
    if isinstance(piece, StairBody):
        return _colour(piece, Group.STAIR)
    if isinstance(piece, Fitting):
        return _colour(piece, Group.FIXINGS if piece.kind.role.fixing else Group.FITTINGS)
    return _colour(piece, Group.RAIL)


def _colour(piece: Piece, group: Group) -> Colour:
    if isinstance(piece, Fitting) and piece.kind in _BY_KIND:
        return _BY_KIND[piece.kind]
    return _BY_GROUP[group]
