"""The stair from above: treads, landings, posts and rails with everything to place them by."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from railgen.drawings.board import Board
from railgen.drawings.dims import linear
from railgen.drawings.ends import draw_plan_finish, draw_plan_reach, finish_outline, free_ends
from railgen.drawings.frame import Draft, drawing_area, title_box
from railgen.drawings.lettering import SMALL
from railgen.drawings.posttable import post_table
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Box, Pen, Point, polar
from railgen.drawings.table import ROW, draw_table
from railgen.drawings.view import View, fitted
from railgen.geometry import Vec
from railgen.job.model import Job
from railgen.layout.model import Layout, Post, RailTube
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import StairBody
from railgen.survey import FlightSurvey, SurfaceKind

__all__ = ["draw_body", "draw_plan_post", "draw_plan_rail", "draw_plans"]

EAST, NORTH = Vec(1.0, 0.0, 0.0), Vec(0.0, 1.0, 0.0)
_BESIDE = 26.0  # mm around the stair for dimensions
_TABLE = 56.0  # mm: a taller table has a sheet of its own


def draw_plans(job: Job, layout: Layout, fabrication: Fabrication, setting: Setting) -> list[Draft]:
    """One sheet for each run of flights that do not lie above each other, and the table of posts where it is long."""
    groups = _groups(layout.survey.flights)
    area, drafts = drawing_area(setting), []
    for number, flights in enumerate(groups, start=1):
        numbers = {flight.flight.number for flight in flights}
        posts = _posts(layout, numbers)
        table = post_table(job, layout, fabrication, posts, setting.figures)
        short = table.height <= _TABLE and sum(table.widths()) <= title_box(setting).left - area.left - 5
        name = "setout-plan" if len(groups) == 1 else f"setout-plan-{number}"
        draft = _plan(job, layout, fabrication, flights, posts, setting, name)
        drafts.append(draft)
        if short:
            draw_table(draft.board, table, (area.left, area.bottom + table.height), title_box(setting).left)
            continue
        rows = math.floor((area.top - title_box(setting).top - 3) / ROW) - 1
        for part, page in enumerate(table.pages(rows), start=1):
            board = Board(area=area)
            draw_table(board, page, (area.left, area.top), area.width)
            title = f"{draft.title}: posts"
            drafts.append(
                Draft(name=f"{name}-posts-{part}", title=title, note=draft.note, scale=draft.scale, board=board)
            )
    return drafts


def _groups(flights: Sequence[FlightSurvey]) -> list[list[FlightSurvey]]:
    groups: list[list[FlightSurvey]] = []
    for flight in flights:
        if groups and not any(_over(flight, other) for other in groups[-1]):
            groups[-1].append(flight)
        else:
            groups.append([flight])
    return groups


def _over(one: FlightSurvey, other: FlightSurvey) -> bool:
    (left, low, right, high), (a, b, c, d) = _ground(one), _ground(other)
    return left < c - 1 and a < right - 1 and low < d - 1 and b < high - 1


def _ground(flight: FlightSurvey) -> tuple[float, float, float, float]:
    spots = _corners(flight, 0.0, flight.xs[-1])
    xs, ys = [p.x for p in spots], [p.y for p in spots]
    return min(xs), min(ys), max(xs), max(ys)


def _corners(flight: FlightSurvey, start: float, end: float) -> list[Vec]:
    return [flight.at(x, y, flight.foot.z) for x in (start, end) for y in (0.0, -flight.flight.width)]


def _posts(layout: Layout, numbers: set[int]) -> list[Post]:
    """Posts of these flights, and those on landings between or after them."""
    return [post for post in layout.posts if (post.flight or post.surface.flight) in numbers]


def _plan(
    job: Job,
    layout: Layout,
    fabrication: Fabrication,
    flights: Sequence[FlightSurvey],
    posts: Sequence[Post],
    setting: Setting,
    name: str,
) -> Draft:
    area = drawing_area(setting)
    board = Board(area=area)
    table = post_table(job, layout, fabrication, posts, setting.figures).height
    low = max(title_box(setting).top, area.bottom + table if table <= _TABLE else 0.0) + 3
    room = Box(left=area.left, right=area.right, bottom=low, top=area.top).grown(-_BESIDE)
    numbers = [flight.flight.number for flight in flights]
    bodies = _bodies(fabrication, numbers)
    shown = [point for body in bodies for point in body[1]]
    ends = [end for end in free_ends(job, layout) if end.flight in flights]
    shown += [point for end in ends for point in (end.tip, *finish_outline(job.hardware, end))]
    view = fitted([Vec(p.x, p.y, 0.0) for p in shown], EAST, room, up=NORTH)
    for _, points in bodies:
        draw_body(board, view, points)
    ids = {post.id for post in posts}
    rails = [rail for rail in layout.rails if _belongs(layout, rail, numbers, ids)]
    for post in posts:
        draw_plan_post(board, view, job, post)
    for rail in rails:
        draw_plan_rail(board, view, job, rail)
    for end in ends:
        draw_plan_finish(board, view, job, end)
    centre = view.at
    for flight in flights:
        _measure(board, view, flight, centre, setting)
    for flight in flights:
        _arrow_up(board, view, flight)
    for end in ends:
        draw_plan_reach(board, view, end, setting.figures)
    for post in posts:
        board.note(view.point(post.base), post.id, SMALL, _outward(view, post, centre))
    for rail in rails:
        spot = _clear_of_posts(view, rail, posts)
        board.note(spot, fabrication.named(rail.id), SMALL, math.pi / 3)
    for node in layout.nodes:
        if any(rail.meets(node) for rail in rails):
            board.note(view.point(node.at), node.id, SMALL, -math.pi / 3)
    span = (
        f"flight {numbers[0]}"
        if len(numbers) == 1
        else f"flights {numbers[0]} {'and' if len(numbers) == 2 else 'to'} {numbers[-1]}"
    )
    return Draft(
        name=name,
        title=f"Plan, {span}",
        note=f"from above; rail on the {job.rail.side.value}, walking up; setbacks and edge offsets in the table; "
        "goings in the elevations",
        scale=view.scale,
        board=board,
    )


def _belongs(layout: Layout, rail: RailTube, numbers: Iterable[int], posts: set[str]) -> bool:
    if any(rail in layout.rails_of(number) for number in numbers):
        return True
    names = [end.node for end in (rail.start_end, rail.far_end) if end.node is not None]
    return any(layout.node(name).post in posts for name in names)


def _clear_of_posts(view: View, rail: RailTube, posts: Sequence[Post]) -> Point:
    """A place along a tube, the farthest of some from all posts."""
    spots = [view.point(rail.start + rail.direction * (rail.length * share)) for share in (0.62, 0.5, 0.38, 0.3, 0.7)]
    feet = [view.point(post.base) for post in posts]
    return max(spots, key=lambda spot: round(min((math.dist(spot, foot) for foot in feet), default=0.0), 6))


def _bodies(fabrication: Fabrication, numbers: Sequence[int]) -> list[tuple[StairBody, tuple[Vec, ...]]]:
    """Treads of the flights and the landings and floors next to them, with their outlines in the world."""
    found = []
    for place in fabrication.placed:
        body = fabrication.pieces[place.mark]
        if not isinstance(body, StairBody):
            continue
        surface = body.surface
        if surface.flight in numbers or (surface.kind is SurfaceKind.LANDING and surface.flight + 1 in numbers):
            found.append((body, tuple(place.frame.point(Vec(x, y, 0.0)) for x, y in body.outline)))
    return found


def draw_body(board: Board, view: View, points: Sequence[Vec]) -> None:
    """The outline of a tread, landing or floor."""
    board.path(Pen.STAIR, [view.point(point) for point in points], closed=True)


def draw_plan_post(board: Board, view: View, job: Job, post: Post) -> None:
    """Post, plate and centre mark."""
    plate, spot = job.hardware.base_plate, view.point(post.base)
    turn = view.angle(post.ahead)
    half, wide = view.length(plate.length / 2), view.length(plate.width / 2)
    corners = [
        polar(polar(spot, sx * half, turn), sy * wide, turn + math.pi / 2)
        for sx, sy in ((1, 1), (-1, 1), (-1, -1), (1, -1))
    ]
    board.path(Pen.PLATE, corners, closed=True)
    board.circle(Pen.OUTLINE, spot, view.length(job.hardware.post_tube.radius))
    board.cross(spot, half + 1.5, turn)


def draw_plan_rail(board: Board, view: View, job: Job, rail: RailTube) -> None:
    """The tube from above, cut end to cut end, with its centreline."""
    start, end = view.point(rail.start), view.point(rail.end)
    if math.dist(start, end) < 1e-6:
        return
    along, aside = math.atan2(end[1] - start[1], end[0] - start[0]), view.length(job.hardware.tube.radius)
    sides = [[polar(p, s * aside, along + math.pi / 2) for p in (start, end)] for s in (1, -1)]
    board.path(Pen.OUTLINE, (*sides[0], *reversed(sides[1])), closed=True)
    board.line(Pen.CENTRE, polar(start, -2, along), polar(end, 2, along))


def _measure(board: Board, view: View, flight: FlightSurvey, centre: tuple[float, float], setting: Setting) -> None:
    """Run from nosing 1 to the last nosing, outside the flight, and its width in front of nosing 1."""
    figures, width, run = setting.figures, flight.flight.width, flight.xs[-1]
    ahead = view.angle(flight.ahead)
    edges = (0.0, -width)
    lines = [(view.point(flight.at(0.0, y, 0.0)), view.point(flight.at(run, y, 0.0))) for y in edges]
    lines.sort(key=lambda ab: -math.dist(((ab[0][0] + ab[1][0]) / 2, (ab[0][1] + ab[1][1]) / 2), centre))
    for a, b in lines:
        other = next(pair for pair in lines if pair[0] != a)
        out = math.atan2(a[1] - other[0][1], a[0] - other[0][0])
        done = any(
            board.add_if_free(linear(a, b, ahead, polar(a, off, out), run, figures.length(run)))
            for off in (9.0, 15.0, 21.0)
            if run > 0
        )
        if done:
            break
    left, right = (view.point(flight.at(-flight.flight.design_going * 0.5, y, 0.0)) for y in edges)
    board.add_if_free(linear(left, right, view.angle(-flight.left), left, width, figures.length(width)))


def _arrow_up(board: Board, view: View, flight: FlightSurvey) -> None:
    """The walking line, pointing up, with the flight's name."""
    y = -flight.flight.width / 2
    ahead = view.angle(flight.ahead)
    start, end = (view.point(flight.at(x, y, 0.0)) for x in (0.0, flight.xs[-1] + flight.flight.design_going * 0.4))
    board.line(Pen.DIMENSION, start, end)
    board.circle(Pen.DIMENSION, start, 1.0)
    for side in (1, -1):
        board.line(Pen.DIMENSION, end, polar(end, -4.0, ahead + side * 0.4))
    board.note(end, f"Flight {flight.flight.number} up", SMALL, ahead)


def _outward(view: View, post: Post, centre: tuple[float, float]) -> float:
    x, y = view.point(post.base)
    return math.atan2(y - centre[1], x - centre[0]) + (0.0 if (x, y) != centre else 1.0)
