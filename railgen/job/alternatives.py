"""Other hardware a catalogue could give a job, in order of least change: anchors, then tubes by their mass."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from railgen.catalogue.load import Catalogue
from railgen.catalogue.models import Entry, FittingSet, TubeSection
from railgen.job.file import HardwareTable
from railgen.job.hardware import choose
from railgen.job.model import Alternative, Hardware
from railgen.units import Unit, format_length

__all__ = ["alternatives", "others"]

_MOST_LARGER = 1.6  # no tube more than this many times the diameter is offered


_PARTS = ("anchor", "base_plate", "adjustable_saddle", "elbow_saddle", "elbow")
"""Parts that a layout may be refused for."""


def alternatives(table: HardwareTable, chosen: Hardware, catalogue: Catalogue, unit: Unit) -> tuple[Alternative, ...]:
    """Longer anchors, stouter tubes and other sets; what does not fit as it is says what it wants, in ``unit``."""
    return (*_anchors(table, chosen, catalogue), *_tubes(table, chosen, catalogue, unit))


def others(table: HardwareTable, chosen: Hardware, catalogue: Catalogue) -> Mapping[str, tuple[Entry, ...]]:
    """For each part that a layout may be refused for, the entries that fit in its place with all else as it is."""
    return {
        option: tuple(
            entry
            for entry in getattr(catalogue, option).values()
            if entry.id != getattr(chosen, option).id
            and _fitting(table.model_copy(update={option: entry.id}), chosen, catalogue) is not None
        )
        for option in _PARTS
    }


def _anchors(table: HardwareTable, chosen: Hardware, catalogue: Catalogue) -> Iterator[Alternative]:
    now = chosen.anchor
    others = [
        anchor
        for anchor in catalogue.anchor.values()
        if anchor.substrate is now.substrate and (anchor.length, anchor.diameter) > (now.length, now.diameter)
    ]
    for anchor in sorted(others, key=lambda one: (one.length, one.diameter, one.id)):
        hardware = _fitting(table.model_copy(update={"anchor": anchor.id}), chosen, catalogue)
        if hardware is not None:
            yield Alternative(words=f'hardware.anchor = "{anchor.id}"', hardware=hardware)


def _tubes(table: HardwareTable, chosen: Hardware, catalogue: Catalogue, unit: Unit) -> Iterator[Alternative]:
    """Per tube: for the posts alone, then for rail and posts; of another diameter only with a set for it."""
    now = chosen.post_tube
    stouter = [
        tube
        for tube in catalogue.tube.values()
        if now.od <= tube.od <= _MOST_LARGER * now.od and _mass(tube) > _mass(now) and tube.wall >= now.wall
    ]
    for tube in sorted(stouter, key=lambda one: (_mass(one), one.id)):
        if tube.od == now.od:
            yield from _other_wall(table, tube, chosen, catalogue, unit)
        else:
            yield from _other_set(table, tube, chosen, catalogue, unit)


def _other_wall(
    table: HardwareTable, tube: TubeSection, chosen: Hardware, catalogue: Catalogue, unit: Unit
) -> Iterator[Alternative]:
    for keys in (("post_tube",), ("tube", "post_tube")):
        update = dict.fromkeys(keys, tube.id)
        words = ", ".join(f'hardware.{key} = "{tube.id}"' for key in keys)
        hardware = _fitting(table.model_copy(update=update), chosen, catalogue)
        swapped = replace(chosen, post_tube=tube, tube=tube if "tube" in keys else chosen.tube)
        yield Alternative(words=words, hardware=hardware or swapped, wants="" if hardware else _bore(tube, unit))


def _other_set(
    table: HardwareTable, tube: TubeSection, chosen: Hardware, catalogue: Catalogue, unit: Unit
) -> Iterator[Alternative]:
    """Sets with posts of that very tube; failing that one of its diameter, to be bored for it; else the tube alone."""
    found = False
    for one in catalogue.set.values():
        if one.post_tube == tube.id and (hardware := _of_set(one, table, chosen, catalogue)) is not None:
            found = True
            yield Alternative(words=f'hardware.set = "{one.id}"', hardware=hardware)
    if found:
        return
    for one in catalogue.set.values():
        alike = catalogue.tube[one.tube].od == catalogue.tube[one.post_tube].od == tube.od
        if alike and (hardware := _of_set(one, table, chosen, catalogue)) is not None:
            words = f'hardware.set = "{one.id}", tube and post_tube = "{tube.id}"'
            yield Alternative(
                words=words, hardware=replace(hardware, tube=tube, post_tube=tube), wants=_bore(tube, unit)
            )
            return  # every set for this diameter would want the same
    yield Alternative(
        words=f'hardware.post_tube = "{tube.id}"',
        hardware=replace(chosen, post_tube=tube),
        wants="plates and saddles for that tube",
    )


def _of_set(one: FittingSet, table: HardwareTable, chosen: Hardware, catalogue: Catalogue) -> Hardware | None:
    if chosen.anchor.substrate not in one.anchors:
        return None
    return _fitting(HardwareTable(set=one.id, catalogue=table.catalogue), chosen, catalogue)


def _fitting(table: HardwareTable, chosen: Hardware, catalogue: Catalogue) -> Hardware | None:
    hardware, _, flaws = choose(table, chosen.anchor.substrate, catalogue)
    return None if flaws else hardware


def _bore(tube: TubeSection, unit: Unit) -> str:
    return f"fittings for its bore of {format_length(tube.bore, unit)}"


def _mass(tube: TubeSection) -> float:
    return tube.wall * (tube.od - tube.wall)
