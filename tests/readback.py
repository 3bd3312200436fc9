"""A reader of STEP text that knows no CAD kernel: products, their cylinders and cones, and where each occurrence sits.

Reads what ISO 10303-42 calls advanced B-reps. Numbers are taken as printed; curves are sampled, so extents along an
axis hold to about 0.01 mm, while axes, radii and placements are exact.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache, cached_property
from pathlib import Path

from railgen.geometry import ORIGIN, Frame, Vec
from tests.part21 import Part21

__all__ = ["Cone", "Cylinder", "Occurrence", "Product", "StepFile", "read_step"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cylinder:
    """Every face on one axis line with one radius.

    ``point`` is the axis' nearest point to the origin; ``direction`` has its first component that is not 0 positive.
    ``angles`` are the merged runs of the faces around the axis (start, width), ``spans`` along it, from ``point``.
    ``hollow``: material is outside.
    """

    point: Vec
    direction: Vec
    radius: float
    hollow: bool
    angles: tuple[tuple[float, float], ...]
    spans: tuple[tuple[float, float], ...]

    @property
    def whole(self) -> bool:
        """Whether the faces go all the way round."""
        return sum(width for _, width in self.angles) > math.tau - 1e-6

    def off_axis(self, point: Vec) -> float:
        """Distance of a point from the axis."""
        return (point - self.point).square_to(self.direction).length


@dataclass(frozen=True, slots=True, kw_only=True)
class Cone:
    """A conical face: its axis, its half angle (radians) and the radii it runs between."""

    point: Vec
    direction: Vec
    half_angle: float
    smallest: float
    largest: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    name: str
    solids: int
    cylinders: tuple[Cylinder, ...]
    cones: tuple[Cone, ...]
    colours: frozenset[tuple[float, float, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Occurrence:
    """One use of a product: ``frame`` in the space of what holds it."""

    name: str
    product: str
    frame: Frame
    children: tuple[Occurrence, ...] = ()

    def walk(self, outer: Frame | None = None) -> Iterator[tuple[Occurrence, Frame]]:
        """This and everything in it, with frames in the file's own space."""
        here = self.frame if outer is None else self.frame.placed_in(outer)
        yield self, here
        for child in self.children:
            yield from child.walk(here)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepFile:
    header: str
    products: dict[str, Product]
    root: Occurrence


def read_step(path: Path) -> StepFile:
    """Read a whole file. Raises ValueError for a reflected placement, KeyError or ValueError for what is not STEP.

    What has the same text is read once in a process.
    """
    return _read(path.read_text(encoding="ascii"))


@cache
def _read(text: str) -> StepFile:
    return _Reader(text).file()


Uses = dict[int, list[tuple[str, int, Frame]]]
"""For each product definition: name, definition and frame of what it holds."""


@dataclass(slots=True)
class _Face:
    surface: int
    outward: bool
    edges: list[list[Vec]]


@dataclass(slots=True)
class _Group:
    """Faces of one cylinder as they are found."""

    point: Vec
    direction: Vec
    radius: float
    hollow: bool
    angles: list[tuple[float, float]] = field(default_factory=list)
    spans: list[tuple[float, float]] = field(default_factory=list)


class _Reader(Part21):
    def name_of(self, definition: int) -> str:
        formation = self.args(definition, "PRODUCT_DEFINITION")[2]
        return str(self.args(self.args(formation, self.kind(formation))[2], "PRODUCT")[1])

    def file(self) -> StepFile:
        shape_of: dict[int, int] = {}  # product definition -> shape representation
        for number in self.by_type["SHAPE_DEFINITION_REPRESENTATION"]:
            shape, representation = self.args(number, "SHAPE_DEFINITION_REPRESENTATION")
            owner = self.args(shape, "PRODUCT_DEFINITION_SHAPE")[2]
            if "PRODUCT_DEFINITION" in self.parts(owner):
                shape_of[owner] = representation
        definitions = self.by_type["PRODUCT_DEFINITION"]
        products = {}
        for definition in definitions:
            product = self.product(self.name_of(definition), shape_of[definition])
            if product.name in products:
                raise ValueError(f"two products are named {product.name}")
            products[product.name] = product
        uses = self.uses(shape_of)
        children = {child for members in uses.values() for _, child, _ in members}
        (root,) = [definition for definition in definitions if definition not in children]
        still = Frame(origin=ORIGIN, x=Vec(1, 0, 0), z=Vec(0, 0, 1))
        return StepFile(
            header=self.header, products=products, root=self.occurrence(self.name_of(root), root, still, uses)
        )

    def uses(self, shape_of: dict[int, int]) -> Uses:
        """For each product definition: name, definition and frame of what it holds."""
        placement = {}
        for number in self.by_type.get("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION", []):
            relation, shape = self.args(number, "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION")
            placement[self.args(shape, "PRODUCT_DEFINITION_SHAPE")[2]] = relation
        uses: Uses = {}
        for number in self.by_type.get("NEXT_ASSEMBLY_USAGE_OCCURRENCE", []):
            _, name, _, parent, child, *_ = self.args(number, "NEXT_ASSEMBLY_USAGE_OCCURRENCE")
            parts = self.parts(placement[number])
            (transformation,) = parts["REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION"]
            first, second = (self.axes(item) for item in self.args(transformation, "ITEM_DEFINED_TRANSFORMATION")[2:4])
            if parts["REPRESENTATION_RELATIONSHIP"][2] != shape_of[child]:
                first, second = second, first
            uses.setdefault(parent, []).append((name, child, _from_to(first, second)))
        return uses

    def occurrence(self, name: str, definition: int, frame: Frame, uses: Uses) -> Occurrence:
        members = tuple(self.occurrence(n, child, at, uses) for n, child, at in uses.get(definition, []))
        return Occurrence(name=name, product=self.name_of(definition), frame=frame, children=members)

    # shapes

    def product(self, name: str, representation: int) -> Product:
        items = self.args(representation, self.kind(representation))[1]
        solids = [item for item in items if "MANIFOLD_SOLID_BREP" in self.parts(item)]
        groups: list[_Group] = []
        cones: list[Cone] = []
        for solid in solids:
            for face in self.faces(solid):
                if self.kind(face.surface) == "CYLINDRICAL_SURFACE":
                    self.add_cylinder(face, groups)
                elif self.kind(face.surface) == "CONICAL_SURFACE":
                    cones.append(self.cone(face))
        cylinders = tuple(
            Cylinder(
                point=g.point,
                direction=g.direction,
                radius=g.radius,
                hollow=g.hollow,
                angles=_merged_angles(g.angles),
                spans=_merged(g.spans),
            )
            for g in groups
        )
        colours = frozenset(self.colours[solid] for solid in solids if solid in self.colours)
        return Product(name=name, solids=len(solids), cylinders=cylinders, cones=tuple(cones), colours=colours)

    @cached_property
    def colours(self) -> dict[int, tuple[float, float, float]]:
        """Colour of each styled item."""
        found = {}
        for number in self.by_type.get("STYLED_ITEM", []):
            _, styles, item = self.args(number, "STYLED_ITEM")
            chain = styles[0]
            while "COLOUR_RGB" not in self.parts(chain):
                last = self.args(chain, self.kind(chain))[-1]
                chain = last[0] if isinstance(last, list) else last
            red, green, blue = self.args(chain, "COLOUR_RGB")[1:]
            found[item] = (red, green, blue)
        return found

    def faces(self, solid: int) -> Iterator[_Face]:
        shell = self.args(solid, "MANIFOLD_SOLID_BREP")[1]
        for number in self.args(shell, "CLOSED_SHELL")[1]:
            _, bounds, surface, same = self.args(number, "ADVANCED_FACE")
            edges: list[list[Vec]] = []
            for bound in bounds:
                loop = self.args(bound, self.kind(bound))[1]
                if "EDGE_LOOP" not in self.parts(loop):
                    continue  # the single vertex of a ball's pole
                loops = self.args(loop, "EDGE_LOOP")[1]
                edges.extend(self.edge(self.args(oriented, "ORIENTED_EDGE")[3]) for oriented in loops)
            yield _Face(surface=surface, outward=same == ".T.", edges=edges)

    def add_cylinder(self, face: _Face, groups: list[_Group]) -> None:
        _, axes, radius = self.args(face.surface, "CYLINDRICAL_SURFACE")
        point, direction = _line(self.axes(axes))
        for group in groups:
            if (
                abs(group.radius - radius) < 1e-6
                and group.hollow is not face.outward
                and (group.direction - direction).length < 1e-6
                and (group.point - point).length < 1e-4
            ):
                break
        else:
            group = _Group(point=point, direction=direction, radius=radius, hollow=not face.outward)
            groups.append(group)
        zero = Vec(1, 0, 0) if abs(group.direction.x) < 0.9 else Vec(0, 1, 0)
        frame = Frame.along(group.point, group.direction, zero)
        local = [[frame.local(p) for p in edge] for edge in face.edges]
        group.angles += [_turned(edge) for edge in local]
        heights = [p.z for edge in local for p in edge]
        group.spans.append((min(heights), max(heights)))

    def cone(self, face: _Face) -> Cone:
        _, axes, _, angle = self.args(face.surface, "CONICAL_SURFACE")
        point, direction = _line(self.axes(axes))
        radii = [(p - point).square_to(direction).length for edge in face.edges for p in edge]
        return Cone(point=point, direction=direction, half_angle=angle, smallest=min(radii), largest=max(radii))


def _from_to(first: Frame, second: Frame) -> Frame:
    """The frame in which ``first`` comes to lie on ``second``."""
    unit = [Vec(1, 0, 0), Vec(0, 0, 1)]
    x, z = (second.direction(first.local_direction(axis)) for axis in unit)
    origin = second.origin - (x * first.origin.x + z.cross(x) * first.origin.y + z * first.origin.z)
    return Frame(origin=origin, x=x, z=z)


def _line(axes: Frame) -> tuple[Vec, Vec]:
    """An axis line whichever way it was written: nearest point to the origin, and direction."""
    direction = axes.z
    lead = next(part for part in direction if abs(part) > 1e-9)
    direction = direction if lead > 0 else -direction
    return axes.origin.square_to(direction), direction


def _turned(edge: list[Vec]) -> tuple[float, float]:
    """Start and width of the angles an edge covers about z."""
    angles = [math.atan2(p.y, p.x) for p in edge]
    at = low = high = angles[0]
    for before, after in itertools.pairwise(angles):
        at += (after - before + math.pi) % math.tau - math.pi
        low, high = min(low, at), max(high, at)
    return low % math.tau, min(high - low, math.tau)


def _merged(spans: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    found: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1] + 1e-6:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return tuple(found)


def _merged_angles(runs: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Runs (start, width) around a circle, joined where they meet."""
    flat = []
    for start, width in runs:
        flat.append((start, min(start + width, math.tau)))
        if start + width > math.tau:
            flat.append((0.0, start + width - math.tau))
    merged = list(_merged(flat))
    if len(merged) > 1 and merged[0][0] < 1e-6 and merged[-1][1] > math.tau - 1e-6:
        start, end = merged.pop()
        merged[0] = (start, merged[0][1] + end)
    return tuple((low, min(high - low, math.tau)) for low, high in merged)
