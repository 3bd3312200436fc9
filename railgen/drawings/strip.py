"""The template that is wrapped around a tube: every hole at its arc, clock lines, ends, a ruler from the datum end."""

from __future__ import annotations

import math
from collections.abc import Sequence

from railgen.drawings.lettering import CAPTION, SMALL
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Align, Arc, Box, Circle, Label, Line, Path, Pen, Point
from railgen.drawings.tiles import Callout, Template
from railgen.drawings.unrolled import arc_length, seam_of
from railgen.members.pieces import Purpose, Tube, When
from railgen.units import MM_PER_INCH, Dimensions, Figures, degrees

__all__ = ["strip"]

_TAB = 8.0  # mm beyond the seam, to glue


def strip(tube: Tube, setting: Setting) -> Template:
    """Printed side out; the datum end at the left, clock positions downwards, x = 0 at the datum end."""
    od, seam = tube.section.od, seam_of(hole.clock for hole in tube.holes)
    around, length = math.pi * od, tube.length
    items: list[Line | Path | Circle | Arc | Label] = []
    callouts: list[Callout] = []

    def line(pen: Pen, a: Point, b: Point) -> None:
        items.append(Line(pen=pen, a=a, b=b))

    for y in (0.0, -around):
        line(Pen.OUTLINE, (0.0, y), (length, y))
    for x in (0.0, length):
        line(Pen.OUTLINE, (x, 0.0), (x, -around))
    line(Pen.CUT, (0.0, -around - _TAB), (length, -around - _TAB))
    for x in (0.0, length):
        line(Pen.CUT, (x, -around), (x, -around - _TAB))
    for quarter in (1, 2, 3):
        y = -around * quarter / 4
        line(Pen.CLOCK, (0.0, y), (length, y))
    items += _ruler(length, setting.figures)
    spots = {hole.id: (hole.distance, -arc_length(od, hole.clock, seam)) for hole in tube.holes}
    for hole in tube.holes:
        x, y = spots[hole.id]
        items.append(Circle(pen=Pen.HOLE, centre=(x, y), radius=hole.diameter / 2))
        arm = hole.diameter / 2 + 4.0
        line(Pen.HOLE, (x - arm, y), (x + arm, y))
        line(Pen.HOLE, (x, y - arm), (x, y + arm))
        size = f"Ø{setting.figures.drill(hole.diameter)}" + (f" {hole.thread}" if hole.thread else "")
        if hole.purpose is Purpose.ELBOW_SCREW:
            size += "  witness mark"
            line(Pen.HOLE, (x, y), (0.0 if x < length / 2 else length, y))
        words = (f"{hole.id}  {size}", f"{setting.figures.length(hole.distance)} from datum, {degrees(hole.clock)}")
        callouts.append(Callout(spot=(x, y), radius=hole.diameter / 2, words=words))
    for quarter in range(5):
        clock = degrees((seam + quarter * math.pi / 2) % math.tau)
        y = -around * quarter / 4
        ends = ((1.0, Align.LEFT), (length - 1.0, Align.RIGHT))
        items += [Label(at=(x, y + (0.8 if quarter else -3.4)), text=clock, height=SMALL, align=a) for x, a in ends]
        low = 0.8 if quarter else -10.0  # below the ruler's figures
        for x in _between(length, [hole.distance for hole in tube.holes]):
            items.append(Label(at=(x, y + low), text=clock, height=SMALL))
    return Template(
        name=f"template-{tube.mark}",
        title=f"{tube.mark}, wrap-around strip",
        note=f"Printed side out, datum end left, seam at {degrees(seam)}; around {setting.figures.named(around)} "
        f"for Ø{setting.figures.drill(od)}; tiles without holes are left out{_waiting(tube)}",
        extent=Box(left=0.0, right=length, bottom=-around - _TAB, top=0.0),
        items=tuple(items),
        callouts=tuple(callouts),
        marks=tuple(spots.values()),
        widest=max((hole.diameter for hole in tube.holes), default=0.0),
    )


def _ruler(length: float, figures: Figures) -> list[Line | Label]:
    """Ticks along the seam: each 10 mm, named each 50; or each half inch, named each 2 inches."""
    style = figures.style.parts[0]
    step, named = (10.0, 5) if style is Dimensions.MM else (MM_PER_INCH / 2, 4)
    items: list[Line | Label] = []
    for number in range(1, math.floor(length / step + 1e-9) + 1):
        x, whole = number * step, number % named == 0
        items.append(Line(pen=Pen.DIMENSION, a=(x, 0.0), b=(x, -3.5 if whole else -2.0)))
        if whole and 12.0 < x < length - 12.0:
            text = Figures(style=style).length(x)
            items.append(Label(at=(x, -6.0), text=text, height=CAPTION, align=Align.CENTRE))
    return items


def _between(length: float, holes: Sequence[float]) -> list[float]:
    """Where along a strip its clock lines are named again, so that every tile tells them; clear of holes and ruler."""
    wanted = [75.0 + 100.0 * n for n in range(math.ceil(length / 100.0))]
    return [x for x in wanted if x < length - 25.0 and all(abs(x + 4.0 - hole) > 12.0 for hole in holes)]


def _waiting(tube: Tube) -> str:
    """What a strip's note says of the holes that are not drilled yet."""
    wait = sum(hole.when is When.AFTER_FIT for hole in tube.holes)
    return f"; {'all' if wait == len(tube.holes) else wait} holes {When.AFTER_FIT}" if wait else ""
