"""The stair as measured and the rail as laid out, as tables of the job sheet."""

from __future__ import annotations

import math
from collections.abc import Iterator

from railgen.geometry import Vec
from railgen.job.model import Job, Landing
from railgen.layout.model import Layout, RailTube
from railgen.members import Fabrication
from railgen.members.facts import witness_mark
from railgen.report.grid import Cell, Grid, grid, number_cell
from railgen.survey import FlightSurvey
from railgen.units import Figures, degrees

__all__ = ["layout_tables", "summary", "survey_tables"]


class Writer:
    """Cells in the job's own unit."""

    def __init__(self, figures: Figures) -> None:
        self.figures = figures
        self.unit = figures.unit

    def length(self, mm: float | None) -> Cell:
        return Cell(text="") if mm is None else number_cell(self.figures.length(mm), mm)

    def drill(self, mm: float) -> Cell:
        return number_cell(self.figures.drill(mm), mm)

    def angle(self, radians: float, decimals: int = 2) -> Cell:
        return number_cell(degrees(radians, decimals), radians)

    def point(self, at: Vec) -> tuple[Cell, Cell, Cell]:
        return self.length(at.x), self.length(at.y), self.length(at.z)

    def say(self, mm: float) -> str:
        return self.figures.named(mm)


def summary(job: Job, layout: Layout, figures: Figures) -> list[tuple[str, str]]:
    """The rail in a few lines."""
    to = Writer(figures)
    tube, posts = job.hardware.tube, job.hardware.post_tube
    lengths = [post.length for post in layout.posts]
    if layout.post_length is not None:
        standing = f"{len(lengths)} posts, {to.say(layout.post_length)} long where equal"
    else:
        standing = f"{len(lengths)} posts, cut to suit, {to.say(min(lengths))} to {to.say(max(lengths))} long"
    rails = "; ".join(f"{rail.id} {to.say(rail.length)}" for rail in layout.rails)
    return [
        ("Posts", standing),
        ("Rail tubes", rails),
        ("Rail side", f"{job.rail.side.value}, as seen walking up"),
        ("Least height", f"{to.say(job.rail.least_height)}, vertical, nosing to top of tube"),
        ("Tube", f"{tube.id}: {figures.drill(tube.od)} x {figures.drill(tube.wall)} {to.unit}"),
        ("Post tube", f"{posts.id}: {figures.drill(posts.od)} x {figures.drill(posts.wall)} {to.unit}"),
        ("Material", job.hardware.material.description or job.hardware.material.id),
        ("Fixed to", f"{job.posts.substrate.value}, with {job.hardware.anchor.description or job.hardware.anchor.id}"),
        ("Lengths", f"in {figures.words} unless a heading says otherwise"),
    ]


def survey_tables(job: Job, layout: Layout, figures: Figures) -> list[Grid]:
    """Each flight step by step, what its steps add up to, and the landings."""
    to = Writer(figures)
    tables = [_flight(flight, to) for flight in layout.survey.flights]
    tables.append(_closure(layout.survey.flights, to))
    if job.landings:
        tables.append(_landings(job.landings, to))
    return tables


def _flight(flight: FlightSurvey, to: Writer) -> Grid:
    f = flight.flight
    rows = [
        (
            number_cell(str(nosing), nosing),
            to.length(f.risers[nosing - 1]),
            to.length(f.goings[nosing - 1] if nosing <= len(f.goings) else None),
            to.length(flight.zs[nosing - 1]),
            to.length(flight.xs[nosing - 1]),
        )
        for nosing in range(1, flight.last + 1)
    ]
    columns = ("nosing", "rise to it", "going after it", "level above the floor", "from nosing 1")
    return grid(f"Flight {f.number}: measured steps ({to.unit})", columns, rows)


def _closure(flights: tuple[FlightSurvey, ...], to: Writer) -> Grid:
    def rows() -> Iterator[tuple[Cell | str, ...]]:
        for flight in flights:
            f, c = flight.flight, flight.closure()
            for what, steps, total, error, parts in (
                ("rise", c.rise_of_steps, c.total_rise, c.rise_error, f.risers),
                ("run", c.run_of_steps, c.total_run, c.run_error, f.goings),
            ):
                yield (
                    number_cell(str(f.number), f.number),
                    what,
                    to.length(min(parts, default=None)),
                    to.length(max(parts, default=None)),
                    to.length(steps),
                    to.length(total) if total is not None else "not measured",
                    to.length(error),
                )

    columns = ("flight", "what", "least step", "largest step", "sum of steps", "measured total", "total less sum")
    return grid(f"Closure: steps against totals measured on their own ({to.unit})", columns, rows())


def _landings(landings: tuple[Landing, ...], to: Writer) -> Grid:
    rows = [
        (
            number_cell(str(landing.number), landing.number),
            landing.turn.value,
            to.length(landing.length),
            to.length(landing.well),
            to.length(landing.upper_offset),
        )
        for landing in landings
    ]
    return grid(f"Landings ({to.unit})", ("landing", "turn", "length", "well", "upper flight set on by"), rows)


def layout_tables(layout: Layout, fabrication: Fabrication, figures: Figures) -> list[Grid]:
    """Posts, rail tubes, elbows, heights and spans."""
    to = Writer(figures)
    tables = [_posts(layout, fabrication, to), _rails(layout, fabrication, to)]
    if layout.nodes:
        tables.append(_nodes(layout, fabrication, to))
    heights = [
        (
            number_cell(str(at.flight), at.flight),
            number_cell(str(at.nosing), at.nosing),
            to.length(at.height) if at.height is not None else "no rail here",
        )
        for at in layout.heights
    ]
    tables.append(
        grid(f"Height of the top of the rail above each nosing ({to.unit})", ("flight", "nosing", "height"), heights)
    )
    spans = [(span.from_post, span.to_post, to.length(span.length)) for span in layout.spans]
    tables.append(grid(f"Spans between supports, along the centreline ({to.unit})", ("from", "to", "span"), spans))
    return tables


def _posts(layout: Layout, fabrication: Fabrication, to: Writer) -> Grid:
    rows = [
        (
            post.id,
            fabrication.mark(post.id),
            str(post.surface),
            post.role.value,
            to.length(post.setback.distance if post.setback else None),
            to.length(post.setback.move if post.setback else None),
            to.length(post.length),
            *to.point(post.base),
        )
        for post in layout.posts
    ]
    columns = ("post", "mark", "stands on", "carries", "setback", "moved by", "length", "x", "y", "z")
    return grid(f"Posts, in walking order ({to.unit}; x, y, z of the axis on the tread)", columns, rows)


def _rails(layout: Layout, fabrication: Fabrication, to: Writer) -> Grid:
    def feet(rail: RailTube) -> str:
        return "; ".join(f"{foot.post} at {to.figures.length(foot.distance)}" for foot in rail.feet)

    rows = [
        (
            rail.id,
            fabrication.mark(rail.id),
            number_cell(str(rail.flight), rail.flight) if rail.flight is not None else "landing",
            to.length(rail.length),
            to.angle(rail.pitch),
            rail.start_end.node or "free end",
            rail.far_end.node or "free end",
            feet(rail),
        )
        for rail in layout.rails
    ]
    columns = ("rail", "mark", "flight", "cut length", "pitch", "datum end", "other end", "saddles from the datum end")
    return grid(f"Rail tubes ({to.unit})", columns, rows)


def _nodes(layout: Layout, fabrication: Fabrication, to: Writer) -> Grid:
    rows = []
    for node in layout.nodes:
        marks = "; ".join(
            f"{fabrication.mark(rail.id)} {_clock(witness_mark(fabrication, node, rail))}"
            for rail in layout.rails_at(node)
        )
        rows.append((node.id, node.post or "none", to.angle(node.deflection), marks, *to.point(node.at)))
    columns = ("elbow", "post", "turns by", "witness marks", "x", "y", "z")
    return grid(f"Elbows ({to.unit}; witness mark: clock position of the elbow's screw)", columns, rows)


def _clock(angle: float) -> str:
    return degrees(angle % math.tau, 2)
