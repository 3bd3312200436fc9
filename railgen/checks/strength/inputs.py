"""What a job names, found in the tables: loads with the systems that judge them, and the strength of its steel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from railgen.checks.model import Certainty, Check, Verdict
from railgen.checks.strength.loads import RailLoad, load_names, rail_load, with_line
from railgen.checks.strength.materials import BoltSteel, Steel, bolt_steel, certified, steel
from railgen.checks.strength.result import Source
from railgen.checks.strength.systems import System, system
from railgen.errors import Fault, InputError
from railgen.fields.nearest import hint_near, one_of
from railgen.job.model import Job
from railgen.job.strength_model import DesignSystem, SteelInput, StrengthInput, TubeStandard

__all__ = ["LoadCase", "fastener_steel", "load_cases", "load_checks", "part_steel"]

_KIN = {"irc": ("asce",), "ibc": ("asce",), "en": ("en",), "bs": ("bs",), "as": ("as",)}
"""First words of the names of loads that take the place of another."""
_FAMILY = {"en-": DesignSystem.EUROCODE, "bs-": DesignSystem.EUROCODE, "as-nzs": DesignSystem.AS_NZS}


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadCase:
    """A load, and the design system that judges it."""

    load: RailLoad
    system: System

    def under(self, ident: DesignSystem) -> LoadCase:
        """The same load by another system, for timber and concrete."""
        return LoadCase(load=self.load, system=system(ident))


def load_cases(given: StrengthInput) -> tuple[LoadCase, ...]:
    """The loads a job names, each with its system. Raises InputError for an unknown load or a line load out of range.

    >>> load_cases(StrengthInput(loads=("en-b",)))[0].system.id
    <DesignSystem.EUROCODE: 'eurocode'>
    """
    faults: list[Fault] = []
    found: list[LoadCase] = []
    annex = Source(document=given.annex or "national annex, as the job says", certainty=Certainty.JOB)
    for name in given.loads:
        if name not in load_names():
            faults.append(
                Fault(
                    code="unknown-load",
                    where=f"strength.loads[{given.loads.index(name)}]",
                    message=f"there is no load {name!r}",
                    allowed=one_of(load_names()),
                    hint=hint_near(name, load_names()),
                )
            )
            continue
        load = rail_load(name)
        if given.line_load is not None:
            try:
                load = with_line(load, given.line_load, annex)
            except ValueError as error:
                faults.append(
                    Fault(
                        code="line-load",
                        where="strength.line_load",
                        message=str(error),
                        hint="leave it out for this load",
                    )
                )
        family = next((ident for start, ident in _FAMILY.items() if name.startswith(start)), DesignSystem.LRFD)
        chosen = given.system or family
        found.append(LoadCase(load=load, system=system(chosen)))
    if given.tube.standard in (TubeStandard.COLD_STRIP, TubeStandard.HOT_STRIP):
        faults.append(
            Fault(
                code="strip-for-tube",
                where="strength.tube.standard",
                message="a strip standard says nothing of the strength of tube",
                allowed=one_of([TubeStandard.EN_WELDED_TUBE, TubeStandard.A554, TubeStandard.A269_A312]),
                hint="or give proof and tensile of the tube's certificate",
            )
        )
    if faults:
        raise InputError(faults)
    return tuple(found)


def load_checks(job: Job) -> Iterator[Check]:
    """Whether each load named that goes with a kind of building is enough for this one. Raises as load_cases does."""
    building = job.rules.surroundings.occupancy
    for case in load_cases(job.strength):
        load, source = case.load, rail_load(case.load.id).source
        if not load.buildings:
            continue
        found = Check(
            code="load-building",
            title="building that the load is enough for",
            where=load.id,
            value=None if building is None else float(building in load.buildings),
            unit="",
            least=1,
            source=" ".join(part for part in (source.document, source.edition) if part),
            clause=source.clause,
            certainty=source.certainty,
            formula=f"{load.title}: {', '.join(load.buildings)}",
            missing="surroundings.occupancy" if building is None else "",
        )
        others = [name for name in load_names() if name.split("-")[0] in _KIN.get(load.id.split("-")[0], ())]
        fit = [name for name in others if building in rail_load(name).buildings or not rail_load(name).buildings]
        advice = f"a load for this building under strength.loads, by its title: {', '.join(fit)} (railgen catalogue)"
        yield replace(found, advice=advice) if found.verdict is Verdict.FAILS else found


def part_steel(given: SteelInput) -> Steel | None:
    """The strength of a part; None where neither a certificate nor a listed grade of a standard is given."""
    if given.proof is not None and given.tensile is not None:
        name = given.certificate or "certificate, as the job says"
        return certified(given.grade or "", proof=given.proof, tensile=given.tensile, certificate=name)
    if given.standard is None or given.grade is None:
        return None
    return steel(given.grade, given.standard)


def fastener_steel(given: StrengthInput) -> BoltSteel | None:
    """The strength of screws and bolts; None where no property class is named."""
    return None if given.fastener_class is None else bolt_steel(given.fastener_class)
