"""The job file that ``railgen new`` writes: short, commented, and ready to be changed into one's own.

Nothing heavy is imported here: ``new`` starts at once.
"""

from __future__ import annotations

import re
from pathlib import Path

from railgen.errors import DEVICES, Fault, OutputError, printable

__all__ = ["starter_text", "write_starter"]

_TEXT = """\
# A railgen job. Lengths are in mm; for inches set units = "inch" and write 7.75, "7-3/4" or "4 ft 11 in".
# Change the values to your own stair, then run: railgen check {file}
format = 1
units = "mm"

[project]
id = "{id}" # also the name of the folder that the pack is written to
title = "Boathouse, steps to the sail store"
revision = "A"

[hardware]
set = "wide-48.3" # railgen catalogue lists what there is; your own files: catalogue = ["mine.toml"]

[rail]
side = "left" # as seen walking up
least_height = 900 # from every nosing up to the top of the tube; ask your local code
bottom = {{ finish = "scroll", overhang = 190 }} # cap, scroll or open; rail beyond the end post
top = {{ finish = "cap", overhang = 150 }} # or level_extension = 305 instead of overhang: level over the floor

[posts]
lengths = "equal" # or "cut": each post cut to suit
setback = 125 # from a nosing back to the post's axis
setback_band = [75, 180] # how far the tool may move a post within its tread
edge_offset = 65 # from the tread's side edge to the post's axis
substrate = "timber" # or concrete, steel

# The stair, bottom to top. Measure every step: the list is what makes the rail fit. A riser is the height from one
# tread's top to the next; a going runs from nosing to nosing, level. There is one going fewer than risers.
[[stair]]
kind = "flight"
risers = [172, 178, 175, 179, 174, 177]
goings = [262, 258, 261, 259, 263]
total_rise = 1056 # measured once more from floor to floor; the difference is reported
nosing_overhang = 22
width = 880
tread_thickness = 45
# posts = [1, 6] # treads that carry a post; left out, they are chosen by largest_span

# A landing and a second flight would follow like this:
# [[stair]]
# kind = "landing"
# length = 950
# turn = "half-left" # straight, quarter-left, quarter-right, half-left, half-right
# well = 120 # half turns: between the two flights
#
# [[stair]]
# kind = "flight"
# ...

# Is it legal, does it hold? Name a building code and a load, and say what is around and under the rail; what is not
# said is answered "cannot say", with the key that is missing. railgen catalogue lists rule sets and loads, and shows
# each with its clauses. Take the marks off the lines below, and make every value true of your stair.
# [rules]
# sets = ["uk-adk-2013-private"]
#
# [surroundings]
# beside = "open" # or wall; of one flight or landing alone: surroundings.beside under its [[stair]]
# other.beside = "wall" # the side across from the rail
# occupancy = "one-family" # two-family, townhouse, flat, not-public, other
# guarding = "none" # the rail alone; infill, or a separate barrier
#
# [strength]
# loads = ["bs-dwelling"]
# tube = {{ standard = "en-welded-tube" }}
# plate = {{ standard = "en-hot-strip" }}
# fastener_class = "70"
# deflection_rule = "bs-6180"
#
# [strength.stated] # from data sheets; leave out what they do not say
# document = "data sheet of the fittings"
# rivet_shear = 3000 # N
#
# [ground]
# species = "douglas-fir-larch"
# exposure = "indoor"
#
# [[ground.layers]] # from the top down
# kind = "timber"
# thickness = 45
"""


def starter_text(file: str = "job.toml") -> str:
    """The starter job, named after its file.

    >>> starter_text("north stair.toml").splitlines()[6]
    'id = "north_stair" # also the name of the folder that the pack is written to'
    """
    name = re.sub(r"[^A-Za-z0-9_-]+", "_", Path(file).stem).strip("_-")[:60]
    return _TEXT.format(id="first_stair" if not name or name.upper() in DEVICES else name, file=printable(file, 120))


def write_starter(path: Path) -> None:
    """Write the starter job to a new file. Raises OutputError where one is there already or none can be written."""
    made = False
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            made = True
            file.write(starter_text(path.name))
    except FileExistsError:
        kind = "folder" if path.is_dir() else "file"
        raise OutputError(_fault(path, "exists", f"there is a {kind} already, and it is not overwritten")) from None
    except (OSError, ValueError) as error:
        if made:  # the disk is full
            path.unlink(missing_ok=True)
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "the name is not one a file has"
        raise OutputError(_fault(path, "cannot-write", f"it cannot be written: {reason}")) from None


def _fault(path: Path, code: str, message: str) -> Fault:
    return Fault(code=code, where="", message=message, hint="choose another name", file=str(path))
