"""Frame, title block, cautions and check bar around every drawing sheet."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from railgen.drawings.board import Board
from railgen.drawings.interrupt import interrupted
from railgen.drawings.lettering import CAPTION, LARGE, MEDIUM, SMALL, fit, wrap
from railgen.drawings.setting import Setting
from railgen.drawings.sheet import Align, Box, Label, Line, Path, Pen, Point, Scale, Sheet
from railgen.job.model import Job
from railgen.job.order_model import Projection

__all__ = ["BAR", "CAUTIONS", "Draft", "drawing_area", "finish", "frame_box", "title_box"]

BAR = 100.0  # mm
CAUTIONS = (
    "Verify all dimensions on site before cutting or drilling.",
    "Local codes and licensed practice decide; this sheet does not replace either.",
)

_BINDING, _MARGIN = 20.0, 10.0  # mm outside the frame, at the left and elsewhere: ISO 5457:1999 (from memory)
_TITLE_WIDTH = 180.0  # ISO 7200:2004 (from memory)
_ROWS = (9.0, 9.0, 9.0, 13.0)  # heights of the title block's rows, from below
_STATUS = 9.0
_FOOT = 17.0  # mm kept above the frame's lower line for cautions and check bar


@dataclass(slots=True, kw_only=True)
class Draft:
    """A drawing without its frame."""

    name: str
    title: str
    scale: Scale
    board: Board
    note: str = ""  # second line of the title


def frame_box(setting: Setting) -> Box:
    """The frame of a drawing sheet."""
    wide, high = setting.paper.sheet
    return Box(left=_BINDING, bottom=_MARGIN, right=wide - _MARGIN, top=high - _MARGIN)


def title_box(setting: Setting) -> Box:
    """Room of the title block, with its status line where there is one."""
    frame = frame_box(setting)
    top = frame.bottom + math.fsum(_ROWS) + (_STATUS if setting.status else 0.0)
    return Box(left=frame.right - _TITLE_WIDTH, bottom=frame.bottom, right=frame.right, top=top)


def drawing_area(setting: Setting) -> Box:
    """Room for the drawing and its tables, left of the title block down to the cautions."""
    frame = frame_box(setting)
    return Box(left=frame.left + 3, bottom=frame.bottom + _FOOT, right=frame.right - 3, top=frame.top - 3)


def finish(job: Job, setting: Setting, drafts: Sequence[Draft]) -> tuple[Sheet, ...]:
    """The drafts as sheets, framed and numbered."""
    return tuple(_framed(job, setting, draft, number, len(drafts)) for number, draft in enumerate(drafts, start=1))


def _framed(job: Job, setting: Setting, draft: Draft, number: int, total: int) -> Sheet:
    frame, block = frame_box(setting), title_box(setting)
    board = Board(area=frame)
    board.rectangle(Pen.FRAME, frame)
    _title(board, job, setting, draft, f"{number} of {total}")
    if setting.status:
        _status(board, setting.status, block)
    bar = _foot(board, frame, block)
    _centring_marks(board, setting, frame)
    wide, high = setting.paper.sheet
    return Sheet(
        name=draft.name,
        title=draft.title,
        width=wide,
        height=high,
        scale=draft.scale,
        frame=frame,
        bar=bar,
        items=(*board.items, *interrupted(draft.board.items)),
        date=job.project.date,
    )


def _title(board: Board, job: Job, setting: Setting, draft: Draft, number: str) -> None:
    block = title_box(setting)
    left, right, project = block.left, block.right, job.project
    levels = [block.bottom]
    for height in _ROWS:
        levels.append(levels[-1] + height)
    board.path(Pen.FRAME, ((left, block.bottom), (left, levels[-1]), (right, levels[-1])))
    for level in levels[1:-1]:
        board.line(Pen.TABLE, (left, level), (right - (34.0 if level == levels[1] else 0.0), level))
    paper = setting.paper.sheet_name
    rows = (
        (levels[0], (("Scale", str(draft.scale), 24.0), ("Sheet", number, 30.0), ("Paper", paper, 26.0))),
        (
            levels[1],
            (
                ("Revision", project.revision or "-", 26.0),
                ("Date", _date(job), 26.0),
                ("Build", setting.build or "-", 28.0),
            ),
        ),
        (levels[2], (("Project", _project(job), 112.0), ("Client", project.client or "-", 68.0))),
    )
    for level, cells in rows:
        x = left
        for caption, value, wide in cells:
            _cell(board, x, level, wide, caption, value)
            x += wide
            if x < right - 1:
                board.line(Pen.TABLE, (x, level), (x, level + 9.0))
    _cell(board, left + 80.0, levels[0], 66.0, "Lengths in", _lengths(setting))
    _cell(board, left + 80.0, levels[1], 66.0, "Drawing", f"{project.id}-{draft.name}")
    board.line(Pen.TABLE, (right - 34.0, levels[0]), (right - 34.0, levels[2]))
    _projection(board, setting.projection, (right - 17.0, levels[0] + 12.3))
    text, height = fit(draft.title, right - left - 4, LARGE, bold=True)
    board.text((left + 2, levels[3] + 5.8), text, height, bold=True)
    text, height = fit(draft.note, right - left - 4, SMALL)
    board.text((left + 2, levels[3] + 1.6), text, height)


def _cell(board: Board, x: float, y: float, wide: float, caption: str, value: str) -> None:
    board.text((x + 1.5, y + 6.2), caption, CAPTION)
    text, height = fit(value, wide - 3, MEDIUM)
    board.text((x + 1.5, y + 1.5), text, height)


def _date(job: Job) -> str:
    return job.project.date.isoformat() if job.project.date else "-"


def _project(job: Job) -> str:
    return job.project.title or job.project.id


def _lengths(setting: Setting) -> str:
    return f"{setting.figures.words}; angles in degrees"


def _projection(board: Board, projection: Projection, centre: Point) -> None:
    """The truncated cone of ISO 5456-2:1996 (from memory), named in words as well."""
    x, y = centre
    away = 8.0 if projection is Projection.FIRST_ANGLE else -8.0
    cone, rings = x - away, x + away
    # the rings are the cone seen from its narrow end, which lies to the left in both
    board.path(Pen.PLATE, ((cone - 4, y - 2), (cone + 4, y - 4), (cone + 4, y + 4), (cone - 4, y + 2)), closed=True)
    board.circle(Pen.PLATE, (rings, y), 2.0)
    board.circle(Pen.PLATE, (rings, y), 4.0)
    board.line(Pen.CENTRE, (min(cone, rings) - 6, y), (max(cone, rings) + 6, y))
    board.line(Pen.CENTRE, (rings, y - 5.5), (rings, y + 5.5))
    board.text((x, y - 8.2), projection.value.replace("-", " "), SMALL, Align.CENTRE)
    board.text((x, y - 11.3), "ISO 128, ISO 129-1", CAPTION, Align.CENTRE)


def _status(board: Board, status: str, block: Box) -> None:
    low = block.top - _STATUS
    board.add(
        Path(
            pen=Pen.FRAME,
            points=((block.left, low), (block.right, low), (block.right, block.top), (block.left, block.top)),
            closed=True,
            filled=True,
        )
    )
    text, height = fit(status, block.width - 6, LARGE, bold=True)
    board.add(
        Label(
            at=((block.left + block.right) / 2, low + (_STATUS - height) / 2),
            text=text,
            height=height,
            align=Align.CENTRE,
            bold=True,
            inverse=True,
        )
    )


def _foot(board: Board, frame: Box, block: Box) -> Point:
    """Cautions and check bar at the lower left; answers where the bar begins."""
    room = block.left - frame.left - 6
    y = frame.bottom + _FOOT - 4.5
    for caution in CAUTIONS:
        for line in wrap(caution, room, SMALL):
            board.text((frame.left + 3, y), line, SMALL)
            y -= 3.8
    bar = (frame.left + 3, frame.bottom + 2.5)
    board.text((bar[0] + BAR + 4, frame.bottom + 1.8), "100 mm check bar; DXF: 1 unit = 1 mm; do not scale", SMALL)
    return bar


def _centring_marks(board: Board, setting: Setting, frame: Box) -> None:
    wide, high = setting.paper.sheet
    for a, b in (
        ((wide / 2, high - 3), (wide / 2, frame.top)),
        ((wide / 2, 3), (wide / 2, frame.bottom)),
        ((3, high / 2), (frame.left, high / 2)),
        ((wide - 3, high / 2), (frame.right, high / 2)),
    ):
        board.add(Line(pen=Pen.FRAME, a=a, b=b))
