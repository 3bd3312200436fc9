"""One solid for each distinct piece, whatever its kind."""

from __future__ import annotations

from collections.abc import Mapping

from cadquery import Solid
from OCP.Standard import Standard_Failure

from railgen.catalogue.models import (
    AdjustableSaddle,
    Anchor,
    BasePlate,
    CoverPlate,
    Elbow,
    ElbowSaddle,
    EndCap,
    EndScroll,
    FixedSaddle,
    Rivet,
    Screw,
)
from railgen.errors import InputError, RailgenError
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import Fitting, FittingKind, Piece, StairBody, Tube
from railgen.solids import elbows, ends, fasteners, plates, saddles
from railgen.solids.products import product_names
from railgen.solids.shapes import BadShapeError, refuse
from railgen.solids.tube import build_tube

__all__ = ["build_all", "build_solid", "volumes"]


def build_all(fabrication: Fabrication) -> Mapping[str, Solid]:
    """The solid of every distinct piece, by mark, in the order of ``fabrication.pieces``; each shape is built once."""
    names = product_names(fabrication)
    built: dict[str, Solid] = {}
    for mark, piece in fabrication.pieces.items():
        if names[mark] not in built:
            built[names[mark]] = build_solid(piece)
    return {mark: built[names[mark]] for mark in fabrication.pieces}


def volumes(shapes: Mapping[str, Solid]) -> Mapping[str, float]:
    """Volume of each solid (mm3), by mark."""
    return {mark: shape.Volume() for mark, shape in shapes.items()}


def build_solid(piece: Piece) -> Solid:
    """The piece as one valid closed solid in its own frame (see :mod:`railgen.members.pieces`).

    Raises InputError, naming the piece, for dimensions that make none.
    """
    try:
        solid = _shape(piece)
        sound = solid.Volume() > 0 and (isinstance(piece, Tube) or solid.isValid())  # tubes see to it themselves
    except RailgenError:
        raise
    except (BadShapeError, Standard_Failure, ValueError) as error:
        raise _unbuildable(piece) from error
    if not sound:
        raise _unbuildable(piece)
    return solid


def _unbuildable(piece: Piece) -> InputError:
    where = piece.item.id if isinstance(piece, Fitting) else piece.mark
    return refuse(where, f"its dimensions make no sound solid ({piece.mark})", "measure its dimensions again")


def _shape(piece: Piece) -> Solid:
    if isinstance(piece, Tube):
        return build_tube(piece)
    if isinstance(piece, StairBody):
        return plates.stair_body(piece)
    return _fitting(piece)


def _fitting(piece: Fitting) -> Solid:  # noqa: PLR0911 - one for each kind
    od, holes = piece.od, piece.holes
    match piece.kind, piece.item:
        case FittingKind.BASE_PLATE, BasePlate() as item:
            return plates.base_plate(item, holes)
        case FittingKind.COVER_PLATE, CoverPlate() as item:
            return plates.cover_plate(item)
        case FittingKind.FIXED_SADDLE, FixedSaddle() as item:
            return saddles.fixed_saddle(item, od, holes)
        case FittingKind.SADDLE_STEM, AdjustableSaddle() as item:
            return saddles.saddle_stem(item, od, holes)
        case FittingKind.SADDLE_CRADLE, AdjustableSaddle() as item:
            return saddles.saddle_cradle(item, od, holes)
        case FittingKind.ELBOW_SADDLE, ElbowSaddle() as item if piece.mate is not None:
            return elbows.elbow_saddle(item, piece.mate, holes)
        case FittingKind.ELBOW_TONGUE, Elbow() as item:
            return elbows.elbow_tongue(item, od, holes)
        case FittingKind.ELBOW_FORK, Elbow() as item:
            return elbows.elbow_fork(item, od, holes)
        case FittingKind.ELBOW_PIN, Elbow() as item:
            return elbows.elbow_pin(item)
        case FittingKind.END_CAP, EndCap() as item:
            return ends.end_cap(item, od)
        case FittingKind.END_SCROLL, EndScroll() as item:
            return ends.end_scroll(item, od)
        case FittingKind.RIVET, Rivet() as item:
            return fasteners.rivet(item)
        case FittingKind.SCREW, Screw() as item:
            return fasteners.screw(item)
        case FittingKind.ANCHOR, Anchor() as item:
            return fasteners.anchor(item)
    raise TypeError(f"{piece.mark}: a {piece.kind.value} cannot be made after a {type(piece.item).__name__}")
