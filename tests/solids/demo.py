"""Fittings of our own as pieces, with the holes the members stage gives them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import trimesh
from cadquery import Solid
from numpy.typing import NDArray

from railgen.catalogue.fits import Fit
from railgen.catalogue.load import fit_of, load_catalogue
from railgen.catalogue.models import Substrate
from railgen.job.model import Hardware
from railgen.members.holes import cradle_holes, elbow_holes, head_holes, plate_holes
from railgen.members.pieces import (
    CutEnd,
    FaceHole,
    Fitting,
    FittingItem,
    FittingKind,
    Purpose,
    Tube,
    TubeHole,
    TubeRole,
)
from railgen.solids.mesh import triangles
from tests.jobs import hardware

__all__ = ["SETS", "columns", "common", "fitting", "pieces", "shipped", "tube", "welded"]

SETS = tuple(load_catalogue().set)
"""Names of the shipped fitting sets."""

K = FittingKind
Grid = NDArray[np.float64]


def tube(*holes: tuple[float, float, float, int], od: float = 48.3, wall: float = 2.0, length: float = 600.0) -> Tube:
    """A tube with holes given as (distance, clock in degrees, diameter, walls)."""
    section = hardware(od, wall).tube
    made = tuple(
        TubeHole(
            id=f"H{number}",
            purpose=Purpose.SADDLE_SCREW,
            diameter=diameter,
            depth=wall,
            walls=walls,
            distance=distance,
            clock=math.radians(clock),
        )
        for number, (distance, clock, diameter, walls) in enumerate(holes, start=1)
    )
    end = CutEnd(prepared="open")
    return Tube(mark="R1", role=TubeRole.RAIL, section=section, length=length, holes=made, end_a=end, end_b=end)


def pieces(hard: Hardware | Fit) -> dict[FittingKind, Fitting]:
    """One fitting of each kind."""
    od, rivets, screws = hard.tube.od, hard.rivets, hard.screws
    fixed, turning, elbow = hard.fixed_saddle, hard.adjustable_saddle, hard.elbow
    assert hard.cover_plate is not None
    leg = tuple(elbow_holes(elbow, hard.tube.wall, screws))
    items: dict[FittingKind, tuple[FittingItem, tuple[FaceHole, ...]]] = {
        K.BASE_PLATE: (hard.base_plate, tuple(plate_holes(hard.base_plate, rivets))),
        K.COVER_PLATE: (hard.cover_plate, ()),
        K.FIXED_SADDLE: (
            fixed,
            (*head_holes(fixed, rivets), *cradle_holes(fixed, od, screws)),
        ),
        K.SADDLE_STEM: (turning, tuple(head_holes(turning, rivets))),
        K.SADDLE_CRADLE: (turning, tuple(cradle_holes(turning, od, screws))),
        K.ELBOW_SADDLE: (hard.elbow_saddle, tuple(head_holes(hard.elbow_saddle, rivets))),
        K.ELBOW_TONGUE: (elbow, leg),
        K.ELBOW_FORK: (elbow, leg),
        K.ELBOW_PIN: (elbow, ()),
        K.END_CAP: (hard.end_cap, ()),
        K.END_SCROLL: (hard.end_scroll, ()),
        K.RIVET: (rivets[hard.base_plate.rivet], ()),
        K.SCREW: (screws[fixed.screw], ()),
        K.ANCHOR: (hard.anchor, ()),
    }
    return {
        kind: Fitting(
            mark=kind.name, kind=kind, item=item, od=od, holes=holes, mate=elbow if kind is K.ELBOW_SADDLE else None
        )
        for kind, (item, holes) in items.items()
    }


def shipped(name: str) -> Fit:
    """A set of the shipped catalogue, with its anchor for timber."""
    catalogue = load_catalogue()
    chosen = catalogue.set[name]
    return fit_of(catalogue, chosen, catalogue.anchor[chosen.anchors[Substrate.TIMBER]])


def fitting(kind: FittingKind, *, close: bool = False, holes: bool = True, **changes: object) -> Fitting:
    """One fitting, some of its entry's dimensions changed, with or without its holes."""
    piece = pieces(hardware(close=close))[kind]
    item = piece.item.model_copy(update=changes)  # in mm and radians
    return replace(piece, item=item, holes=piece.holes if holes else ())


def common(a: Solid, b: Solid) -> float:
    """Volume two solids share (mm3)."""
    return float(sum(part.Volume() for part in a.intersect(b).Solids()))


def columns(
    depth: Callable[[Grid, Grid], Grid], low: tuple[float, float], high: tuple[float, float], steps: int = 1500
) -> float:
    """Volume from the depth of a solid over each spot of a plane, summed over a fine grid (midpoint rule)."""
    sides = [np.linspace(a, b, steps + 1) for a, b in zip(low, high, strict=True)]
    u, v = np.meshgrid(*[(side[1:] + side[:-1]) / 2 for side in sides], indexing="ij")
    cell = math.prod((b - a) / steps for a, b in zip(low, high, strict=True))
    return float(depth(u, v).sum() * cell)


def welded(solid: Solid, angle: float) -> trimesh.Trimesh:
    """A mesh whose triangles share their corners."""
    corners = triangles(solid, angle)
    mesh = trimesh.Trimesh(vertices=corners.reshape(-1, 3), faces=np.arange(3 * len(corners)).reshape(-1, 3))
    mesh.merge_vertices(digits_vertex=4)
    return mesh
