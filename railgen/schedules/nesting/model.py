"""The cutting plan: bars, cuts in the order of the saw, what is left, and how near the plan is to the best there is."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Blank", "NestedBar", "Nesting", "SawCut", "SectionNesting"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """Equal tubes to cut: ``length`` at the long point (mm), blade angles off square at both ends (radians)."""

    mark: str
    section: str
    length: float
    quantity: int
    angle_a: float = 0.0
    angle_b: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SawCut:
    """One piece cut from a bar; ``start`` is where it begins, from the bar's first end (mm)."""

    mark: str
    length: float
    start: float
    angle_a: float
    angle_b: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NestedBar:
    """One bar or rack piece: ``length`` = ``trim`` + pieces + ``kerf`` + ``offcut``, to the micrometre (mm).

    ``kerf`` is the sum of all saw cuts behind pieces; ``offcut`` is what remains, raw end of a bought bar included.
    """

    number: int
    section: str
    length: float
    from_rack: bool
    trim: float
    cuts: tuple[SawCut, ...]
    kerf: float
    offcut: float
    kept: bool  # the offcut is long enough for the rack
    price: float | None

    @property
    def used(self) -> float:
        """Summed length of the pieces (mm)."""
        return sum(cut.length for cut in self.cuts)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionNesting:
    """The plan of one tube section.

    ``weight`` is what was made least, in the unit ``weighed`` names; no plan weighs less than ``bound``.
    """

    section: str
    bars: tuple[NestedBar, ...]
    weight: float
    bound: float
    weighed: str
    quick: bool  # of more different lengths than a better plan is sought for

    @property
    def proven(self) -> bool:
        """No plan is better."""
        return self.weight <= self.bound

    @property
    def gap(self) -> float:
        """How much better another plan could at most be, as a share of this plan; 0 where it is the best."""
        return max(0.0, self.weight - self.bound) / self.weight if self.weight else 0.0

    @property
    def bought(self) -> tuple[NestedBar, ...]:
        return tuple(bar for bar in self.bars if not bar.from_rack)

    def says(self) -> str:
        """One sentence on how good the plan is."""
        bars = len(self.bought)
        rack = len(self.bars) - bars
        plan = f"{self.section}: {bars} new {'bar' if bars == 1 else 'bars'}" + (
            f", {rack} from the rack" if rack else ""
        )
        if self.proven:
            return f"{plan}; proven: no plan takes less {self.weighed}"
        quick = "; of so many different lengths only quick plans were tried" if self.quick else ""
        return f"{plan}; not proven: another plan could take up to {self.gap * 100:.1f} % less {self.weighed}{quick}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Nesting:
    """The plans of all sections, in the order of the sections' first marks."""

    sections: tuple[SectionNesting, ...]

    @property
    def bars(self) -> tuple[NestedBar, ...]:
        return tuple(bar for section in self.sections for bar in section.bars)
