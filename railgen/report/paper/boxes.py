"""Boxes that must not be overlooked: cautions, hold points, what does not count."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, Table

from railgen.report.paper.table import BLACK, Box
from railgen.report.paper.text import MM, Kind, para

__all__ = ["banner", "framed", "hold", "ticks"]


def framed(lines: Sequence[tuple[str, str]], room: float) -> Flowable:
    """Captioned lines in a frame, the caption in bold capitals."""
    rows = [[para(name.upper(), Kind(size=8, bold=True)), para(text, Kind(size=8.5))] for name, text in lines]
    table = Table(rows, colWidths=[19 * MM, room - 19 * MM], spaceBefore=3, spaceAfter=5)
    table.setStyle(
        [
            ("BOX", (0, 0), (-1, -1), 1.0, BLACK),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("TOPPADDING", (0, 0), (-1, -1), 1.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
            ("LEFTPADDING", (0, 0), (-1, -1), 2 * MM),
            ("RIGHTPADDING", (0, 0), (-1, -1), 2 * MM),
        ]
    )
    return table


def hold(text: str, room: float) -> Flowable:
    """A hold point: white on black, with a box and a line for who lets it go on."""
    word = para("HOLD", Kind(size=11, bold=True, white=True))
    sign = para("released by", Kind(size=7.5))
    table = Table(
        [[word, para(text, Kind(size=9, bold=True)), Box(), sign]],
        colWidths=[19 * MM, room - 69 * MM, 7 * MM, 43 * MM],
        spaceBefore=3,
        spaceAfter=5,
    )
    table.setStyle(
        [
            ("BOX", (0, 0), (-1, -1), 1.6, BLACK),
            ("BACKGROUND", (0, 0), (0, 0), BLACK),
            ("LINEBEFORE", (2, 0), (2, 0), 0.6, BLACK),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
            ("VALIGN", (3, 0), (3, 0), "TOP"),
            ("TOPPADDING", (0, 0), (-1, -1), 4),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 6),
            ("LEFTPADDING", (0, 0), (-1, -1), 2 * MM),
            ("RIGHTPADDING", (0, 0), (-1, -1), 1 * MM),
        ]
    )
    return table


def banner(text: str, room: float, *, filled: bool) -> Flowable:
    """One large line in a box, white on black where ``filled``."""
    table = Table([[para(text, Kind(size=15, bold=True, white=filled))]], colWidths=[room], spaceBefore=6, spaceAfter=8)
    table.setStyle(
        [
            ("BOX", (0, 0), (-1, -1), 1.6, BLACK),
            *((("BACKGROUND", (0, 0), (-1, -1), BLACK),) if filled else ()),
            ("TOPPADDING", (0, 0), (-1, -1), 5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 8),
            ("LEFTPADDING", (0, 0), (-1, -1), 3 * MM),
        ]
    )
    return table


def ticks(lines: Sequence[str], room: float) -> Flowable:
    """Lines with a box to tick before each."""
    table = Table(
        [[Box(), para(line, Kind(size=9))] for line in lines],
        colWidths=[6 * MM, room - 6 * MM],
        spaceAfter=3,
    )
    table.setStyle(
        [
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("TOPPADDING", (0, 0), (-1, -1), 1.2),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.8),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ]
    )
    return table
