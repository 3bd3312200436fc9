"""How a screw must sit in timber: penetration, distances, lead hole. Each is a length set against the least allowed."""

from __future__ import annotations

from railgen.checks.model import Certainty
from railgen.checks.strength.result import Measure, Source, StrengthCheck, num
from railgen.checks.strength.substrate import least_distance
from railgen.checks.strength.timber import Timber, WoodFixing, WoodFixingKind

__all__ = ["distances", "lead_hole", "penetration"]

_DENSE = 0.6  # specific gravity from which timber is drilled as hardwood (from memory)


def _nds(clause: str, certainty: Certainty = Certainty.MEMORY) -> Source:
    return Source(document="NDS", edition="2018", clause=clause, certainty=certainty)


def penetration(fixing: WoodFixing, embedded: float | None) -> StrengthCheck:
    """Least penetration into the bearing timber: 4 D for a lag screw (tip excluded), 6 D for a wood screw."""
    times, clause = (4, "12.1.4.6") if fixing.kind is WoodFixingKind.LAG else (6, "12.1.5.6")
    return least_distance(
        "penetration into the bearing timber",
        needed=times * fixing.diameter,
        given=embedded,
        why=f"{times} D",
        source=_nds(clause),
    )


def distances(
    fixing: WoodFixing, *, edge: float | None, end: float | None, spacing: float | None
) -> tuple[StrengthCheck, ...]:
    """Split risk: distances (mm) from the fixing's axis to the timber's edge and end, and between fixings.

    Across the grain to an edge that sideways load pushes towards: 4 D for lag screws (1.5 D along the grain); ends 4 D
    pushed away from, 7 D pulled towards: 7 D is asked, as a handrail load comes from any side; spacing 4 D. Wood screws
    with a lead hole: edge 2.5 D, end 10 D, spacing 5 D.
    """
    lag = fixing.kind is WoodFixingKind.LAG
    rows = (
        ("edge distance in timber", 4 if lag else 2.5, edge, "Table 12.5.1C" if lag else "commentary Table C12.1.5.7"),
        ("end distance in timber", 7 if lag else 10, end, "Table 12.5.1A" if lag else "commentary Table C12.1.5.7"),
        ("spacing in timber", 4 if lag else 5, spacing, "Table 12.5.1B" if lag else "commentary Table C12.1.5.7"),
    )
    return tuple(
        least_distance(name, needed=times * fixing.diameter, given=given, why=f"{num(times)} D", source=_nds(clause))
        for name, times, given, clause in rows
    )


def lead_hole(fixing: WoodFixing, timber: Timber, drilled: float | None) -> tuple[StrengthCheck, StrengthCheck]:
    """The lead hole is wide enough not to split the timber and tight enough for the thread to hold.

    Wood screw: at least 70 % of the root in softwood, 90 % in hardwood, at most the root. Lag screw, of the shank:
    40 to 70 % below G 0.5, 60 to 75 % to G 0.6, 65 to 85 % above (NDS 12.1.4, from memory).
    """
    gravity = timber.gravity
    size: float | None
    if fixing.kind is WoodFixingKind.LAG:
        low, high = (0.40, 0.70) if gravity is None or gravity <= 0.5 else (0.60, 0.75)
        low, high = (0.65, 0.85) if gravity is not None and gravity > _DENSE else (low, high)
        size, source = fixing.diameter, _nds("12.1.4.3")
    else:
        low, high = (0.90 if gravity is not None and gravity > _DENSE else 0.70), 1.0
        size, source = fixing.root, _nds("12.1.5, commentary", Certainty.SECONDARY)
    inputs = {"the specific gravity of the timber": gravity, "the root diameter": size, "the lead hole": drilled}
    missing = "; ".join(name for name, value in inputs.items() if value is None)
    least, most = (None, None) if size is None else (low * size, high * size)

    def side(name: str, demand: float | None, capacity: float | None, bound: str) -> StrengthCheck:
        return StrengthCheck(
            name=name,
            demand=demand,
            capacity=capacity,
            measure=Measure.LENGTH,
            case="",
            formula=f"{bound}; drilled {_mm(drilled)}",
            sources=(source,),
            missing=missing,
        )

    return (
        side("lead hole, splitting", least, drilled, f"at least {_mm(least)}"),
        side("lead hole, hold", drilled, most, f"at most {_mm(most)}"),
    )


def _mm(value: float | None) -> str:
    return "unknown" if value is None else f"{num(value)} mm"
