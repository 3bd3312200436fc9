"""Lists for the workshop and numbers for other programs, all from the same members."""

from railgen.schedules.book import Book, make_book
from railgen.schedules.drill import drill_schedule
from railgen.schedules.install import HandOver, Step, hand_over, installation
from railgen.schedules.lists import cut_list, parts_list
from railgen.schedules.numbers import layout_json
from railgen.schedules.table import Column, Table

__all__ = [
    "Book",
    "Column",
    "HandOver",
    "Step",
    "Table",
    "cut_list",
    "drill_schedule",
    "hand_over",
    "installation",
    "layout_json",
    "make_book",
    "parts_list",
]
