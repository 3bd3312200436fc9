"""How far a rail may come out lower or higher than designed, though every plate and post is within what is accepted."""

from __future__ import annotations

import math

from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.units import Dimensions, Figures, Rounding, Unit

__all__ = ["CUT", "SET_OUT", "margin_note", "slack"]

SET_OUT = 2.0  # mm a base plate may be off its mark: common practice
CUT = 0.5  # mm a tube's length may be off: common practice
_HAIR = 1e-6


def slack(pitch: float) -> float:
    """What accepted errors add to or take from the height (mm): a post further up the flight lowers the rail there.

    >>> round(slack(math.radians(45)), 6)
    2.5
    """
    return SET_OUT * math.tan(pitch) + CUT


def margin_note(job: Job, layout: Layout, least: float | None, most: float | None) -> str:
    """Whether errors that are accepted may take the rail out of a code's ``least`` to ``most`` (mm), in words.

    Without a code's least height it is held to ``rail.least_height``. Empty where the rail stays within, and where the
    design itself does not, which the checks say.
    """
    pitches = {rail.flight: rail.pitch for rail in layout.rails if rail.flight is not None}
    found = [(at.height, slack(pitches[at.flight])) for at in layout.heights if at.height is not None]
    if not found:
        return ""
    figures = Figures(style=job.order.dimensions)
    needed = job.rail.least_height if least is None else least
    lowest, highest = min(h - s for h, s in found), max(h + s for h, s in found)
    within = f"plates {figures.named(SET_OUT)} off their marks and posts {figures.named(CUT)} short are accepted"
    if min(h for h, _ in found) >= needed - _HAIR and lowest < needed - _HAIR:
        below = f"the rail may then come out {figures.named(needed - lowest, Rounding.UP)} below"
        more = max(s for _, s in found)
        if least is None:
            return (
                f"{within}: {below} rail.least_height; where that is a limit, type the limit and "
                f"{figures.named(more, Rounding.UP)} more"
            )
        typed = Figures(style=Dimensions.MM if job.output_unit is Unit.MM else Dimensions.SIXTEENTH)
        note = (
            f"{within}: {below} the {figures.named(needed)} asked for; "
            f"rail.least_height = {typed.named(needed + more, Rounding.UP)} keeps it above"
        )
        if most is not None and highest + needed - lowest > most + _HAIR:
            note += f", but over the {figures.named(most)} allowed elsewhere: set the plates out more closely"
        return note
    if most is not None and max(h for h, _ in found) <= most + _HAIR and highest > most + _HAIR:
        above = figures.named(highest - most, Rounding.UP)
        over = f"{above} above the {figures.named(most)} allowed"
        return f"{within}, and as much the other way: the rail may come out {over}"
    return ""
