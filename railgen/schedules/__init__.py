"""Lists for the workshop and numbers for other programs, all from the same members."""

from railgen.schedules.book import Book, make_book
from railgen.schedules.drill import drill_table
from railgen.schedules.install import HandOver, Step, hand_over, installation
from railgen.schedules.lists import cut_table, parts_table
from railgen.schedules.numbers import layout_json
from railgen.schedules.table import Column, Quantity, Table

__all__ = [
    "Book",
    "Column",
    "HandOver",
    "Quantity",
    "Step",
    "Table",
    "cut_table",
    "drill_table",
    "hand_over",
    "installation",
    "layout_json",
    "make_book",
    "parts_table",
]
