"""What would mend a link that does not hold: other hardware, closer posts, another base, in order of least change.

Every suggestion is a whole job, solved again and worked out by the same links; only what then holds, and makes nothing
else fail, is told. Work is counted, and where that cuts the search short the advice says so.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace

from railgen.catalogue.models import Anchor, BasePlate
from railgen.checks.model import Verdict
from railgen.checks.strength.chain import strength_links
from railgen.checks.strength.link import Link
from railgen.errors import ImpossibleError
from railgen.job.model import Hardware, Job
from railgen.job.strength_model import FastenerClass, Fixing, GroundKind
from railgen.layout import solve
from railgen.layout.model import Layout
from railgen.survey import survey_job

__all__ = ["Change", "advise", "changes"]

_BASE = frozenset(
    {
        "plate",
        "embedment",
        "fixings",
        "thread",
        "withdrawal",
        "fixing-steel",
        "penetration",
        "washer",
        "splitting",
        "member",
        "edge",
        "cone",
        "bond",
        "anchor-steel",
        "anchor-pull",
        "edge-push",
        "pry-out",
        "anchor-push",
        "concrete",
    }
)
_THICKER = (8, 12, 15, 20)  # plate sizes to be had: common practice, mm
_LARGER = (0, 30, 60, 110)  # mm on each side
_BOLTS = ((8, 30), (10, 40), (12, 60))  # metric size, washer: mm
_OTHER_HOLD = {"anchor-pull": "bond", "bond": "anchor-pull"}
_WORK = 600  # posts looked at in all tries together: counted, so that the same job is told the same on any machine
_TRIES = 8  # of a long stair too
_PRACTICE = {
    "withdrawal": "bolts through the tread with large washers, blocking under it, or a bracket to the stringer's side",
    "fixings": "bolts through the tread with large washers, blocking under it, or a bracket to the stringer's side",
    **dict.fromkeys(
        ("cone", "bond", "anchor-pull", "anchor-steel", "concrete"),
        "deeper or stouter anchors by their approval, a wider plate, or closer posts",
    ),
    "member": "a shallower anchor by its approval, or thicker concrete",
    "embedment": "an anchor long enough to lie in the structure itself, or another place for the post",
    "edge": "move the post away from the edge",
    "splitting": "move the post away from edge and end, or drill as the screw's maker says",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A job with one thing changed, in words, and what that still wants."""

    words: str
    job: Job
    wants: str = ""
    twofold: bool = False  # of hardware and of spans: tried only where neither is enough


def advise(job: Job, layout: Layout, links: Iterable[Link]) -> dict[str, str]:
    """For each code of a failing link, the nearest changes under which all of its links hold; codes without one too."""
    found = tuple(links)
    failing = {link.code for link in found if link.outcome.verdict is Verdict.FAILS}
    return {
        code: text
        for base in (False, True)
        for code, text in _group(job, layout, found, {c for c in failing if (c in _BASE) is base}, base=base)
    }


def _group(
    job: Job, layout: Layout, before: tuple[Link, ...], codes: set[str], *, base: bool
) -> Iterator[tuple[str, str]]:
    told: dict[str, list[str]] = {code: [] for code in codes}
    posts = _worst_posts(before, codes)
    most, cut = max(_TRIES, _WORK // max(1, len(layout.posts))), ""
    for tried, change in enumerate(changes(job, layout, base=base) if codes else ()):
        waiting = {code for code in codes if not (told[code] if change.twofold else _enough(told[code]))}
        if not waiting:
            break
        if tried == most:
            cut = f"the search stopped after {most} changes, there are more"
            break
        links = _links(change.job, base=base, above=not base, posts=posts)
        if all(_used(links, code, base=base) is None for code in waiting):
            continue
        links = _links(change.job, base=True, above=True)
        if _new_failure(before, links):
            continue
        for code in waiting:
            used = _used(links, code, base=base)
            if used is not None and not (change.wants and told[code]):
                wants = f" (wants {change.wants})" if change.wants else ""
                told[code].append(f"{change.words}{wants} would bring it to {used:.2f}{_restated(job, change.job)}")
    for code in sorted(codes):
        none = (
            f"none of the first {most} changes tried holds"
            if cut
            else "no single change of the catalogue's hardware or of the spans holds"
        )
        found = "; or ".join(told[code]) or _PRACTICE.get(code, none)
        yield code, found if not cut or _enough(told[code]) else f"{found}; {cut}"


def _restated(job: Job, changed: Job) -> str:
    """What other fittings bear is for their own maker to state: the old data sheet was used so far."""
    given, old, new = job.strength.stated, job.hardware, changed.hardware
    values = (given.rivet_shear, given.socket_moment, given.saddle_force, given.elbow_moment, given.anchor_tension)
    same = (old.base_plate.id, old.adjustable_saddle.id, old.anchor.id) == (
        new.base_plate.id,
        new.adjustable_saddle.id,
        new.anchor.id,
    )
    return "" if same or not any(values) else ", with its maker's own strength.stated"


def _enough(told: list[str]) -> bool:
    """One change that needs nothing else, or after one that does."""
    return bool(told) and "(wants " not in told[-1]


def changes(job: Job, layout: Layout, *, base: bool) -> Iterator[Change]:
    """Changes of hardware, then of spans, then of both; for plates and fixings also other plates and bolts through."""
    others = [
        Change(words=other.words, job=_with_hardware(job, other.hardware), wants=other.wants)
        for other in job.alternatives
        if base is (_foot(other.hardware) != _foot(job.hardware)) or other.hardware.tube is not job.hardware.tube
    ]
    if base:
        yield from (one for one in others if one.job.hardware.post_tube is job.hardware.post_tube)
        yield from _other_bases(job)
        others = [one for one in others if one.job.hardware.post_tube is not job.hardware.post_tube and not one.wants]
    yield from others
    closer = list(_closer(job, layout))
    yield from closer
    for span in closer[:1]:
        for other in others:
            yield Change(
                words=f"{other.words} with {span.words}",
                job=_with_hardware(span.job, other.job.hardware),
                wants=other.wants,
                twofold=True,
            )


def _with_hardware(job: Job, hardware: Hardware) -> Job:
    """The job with other hardware; a steel that was the material's own becomes that of the new material."""
    strength = job.strength.regraded(job.hardware.material.id, hardware.material.id)
    return replace(job, hardware=hardware, strength=strength)


def _other_bases(job: Job) -> Iterator[Change]:
    item = job.hardware.base_plate
    plates = [job]
    sizes = sorted((thick, more) for thick in _THICKER for more in _LARGER if thick >= item.thickness)
    for thickness, more in sorted(sizes, key=lambda one: (one[0] * (item.length + one[1]) ** 2, one))[1:]:
        update = {
            "thickness": float(thickness),
            "length": item.length + more,
            "width": item.width + more,
            "hole_spacing_length": item.hole_spacing_length + more,
            "hole_spacing_width": item.hole_spacing_width + more,
        }
        plate = item.model_copy(update=update)
        changed = replace(job, hardware=replace(job.hardware, base_plate=plate))
        plates.append(changed)
        yield Change(words=f"a base plate {_size(plate)}", job=changed, wants="such a plate")
    ground = job.ground
    timber = any(layer.kind is GroundKind.TIMBER for layer in ground.layers)
    if ground.fixing is Fixing.THROUGH_BOLT or not timber or ground.timber_bearing is None:
        return
    thickest = max(part.tread_thickness for part in job.flights)
    thickest = max([thickest, *(landing.thickness for landing in job.landings)])
    for size, washer in _BOLTS:
        for under in plates:
            plate = under.hardware.base_plate
            long = plate.thickness + thickest + 2 * size
            update = {"diameter": float(size), "hole_diameter": size + 0.5, "length": long}
            anchor = under.hardware.anchor.model_copy(update=update)
            bolted = replace(
                under,
                hardware=replace(under.hardware, anchor=anchor),
                ground=ground.model_copy(update={"fixing": Fixing.THROUGH_BOLT, "washer": float(washer)}),
                strength=job.strength.model_copy(
                    update={"fastener_class": job.strength.fastener_class or FastenerClass.C70}
                ),
            )
            words = f"bolts M{size} through the tread with washers of {washer} mm"
            if under is not job:
                words += f" and a base plate {_size(plate)}"
            yield Change(words=words, job=bolted, wants="holes of that size in the plate")


def _foot(hardware: Hardware) -> tuple[BasePlate, Anchor]:
    return hardware.base_plate, hardware.anchor


def _size(plate: BasePlate) -> str:
    return f"{plate.length:g} x {plate.width:g} x {plate.thickness:g} mm"


def _closer(job: Job, layout: Layout) -> Iterator[Change]:
    """One post more, then the next, four times at most."""
    span = max((span.length for span in layout.spans), default=0.0)
    free = tuple(replace(flight, posts=None) for flight in job.flights)
    told = "" if all(flight.posts is None for flight in job.flights) else " and no posts named in the flights"
    for _ in range(4):
        limit = float(int(span - 1))
        if limit < 300:
            return
        changed = replace(job, flights=free, posts=replace(job.posts, largest_span=limit))
        try:
            span = max(one.length for one in solve(changed, survey_job(changed)).spans)
        except ImpossibleError:
            return
        yield Change(words=f"posts.largest_span = {limit:.0f} mm{told}", job=changed)


def _links(job: Job, *, base: bool, above: bool, posts: Collection[str] = ()) -> tuple[Link, ...]:
    """The links of a changed job, of some posts only for a first look; none where no such rail can be built."""
    try:
        layout = solve(job, survey_job(job))
    except ImpossibleError:
        return ()
    there = {post.id for post in layout.posts}
    return strength_links(job, layout, base=base, above=above, posts=[post for post in posts if post in there])


def _worst_posts(links: tuple[Link, ...], codes: set[str]) -> tuple[str, ...]:
    """The posts at which these codes are used most, where a change that is not enough shows first."""
    found: dict[str, None] = {}
    for code in sorted(codes):
        used = [(link.outcome.utilisation or 0.0, link.where) for link in links if link.code == code]
        found[max(used, key=lambda one: one[0])[1].removeprefix("post ")] = None
    return tuple(found)


def _used(links: tuple[Link, ...], code: str, *, base: bool) -> float | None:
    """Largest utilisation of a code's links where all of them hold.

    None where one does not, or cannot be told. A code that a change does away with, as bolts through a tread do with
    a withdrawal, stands for everything that holds the plate; a bonded anchor's bond for a mechanical one's pull-out.
    """
    chosen = [link for link in links if link.code == code]
    if not chosen and base:
        chosen = [link for link in links if link.code in ("fixing-steel", "washer", _OTHER_HOLD.get(code))]
    used = [link.outcome.utilisation for link in chosen if link.outcome.verdict is Verdict.MEETS]
    known = [value for value in used if value is not None]
    return max(known) if known and len(known) == len(chosen) else None


def _new_failure(before: tuple[Link, ...], after: tuple[Link, ...]) -> bool:
    """Whether something fails that did not; a link that was not told before may well fail."""
    held = {link.code for link in before if link.outcome.verdict is Verdict.MEETS}
    held -= {link.code for link in before if link.outcome.verdict is not Verdict.MEETS}
    return any(link.code in held and link.outcome.verdict is Verdict.FAILS for link in after)
