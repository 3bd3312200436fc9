"""The limits as the documents give them, typed from notes on the documents and not from the rule files.

One line each: kind | least | most | clause | certainty. Numbers in the unit of the document (mm or inch, degrees,
count, percent). ``secondary``: read in a secondary or older text; ``memory``: from memory, not confirmed.
"""

from __future__ import annotations

from dataclasses import dataclass

from railgen.checks.rules import Kind

__all__ = ["FALLS", "LIMITS", "Limit"]

_AU_HP = """
riser-count            | 2   | 18  | 11.2.2(1)(a) | read
riser                  | 115 | 190 | Table 11.2.2a | read
going                  | 240 | 355 | Table 11.2.2a | read
step                   | 550 | 700 | Table 11.2.2a | read
riser-adjacent         |     | 5   | 11.2.2(1)(c) | read
going-adjacent         |     | 5   | 11.2.2(1)(c) | read
riser-spread           |     | 10  | 11.2.2(1)(c) | read
going-spread           |     | 10  | 11.2.2(1)(c) | read
tread-gap              |     | 125 | 11.2.2(1)(d) | read
landing-length         | 750 |     | 11.2.5 | read
guard-height-flight    | 865 |     | 11.3.4(2) | read
guard-height-landing   | 1000 |    | 11.3.4(2) | read
guard-opening-flight   |     | 125 | 11.3.4(4) | read
guard-opening-landing  |     | 125 | 11.3.4(4) | read
handrail-height        | 865 |     | 11.3.5 | read
handrail-continuity    |     | 0   | 11.3.5 | read
"""
_AU_SERVICE = """
riser-count            | 2   | 18  | 11.2.2(1)(a) | read
riser                  | 130 | 225 | Table 11.2.2b | read
going                  | 215 | 355 | Table 11.2.2b | read
step                   | 540 | 700 | Table 11.2.2b | read
riser-adjacent         |     | 5   | 11.2.2(1)(c) | read
going-adjacent         |     | 5   | 11.2.2(1)(c) | read
riser-spread           |     | 10  | 11.2.2(1)(c) | read
going-spread           |     | 10  | 11.2.2(1)(c) | read
tread-gap              |     | 125 | 11.2.2(1)(d) | read
landing-length         | 600 |     | 11.2.5 | read
guard-height-flight    | 865 |     | 11.3.4(2) | read
guard-height-landing   | 1000 |    | 11.3.4(2) | read
guard-opening-flight   |     | 300 | 11.3.4(7) | read
guard-opening-landing  |     | 300 | 11.3.4(7) | read
handrail-height        | 865 |     | 11.3.5 | read
handrail-continuity    |     | 0   | 11.3.5 | read
"""
_AU_NCC1 = """
riser-count            | 2   | 18  | D3D14 | memory
riser                  | 115 | 190 | D3D14 | secondary
going                  | 250 | 355 | D3D14 | secondary
step                   | 550 | 700 | D3D14 | secondary
riser-adjacent         |     | 5   | D3D14 | memory
going-adjacent         |     | 5   | D3D14 | memory
riser-spread           |     | 10  | D3D14 | memory
going-spread           |     | 10  | D3D14 | memory
tread-gap              |     | 125 | D3D14 | memory
landing-length         | 750 |     | D3D15 | memory
clear-width            | 1000 |    | D2D8 | secondary
guard-height-flight    | 865 |     | D3D18 | secondary
guard-height-landing   | 1000 |    | D3D18 | secondary
guard-opening-flight   |     | 125 | D3D19 | memory
guard-opening-landing  |     | 125 | D3D19 | memory
handrail-height        | 865 |     | D3D22 | secondary
handrail-continuity    |     | 0   | D3D22 | memory
"""
_US_IRC = """
clear-width            | 31.5 |     | R311.7.1 | secondary
stair-width            | 36  |      | R311.7.1 | secondary
headroom               | 80  |      | R311.7.2 | secondary
flight-rise            |     | 151  | R311.7.3 | secondary
riser                  |     | 7.75 | R311.7.5.1 | secondary
riser-spread           |     | 0.375 | R311.7.5.1 | secondary
tread-gap              |     | 4    | R311.7.5.1 | memory
going                  | 10  |      | R311.7.5.2 | secondary
going-spread           |     | 0.375 | R311.7.5.2 | secondary
nosing                 | 0.75 | 1.25 | R311.7.5.3 | secondary
nosing-radius          |     | 0.5625 | R311.7.5.3 | memory
landing-length         | 36  |      | R311.7.6 | secondary
handrail-height        | 34  | 38   | R311.7.8.1 | secondary
projection             |     | 4.5  | R311.7.8.2 | secondary
wall-clearance         | 1.5 |      | R311.7.8.3 | secondary
handrail-continuity    |     | 0    | R311.7.8.4 | secondary
grip                   | 1.25 | 2   | R311.7.8.5 | secondary
guard-height-flight    | 34  |      | R312.1.2 | secondary
guard-height-landing   | 36  |      | R312.1.2 | secondary
guard-opening-flight   |     | 4.375 | R312.1.3 | secondary
guard-opening-landing  |     | 4    | R312.1.3 | secondary
handrail-loads         | 1   |      | R301.5 | memory
"""
_US_IBC_BOTH = """
headroom               | 80  |      | 1011.3 | memory
riser-spread           |     | 0.375 | 1011.5.4 | secondary
going-spread           |     | 0.375 | 1011.5.4 | secondary
nosing                 |     | 1.25 | 1011.5.5 | secondary
nosing-radius          |     | 0.5625 | 1011.5.5 | memory
tread-gap              |     | 0    | 1011.5.5.3 | secondary
landing-length         | 48  |      | 1011.6 | secondary
flight-rise            |     | 144  | 1011.8 | memory
handrail-height        | 34  | 38   | 1014.2 | secondary
grip                   | 1.25 | 2   | 1014.3 | secondary
handrail-continuity    |     | 0    | 1014.4 | secondary
under-clearance        | 1.5 |      | 1014.4 | secondary
wall-clearance         | 1.5 |      | 1014.7 | secondary
projection             |     | 4.5  | 1014.8 | secondary
guard-opening-landing  |     | 4    | 1015.4 | secondary
"""
_US_IBC = (
    _US_IBC_BOTH
    + """
stair-width            | 44  |      | 1011.2 | memory
riser                  | 4   | 7    | 1011.5.2 | secondary
going                  | 11  |      | 1011.5.2 | secondary
extension-top-level    | 12  |      | 1014.6 | secondary
guard-height-flight    | 42  |      | 1015.3 | secondary
guard-height-landing   | 42  |      | 1015.3 | secondary
guard-opening-flight   |     | 4    | 1015.4 | secondary
handrail-loads         | 1   |      | 1607.9.1 | read
between-rails          |     | 60   | 1014.9 | secondary
"""
)
_US_IBC_DWELLING = (
    _US_IBC_BOTH
    + """
stair-width            | 36  |      | 1011.2 | memory
riser                  |     | 7.75 | 1011.5.2 | secondary
going                  | 10  |      | 1011.5.2 | secondary
nosing                 |     | 1.25 | 1011.5.2 | secondary
guard-height-flight    | 34  |      | 1015.3 | secondary
guard-height-landing   | 36  |      | 1015.3 | secondary
guard-opening-flight   |     | 4.375 | 1015.4 | secondary
handrail-loads         | 1   |      | 1607.9.1, exception 1 | read
handrail-loads         | 1   |      | 1607.9.1 | read
"""
)
_US_ADA = """
riser                  | 4   | 7    | 504.2 | read
going                  | 11  |      | 504.2 | read
tread-gap              |     | 0    | 504.3 | read
nosing-radius          |     | 0.5  | 504.5 | read
nosing                 |     | 1.5  | 504.5 | read
handrail-continuity    |     | 0    | 505.3 | read
handrail-height        | 34  | 38   | 505.4 | read
handrail-height-landing | 34 | 38   | 505.4 | memory
wall-clearance         | 1.5 |      | 505.5 | read
under-blocked          |     | 20   | 505.6 | read
under-clearance        | 1.5 |      | 505.6 | read
grip                   | 1.25 | 2   | 505.7.1 | read
extension-top-level    | 12  |      | 505.10.2 | read
"""
_US_OSHA = """
pitch                  | 30  | 50   | 1910.25(c)(1) | read
riser                  |     | 9.5  | 1910.25(c)(2) | read
going                  | 9.5 |      | 1910.25(c)(3) | read
clear-width            | 22  |      | 1910.25(c)(4) | read
headroom               | 80  |      | 1910.25(b)(2) | read
landing-length         | 30  |      | 1910.25(b)(4) | read
handrail-height        | 30  | 38   | 1910.29(f)(1)(i) | read
wall-clearance         | 2.25 |     | 1910.29(f)(2) | read
guard-height-flight    | 42  |      | 1910.29(f)(1)(ii) | read
guard-height-landing   | 39  | 45   | 1910.29(b)(1) | read
guard-opening-flight   |     | 19   | 1910.29(f)(4) | read
guard-opening-landing  |     | 19   | 1910.29(b)(2) | read
handrail-loads         | 1   |      | 1910.29(f)(7) | memory
between-rails          |     | 88   | 1910.28(b)(11)(ii), Table D-2 | memory
"""
_UK_ALL = """
step                   | 550 | 700 | Table 1.1, note | read
headroom               | 2000 |    | 1.11 | secondary
risers-in-line         |     | 36  | 1.18 | read
guard-height-flight    | 900 |     | Diagram 3.1 | read
guard-opening-flight   |     | 100 | 3.3 | secondary
guard-opening-landing  |     | 100 | 3.3 | secondary
"""
_UK_PRIVATE = (
    _UK_ALL
    + """
riser                  | 150 | 220 | Table 1.1 | read
going                  | 220 | 300 | Table 1.1 | read
pitch                  |     | 42  | Table 1.1 | read
tread-gap              |     | 100 | 1.9 | read
nosing                 |     | 25  | 1.7 | secondary
landing-length         | 1500 |    | 1.20 to 1.21 | secondary
handrail-height        | 900 | 1000 | 1.34 | read
handrail-height-landing | 900 | 1000 | 1.34 | read
handrail-continuity    |     | 0   | 1.34 | secondary
guard-height-landing   | 900 |     | Diagram 3.1 | read
"""
)
_UK_SHARED = (
    _UK_ALL
    + """
going                  | 250 | 400 | Table 1.1 | read
landing-length         | 1500 |    | 1.20 to 1.23 | secondary
handrail-continuity    |     | 0   | 1.35 | read
grip-length            |     | 0   | 1.35 | read
guard-height-landing   | 1100 |    | Diagram 3.1 | read
"""
)
_UK_FLATS = (
    _UK_SHARED
    + """
riser                  | 150 | 170 | Table 1.1 | read
riser-count            | 2   | 12  | 1.17 | read
tread-gap              |     | 0   | 1.10 | read
nosing                 |     | 25  | 1.10 | secondary
handrail-height        | 900 | 1000 | Diagram 1.11 | read
handrail-height-landing | 1000 | 1000 | Diagram 1.11 | read
extension-top-level    | 300 |     | Diagram 1.11 | read
extension-bottom-level | 300 |     | Diagram 1.11 | read
"""
)
_UK_OTHER_BOTH = (
    _UK_SHARED
    + """
tread-gap              |     | 0   | 1.6 | read
nosing                 |     | 25  | 1.7 | read
stair-width            | 1200 |    | 1.15 | read
clear-width            | 1000 |    | 1.15 | read
between-rails          |     | 2000 | 1.15, Diagram 1.5 | read
handrail-height        | 900 | 1000 | Diagram 1.12 | read
handrail-height-landing | 900 | 1100 | Diagram 1.12 | read
extension-top-level    | 300 |     | Diagram 1.12 | read
extension-bottom-level | 300 |     | Diagram 1.12 | read
grip                   | 32  | 50  | Diagram 1.13 | read
wall-clearance         | 50  | 75  | Diagram 1.13 | read
under-clearance        | 50  |     | Diagram 1.13 | read
rail-inside-edge       |     | 50  | Diagram 1.13 | read
"""
)
_UK_OTHER = (
    _UK_OTHER_BOTH
    + """
riser                  | 150 | 170 | Table 1.1 | read
riser-count            | 2   | 12  | 1.17 | read
"""
)
_UK_UTILITY = (
    _UK_OTHER_BOTH
    + """
riser                  | 150 | 190 | Table 1.1 | read
riser-count            | 2   | 16  | 1.17 | read
"""
)
_UK_EXTERNAL = """
riser                  | 150 | 170 | 1.33 | read
going                  | 280 | 425 | 1.33 | read
riser-count            |     | 12  | 1.33 | read
tread-gap              |     | 0   | 1.33 | read
stair-width            | 1200 |    | 1.33 | read
between-rails          |     | 1800 | 1.33 | read
handrail-height        | 900 | 1000 | 1.37 | read
handrail-height-landing | 900 | 1100 | 1.37 | read
handrail-continuity    |     | 0   | 1.37 | read
grip-length            |     | 0   | 1.37 | read
grip                   | 32  | 50  | 1.37 | read
wall-clearance         | 50  | 75  | 1.37 | read
under-clearance        | 50  |     | 1.37 | read
projection             |     | 100 | 1.37 | read
rail-inside-edge       |     | 50  | 1.37 | read
extension-top-level    | 300 |     | 1.37 | read
extension-bottom-level | 300 |     | 1.37 | read
"""
_UK_VISITABLE = """
riser                  | 75  | 150 | 1.8 | read
going                  | 280 |     | 1.8 | read
flight-rise            |     | 1800 | 1.8 | read
stair-width            | 900 |     | 1.8 | read
handrail-height        | 850 | 1000 | 1.8 | read
extension-top          | 300 |     | 1.8 | read
extension-bottom       | 300 |     | 1.8 | read
"""
_UK_ACCESSIBLE = """
riser                  | 150 | 170 | 2.11, 3.11 | read
going                  | 280 | 425 | 2.11, 3.11 | read
handrail-height        | 850 | 1000 | 2.11, 3.11 | read
extension-top          | 300 |     | 2.11, 3.11 | read
extension-bottom       | 300 |     | 2.11, 3.11 | read
"""
_CA_BOTH = """
riser-adjacent         |     | 5   | 9.8.4.4 | read
going-adjacent         |     | 5   | 9.8.4.4 | read
riser-spread           |     | 10  | 9.8.4.4 | read
going-spread           |     | 10  | 9.8.4.4 | read
flight-rise            |     | 3700 | 9.8.3.3 | read
handrail-height        | 865 | 1070 | 9.8.7.4 | read
handrail-continuity    |     | 0   | 9.8.7.2 | read
grip-length            |     | 0   | 9.8.7.2 | read
wall-clearance         | 50  |     | 9.8.7.5 | read
projection             |     | 100 | 9.8.7.6 | read
guard-height-flight    | 900 |     | 9.8.8.3 | read
guard-opening-flight   |     | 100 | 9.8.8.5 | read
guard-opening-landing  |     | 100 | 9.8.8.5 | read
"""
_CA_DWELLING = (
    _CA_BOTH
    + """
riser                  | 125 | 200 | 9.8.4.1 | read
going                  | 255 | 355 | 9.8.4.2 | read
headroom               | 1950 |    | 9.8.2.2 | read
guard-height-landing   | 900 |     | 9.8.8.3 | read
"""
)
_CA_OTHER = (
    _CA_BOTH
    + """
riser                  | 125 | 180 | 9.8.4.1 | read
going                  | 280 |     | 9.8.4.2 | read
headroom               | 2050 |    | 9.8.2.2 | read
tread-gap              |     | 0   | 9.8.4.9 | read
extension-top-level    | 300 |     | 9.8.7.3 | read
extension-bottom-level | 300 |     | 9.8.7.3 | read
guard-height-landing   | 1070 |    | 9.8.8.3 | memory
"""
)
_ALL = {
    "au-hp-2022": (_AU_HP, 1.0),
    "au-hp-2022-service": (_AU_SERVICE, 1.0),
    "au-ncc1-2022": (_AU_NCC1, 1.0),
    "us-irc-2021": (_US_IRC, 25.4),
    "us-ibc-2021": (_US_IBC, 25.4),
    "us-ibc-2021-dwelling": (_US_IBC_DWELLING, 25.4),
    "us-ada-2010": (_US_ADA, 25.4),
    "us-osha-1910": (_US_OSHA, 25.4),
    "uk-adk-2013-private": (_UK_PRIVATE, 1.0),
    "uk-adk-2013-flats": (_UK_FLATS, 1.0),
    "uk-adk-2013-other": (_UK_OTHER, 1.0),
    "uk-adk-2013-utility": (_UK_UTILITY, 1.0),
    "uk-adm2-2015-external": (_UK_EXTERNAL, 1.0),
    "uk-adm1-2015-visitable-external": (_UK_VISITABLE, 1.0),
    "uk-adm1-2015-accessible-external": (_UK_ACCESSIBLE, 1.0),
    "ca-nbcae-2023-dwelling": (_CA_DWELLING, 1.0),
    "ca-nbcae-2023": (_CA_OTHER, 1.0),
}
_PLAIN = {
    Kind.CONTINUITY,
    Kind.GRIP_LENGTH,
    Kind.LOADS,
    Kind.PITCH,
    Kind.RISERS_IN_LINE,
    Kind.RISER_COUNT,
    Kind.UNDER_BLOCKED,
}

FALLS: dict[str, tuple[float, bool]] = {
    "au-hp-2022": (1000.0, True),  # ABCB Housing Provisions 2022, 11.3.3, read: 1 m or more
    "au-hp-2022-service": (1000.0, True),
    "au-ncc1-2022": (1000.0, True),  # NCC Volume One 2022, D3D17, from memory
    "us-irc-2021": (30 * 25.4, False),  # IRC R312.1.1, secondary: more than 30 in
    "us-ibc-2021": (30 * 25.4, False),  # IBC 1015.2, secondary
    "us-ibc-2021-dwelling": (30 * 25.4, False),
    "uk-adk-2013-private": (600.0, False),  # Approved Document K 2013, 1.38 to 1.41, read: more than 600 mm
    "ca-nbcae-2023": (600.0, False),  # National Building Code - 2023 Alberta Edition, 9.8.8.1, read: more than 600 mm
    "ca-nbcae-2023-dwelling": (600.0, False),
    "us-osha-1910": (48 * 25.4, True),  # 29 CFR 1910.28(b)(11), read: 4 ft or more; landings
}
"""Fall from which each document asks for a barrier (mm), and whether that very fall already does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One line of the table; bounds in mm, degrees, counts or percent."""

    rule_set: str
    kind: Kind
    least: float | None
    most: float | None
    clause: str
    certainty: str


def _read() -> tuple[Limit, ...]:
    limits = []
    for rule_set, (text, unit) in _ALL.items():
        for line in text.strip().splitlines():
            if not line:
                continue
            kind, least, most, clause, certainty = (cell.strip() for cell in line.split("|"))
            factor = 1.0 if Kind(kind) in _PLAIN else unit
            limits.append(
                Limit(
                    rule_set=rule_set,
                    kind=Kind(kind),
                    least=float(least) * factor if least else None,
                    most=float(most) * factor if most else None,
                    clause=clause,
                    certainty=certainty,
                )
            )
    return tuple(limits)


LIMITS = _read()
