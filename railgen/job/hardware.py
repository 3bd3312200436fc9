"""The catalogue entries a job chooses: found by id, and held against each other."""

from __future__ import annotations

from collections.abc import Iterator

from railgen.catalogue.entries import rivet_note
from railgen.catalogue.fits import Fit, misfits
from railgen.catalogue.load import Catalogue
from railgen.catalogue.models import Anchor, FittingSet, Substrate
from railgen.errors import Fault
from railgen.fields.nearest import hint_near, one_of
from railgen.job.file import HardwareTable
from railgen.job.model import Hardware

__all__ = ["choose"]

_NO_COVER = "none"
_KINDS = {
    "tube": "tube",
    "post_tube": "tube",
    "material": "material",
    "base_plate": "base_plate",
    "cover_plate": "cover_plate",
    "fixed_saddle": "fixed_saddle",
    "adjustable_saddle": "adjustable_saddle",
    "elbow_saddle": "elbow_saddle",
    "elbow": "elbow",
    "end_cap": "end_cap",
    "end_scroll": "end_scroll",
    "anchor": "anchor",
}
"""Kind of catalogue entry that each option names."""


def choose(
    table: HardwareTable, substrate: Substrate, catalogue: Catalogue
) -> tuple[Hardware | None, tuple[str, ...], list[Fault]]:
    """The hardware, remarks on it, and what is wrong; no hardware where an id is unknown."""
    chosen = catalogue.set.get(table.set)
    flaws = list(_unknown(table, catalogue, chosen, substrate))
    if flaws or chosen is None:
        return None, (), flaws
    ids = {key: getattr(table, key) or getattr(chosen, key) for key in _KINDS if key != "anchor"}
    anchor = catalogue.anchor[table.anchor or chosen.anchors[substrate]]
    if anchor.substrate is not substrate:
        flaws.append(_wrong_anchor(table, anchor, substrate))
    fit = Fit(
        tube=catalogue.tube[ids["tube"]],
        post_tube=catalogue.tube[ids["post_tube"]],
        base_plate=catalogue.base_plate[ids["base_plate"]],
        cover_plate=None if ids["cover_plate"] == _NO_COVER else catalogue.cover_plate[ids["cover_plate"]],
        fixed_saddle=catalogue.fixed_saddle[ids["fixed_saddle"]],
        adjustable_saddle=catalogue.adjustable_saddle[ids["adjustable_saddle"]],
        elbow_saddle=catalogue.elbow_saddle[ids["elbow_saddle"]],
        elbow=catalogue.elbow[ids["elbow"]],
        end_cap=catalogue.end_cap[ids["end_cap"]],
        end_scroll=catalogue.end_scroll[ids["end_scroll"]],
        anchor=anchor,
        rivets=catalogue.rivet,
        screws=catalogue.screw,
    )
    for misfit in misfits(fit):
        option = next((key for key in misfit.options if getattr(table, key) is not None), "set")
        flaws.append(
            Fault(
                code="misfit",
                where=f"hardware.{option}",
                message=misfit.message,
                allowed=misfit.allowed,
                hint=misfit.hint,
            )
        )
    hardware = _hardware(fit, catalogue, ids["material"])
    notes = tuple(note for note in map(rivet_note, hardware.rivets.values()) if note)
    return hardware, notes, flaws


def _hardware(fit: Fit, catalogue: Catalogue, material: str) -> Hardware:
    heads = (fit.fixed_saddle, fit.adjustable_saddle, fit.elbow_saddle)
    rivets = dict.fromkeys((fit.base_plate.rivet, *(head.rivet for head in heads)))
    screws = dict.fromkeys((fit.fixed_saddle.screw, fit.adjustable_saddle.screw, fit.elbow.screw))
    return Hardware(
        tube=fit.tube,
        post_tube=fit.post_tube,
        material=catalogue.material[material],
        base_plate=fit.base_plate,
        cover_plate=fit.cover_plate,
        fixed_saddle=fit.fixed_saddle,
        adjustable_saddle=fit.adjustable_saddle,
        elbow_saddle=fit.elbow_saddle,
        elbow=fit.elbow,
        end_cap=fit.end_cap,
        end_scroll=fit.end_scroll,
        anchor=fit.anchor,
        rivets={ident: catalogue.rivet[ident] for ident in rivets},
        screws={ident: catalogue.screw[ident] for ident in screws},
    )


def _unknown(
    table: HardwareTable, catalogue: Catalogue, chosen: FittingSet | None, substrate: Substrate
) -> Iterator[Fault]:
    """Ids that no entry of the wanted kind has."""
    if chosen is None:
        yield _no_such("set", table.set, "set", catalogue)
    for key, kind in _KINDS.items():
        ident = getattr(table, key)
        known = catalogue.ids(kind)
        if ident is not None and ident not in known and not (key == "cover_plate" and ident == _NO_COVER):
            yield _no_such(key, ident, kind, catalogue)
    if chosen is not None and table.anchor is None and substrate not in chosen.anchors:
        yield Fault(
            code="no-anchor",
            where="posts.substrate",
            message=f"set {chosen.id} has no anchor for {substrate}",
            allowed=one_of(chosen.anchors) if chosen.anchors else "none of its own",
            hint="name one with hardware.anchor",
        )


def _no_such(key: str, ident: str, kind: str, catalogue: Catalogue) -> Fault:
    other = catalogue.find(ident)
    hint = f"{ident} is a {other[0].replace('_', ' ')}" if other else hint_near(ident, catalogue.ids(kind))
    return Fault(
        code="unknown-reference",
        where=f"hardware.{key}",
        message=f'the catalogue has no {kind.replace("_", " ")} "{ident}"',
        allowed=one_of(catalogue.ids(kind)),
        hint=hint,
    )


def _wrong_anchor(table: HardwareTable, anchor: Anchor, substrate: Substrate) -> Fault:
    return Fault(
        code="anchor-substrate",
        where="hardware.anchor" if table.anchor else "hardware.set",
        message=f"anchor {anchor.id} is for {anchor.substrate}, and posts.substrate is {substrate}",
        allowed=f"an anchor for {substrate}",
    )
