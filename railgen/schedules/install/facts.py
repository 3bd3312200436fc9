"""Numbers of one job that the steps and the record share, each taken from its solved layout and its pieces."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from railgen.job.model import Job
from railgen.layout.margin import CUT, SET_OUT
from railgen.layout.model import Layout, Node
from railgen.members import Fabrication
from railgen.members.facts import witness_mark
from railgen.members.pieces import Fitting, FittingRole, Tube
from railgen.members.rails import elbow_half
from railgen.schedules.install.model import Asked, Limit, Measure, Quantity, StepPiece
from railgen.survey import CLOSURE
from railgen.units import MM_PER_INCH, Dimensions, Figures, Rounding, degrees, fixed, printed

__all__ = ["FIT", "Facts"]

# common practice: what a careful tape, level and saw reach
_SURVEY, FIT, _TURN = 3.0, 3.0, math.radians(1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """A job with its layout and pieces, asked for what a step shows."""

    job: Job
    layout: Layout
    fabrication: Fabrication
    limits: tuple[Limit, ...] = ()

    def limit(self, asked: Asked, where: str) -> tuple[float | None, float | None]:
        """The tightest bounds (mm) that the job's codes set to what is asked at a place; None where there is none."""
        found = [limit for limit in self.limits if limit.asked is asked and limit.where == where]
        return (
            max((limit.least for limit in found if limit.least is not None), default=None),
            min((limit.most for limit in found if limit.most is not None), default=None),
        )

    def length(self, mm: float) -> str:
        """A length as the job prints it."""
        return Figures(style=self.job.order.dimensions).named(mm)

    def least(self, mm: float) -> str:
        """A least length, of which rounding gives nothing away."""
        return Figures(style=self.job.order.dimensions).named(mm, Rounding.UP)

    def drill(self, mm: float) -> str:
        """A drill, a wall or an outside diameter: in inches with the mm it is sold by, since no fraction would fit."""
        metric = f"{Figures(style=Dimensions.MM).drill(mm)} mm"
        inches = self.job.order.dimensions in (Dimensions.INCH, Dimensions.SIXTEENTH)
        return f"{fixed(float(printed(mm)) / MM_PER_INCH)} in ({metric})" if inches else metric

    def pieces(self, *roles: FittingRole) -> tuple[StepPiece, ...]:
        """Fittings that do one of these, by mark."""
        quantities = self.fabrication.quantities()
        return tuple(
            StepPiece(mark=mark, quantity=quantities[mark])
            for mark, piece in self.fabrication.pieces.items()
            if isinstance(piece, Fitting) and piece.kind.role in roles
        )

    def count(self, *roles: FittingRole) -> int:
        return sum(piece.quantity for piece in self.pieces(*roles))

    def tubes(self, occurrences: Iterable[str] | None = None) -> tuple[StepPiece, ...]:
        """Tubes by mark with their places; all of them, or those at the places named, in that order."""
        made = self.fabrication
        wanted = [place.id for place in made.placed] if occurrences is None else occurrences
        found: dict[str, list[str]] = {}
        for place in wanted:
            if isinstance(made.piece(place), Tube):
                found.setdefault(made.mark(place), []).append(place)
        return tuple(StepPiece(mark=mark, quantity=len(ids), where=", ".join(ids)) for mark, ids in found.items())

    def survey(self) -> tuple[Measure, ...]:
        """Rise and run of each flight, as the steps add up that the rail is built to; length of each landing."""
        found = []
        for flight in self.layout.survey.flights:
            where, closure = f"flight {flight.flight.number}", flight.closure()
            found.append(_near("rise, floor to landing", where, closure.rise_of_steps, CLOSURE))
            if closure.run_of_steps:
                found.append(_near("run, first nosing to last", where, closure.run_of_steps, CLOSURE))
        found += [
            _near("length, nosing to far side", f"landing {landing.number}", landing.length, _SURVEY)
            for landing in self.job.landings
        ]
        return tuple(found)

    def cuts(self) -> tuple[Measure, ...]:
        return tuple(
            _near("cut length", mark, piece.length, CUT)
            for mark, piece in self.fabrication.pieces.items()
            if isinstance(piece, Tube)
        )

    def set_out(self) -> tuple[Measure, ...]:
        """Where the middle of each base plate is, from nosing and edge."""
        found = []
        for post in self.layout.posts:
            body, _ = self.fabrication.body(post.surface)
            holes = [hole for hole in body.holes if hole.post == post.id]
            where = f"{post.id} on {post.surface}, from {holes[0].measured_from}"
            for what, values in (
                ("plate middle from nosing", [hole.from_nosing for hole in holes]),
                ("plate middle from edge", [hole.from_edge for hole in holes]),
            ):
                found.append(_near(what, where, math.fsum(values) / len(values), SET_OUT))
        return tuple(found)

    def pitches(self) -> tuple[Measure, ...]:
        return tuple(
            _angle("pitch of the rail", f"{rail.id}, flight {rail.flight}", rail.pitch)
            for rail in self.layout.rails
            if rail.flight is not None
        )

    def elbows(self) -> tuple[Measure, ...]:
        return tuple(_angle("elbow, turn from straight on", node.id, node.deflection) for node in self.layout.nodes)

    def spans(self) -> tuple[Measure, ...]:
        return tuple(
            _near("span along the rail", f"{span.from_post} to {span.to_post}", span.length, FIT)
            for span in self.layout.spans
        )

    def witness(self, node: Node) -> Iterator[str]:
        """For each tube end at an elbow: which half goes on it, and where its witness mark is."""
        radius = self.job.hardware.tube.radius
        for rail in self.layout.rails_at(node):
            half, clock = elbow_half(node, rail), witness_mark(self.fabrication, node, rail)
            end = "far end" if rail.far_end.node == node.id else "datum end"
            mark = self.fabrication.mark(rail.id)
            name = mark if mark == rail.id else f"{mark} ({rail.id})"
            yield (
                f"{name}, {end}: {half} half of {node.id}, witness mark at clock {degrees(clock)}, "
                f"{self.length(clock * radius)} around the tube from clock 0"
            )


def _near(what: str, where: str, designed: float, tolerance: float) -> Measure:
    return Measure(what=what, where=where, designed=designed, least=designed - tolerance, most=designed + tolerance)


def _angle(what: str, where: str, designed: float) -> Measure:
    return Measure(
        what=what,
        where=where,
        designed=designed,
        least=designed - _TURN,
        most=designed + _TURN,
        quantity=Quantity.ANGLE,
    )
