"""The steps done on site: set out, fix, stand, trial-fit, measure, drill, fasten, close, clean."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import partial

from railgen.job.model import EndFinish
from railgen.job.order_model import Finish
from railgen.layout.model import PostRole
from railgen.layout.standing import bearing_side
from railgen.members.pieces import FittingRole, Purpose, Tube
from railgen.members.rails import elbow_half
from railgen.schedules.install import cautions
from railgen.schedules.install.facts import Facts
from railgen.schedules.install.fixing import drill_surface, fix_plates
from railgen.schedules.install.heights import clearances, ends, height_margin, heights
from railgen.schedules.install.model import Phase, Step
from railgen.survey import SurfaceId

__all__ = ["site_steps"]

_site = partial(Step, number=0, phase=Phase.SITE)


def site_steps(facts: Facts, finish: Finish) -> Iterator[Step]:
    """From the marks on the treads to the finished rail; numbered later."""
    yield _set_out(facts)
    yield drill_surface(facts)
    yield fix_plates(facts)
    yield _stand(facts)
    yield _saddles(facts)
    yield _trial_fit(facts)
    yield _measure(facts)
    yield _drill_rails(facts)
    yield _fasten(facts)
    yield _rivet(facts)
    yield _ends(facts)
    yield _clean(facts, finish)
    yield _hand_over(facts)


def _set_out(facts: Facts) -> Step:
    return _site(
        title="Set out the base plates",
        do=(
            "mark the middle of every plate, from nosing and edge; a minus: in front of the nosing, down the flight",
            "stretch a line over the marks of each flight that has more than one: none is beside it",
            "lay each plate on its mark, turned with its length along the flight, and mark its holes",
            *height_margin(facts),
        ),
        measures=(*facts.set_out(), *facts.spans()),
        tools=("tape", "square", "string line", "plate template"),
        cautions=(cautions.FALLS,),
        hold=f"{_edges(facts)}; every mark within its bounds: only then drill.",
    )


def _edges(facts: Facts) -> str:
    """How near to which edges an anchor hole may be: the edges that the layout holds it to."""
    job = facts.job
    least = facts.least(job.hardware.anchor.edge_distance)
    side, across = bearing_side(job), job.hardware.base_plate.hole_spacing_width / 2
    if side <= job.posts.edge_offset:
        return f"Every hole at least {least} from any edge"
    return (
        f"Every hole at least {least} from the nosing, the back of its tread and the side where what bears ends, which "
        f"the job states {facts.length(side)} from the post axes: prove that first. The tread's own side is "
        f"{facts.length(job.posts.edge_offset - across)} from them"
    )


def _stand(facts: Facts) -> Step:
    order = _standing_order(facts)
    cover = facts.job.hardware.cover_plate
    return _site(
        title="Stand the posts, loose",
        do=(
            f"in this order: {', '.join(order)}: the ends of each line first, then what is between them",
            *(("thread the cover plate over each post first; it stays loose",) if cover else ()),
            "clock position 0 faces down the flight; no rivets yet",
        ),
        pieces=(*facts.tubes(order), *facts.pieces(FittingRole.COVER)),
        tools=("level", "props or ties"),
        cautions=(cautions.FALLS,),
    )


def _standing_order(facts: Facts) -> list[str]:
    """The first and last post of each flight or landing, then those between, in walking order."""
    lines: dict[int | SurfaceId, list[str]] = {}
    for post in facts.layout.posts:
        lines.setdefault(post.flight or post.surface, []).append(post.id)
    ends = [post for line in lines.values() for post in dict.fromkeys((line[0], line[-1]))]
    return [*ends, *(post.id for post in facts.layout.posts if post.id not in ends)]


def _saddles(facts: Facts) -> Step:
    roles = {role: [post.id for post in facts.layout.posts if post.role is role] for role in PostRole}
    return _site(
        title="Put the saddles on, loose",
        do=tuple(f"{role.value}: {', '.join(posts)}" for role, posts in roles.items() if posts),
        pieces=facts.pieces(FittingRole.HEAD),
        measures=facts.pitches(),
        tools=("angle gauge",),
    )


def _trial_fit(facts: Facts) -> Step:
    rails = facts.layout.rails
    do = [f"lay the rails in walking order: {', '.join(rail.id for rail in rails)}"]
    for node in facts.layout.nodes:
        halves = ", ".join(f"{elbow_half(node, rail)} half in {rail.id}" for rail in facts.layout.rails_at(node))
        do.append(f"elbow {node.id}: {halves}, pin through both; each half's screw hole on its witness mark")
    home = "push each elbow and end fitting home" if facts.layout.nodes else "push each end fitting home"
    do.append(f"{home}; turn each tube until clock position 0 is underneath")
    return _site(
        title="Trial-fit the rails",
        do=tuple(do),
        pieces=(
            *facts.tubes(rail.id for rail in rails),
            *facts.pieces(FittingRole.JOINT),
        ),
        measures=facts.elbows(),
        tools=("angle gauge", "straps or clamps with soft jaws", "marker"),
        cautions=(cautions.LEANING, cautions.FALLS),
    )


def _measure(facts: Facts) -> Step:
    return _site(
        title="Measure the trial fit",
        do=(
            "plumb every post both ways, sight along every rail",
            "measure the height over every nosing, plumb, from the nosing to the top of the tube",
        ),
        measures=(*heights(facts), *ends(facts), *clearances(facts), *facts.pitches(), *facts.elbows()),
        tools=("level", "tape", "angle gauge"),
        cautions=(cautions.LEANING,),
        hold="Drill nothing until every value is within its bounds. Where the rail is too low, find out why.",
    )


def _drill_rails(facts: Facts) -> Step:
    saddles, elbows = _holes(facts, Purpose.SADDLE_SCREW), _holes(facts, Purpose.ELBOW_SCREW)
    do = []
    if saddles:
        do.append("saddles: mark each screw hole on the rail through the saddle, from below")
    if elbows:
        do.append("elbows: their spigots are inside the tube, so draw one line across collar and tube at each screw")
    do.append("take the rails down" + (", elbow halves still in: no line may break" if elbows else ""))
    if saddles:
        do.append(
            f"compare the saddle marks with the drill schedule: {facts.length(1.0)} apart or more, something moved: "
            "find out what before you drill"
        )
        do += saddles
    if elbows:
        do += [
            "compare each elbow's line with its witness mark: where they differ the elbow or the tube is turned",
            "take the elbow halves out; drill on the witness mark at the drill schedule's distance, one wall only",
            *elbows,
            "push each half back until its tapped hole shows in the middle of the tube's hole; never drill the spigot",
        ]
    return _site(
        title="Mark, compare and drill the rails",
        do=(*do, "deburr, and clean out every chip before the rail goes back"),
        tools=("marker", "centre punch", "drill", "cobalt bits", "taps", "cutting fluid"),
        cautions=(cautions.EYES, cautions.EDGES, cautions.HYGIENE),
        hold="Marks and schedule agree.",
    )


def _holes(facts: Facts, purpose: Purpose) -> list[str]:
    """How many holes of a purpose the rails have, by drill and thread."""
    quantities = facts.fabrication.quantities()
    found = Counter[tuple[float, str]]()
    for tube in facts.fabrication.pieces.values():
        if isinstance(tube, Tube):
            for hole in tube.holes:
                if hole.purpose is purpose:
                    found[hole.diameter, hole.thread] += quantities[tube.mark]
    return [
        f"{count} holes {facts.drill(diameter)} ({purpose.value})" + (f", tap {thread}" if thread else "")
        for (diameter, thread), count in sorted(found.items())
    ]


def _fasten(facts: Facts) -> Step:
    elbows = (
        (
            "put the rails back and each elbow's hinge pin through both halves",
            "from the landings outwards, elbow screws first, then saddle screws; all by hand before any is tightened",
            "no lock is listed for the hinge: the saddles on both sides hold its angle once their screws are tight",
            "where the elbow delivered has a locking screw, tighten it last, as its maker says",
        )
        if facts.layout.nodes
        else ("put the rails back; saddle screws all by hand before any is tightened",)
    )
    return _site(
        title="Fasten the rails",
        do=(
            *elbows,
            f"{facts.count(FittingRole.SCREW)} screws, each with a drop of threadlocker; tube walls strip easily",
        ),
        pieces=facts.pieces(FittingRole.SCREW),
        tools=("hex keys", "threadlocker"),
    )


def _rivet(facts: Facts) -> Step:
    return _site(
        title="Rivet the posts",
        do=(
            "plumb and measure once more: a rivet is final",
            f"{facts.count(FittingRole.RIVET)} rivets, foot and head of every post, both sides",
            *(("push the cover plates down",) if facts.job.hardware.cover_plate else ()),
        ),
        pieces=facts.pieces(FittingRole.RIVET),
        tools=("rivet tool",),
        cautions=(cautions.EYES,),
    )


def _ends(facts: Facts) -> Step:
    finishes = (("bottom", facts.job.rail.bottom.finish), ("top", facts.job.rail.top.finish))
    bonded = [finish for _, finish in finishes if finish is not EndFinish.OPEN]
    return _site(
        title="Close the ends",
        do=tuple(
            f"{name} end: left open, as the job says"
            if finish is EndFinish.OPEN
            else f"{name} end: roughen, degrease and bond the {finish.value}; wipe off what oozes out"
            for name, finish in finishes
        ),
        pieces=facts.pieces(FittingRole.END),
        tools=("adhesive", "tape") if bonded else (),
        cautions=(
            *((cautions.ADHESIVE,) if bonded else ()),
            *((cautions.OPEN_ENDS,) if len(bonded) < len(finishes) else ()),
        ),
    )


def _clean(facts: Facts, finish: Finish) -> Step:
    return _site(
        title="Clean",
        do=(
            "vacuum up chips and dust from treads and plates, then take the film off",
            "wash with a chloride-free cleaner, rinse, dry along the tube",
            "look for rust spots after a day or two: embedded iron is removed, not painted over",
            *((f"protect until hand-over: {finish.protection}",) if finish.protection else ()),
        ),
        pieces=facts.tubes(),
        tools=("vacuum cleaner", "soft cloths", "chloride-free cleaner"),
        cautions=(cautions.CLEANING, cautions.PICKLING),
    )


def _hand_over(facts: Facts) -> Step:
    return _site(
        title="Inspect and hand over",
        do=(
            f"take each of the {len(facts.layout.posts)} posts by hand, and the rail between them: nothing moves",
            "run a sleeve along the rail: nothing catches it",
            "fill in the hand-over record with what was measured, not with what was designed",
        ),
        measures=(*heights(facts), *ends(facts), *clearances(facts)),
        tools=("tape", "hand-over record"),
        cautions=(cautions.CODES,),
        hold="The stair is opened when the record is signed.",
    )
