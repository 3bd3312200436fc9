"""Flights and landings resolved: steps from whichever way they were measured, and what must agree between them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise

from railgen.errors import Fault
from railgen.fields import Length
from railgen.job.file import GOING, RISER, WELL, FlightTable, JobFile, LandingTable
from railgen.job.model import CornerJoint, Flight, Landing, Turn
from railgen.units import MM_PER_INCH, Unit, format_length

__all__ = ["StairReading", "read_stair"]

_FORMS = {"risers": "steps", "goings": "steps", "nosings": "nosings"}
_FORMS |= {"rise": "nominal", "going": "nominal", "riser_count": "nominal"}
_ABSURD = 0.2  # a total that differs by more than this share of the sum belongs to another stair


@dataclass(slots=True, kw_only=True)
class StairReading:
    """Flights and landings, remarks, and what is wrong."""

    flights: list[Flight] = field(default_factory=list)
    landings: list[Landing] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    flaws: list[Fault] = field(default_factory=list)


def read_stair(file: JobFile) -> StairReading:
    """Resolve the stair's list; flights that cannot be resolved are left out and told as flaws."""
    reading = StairReading()
    reading.flaws += _order_flaws(file)
    flights = [(at, item) for at, item in enumerate(file.stair) if isinstance(item, FlightTable)]
    for number, (at, item) in enumerate(flights, start=1):
        steps, flaws = _steps(item, file.units)
        reading.flaws += (_at(at, flaw) for flaw in flaws)
        if steps is None:
            continue
        risers, goings = steps
        reading.flaws += (_at(at, flaw) for flaw in _flight_flaws(item, risers, goings, file.units))
        if item.rise is not None:
            reading.notes.append(
                f"flight {number}: rise and going are nominal, not measured; measure every step before anything is cut"
            )
        going = item.design_going if item.design_going is not None else math.fsum(goings) / max(1, len(goings))
        reading.flights.append(_flight(number, item, risers, goings, going))
    landings = [(at, item) for at, item in enumerate(file.stair) if isinstance(item, LandingTable)]
    for number, (at, landing) in enumerate(landings, start=1):
        reading.flaws += (_at(at, flaw) for flaw in _landing_flaws(landing, file.units))
        reading.flaws += (_at(at, flaw) for flaw in _meeting_flaws(file, at, landing))
        reading.landings.append(_landing(number, landing))
    return reading


def _flight(
    number: int, item: FlightTable, risers: tuple[float, ...], goings: tuple[float, ...], design_going: float
) -> Flight:
    return Flight(
        number=number,
        risers=risers,
        goings=goings,
        total_rise=item.total_rise,
        total_run=item.total_run,
        overhang=item.nosing_overhang,
        width=item.width,
        design_going=design_going,
        tread_thickness=item.tread_thickness,
        posts=item.posts,
        as_measured=item.as_measured,
        surroundings=item.surroundings,
    )


def _landing(number: int, item: LandingTable) -> Landing:
    return Landing(
        number=number,
        length=item.length,
        turn=item.turn,
        well=item.well or 0.0,
        upper_offset=item.upper_offset,
        corner=item.corner,
        square=item.square,
        thickness=item.thickness,
        surroundings=item.surroundings,
    )


def _at(index: int, flaw: Fault) -> Fault:
    """The flaw of one flight or landing, placed in the stair's list."""
    return replace(flaw, where=f"stair[{index}].{flaw.where}".removesuffix("."))


def _order_flaws(file: JobFile) -> Iterator[Fault]:
    for at, item in enumerate(file.stair):
        wanted = "landing" if at % 2 else "flight"
        if item.kind != wanted:
            yield Fault(
                code="stair-order",
                where=f"stair[{at}].kind",
                message=f"a {item.kind} stands where a {wanted} is wanted",
                allowed="flights and landings in turn, bottom to top, a flight first",
            )
            return
    if len(file.stair) % 2 == 0:
        yield Fault(
            code="stair-order",
            where=f"stair[{len(file.stair) - 1}]",
            message="the stair ends with a landing",
            allowed="a flight last: the floor it arrives on needs no landing",
        )


Steps = tuple[tuple[float, ...], tuple[float, ...]]


def _steps(item: FlightTable, unit: Unit) -> tuple[Steps | None, list[Fault]]:
    """Risers and goings from whichever form was used."""
    typed = [key for key in _FORMS if getattr(item, key) is not None]
    forms = list(dict.fromkeys(_FORMS[key] for key in typed))
    allowed = "risers and goings, or nosings, or rise, going and riser_count"
    if not forms:
        return None, [Fault(code="flight-form", where="", message="the steps are not given", allowed=allowed)]
    if len(forms) > 1:
        message = f"the steps are given in two ways: {', '.join(typed)}"
        other = next(key for key in typed if _FORMS[key] != forms[0])
        return None, [Fault(code="flight-form", where=other, message=message, allowed=allowed)]
    if item.nosings is not None:
        return _from_nosings(item.nosings, unit)
    if forms[0] == "nominal":
        return _nominal(item)
    if item.risers is None:
        return None, [Fault(code="flight-form", where="goings", message="there are goings and no risers")]
    goings = item.goings or ()
    if len(goings) != len(item.risers) - 1:
        wanted = len(item.risers) - 1
        message = f"there are {len(goings)} goings for {len(item.risers)} risers"
        hint = "the last riser arrives on the landing or floor, so it has no going"
        if _commas(item.risers if len(goings) < wanted else goings, unit):
            hint += "; or are decimals typed behind commas? They stand behind a point: 7.5"
        where = "goings" if item.goings is not None else "risers"
        return None, [Fault(code="step-count", where=where, message=message, allowed=f"{wanted} goings", hint=hint)]
    return (item.risers, goings), []


def _commas(values: tuple[float, ...], unit: Unit) -> bool:
    """Whether a list may hold decimals typed behind commas, which are numbers of their own there: 7,5 for 7.5."""
    typed = [value / MM_PER_INCH if unit is Unit.INCH else value for value in values]
    whole = all(abs(value - round(value)) < 1e-9 for value in typed)
    return whole and bool(typed) and len(typed) % 2 == 0 and max(typed[1::2]) < 100


def _nominal(item: FlightTable) -> tuple[Steps | None, list[Fault]]:
    needs_going = item.riser_count != 1
    missing = [
        key
        for key in ("rise", "going", "riser_count")
        if getattr(item, key) is None and (needs_going or key != "going")
    ]
    if missing or item.rise is None or item.riser_count is None:
        message = f"{', '.join(missing)} wanted too"
        return None, [Fault(code="flight-form", where="", message=message, allowed="rise, going and riser_count")]
    goings = (item.going or 0.0,) * (item.riser_count - 1)
    return ((item.rise,) * item.riser_count, goings), []


def _from_nosings(nosings: tuple[tuple[float, float], ...], unit: Unit) -> tuple[Steps | None, list[Fault]]:
    flaws: list[Fault] = []
    ups = (0.0, *(up for _, up in nosings))
    risers = tuple(high - low for low, high in pairwise(ups))
    goings = tuple(far[0] - near[0] for near, far in pairwise(nosings))
    for k, riser in enumerate(risers):
        flaws += _step_flaw(RISER, riser, f"riser {k + 1}", f"nosings[{k}]", unit)
    for k, going in enumerate(goings):
        flaws += _step_flaw(GOING, going, f"going {k + 1}", f"nosings[{k + 1}]", unit)
    return (None if flaws else (risers, goings)), flaws


def _step_flaw(bounds: Length, value: float, what: str, where: str, unit: Unit) -> Iterator[Fault]:
    if not bounds.ge <= value <= bounds.le:
        yield Fault(
            code="out-of-range",
            where=where,
            message=f"{what} comes to {format_length(value, unit)}",
            allowed=bounds.allowed(unit),
            hint=bounds.slip(value, unit) or "nosings are [along, up], bottom to top, up from the floor in front",
        )


def _flight_flaws(
    item: FlightTable, risers: tuple[float, ...], goings: tuple[float, ...], unit: Unit
) -> Iterator[Fault]:
    if not goings and item.design_going is None:
        yield Fault(
            code="missing-key",
            where="design_going",
            message="a flight of one riser has no going of its own, so its design_going is wanted",
            allowed=GOING.allowed(unit),
        )
    for key, total, steps in (
        ("total_rise", item.total_rise, risers),
        ("total_run", item.total_run, goings),
    ):
        if total is None:
            continue
        come_to = math.fsum(steps)
        if abs(total - come_to) > _ABSURD * come_to:
            yield Fault(
                code="closure",
                where=key,
                message=f"{format_length(total, unit)} cannot belong to steps that add up to "
                f"{format_length(come_to, unit)}",
                allowed="the same flight measured once more, first nosing to last or floor to floor",
                hint=Length(ge=(1 - _ABSURD) * come_to, le=(1 + _ABSURD) * come_to).slip(total, unit)
                or "is a step left out, or another unit meant?",
            )
    if item.posts is not None:
        yield from _post_flaws(item.posts, len(risers))


def _post_flaws(posts: tuple[int, ...], last: int) -> Iterator[Fault]:
    for k, tread in enumerate(posts):
        if tread > last:
            yield Fault(
                code="out-of-range",
                where=f"posts[{k}]",
                message=f"there is no tread {tread}",
                allowed=f"0 (the floor in front) to {last} (the landing or floor it arrives on)",
            )
    if any(low >= high for low, high in pairwise(posts)):
        yield Fault(
            code="not-ascending",
            where="posts",
            message=f"treads {', '.join(map(str, posts))} do not ascend",
            allowed="each tread once, bottom to top",
        )


def _landing_flaws(item: LandingTable, unit: Unit) -> Iterator[Fault]:
    half, quarter = item.turn.quarters == 2, item.turn.quarters == 1
    if half and item.well is None:
        yield Fault(code="missing-key", where="well", message="a half turn wants its well", allowed=WELL.allowed(unit))
    if not half and item.well is not None:
        yield _not_here("well", "only a half turn has a well")
    if item.square and not half:
        yield _not_here("square", "only a half turn has a joining rail to hold square")
    if item.corner is not CornerJoint.AUTO and not quarter:
        yield _not_here("corner", "only a quarter turn has an inner corner")
    if item.turn is Turn.STRAIGHT and item.upper_offset != 0:
        yield _not_here("upper_offset", "straight on, length says where the upper flight begins")


def _not_here(key: str, message: str) -> Fault:
    return Fault(code="not-here", where=key, message=message, hint="leave it out, or change turn")


def _meeting_flaws(file: JobFile, at: int, landing: LandingTable) -> Iterator[Fault]:
    """What a landing asks of the flights it joins."""
    if not 0 < at < len(file.stair) - 1:
        return
    lower, upper = file.stair[at - 1], file.stair[at + 1]
    if not (isinstance(lower, FlightTable) and isinstance(upper, FlightTable)):
        return
    unit = file.units
    if landing.turn is Turn.STRAIGHT and abs(lower.width - upper.width) > 1e-6:
        yield Fault(
            code="widths-differ",
            where="turn",
            message=f"the flights joined straight on are {format_length(lower.width, unit)} and "
            f"{format_length(upper.width, unit)} wide",
            allowed="equal widths",
        )
    if landing.turn.quarters == 1 and landing.length < upper.width:
        yield Fault(
            code="landing-short",
            where="length",
            message=f"{format_length(landing.length, unit)} is less than the upper flight's width",
            allowed=f"at least {format_length(upper.width, unit)}",
        )
