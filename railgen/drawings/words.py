"""What a shop sheet says of its piece in words: facts in two columns, tolerances and the job's notes."""

from __future__ import annotations

from collections.abc import Sequence

from railgen.drawings.board import Board
from railgen.drawings.lettering import CAPTION, SMALL, wrap
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Box
from railgen.units import Dimensions, Figures, degrees

__all__ = ["fact_list", "notes"]

_ASIDE = 21.0  # mm from a caption to its words
_STEPS = ((SMALL, 4.0, 1.2), (SMALL, 3.5, 0.7), (CAPTION, 3.1, 0.6), (CAPTION, 2.7, 0.3))
"""Height of the letters, from line to line, and before the next fact (mm): the first that fits is taken."""


def notes(setting: Setting, *, weep: bool) -> tuple[tuple[str, str], ...]:
    """Tolerances of a made piece, and what the job says about its finish, its welds and, if asked, its weep holes."""
    finish, figures = setting.finish, setting.figures
    hole, angle = figures.drill(finish.hole_tolerance), degrees(finish.angle_tolerance, 2)
    said = (
        ("Tolerances", f"{finish.general_tolerance}; holes ±{hole}; angles ±{angle}".removeprefix("; ")),
        ("Rounding", _rounding(figures)),
        ("Finish", finish.surface),
        ("Weep holes", finish.weep_holes if weep else ""),
        ("Welds", finish.welds),
        ("Protection", finish.protection),
    )
    return tuple((caption, words) for caption, words in said if words)


def _rounding(figures: Figures) -> str:
    """What of the figures governs, where rounding may take more than holes allow."""
    if figures.dual:
        return "mm govern; inches in brackets are rounded"
    sixteenths = figures.style is Dimensions.SIXTEENTH
    return "to 1/16 from the datum, off by up to 1/32: drill from the templates" if sixteenths else ""


def fact_list(board: Board, lines: Sequence[tuple[str, str]], room: Box) -> float:
    """Names and what they are, in two columns, wrapped, closer and smaller where there are many. Answers its foot.

    What finds no room even so is cut short with dots.
    """
    for height, line, gap in _STEPS:
        wrapped = [wrap(words, room.width - _ASIDE, height) for _, words in lines]
        if sum(len(parts) * line + gap for parts in wrapped) <= room.height:
            break
    y = room.top - 1.0
    for number, ((caption, _), parts) in enumerate(zip(lines, wrapped, strict=True)):
        left = sum(line + gap for _ in lines[number + 1 :])
        fitting = max(1, int((y - left - room.bottom) / line))
        shown = parts if len(parts) <= fitting else [*parts[: fitting - 1], f"{parts[fitting - 1][:-1]}…"]
        board.text((room.left, y - height), caption, height, bold=True)
        for part in shown:
            board.text((room.left + _ASIDE, y - height), part, height)
            y -= line
        y -= gap
    return y
