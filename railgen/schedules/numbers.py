"""``layout.json``: every solved number, for other programs."""

from __future__ import annotations

import json
import math

from railgen.geometry import Vec
from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.members import Fabrication
from railgen.members.facts import witness_mark
from railgen.survey import SurfaceKind

__all__ = ["layout_json"]


def layout_json(job: Job, layout: Layout, fabrication: Fabrication, build: str = "") -> str:
    """Posts, nodes, rails, heights, spans, closure in the stair's own frame (mm, degrees); the site's; build mark."""
    content = {
        "job": job.project.id,
        "revision": job.project.revision,
        "build": build,
        "units": "mm",
        "site": {
            "origin": _vec(job.site.origin),
            "rotation_deg": _num(math.degrees(math.atan2(job.site.x.y, job.site.x.x))),
        },
        "post_length_mm": None if layout.post_length is None else _num(layout.post_length),
        "posts": [
            {
                "id": post.id,
                "mark": fabrication.mark(post.id),
                "flight": post.flight,
                "tread": post.setback.tread if post.setback else None,
                "landing": post.surface.number if post.surface.kind is SurfaceKind.LANDING else None,
                "surface": str(post.surface),
                "carries": post.role.value,
                "setback_mm": _num(post.setback.distance) if post.setback else None,
                "move_mm": _num(post.setback.move) if post.setback else 0.0,
                "base": _vec(post.base),
                "length_mm": _num(post.length),
            }
            for post in layout.posts
        ],
        "nodes": [
            {
                "id": node.id,
                "at": _vec(node.at),
                "elbow_deg": _deg(node.deflection),
                "witness_deg": {
                    fabrication.mark(rail.id): _deg(witness_mark(fabrication, node, rail))
                    for rail in layout.rails_at(node)
                },
                "post": node.post,
            }
            for node in layout.nodes
        ],
        "rails": [
            {
                "id": rail.id,
                "mark": fabrication.mark(rail.id),
                "flight": rail.flight,
                "start": _vec(rail.start),
                "end": _vec(rail.end),
                "direction": [round(c, 9) + 0.0 for c in rail.direction],
                "cut_length_mm": _num(rail.length),
                "pitch_deg": _deg(rail.pitch),
                "saddles": [{"post": foot.post, "distance_mm": _num(foot.distance)} for foot in rail.feet],
            }
            for rail in layout.rails
        ],
        "heights": [
            {"flight": h.flight, "nosing": h.nosing, "height_mm": None if h.height is None else _num(h.height)}
            for h in layout.heights
        ],
        "spans": [{"from": s.from_post, "to": s.to_post, "length_mm": _num(s.length)} for s in layout.spans],
        "closure": [
            {
                "flight": flight.flight.number,
                "rise_error_mm": None if (rise := flight.closure().rise_error) is None else _num(rise),
                "run_error_mm": None if (run := flight.closure().run_error) is None else _num(run),
            }
            for flight in layout.survey.flights
        ],
        "notes": [*job.notes, *layout.notes],
    }
    return json.dumps(content, indent=1) + "\n"


def _num(value: float) -> float:
    return round(value, 6) + 0.0


def _deg(angle: float) -> float:
    return round(math.degrees(angle), 6) + 0.0


def _vec(vec: Vec) -> list[float]:
    return [_num(c) for c in vec]
