"""Design systems: the factors on loads and on strength, the modulus and the wall that belong together."""

from __future__ import annotations

from functools import cache

from pydantic import Field

from railgen.checks.strength.result import Basis, DataFile, Source, read_data
from railgen.checks.strength.sections import Tube
from railgen.fields import Table
from railgen.job.strength_model import DesignSystem

__all__ = ["Factor", "System", "system"]


class Factor(Table):
    """What a nominal strength is multiplied by (``phi``) and divided by (``divisor``)."""

    phi: float = Field(default=1.0, gt=0, le=1)
    divisor: float = Field(default=1.0, ge=1)
    symbol: str
    source: Source

    @property
    def value(self) -> float:
        return self.phi / self.divisor

    def __str__(self) -> str:
        """As written behind a nominal strength: ``/ 1.1`` or ``x 0.9``."""
        return f"x {self.phi:g}" if self.divisor == 1 else f"/ {self.divisor:g}"


class System(Table):
    """One design system. ``modulus`` in MPa; ``wall_share`` of the nominal wall counts in section properties."""

    id: DesignSystem
    title: str
    basis: Basis
    permanent: float = Field(ge=1)
    imposed: float = Field(ge=1)
    load_source: Source
    strength: Factor
    rupture: Factor
    sheet: Factor
    modulus: float = Field(gt=0)
    modulus_source: Source
    wall_share: float = Field(gt=0, le=1)
    wall_source: Source

    def design(self, tube: Tube) -> Tube:
        """The tube whose section properties this system counts: nominal, or with its design wall."""
        return tube.with_wall(self.wall_share)


class _SystemFile(DataFile):
    system: tuple[System, ...]


@cache
def _tables() -> _SystemFile:
    return read_data("systems.toml", _SystemFile)


def system(name: DesignSystem) -> System:
    """The design system ``name``.

    >>> system(DesignSystem.EUROCODE).imposed, str(system(DesignSystem.ASD).strength)
    (1.5, '/ 1.67')
    """
    return next(row for row in _tables().system if row.id is name)
