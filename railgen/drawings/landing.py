"""A landing at a larger scale: nodes, elbow angles, witness marks, posts and the rails between."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

from railgen.drawings.board import Board
from railgen.drawings.dims import linear, readable, shares
from railgen.drawings.frame import Draft, drawing_area, title_box
from railgen.drawings.lettering import SMALL, width
from railgen.drawings.plan import EAST, NORTH, draw_plan_post, draw_plan_rail
from railgen.drawings.references import references
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Align, Box, Label, Pen, polar
from railgen.drawings.table import Table, draw_table
from railgen.drawings.tiles import clip
from railgen.drawings.view import View, fitted
from railgen.geometry import Vec
from railgen.job.model import Job
from railgen.layout.model import Layout, Node, Post, RailTube
from railgen.members.fabrication import Fabrication
from railgen.members.facts import witness_mark
from railgen.members.pieces import StairBody
from railgen.survey import SurfaceId, surface_at
from railgen.units import Figures, degrees

__all__ = ["draw_landing"]

_AROUND = 230.0  # mm shown beyond posts and nodes
_SHARES = (0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8)  # of a tube, for its words


def draw_landing(job: Job, layout: Layout, fabrication: Fabrication, number: int, setting: Setting) -> Draft:
    """Landing ``number`` from above."""
    area, figures = drawing_area(setting), setting.figures
    board = Board(area=area)
    rails, nodes = _between(layout, number)
    surface = surface_at(job, number + 1, 0)
    posts = [post for post in layout.posts if post.surface == surface]
    table = _node_table(fabrication, nodes, rails, figures)
    shared = area.height - (title_box(setting).top - area.bottom)
    room = Box(left=area.left, right=area.right, top=area.top - 2, bottom=area.top - shared + table.height + 10).grown(
        -16
    )
    corners = [Vec(p.x, p.y, 0.0) for p in (*[n.at for n in nodes], *[p.base for p in posts])]
    shown = [p + Vec(sx * _AROUND, sy * _AROUND) for p in corners for sx in (1, -1) for sy in (1, -1)]
    view = fitted(shown, EAST, room, up=NORTH)
    window = room.grown(8)
    _surroundings(board, view, fabrication, surface, window)
    for post in posts:
        draw_plan_post(board, view, job, post)
    for rail in rails:
        draw_plan_rail(board, view, job, _near(view, rail, window))
    for node in nodes:
        board.circle(Pen.HOLE, view.point(node.at), 1.4)
    for first, second in itertools.pairwise(nodes):
        _node_distance(board, view, first, second, figures)
    for post in posts:
        _offsets(board, view, layout, job, fabrication, post, figures)
    for rail in rails:
        text = f"{fabrication.named(rail.id)}, cut length {figures.length(rail.length)}"
        _beside(board, view, _near(view, rail, window), job, text)
    for node in nodes:
        board.note(view.point(node.at), f"{node.id}, elbow {degrees(node.deflection, 2)}", SMALL, math.pi / 4)
    for post in posts:
        board.note(view.point(post.base), post.id, SMALL, -3 * math.pi / 4)
    if table.rows:
        draw_table(board, table, (area.left, title_box(setting).top + 5 + table.height), area.width)
    _advice(board, job, figures, setting)
    return Draft(
        name=f"setout-landing-{number}",
        title=f"Landing {number}, nodes and elbows",
        note="from above; levels from the floor in front of flight 1; distances of nodes are those of the centrelines",
        scale=view.scale,
        board=board,
    )


def _between(layout: Layout, number: int) -> tuple[list[RailTube], list[Node]]:
    """Rails from the lower flight's last to the upper flight's first, and the nodes where they meet."""
    rails = list(layout.rails)
    start = max((i for i, rail in enumerate(rails) if rail.flight == number), default=0)
    end = min((i for i, rail in enumerate(rails) if rail.flight == number + 1), default=len(rails) - 1)
    chosen = rails[start : end + 1]
    names = [rail.far_end.node for rail in chosen[:-1]]
    return chosen, [layout.node(name) for name in names if name is not None]


def _surroundings(board: Board, view: View, fabrication: Fabrication, surface: SurfaceId, window: Box) -> None:
    """The landing and the treads next to it, as far as the window shows them."""
    level = fabrication.body(surface)[1].frame.origin.z
    for place in fabrication.placed:
        body = fabrication.pieces[place.mark]
        if isinstance(body, StairBody):
            points = [place.frame.point(Vec(x, y, 0.0)) for x, y in body.outline]
            inside = [view.point(p) for p in points]
            for a, b in zip(inside, (*inside[1:], inside[0]), strict=True):
                cut = clip(a, b, window)
                if cut and abs(place.frame.origin.z - level) < 400.0:
                    board.line(Pen.STAIR, *cut)


def _near(view: View, rail: RailTube, window: Box) -> RailTube:
    """The rail, cut where it leaves the window."""
    cut = clip(view.point(rail.start), view.point(rail.end), window)
    if cut is None:
        return rail
    whole = math.dist(view.point(rail.start), view.point(rail.end))
    if whole < 1e-9:
        return rail
    begin = math.dist(view.point(rail.start), cut[0]) / whole
    end = math.dist(view.point(rail.start), cut[1]) / whole
    return replace(rail, start=rail.start + rail.direction * (rail.length * begin), length=rail.length * (end - begin))


def _beside(board: Board, view: View, rail: RailTube, job: Job, text: str) -> None:
    """Words along a tube, beside it where they cross the fewest lines; a short tube's stand near it."""
    start, end = view.point(rail.start), view.point(rail.end)
    along = math.atan2(end[1] - start[1], end[0] - start[0]) if math.dist(start, end) > 1e-6 else 0.0
    turn = readable(along)
    radius = view.length(job.hardware.tube.radius)
    if math.dist(start, end) > 1.8 * width(text, SMALL):
        choices = [
            Label(
                at=polar(polar(start, math.dist(start, end) * share, along), aside, turn + math.pi / 2),
                text=text,
                height=SMALL,
                align=Align.CENTRE,
                angle=turn,
            )
            for share in _SHARES
            for aside in (radius + 1.8, -radius - 1.8 - SMALL)
        ]
        if board.add_best(choices, later=0.05):
            return
    board.note(((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), text, SMALL, math.pi / 3)


def _node_distance(board: Board, view: View, first: Node, second: Node, figures: Figures) -> None:
    true = (second.at - first.at).length
    a, b = view.point(first.at), view.point(second.at)
    if math.dist(a, b) < 1.0:
        return
    along = math.atan2(b[1] - a[1], b[0] - a[0])
    board.add_best(
        linear(a, b, along, polar(a, aside, along + math.pi / 2), true, figures.length(true))
        for aside in (-16.0, 16.0, -24.0, 24.0, -32.0, 32.0)
    )


def _offsets(
    board: Board, view: View, layout: Layout, job: Job, fabrication: Fabrication, post: Post, figures: Figures
) -> None:
    """From the post's axis to the two lines it is measured from on site."""
    spot = view.point(post.base)
    for line in references(job, layout, fabrication, post):
        far = view.point(post.base + line.towards * line.distance)
        if math.dist(spot, far) < 1.0:
            continue
        along, text = view.angle(line.towards), figures.length(line.distance)
        choices = [
            linear(spot, far, along, through, line.distance, text, height=SMALL, share=share)
            for aside in (14.0, -14.0, 20.0, -20.0, 26.0, -26.0)
            for through in [polar(spot, aside, along + math.pi / 2)]
            for share in shares(math.dist(spot, far))
        ]
        board.add_best(choices, later=0.1)


def _node_table(
    fabrication: Fabrication,
    nodes: Sequence[Node],
    rails: Sequence[RailTube],
    figures: Figures,
) -> Table:
    rows = []
    for node in nodes:
        marks = [
            f"{fabrication.mark(rail.id)} {end} {degrees(witness_mark(fabrication, node, rail), 2)}"
            for rail in rails
            for end, joint in (("datum end", rail.start_end), ("far end", rail.far_end))
            if joint.node == node.id
        ]
        rows.append(
            (
                node.id,
                figures.length(node.at.x),
                figures.length(node.at.y),
                figures.length(node.at.z),
                degrees(node.deflection, 2),
                node.post or "-",
                *([*marks, "-", "-"])[:2],
            )
        )
    return Table(
        headings=("Node", "x", "y", "Level", "Elbow", "Post", "Witness mark, incoming", "Witness mark, outgoing"),
        rows=tuple(rows),
    )


def _advice(board: Board, job: Job, figures: Figures, setting: Setting) -> None:
    area = drawing_area(setting)
    take_off = figures.named(job.hardware.elbow.take_off)
    for number, text in enumerate(
        (
            "Elbow: deflection from straight on. Witness mark: clock position of the elbow's screw, on the hinge axis.",
            f"Each tube is cut {take_off} short of the node, measured along its centreline.",
            "x and y from nosing 1 of flight 1 at its left edge: x up flight 1, y to the walker's left.",
        )
    ):
        board.text((area.left, title_box(setting).top - 3 - 4.2 * number), text, SMALL)
