"""Whether the posts can stand where the solver put them: on the tread, clear of nosing, riser, edge and each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from railgen.catalogue.models import Anchor
from railgen.errors import Fault
from railgen.geometry import UP
from railgen.job.model import Job, Landing, PostLengths
from railgen.layout.joins import Join, JoinMode
from railgen.layout.level import FlightLine
from railgen.layout.model import Post, Setback
from railgen.layout.wording import between, by_default, instead, least, most, said
from railgen.survey import FlightSurvey, SurfaceId, SurfaceKind
from railgen.units import Rounding

__all__ = ["bearing_side", "standing_faults"]

_NUT = 1.5  # diameters of a bolt that washer and nut take (common practice)
_UNDER = 2.0  # mm of material left under an anchor hole
_HAIR = 1e-6  # mm: rounding, not a dimension


def standing_faults(
    job: Job, lines: Sequence[FlightLine], joins: Sequence[Join], posts: Sequence[Post]
) -> Iterator[Fault]:
    """Every reason why a post cannot stand, with the number and what would help."""
    for index, solved in enumerate(lines):
        below = joins[index - 1] if index else None
        above = joins[index] if index < len(joins) else None
        yield from _band_faults(job, solved, below, above)
        for post in posts:  # where a corner's one post serves two flights, it is the lower one's
            if post.setback is not None and post.setback.flight == solved.flight.flight.number:
                yield from _tread_faults(job, solved.flight, post.surface, post.setback)
    yield from _side_faults(job, min(solved.flight.flight.width for solved in lines))
    hardware = job.hardware
    shortest = hardware.base_plate.socket_height + hardware.adjustable_saddle.spigot_length + 5.0
    for post in posts:
        if post.length < shortest:
            yield Fault(
                code="post-too-short",
                where=f"post {post.id}",
                message=f"its length comes out at {said(job, post.length)}",
                allowed=f"{least(job, shortest)}, for socket and saddle spigot",
                hint=f"raise rail.least_height by {said(job, shortest - post.length, Rounding.UP)}",
            )
    yield from _crowding_faults(job, posts)


def bearing_side(job: Job) -> float:
    """From the post axes to the side where what bears ends (mm): it may run on beyond the tread."""
    return max(job.posts.edge_offset, job.ground.edge_side or 0.0)


def half_size(job: Job) -> tuple[float, float]:
    """Half the footprint of plate and cover, along and across the flight (mm)."""
    plate, cover = job.hardware.base_plate, job.hardware.cover_plate
    along = max(plate.length, cover.length if cover else 0.0)
    across = max(plate.width, cover.width if cover else 0.0)
    return along / 2, across / 2


def _band_faults(job: Job, solved: FlightLine, below: Join | None, above: Join | None) -> Iterator[Fault]:
    low, high = job.posts.setback_min, job.posts.setback_max
    corner_below = below is not None and below.mode is JoinMode.SHARED
    corner_above = above is not None and above.mode is JoinMode.SHARED
    for k, (station, setback) in enumerate(zip(solved.stations, solved.line.setbacks, strict=True)):
        if (corner_below and k == 0) or (corner_above and k == len(solved.stations) - 1):
            continue
        if low - _HAIR <= setback <= high + _HAIR:
            continue
        cut = ', posts.lengths = "cut"' if job.posts.lengths is PostLengths.EQUAL else ""
        hint = f"another tread ({solved.flight.flight.key('posts')}){cut}, or a wider posts.setback_band would help"
        yield Fault(
            code="setback-band",
            where=f"{solved.where}, tread {station.tread}",
            message=f"the post would need a setback of {said(job, setback)} to put all supports on one line",
            allowed=between(job, low, high) + by_default(job, "posts.setback_band"),
            hint=hint,
        )


def _tread_faults(job: Job, flight: FlightSurvey, surface: SurfaceId, place: Setback) -> Iterator[Fault]:
    tread, setback = place.tread, place.distance
    plate, where = job.hardware.base_plate, f"flight {flight.flight.number}, tread {tread}"
    half, _ = half_size(job)
    bolt, edge = plate.hole_spacing_length / 2, job.hardware.anchor.edge_distance
    overhang, radius = flight.flight.overhang, job.hardware.post_tube.radius
    at = _At(job=job, where=where, posts=flight.flight.key("posts"), setback=setback)
    landing = job.landings[surface.number - 1] if surface.kind is SurfaceKind.LANDING else None
    yield from _depth_faults(job, where, *_thickness(flight, landing))
    going = flight.going_of(tread)
    if tread > 0:
        if setback < half - _HAIR:
            yield at.over("plate-over-nosing", "the plate reaches over the nosing", half - setback, least(job, half))
        if setback - bolt < edge - _HAIR:
            yield at.edge("the nosing", setback - bolt, least(job, edge + bolt))
    if tread == flight.last:
        if landing is not None and setback + half > landing.length + _HAIR:
            room = landing.length - half
            yield at.over("plate-off-landing", "the plate reaches past the landing", setback - room, most(job, room))
        return
    if setback + radius > going + _HAIR:
        room = going - radius
        yield at.over("post-into-nosing", "the post runs into the nosing above", setback - room, most(job, room))
    guess = by_default(job, flight.flight.key("nosing_overhang"))
    if setback + half > going + overhang + _HAIR:
        room = going + overhang - half
        told = f"{most(job, room)}, with a nosing overhang of {said(job, overhang)}{guess}"
        yield at.over("plate-into-riser", "the plate runs into the riser behind", setback - room, told)
    if tread > 0 and going + overhang - setback - bolt < edge - _HAIR:
        told = f"{most(job, going + overhang - bolt - edge)}, with a nosing overhang of {said(job, overhang)}{guess}"
        yield at.edge("the back of the tread", going + overhang - setback - bolt, told)
    if tread == 0 and landing is not None:
        room = landing.length_behind(job.flights[surface.flight - 1]) - going + setback - half
        if room < -_HAIR:
            told = least(job, setback - room)
            yield at.over("plate-off-landing", "the plate reaches off the landing", -room, told)


def _depth_faults(job: Job, where: str, thickness: float, key: str) -> Iterator[Fault]:
    """An anchor whose hole would go through what it stands in, or a bolt too short to go through it."""
    anchor, room = job.hardware.anchor, thickness - _UNDER
    if job.bolted_through:
        needed = job.hardware.base_plate.thickness + thickness + _NUT * anchor.diameter
        if anchor.length < needed - _HAIR:
            yield Fault(
                code="bolt-length",
                where=where,
                message=f"anchor {anchor.id}, {said(job, anchor.length)} long, does not come out below with its nut",
                allowed=f"{least(job, needed)}: plate, thickness and {_NUT:g} diameters for washer and nut",
                hint="a longer bolt would do",
            )
        return
    if anchor.hole_depth <= room:
        return
    shorter = instead(job, "anchor", Anchor, lambda other: other.hole_depth <= room)
    guess = by_default(job, key)
    yield Fault(
        code="anchor-depth",
        where=where,
        message=f"anchor {anchor.id} needs a hole {said(job, anchor.hole_depth)} deep",
        allowed=f"{most(job, room)}, in a thickness of {said(job, thickness)}{guess}",
        hint=f"{'type' if guess else 'mend'} {key} if it is thicker, or {shorter}",
    )


def _thickness(flight: FlightSurvey, landing: Landing | None) -> tuple[float, str]:
    """Thickness of what a post stands on, and its key; a floor is taken as thick as its flight's treads."""
    if landing is None:
        return flight.flight.tread_thickness, flight.flight.key("tread_thickness")
    return landing.thickness, landing.key("thickness")


@dataclass(frozen=True, slots=True, kw_only=True)
class _At:
    """A post on its tread, and how what is wrong with its place is told; ``posts`` is the key that chooses treads."""

    job: Job
    where: str
    posts: str
    setback: float

    @property
    def _ways(self) -> str:
        return f"posts.setback and posts.setback_band, or another tread ({self.posts})"

    def over(self, code: str, what: str, excess: float, allowed: str) -> Fault:
        job, plate = (
            self.job,
            "" if code == "post-into-nosing" else f", or a plate {said(self.job, 2 * excess)} shorter",
        )
        return Fault(
            code=code,
            where=self.where,
            message=f"{what} by {said(job, excess, Rounding.UP)} at a setback of {said(job, self.setback)}",
            allowed=f"a setback of {allowed}",
            hint=f"{self._ways}{plate and plate + ' and its cover (hardware.base_plate, cover_plate)'}, would help",
        )

    def edge(self, edge: str, distance: float, allowed: str) -> Fault:
        return _edge(self.job, self.where, edge, distance, f"{self._ways}, with a setback of {allowed}")


def _edge(job: Job, where: str, edge: str, distance: float, hint: str) -> Fault:
    other = instead(job, "anchor", Anchor, lambda one: one.edge_distance <= distance + _HAIR)
    return Fault(
        code="anchor-edge",
        where=where,
        message=f"an anchor comes {said(job, distance)} from {edge}",
        allowed=least(job, job.hardware.anchor.edge_distance),
        hint=f"{hint}; or {other}",
    )


def _side_faults(job: Job, width: float) -> Iterator[Fault]:
    plate, offset = job.hardware.base_plate, job.posts.edge_offset
    _, half = half_size(job)
    nearest = job.hardware.anchor.edge_distance
    if offset < half - _HAIR or offset + half > width + _HAIR:
        yield Fault(
            code="plate-over-edge",
            where="posts.edge_offset",
            message=f"at {said(job, offset)} the plate or its cover, {said(job, 2 * half)} wide, stands over the edge",
            allowed=between(job, half, width - half),
        )
        return
    edge = bearing_side(job)
    distance = edge - plate.hole_spacing_width / 2
    if distance < nearest - _HAIR:
        wanted = f"posts.edge_offset of {least(job, nearest + plate.hole_spacing_width / 2)}"
        hint = f"{wanted}, or ground.edge_side where what bears runs on beyond the tread"
        yield _edge(job, "posts.edge_offset", "the side of the tread", distance, hint)


def _crowding_faults(job: Job, posts: Sequence[Post]) -> Iterator[Fault]:
    """Plates or covers on one surface that would lie on each other: rectangles, tested along all four axes."""
    along, across = half_size(job)
    for a, b in combinations(posts, 2):
        if a.surface != b.surface:
            continue
        axes = [axis for post in (a, b) for axis in (post.ahead, UP.cross(post.ahead))]
        gap = max(
            abs((b.base - a.base).dot(axis))
            - sum(along * abs(post.ahead.dot(axis)) + across * abs(UP.cross(post.ahead).dot(axis)) for post in (a, b))
            for axis in axes
        )
        if gap < -_HAIR:
            yield Fault(
                code="plates-overlap",
                where=f"posts {a.id} and {b.id}",
                message=f"their plates or covers overlap by {said(job, -gap, Rounding.UP)} on {a.surface}",
                hint="another posts.setback, one post fewer in the posts of the flight, or a larger landing (its "
                "length or well) would help",
            )
