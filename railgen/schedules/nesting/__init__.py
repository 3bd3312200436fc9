"""Which piece is cut from which bar: a plan with the least bought length or price, and a bound that says how good."""

from railgen.schedules.nesting.model import Blank, NestedBar, Nesting, SawCut, SectionNesting
from railgen.schedules.nesting.nest import blanks, nest
from railgen.schedules.nesting.saw import saw_table

__all__ = ["Blank", "NestedBar", "Nesting", "SawCut", "SectionNesting", "blanks", "nest", "saw_table"]
