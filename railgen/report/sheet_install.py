"""The installation as the job sheet shows it: each step with its cautions, what it needs, does and measures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from railgen.job.order_model import Dimensions
from railgen.report.sheet_grid import Grid, grid
from railgen.schedules import Step

__all__ = ["StepView", "step_views"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepView:
    """A step as it is shown; ``needs`` are pieces and tools, ``hold`` what must be true before going on."""

    number: int
    title: str
    where: str
    cautions: tuple[tuple[str, str], ...]
    needs: tuple[tuple[str, str], ...]
    do: tuple[str, ...]
    measures: Grid | None
    hold: str


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


def _measures(step: Step, style: Dimensions) -> Grid | None:
    if not step.measures:
        return None
    rows = [(m.what, m.where, m.show(m.designed, style), m.accepted(style)) for m in step.measures]
    return grid(f"Step {step.number}: measure", ("what", "where", "designed", "accepted"), rows).filled()
