"""Tables keep their words: they are set smaller, then wrapped, and no row is torn between two pages."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from railgen.drawings.board import Board
from railgen.drawings.lettering import CAPTION, width
from railgen.drawings.sheet import Box
from railgen.drawings.table import Table, draw_table

ROWS = tuple((f"H{n}", "1403.9", "screw, saddle to rail", "adjustable-saddle-48.3-cradle:S1") for n in range(1, 9))
WHOLE = Table(headings=("Hole", "From datum", "Purpose", "Mates with"), rows=ROWS)
NATURAL = sum(WHOLE.widths())


@pytest.mark.parametrize("share", [1.0, 0.9, 0.85, 0.8])
def test_no_word_is_lost_where_room_is_short(share: float) -> None:
    room = NATURAL * share
    board = Board(area=Box(left=0, bottom=0, right=400, top=300))
    draw_table(board, WHOLE.wrapped(room), (0.0, 300.0), room)
    texts = [item for item in board.items if hasattr(item, "text")]
    words = " ".join(item.text for item in texts)
    assert "…" not in words
    assert words.count("saddle") == 2 * len(ROWS)
    assert all(item.height >= CAPTION for item in texts)
    assert all(item.at[0] + width(item.text, item.height) <= room + 0.5 for item in texts)


@given(st.lists(st.integers(1, 9), min_size=1, max_size=30), st.integers(1, 12), st.integers(0, 12))
def test_no_row_is_torn_apart_that_fits_a_page(sizes: list[int], rows: int, first: int) -> None:
    lines = [(f"H{n}" if line == 0 else "", f"{n}.{line}") for n, size in enumerate(sizes) for line in range(size)]
    table = Table(headings=("Hole", "words"), rows=tuple(lines))
    pages = table.pages(rows, first=first)
    assert [row for page in pages for row in page.rows] == lines
    assert all(len(page.rows) <= (first if n == 0 else rows) for n, page in enumerate(pages) if first <= rows or n)
    for n, size in enumerate(sizes):
        if size <= rows and max(sizes) <= rows:
            holding = [page for page in pages if any(row[1].split(".")[0] == str(n) for row in page.rows)]
            assert len(holding) == 1
