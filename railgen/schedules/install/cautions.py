"""Cautions and where they come from. Local law and the makers' own instructions come first."""

from __future__ import annotations

from railgen.schedules.install.model import Caution

__all__ = [
    "ADHESIVE",
    "CLEANING",
    "CODES",
    "CONCRETE",
    "EDGES",
    "EYES",
    "FALLS",
    "GALVANIC",
    "HEARING",
    "HYGIENE",
    "LEANING",
    "OPEN_ENDS",
    "PICKLING",
    "RESIN",
    "SERVICES",
    "TIMBER",
    "WELDING",
    "WHEELS",
]

_PRACTICE = "common practice"

HYGIENE = Caution(
    text="Keep stainless steel away from carbon steel: clean covered benches, tools, brushes and wheels that never "
    "touched carbon steel, no steel wool, no swarf left lying. Embedded iron rusts.",
    source="guidance on fabricating stainless steel of SSINA and ASSDA",
)
EYES = Caution(
    text="Wear eye protection when sawing, drilling, deburring and setting rivets.",
    source="29 CFR 1910.133 (number from memory)",
)
HEARING = Caution(
    text="Wear hearing protection: sawing and grinding tube easily passes 85 dBA, where hearing has to be looked after "
    "over a working day.",
    source="29 CFR 1910.95(c)(1)",
)
WHEELS = Caution(
    text="Keep guards on wheels, check them for cracks and run them below their marked speed.",
    source="29 CFR 1910.215 (number from memory)",
)
EDGES = Caution(
    text="Cut ends and chips of stainless steel are sharp and hot: gloves for handling, none near a turning spindle; "
    "clamp every piece.",
    source=_PRACTICE,
)
SERVICES = Caution(
    text="Look for cables, pipes, underfloor heating and stressed steel before drilling; if you cannot tell, stop.",
    source=_PRACTICE,
)
CONCRETE = Caution(
    text="Dust of concrete and masonry holds silica (limit 50 µg/m³ as an 8 hour mean): drill with the maker's shroud "
    "and dust collector, hold a HEPA vacuum at each hole whenever it is cleaned, by brush or by air, and sweep nothing "
    "dry.",
    source="29 CFR 1926.1153(c) Table 1, entry (vii), and (f) (the latter from memory)",
)
TIMBER = Caution(
    text="Pre-drill every hole to the size given: timber splits near edges and ends. Do not fix into end grain, hollow "
    "treads or decayed wood.",
    source=_PRACTICE,
)
GALVANIC = Caution(
    text="Where it can get wet, isolate stainless steel from carbon steel and aluminium by non-conductive pads, "
    "sleeves and washers, and never use carbon-steel fixings in it.",
    source="published notes on galvanic corrosion; " + _PRACTICE,
)
FALLS = Caution(
    text="An open stair edge has no rail yet: close the stair to others, work from the inner side, keep tools and "
    "tubes from falling on people below.",
    source=_PRACTICE,
)
LEANING = Caution(
    text="Nobody leans on, climbs on or holds on to a rail under trial fit: it is held by nothing. Tie it off and put "
    "up a sign.",
    source=_PRACTICE,
)
ADHESIVE = Caution(
    text="Read the adhesive's safety data sheet: gloves, fresh air, no flames.",
    source=_PRACTICE,
)
RESIN = Caution(
    text="Read the resin's safety data sheet: gloves and eye protection, fresh air; uncured resin burns and sensitises "
    "skin.",
    source=_PRACTICE,
)
OPEN_ENDS = Caution(
    text="An open tube end cuts and catches sleeves, and many codes want ends returned or closed.",
    source=_PRACTICE,
)
CLEANING = Caution(
    text="No hydrochloric (muriatic) acid, brick cleaner, bleach or chloride on stainless steel; rinse with water.",
    source="guidance on stainless steel of SSINA and ASSDA; ASTM A380",
)
PICKLING = Caution(
    text="Pickling and passivating use nitric and hydrofluoric acid, which is dangerous: leave them to specialists.",
    source="ASTM A380; ASTM A967 (number from memory)",
)
WELDING = Caution(
    text="Welding and hot cutting of stainless steel set free chromium(VI) (limit 5 µg/m³ as an 8 hour mean): extract "
    "the fumes at the arc and follow the exposure rules.",
    source="29 CFR 1910.1026",
)
CODES = Caution(
    text="The local building code and a licensed engineer or builder decide whether this rail may be built and used.",
    source=_PRACTICE,
)
