"""Lists for the workshop and numbers for other programs, all from the same members."""

from railgen.schedules.drill import drill_schedule
from railgen.schedules.lists import cut_list, parts_list
from railgen.schedules.numbers import layout_json

__all__ = ["cut_list", "drill_schedule", "layout_json", "parts_list"]
