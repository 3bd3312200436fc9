"""Triangles: of the whole assembly, coarse and light, and of a single piece, fine enough to measure its holes.

A solid keeps the mesh it was last given, and a finer one is used in place of a coarser one asked for later. Every mesh
is therefore made anew, so that no file depends on which was written before it.
"""

from __future__ import annotations

import math
import tempfile
from collections.abc import Mapping
from pathlib import Path

import numpy as np
from cadquery import Solid
from numpy.typing import NDArray
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepTools import BRepTools
from OCP.StlAPI import StlAPI_Writer

from railgen.geometry import Frame
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import Group, Piece
from railgen.solids.output import not_written, write_whole

__all__ = ["COARSE", "give_mesh", "triangles", "write_part_stl", "write_stl"]

COARSE = 0.35  # radians between neighbouring facets of the assembly
_LINEAR = 0.5  # mm; the angle governs
_HOLE = 0.01  # mm a faceted hole may be smaller than it is drilled
_FINEST, _FINE = 0.02, 0.2
_FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def write_stl(path: Path, fabrication: Fabrication, shapes: Mapping[str, Solid]) -> None:
    """One binary STL of the rail (mm): tubes, posts and fittings, each piece a body of its own.

    Fixings and the stair are left out: they would be most of the file, and are in the STEP and GLB files. Raises
    OutputError.
    """
    meshes: dict[str, NDArray[np.float64]] = {}
    parts = []
    for place in fabrication.placed:
        if place.group in (Group.FIXINGS, Group.STAIR):
            continue
        if place.mark not in meshes:
            meshes[place.mark] = triangles(shapes[place.mark], COARSE)
        parts.append(_moved(meshes[place.mark], place.frame))
    write_whole(path, _binary(path, np.concatenate(parts)))


def write_part_stl(path: Path, piece: Piece, shape: Solid) -> None:
    """Binary STL (mm) of one piece in its own frame, its holes at most 0.01 mm undersize. Raises OutputError."""
    widest = max((hole.diameter for hole in piece.holes), default=0.0)
    write_whole(path, _binary(path, triangles(shape, _angle_for(widest))))


def triangles(shape: Solid, angle: float) -> NDArray[np.float64]:
    """Corners (n, 3, 3) of a fresh mesh, neighbouring facets at most ``angle`` radians apart."""
    give_mesh(shape, angle)
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "mesh.stl"
        writer = StlAPI_Writer()
        writer.ASCIIMode = False
        if not writer.Write(shape.wrapped, str(file)):
            raise not_written(file, "the kernel could not write a mesh")
        facets = np.frombuffer(file.read_bytes(), dtype=_FACET, offset=84)
    corners = facets["corners"].astype(np.float64)
    flat = (corners == np.roll(corners, 1, axis=1)).all(axis=2).any(axis=1)  # at the pole of a ball or cone
    sound: NDArray[np.float64] = corners[~flat]
    return sound


def give_mesh(shape: Solid, angle: float) -> None:
    """Put a new mesh on a solid in place of any it has."""
    BRepTools.Clean_s(shape.wrapped, True)
    BRepMesh_IncrementalMesh(shape.wrapped, _LINEAR, False, angle, False)


def _angle_for(diameter: float) -> float:
    """Angle between facets at which a polygon in a hole's circle is at most ``_HOLE`` narrower than the circle."""
    if diameter <= 0:
        return _FINE
    return min(_FINE, max(_FINEST, 2 * math.acos(1 - _HOLE / diameter)))


def _moved(corners: NDArray[np.float64], frame: Frame) -> NDArray[np.float64]:
    turn = np.array([tuple(frame.x), tuple(frame.y), tuple(frame.z)])
    placed: NDArray[np.float64] = corners @ turn + np.array(tuple(frame.origin))
    return placed


def _binary(path: Path, corners: NDArray[np.float64]) -> bytes:
    if not len(corners):
        raise not_written(path, "the mesh is empty")
    facets = np.zeros(len(corners), dtype=_FACET)
    facets["corners"] = corners
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    facets["normal"] = normals / np.where(lengths > 0, lengths, 1.0)
    head = b"railgen, mm".ljust(80)
    return head + np.uint32(len(facets)).tobytes() + facets.tobytes()
