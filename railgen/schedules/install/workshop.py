"""The steps done in the workshop."""

from __future__ import annotations

from collections.abc import Iterator

from railgen.job.order_model import Finish
from railgen.job.strength_model import Exposure
from railgen.members.pieces import Tube, TubeHole, When
from railgen.schedules.install import cautions
from railgen.schedules.install.facts import Facts
from railgen.schedules.install.heights import height_margin
from railgen.schedules.install.model import Phase, Step, StepPiece
from railgen.schedules.nesting import Nesting
from railgen.schedules.order import fitting_lines
from railgen.survey import CLOSURE

__all__ = ["workshop_steps"]

_SEEN = 0.05  # mm: a smaller difference is not printed


def workshop_steps(facts: Facts, nesting: Nesting, finish: Finish) -> Iterator[Step]:
    """Check, measure again, cut, deburr, drill the posts; numbered later."""
    yield _check(facts)
    yield _measure_again(facts)
    yield _cut(facts, nesting)
    yield _deburr(facts, finish)
    if finish.welds:
        yield Step(
            number=0,
            phase=Phase.WORKSHOP,
            title="Weld",
            do=(finish.welds, "clean welds back to bright metal, inside corners too"),
            tools=("brushes and wheels kept for stainless steel",),
            cautions=(cautions.WELDING, cautions.WHEELS, cautions.PICKLING),
        )
    yield _drill_posts(facts, finish)
    if facts.layout.nodes:
        yield _witness_marks(facts)


def _check(facts: Facts) -> Step:
    job, hardware = facts.job, facts.job.hardware
    lines = list(fitting_lines(facts.fabrication, job.order, {}, 0.0))
    spare = sum(line.spare for line in lines)
    tubes = {"rail tube": hardware.tube, "post tube": hardware.post_tube}
    if hardware.tube == hardware.post_tube:
        tubes = {"tube": hardware.tube}
    anchor = hardware.anchor
    return Step(
        number=0,
        phase=Phase.WORKSHOP,
        title="Check what was delivered",
        do=(
            f"count {sum(line.quantity for line in lines):g} fittings and fixings of {len(lines)} kinds"
            + (f", and {spare} spare," if spare else "")
            + " against the order; an elbow or a saddle counts as one, in whatever parts it comes",
            *(
                f"measure the {name}: the fittings want {facts.drill(tube.od)} outside, {facts.drill(tube.wall)} wall"
                for name, tube in tubes.items()
            ),
            f"measure an anchor, {anchor.id}: {facts.drill(anchor.diameter)} thick, {facts.drill(anchor.length)} long",
            "keep the certificates of tube and fixings for the hand-over record",
        ),
        tools=("caliper", "order"),
        cautions=(cautions.HYGIENE,),
    )


def _measure_again(facts: Facts) -> Step:
    totals = [
        f"flight {flight.flight.number}: {_total(facts, name, steps, total)}"
        for flight in facts.layout.survey.flights
        for name, steps, total in (
            ("rise", flight.closure().rise_of_steps, flight.closure().total_rise),
            ("run", flight.closure().run_of_steps, flight.closure().total_run),
        )
        if total is not None
    ]
    return Step(
        number=0,
        phase=Phase.WORKSHOP,
        title="Measure the finished stair once more, before anything is cut",
        do=("measure on finished floors and treads, with a level and a string line", *totals, *height_margin(facts)),
        measures=facts.survey(),
        tools=("tape", "level or laser", "string line"),
        hold="Cut nothing until every value is within its bounds; else type the new survey and build the pack again.",
    )


def _total(facts: Facts, name: str, steps: float, total: float) -> str:
    """Both numbers of a flight's rise or run, and what to do about their difference."""
    error = total - steps
    told = f"the rail is built to a {name} of {facts.length(steps)}, as the steps add up"
    if abs(error) < _SEEN:
        return f"{told}, and as it was measured as a whole"
    more = f"{facts.length(abs(error))} {'more' if error > 0 else 'less'}"
    within = "within what is accepted" if abs(error) <= CLOSURE else "more than is accepted: measure step by step again"
    return f"{told}; measured as a whole it was {facts.length(total)}, {more}, {within}"


def _cut(facts: Facts, nesting: Nesting) -> Step:
    turned = [cut for bar in nesting.bars for cut in bar.cuts if cut.angle_a or cut.angle_b]
    blade = "set the blade as the saw list says" if turned else "all ends are square: blade at 0 degrees"
    return Step(
        number=0,
        phase=Phase.WORKSHOP,
        title="Cut the tubes",
        do=(
            f"follow the saw list: {len(nesting.bars)} bars, {sum(len(bar.cuts) for bar in nesting.bars)} pieces",
            *(section.says() for section in nesting.sections if section.quick),
            blade,
            "mark the datum end and clock position 0 on each piece, and stick its label on, before it leaves the saw",
        ),
        pieces=facts.tubes(),
        measures=facts.cuts(),
        tools=("saw with a blade for stainless steel", "stop", "tape"),
        cautions=(cautions.EYES, cautions.HEARING, cautions.EDGES),
        hold="Measure the first piece of each mark before cutting the next.",
    )


def _deburr(facts: Facts, finish: Finish) -> Step:
    do = [
        "take the burr off every end, inside and outside",
        "try each fitting in its tube end: it must go home by hand",
    ]
    if finish.surface:
        do.append(f"surface finish: {finish.surface}")
    if finish.protection:
        do.append(f"protection: {finish.protection}")
    return Step(
        number=0,
        phase=Phase.WORKSHOP,
        title="Deburr and finish",
        do=tuple(do),
        pieces=facts.tubes(),
        tools=("deburring tool", "wheels kept for stainless steel"),
        cautions=(cautions.HYGIENE, cautions.EYES, cautions.WHEELS),
    )


def _drill_posts(facts: Facts, finish: Finish) -> Step:
    quantities = facts.fabrication.quantities()
    tubes = [piece for piece in facts.fabrication.pieces.values() if isinstance(piece, Tube)]
    early = [(tube, [hole for hole in tube.holes if hole.when is not When.AFTER_FIT]) for tube in tubes]
    later = sum(quantities[t.mark] * sum(hole.when is When.AFTER_FIT for hole in t.holes) for t in tubes)
    do = [
        *(_drill_line(facts, tube, holes) for tube, holes in early if holes),
        f"leave the {later} screw holes in the rails until the trial fit",
    ]
    if finish.weep_holes:
        do.append(f"weep holes: {finish.weep_holes}")
    elif facts.job.ground.exposure in (Exposure.OUTDOOR, Exposure.COASTAL):
        do.append(
            "weep holes: none are named (finish.weep_holes) and this rail stands outdoors: agree where the water that "
            "gets into posts and tubes runs out, at the lowest point of each, before anything is closed"
        )
    return Step(
        number=0,
        phase=Phase.WORKSHOP,
        title="Drill the posts",
        do=tuple(do),
        pieces=tuple(StepPiece(mark=t.mark, quantity=quantities[t.mark]) for t, holes in early if holes),
        tools=("drill press with vee block", "cobalt bits", "cutting fluid", "drill schedule or template"),
        cautions=(cautions.EYES, cautions.EDGES),
    )


def _drill_line(facts: Facts, tube: Tube, holes: list[TubeHole]) -> str:
    sizes = sorted({hole.diameter for hole in holes})
    return (
        f"{tube.mark}: {len(holes)} holes, {' and '.join(map(facts.drill, sizes))}, by the drill schedule; "
        "the height is measured from the foot"
    )


def _witness_marks(facts: Facts) -> Step:
    return Step(
        number=0,
        phase=Phase.WORKSHOP,
        title="Make the witness marks",
        do=(
            "a witness mark is a line along the tube at its elbow end, on the side where the elbow's screw goes",
            "it shows that side of the hinge axis: the screw's hole is drilled on it, never opposite",
            *(line for node in facts.layout.nodes for line in facts.witness(node)),
            "clock positions run clockwise, seen from the datum end; the wrap-around template shows them too",
            "compare each mark with the clock position of its screw hole in the drill schedule: the two agree",
        ),
        tools=("marker", "tape or wrap-around template", "straight edge"),
        hold="Every elbow end carries one mark, on one side of the tube.",
    )
