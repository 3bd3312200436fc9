"""What an evaluator is given, and what it finds."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from railgen.checks.model import outside
from railgen.checks.rules.model import Kind, Rule, RuleSet, When
from railgen.job.model import Flight, Job, Landing
from railgen.job.rules_model import Beside, Flank, OtherSide, RulesInput, Surroundings
from railgen.layout.model import Layout, RailTube
from railgen.survey.flight import FlightSurvey
from railgen.units import format_length

__all__ = ["Found", "Scene", "extremes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A value at a place, with the bounds that hold there; ``missing`` names the input it waits for."""

    where: str
    value: float | None
    least: float | None = None
    most: float | None = None
    formula: str = ""
    missing: str = ""
    advice: str = ""

    @property
    def failed(self) -> bool:
        """Whether the value is outside, so that advice is due."""
        return self.value is not None and outside(self.value, least=self.least, most=self.most)

    def advised(self, advice: str) -> Found:
        """The same with advice, if it is due."""
        return replace(self, advice=advice) if self.failed else self


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A solved rail, its surroundings and the rule set it is held to."""

    job: Job
    layout: Layout
    rules: RulesInput
    rule_set: RuleSet

    @property
    def site(self) -> Surroundings:
        return self.rules.surroundings

    def side(self, part: Flight | Landing, *, other: bool = False) -> Flank:
        """What lies along the rail's side, or the other side, of a flight or landing."""
        return self.site.flank(part.surroundings, other=other, alone=len(self.flights) == 1)

    def other_rail(self, part: Flight | Landing) -> OtherSide | None:
        """Whether the other side of a flight or landing has a handrail."""
        return part.surroundings.other_side or self.site.other_side

    def other_reach(self, part: Flight | Landing) -> float | None:
        """How far the other side's rail reaches in (mm)."""
        own = part.surroundings.other_projection
        return self.site.other_projection if own is None else own

    def side_key(self, part: Flight | Landing, name: str, *, other: bool = False) -> str:
        """Where the job would tell ``name`` of one side: for the whole stair where it has one flight."""
        tail = f"surroundings.{'other.' if other else ''}{name}"
        if len(self.flights) == 1:
            return tail
        common = self.site.other if other else self.site
        walled = name == "beside" and common.beside is Beside.WALL
        return f"{part.key(tail)}{', or surroundings.everywhere = true' if walled else ''}"

    @property
    def flights(self) -> tuple[FlightSurvey, ...]:
        return self.layout.survey.flights

    def mm(self, length: float) -> str:
        """A length as the job prints it."""
        return format_length(length, self.job.output_unit)

    def untyped(self, part: Flight | Landing, key: str) -> str:
        """The key's path where the job file leaves it out: a default is no measurement; empty where it was typed."""
        path = part.key(key)
        return path if self.job.left_out(path) else ""

    def tube_of(self, flight: FlightSurvey) -> RailTube | None:
        """The pitched tube of a flight."""
        return next((rail for rail in self.layout.rails if rail.flight == flight.flight.number), None)

    def applies(self, when: When, flight: FlightSurvey) -> bool:
        """Whether a rule's conditions on the flight (all but the fall beside it) are so."""
        risers, goings = flight.flight.risers, flight.flight.goings
        return not (
            (when.risers is not None and len(risers) < when.risers)
            or (when.treads is not None and len(goings) < when.treads)
            or (when.rise is not None and sum(risers) < when.rise - 1e-9)
            or (when.going_below is not None and min(goings, default=0.0) >= when.going_below - 1e-9)
            or (when.wider is not None and flight.flight.width <= when.wider + 1e-9)
        )

    def stands(self, when: When) -> tuple[bool, str]:
        """Whether a rule's conditions on the building are so as far as known, and the input that would tell."""
        site = self.site
        asked = {
            "occupancy": bool(when.occupancy),
            "storeys": when.storeys_most is not None or when.storeys_above is not None,
            "tread_gap": when.solid_risers is not None,
        }
        if site.occupancy is not None and when.occupancy and site.occupancy not in when.occupancy:
            return False, ""
        if site.storeys is not None and not (when.storeys_above or 0) < site.storeys <= (when.storeys_most or math.inf):
            return False, ""
        if site.tread_gap is not None and when.solid_risers not in (None, site.tread_gap == 0):
            return False, ""
        unknown = [key for key, wanted in asked.items() if wanted and getattr(site, key) is None]
        return True, f"surroundings.{unknown[0]}" if unknown else ""

    def asked(self, rule: Rule, flight: FlightSurvey) -> int:
        """How many sides of the flight a rule about sides wants a handrail on."""
        if not self.applies(rule.when, flight):
            return 0
        if rule.unit == "length":
            return round(rule.least or 0)
        if rule.both_from_width is not None and flight.flight.width >= rule.both_from_width - 1e-9:
            return 2
        if rule.each_open_side and self.side(flight.flight, other=True).beside is Beside.OPEN:
            return 2
        return round(rule.least or 0)

    def sides_asked(self, flight: FlightSurvey) -> int:
        """How many sides of the flight the rule set wants a handrail on; 1 where it does not say."""
        rule = self.rule_set.first(Kind.SIDES)
        return 1 if rule is None else self.asked(rule, flight)


def extremes(rule: Rule, where: str, values: Iterable[tuple[str, float]]) -> Iterator[Found]:
    """The smallest of named values against the least allowed, the largest against the most; those outside listed."""
    named = list(values)
    if not named:
        return
    for pick, least, most, word in ((min, rule.least, None, "smallest"), (max, None, rule.most, "largest")):
        if least is None and most is None:
            continue
        name, value = pick(named, key=lambda item: item[1])
        formula = f"{word} of {len(named)}: {name}" if len(named) > 1 else ""
        yield Found(where=where, value=value, least=least, most=most, formula=formula)
