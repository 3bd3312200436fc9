"""Sawing and installation as the job sheet shows them: bars, and steps with what they need, do and measure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from railgen.job.order_model import Dimensions
from railgen.schedules import Step
from railgen.schedules.nesting import NestedBar, Nesting
from railgen.units import Figures

__all__ = ["BarView", "StepView", "bar_views", "step_views"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BarView:
    """A bar as it is shown: marks and lengths in the order of the saw, and what becomes of the rest."""

    title: str
    cuts: tuple[tuple[str, str], ...]
    rest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepView:
    """A step as it is shown; ``needs`` are pieces and tools, ``hold`` what must be true before going on."""

    number: int
    title: str
    where: str
    cautions: tuple[tuple[str, str], ...]
    needs: tuple[tuple[str, str], ...]
    do: tuple[str, ...]
    measures: tuple[tuple[str, str, str], ...]
    hold: str


def bar_views(nesting: Nesting, figures: Figures) -> list[BarView]:
    """Every bar of the cutting plan, in the order of the saw list."""

    def title(bar: NestedBar) -> str:
        take = "from the rack" if bar.from_rack else "new"
        return f"Bar {bar.number}, {bar.section}, {take}, {figures.named(bar.length)}"

    return [
        BarView(
            title=title(bar),
            cuts=tuple((cut.mark, figures.length(cut.length)) for cut in bar.cuts),
            rest=f"offcut {figures.named(bar.offcut)}, {'to the rack' if bar.kept else 'scrap'}",
        )
        for bar in nesting.bars
    ]


def step_views(steps: Iterable[Step], style: Dimensions) -> list[StepView]:
    """Every step, in order, its values as the job wants dimensions."""
    return [
        StepView(
            number=step.number,
            title=step.title,
            where=step.phase.value,
            cautions=tuple((caution.text, caution.source) for caution in step.cautions),
            needs=tuple((name, text) for name, text in (("Pieces", _pieces(step)), ("Tools", _tools(step))) if text),
            do=step.do,
            measures=_measures(step, style),
            hold=step.hold,
        )
        for step in steps
    ]


def _pieces(step: Step) -> str:
    return "; ".join(
        f"{piece.quantity} x {piece.mark}" + (f" ({piece.where})" if piece.where not in {"", piece.mark} else "")
        for piece in step.pieces
    )


def _tools(step: Step) -> str:
    return ", ".join(step.tools)


def _measures(step: Step, style: Dimensions) -> tuple[tuple[str, str, str], ...]:
    """What is measured where, the value designed, and the bounds of what is accepted."""
    return tuple((f"{m.what}, {m.where}", m.target(style), m.accepted(style)) for m in step.measures)
