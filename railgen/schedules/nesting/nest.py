"""From tubes and stock to whole numbers and back: lengths in micrometres, so that every bar adds up exactly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from railgen.errors import Fault, ImpossibleError
from railgen.job.order_model import Stock
from railgen.members import Fabrication
from railgen.members.pieces import Tube
from railgen.schedules.nesting.model import Blank, NestedBar, Nesting, SawCut, SectionNesting
from railgen.schedules.nesting.problem import BarKind, Pattern, Problem
from railgen.schedules.nesting.solve import solve
from railgen.units import Unit, format_length, printed

__all__ = ["blanks", "nest"]

_MICRO = 1000  # micrometres in a millimetre
_CENTS = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class _Source:
    """Bars of one kind, in micrometres."""

    length: int
    trim: int
    from_rack: bool
    price: float | None
    limit: int | None


def blanks(fabrication: Fabrication) -> tuple[Blank, ...]:
    """Every tube to cut, by mark."""
    quantities = fabrication.quantities()
    return tuple(
        Blank(
            mark=mark,
            section=piece.section.id,
            length=piece.length,
            quantity=quantities[mark],
            angle_a=piece.end_a.angle,
            angle_b=piece.end_b.angle,
        )
        for mark, piece in fabrication.pieces.items()
        if isinstance(piece, Tube)
    )


def nest(pieces: Sequence[Blank], stock: Stock, rack_section: str, unit: Unit = Unit.MM) -> Nesting:
    """The plan that takes the least bought length, or costs least where every bar of the section has a price.

    The rack costs nothing; of it the plan takes as little as such a plan is found to need.
    Rack pieces that name no section are of ``rack_section``. Raises ImpossibleError where a piece is longer than every
    bar, or the bars do not suffice; lengths in its messages are in ``unit``.
    """
    sections = list(dict.fromkeys(piece.section for piece in pieces))
    plans, faults, number = [], [], 1
    for section in sections:
        mine = [piece for piece in pieces if piece.section == section]
        sources = _sources(section, stock, rack_section)
        found = _too_long(mine, sources, stock, unit)
        if not found:
            plan = _section(section, mine, sources, stock, number)
            if plan is not None:
                plans.append(plan)
                number += len(plan.bars)
                continue
            found = [
                Fault(
                    code="stock-runs-out",
                    where="stock",
                    message=f"the bars allowed do not suffice for {sum(p.quantity for p in mine)} pieces of {section}",
                    hint="allow more bars, or longer ones",
                )
            ]
        faults.extend(found)
    if faults:
        raise ImpossibleError(faults)
    return Nesting(sections=tuple(plans))


def _sources(section: str, stock: Stock, rack_section: str) -> list[_Source]:
    """Rack first, then bars to buy, shortest first; equal ones together."""
    rack = [
        _Source(length=_um(piece.length), trim=0, from_rack=True, price=None, limit=piece.quantity)
        for piece in stock.rack
        if (piece.section or rack_section) == section
    ]
    bars = [
        _Source(length=_um(bar.length), trim=_um(stock.trim), from_rack=False, price=bar.price, limit=bar.limit)
        for bar in stock.lengths
        if bar.section in (None, section)
    ]
    key = {True: 0, False: 1}
    merged: dict[_Source, int | None] = {}
    for source in sorted([*rack, *bars], key=lambda s: (key[s.from_rack], s.length, s.price or 0.0)):
        same = replace(source, limit=0)
        had = merged.get(same, 0)
        merged[same] = None if had is None or source.limit is None else had + source.limit
    return [replace(source, limit=limit) for source, limit in merged.items()]


def _too_long(pieces: Iterable[Blank], sources: Sequence[_Source], stock: Stock, unit: Unit) -> list[Fault]:
    room = max((source.length - 2 * source.trim for source in sources), default=0)
    return [
        Fault(
            code="longer-than-stock",
            where=f"piece {piece.mark}",
            message=f"{format_length(piece.length, unit)} of {piece.section} is longer than any bar",
            allowed=f"up to {format_length(room / _MICRO, unit)}, trim of {format_length(stock.trim, unit)} at both "
            "ends of a bought bar taken off",
            hint="give a longer stock length, or join the piece from two",
        )
        for piece in pieces
        if _um(piece.length) > room
    ]


def _section(
    section: str, pieces: Sequence[Blank], sources: Sequence[_Source], stock: Stock, first: int
) -> SectionNesting | None:
    kerf = _um(stock.kerf)
    sizes = sorted({_um(piece.length) + kerf for piece in pieces}, reverse=True)
    demands = [sum(p.quantity for p in pieces if _um(p.length) + kerf == size) for size in sizes]
    usable = [source for source in sources if source.length - 2 * source.trim + kerf >= sizes[-1]]
    priced = all(source.price is not None for source in usable if not source.from_rack)
    problem = Problem(
        sizes=tuple(sizes),
        demands=tuple(demands),
        bars=tuple(
            BarKind(
                capacity=source.length - 2 * source.trim + kerf, cost=_cost(source, priced=priced), limit=source.limit
            )
            for source in usable
        ),
    )
    solution = solve(problem)
    if solution is None:
        return None
    queues = {size: _queue(pieces, size - kerf) for size in sizes}
    bars = [
        _bar(number, section, usable[pattern.bar], _taken(pattern, sizes, queues), stock)
        for number, pattern in enumerate(solution.patterns, start=first)
    ]
    scale = _CENTS if priced else _MICRO
    return SectionNesting(
        section=section,
        bars=tuple(bars),
        weight=solution.cost / scale,
        bound=solution.bound / scale,
        weighed="money" if priced else "bought length",
        quick=solution.quick,
    )


def _cost(source: _Source, *, priced: bool) -> int:
    """What is made least: cents, or micrometres bought; what lies on the rack is free."""
    if source.from_rack:
        return 0
    return max(1, round(source.price * _CENTS)) if priced and source.price is not None else source.length


def _queue(pieces: Iterable[Blank], length: int) -> Iterator[Blank]:
    return iter([piece for piece in pieces if _um(piece.length) == length for _ in range(piece.quantity)])


def _taken(pattern: Pattern, sizes: Sequence[int], queues: dict[int, Iterator[Blank]]) -> list[Blank]:
    return [next(queues[sizes[item]]) for item, count in pattern.cuts for _ in range(count)]


def _bar(number: int, section: str, source: _Source, pieces: Sequence[Blank], stock: Stock) -> NestedBar:
    """Cut one bar, longest piece first; the last cut takes only what is there."""
    at, kerfs, cuts = source.trim, 0, []
    for piece in pieces:
        cuts.append(
            SawCut(
                mark=piece.mark,
                length=_um(piece.length) / _MICRO,
                start=at / _MICRO,
                angle_a=piece.angle_a,
                angle_b=piece.angle_b,
            )
        )
        at += _um(piece.length)
        kerf = min(_um(stock.kerf), source.length - at)
        at, kerfs = at + kerf, kerfs + kerf
    offcut = source.length - at
    return NestedBar(
        number=number,
        section=section,
        length=source.length / _MICRO,
        from_rack=source.from_rack,
        trim=source.trim / _MICRO,
        cuts=tuple(cuts),
        kerf=kerfs / _MICRO,
        offcut=offcut / _MICRO,
        kept=offcut - source.trim >= _um(stock.keep) and offcut > 0,
        price=source.price,
    )


def _um(mm: float) -> int:
    return int(printed(mm) * _MICRO)
