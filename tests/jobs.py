"""Jobs for tests, built without files: hardware of our own, stairs as given."""

from __future__ import annotations

import math
from collections.abc import Sequence

from railgen.catalogue.models import (
    AdjustableSaddle,
    Anchor,
    BasePlate,
    CoverPlate,
    Elbow,
    ElbowSaddle,
    EndCap,
    EndScroll,
    FixedSaddle,
    Material,
    Rivet,
    Screw,
    Substrate,
    TubeSection,
)
from railgen.job.model import (
    CornerJoint,
    EndFinish,
    Flight,
    Hardware,
    Job,
    Landing,
    PostLengths,
    Posts,
    Project,
    Rail,
    RailEnd,
    Side,
    Turn,
)
from railgen.layout.model import Layout, Setback
from railgen.units import Unit

__all__ = ["flight", "hardware", "job", "landing", "mirrored", "worked_job"]


def hardware(od: float = 48.3, wall: float = 2.0, *, close: bool = False) -> Hardware:
    """Hardware around a tube; ``close`` takes the elbow whose take-off is half of what remains of the OD after 15."""
    tube = TubeSection(id=f"{od}x{wall}", od=od, wall=wall)
    spigot = tube.bore - 0.4
    head = {
        "spigot_od": spigot,
        "spigot_wall": 4,
        "spigot_length": 50,
        "cap_diameter": od,
        "cap_thickness": 4,
        "rivet_depth": 25,
        "rivet": "rivet-3.2",
    }
    cradle = {
        **head,
        "stem_diameter": 14,
        "cradle_length": 70,
        "cradle_thickness": 4,
        "cradle_angle": 100,
        "cradle_clearance": 0.1,
        "hole_spacing": 44,
        "screw": "screw-M6",
    }
    take_off = (od - 15) / 2 if close else 31
    collar = 1.5 if close else 2
    hinge = math.floor(math.degrees(2 * math.atan((take_off - collar - 0.1) / (od / 2)))) if close else 100
    return Hardware(
        tube=tube,
        post_tube=tube,
        material=Material(id="1.4301", density=7900),
        base_plate=BasePlate(
            id="plate",
            length=100,
            width=100,
            thickness=8,
            corner_radius=10,
            socket_od=spigot,
            socket_wall=5,
            socket_height=60,
            hole_spacing_length=70,
            hole_spacing_width=70,
            hole_diameter=6.6,
            countersink_diameter=12.6,
            rivet_height=30,
            rivet="rivet-3.2",
        ),
        cover_plate=CoverPlate(id="cover", length=108, width=108, height=14, thickness=1.5, bore=od + 0.8),
        fixed_saddle=FixedSaddle(id="fixed", centre_height=82, **cradle),
        adjustable_saddle=AdjustableSaddle(
            id="adjustable",
            pivot_height=38,
            pivot_to_centre=36,
            pivot_diameter=5,
            tongue_thickness=10,
            cheek_thickness=4,
            pitch_min=0,
            pitch_max=45,
            **cradle,
        ),
        elbow_saddle=ElbowSaddle(
            id="elbow-saddle",
            node_height=82,
            stem_diameter=take_off * 0.55 if close else 12,
            stem_offset=take_off / 2 if close else 0,
            pitch_max=36 if close else 40,
            **head,
        ),
        elbow=Elbow(
            id="elbow",
            take_off=take_off,
            hinge_min=0,
            hinge_max=hinge,
            hub_diameter=take_off * 1.2 if close else 36,
            neck_diameter=take_off * 0.6 if close else 16,
            tongue_thickness=6 if close else 10,
            pin_diameter=5 if close else 8,
            collar_thickness=collar,
            spigot_od=spigot,
            spigot_length=45,
            screw_distance=20,
            screw="screw-M6",
        ),
        end_cap=EndCap(id="cap", thickness=4, spigot_od=spigot, spigot_length=20),
        end_scroll=EndScroll(id="scroll", bend_radius=60, turn=200, spigot_od=spigot, spigot_length=30),
        anchor=Anchor(
            id="anchor",
            substrate="timber",
            diameter=6.3,
            length=45,
            head_diameter=12.4,
            hole_diameter=4,
            hole_depth=37,
            edge_distance=22,
        ),
        rivets={
            "rivet-3.2": Rivet(
                id="rivet-3.2",
                diameter=3.2,
                hole_diameter=3.5,
                length=10,
                head_diameter=6.5,
                head_height=1.2,
                edge_distance=8,
            )
        },
        screws={
            "screw-M6": Screw(
                id="screw-M6",
                thread="M6",
                diameter=6,
                tapping_diameter=5,
                clearance_diameter=6.4,
                length=12,
                head_diameter=10.5,
                head_height=3.3,
                edge_distance=10,
            )
        },
    )


def flight(
    number: int,
    risers: Sequence[float],
    goings: Sequence[float],
    *,
    posts: Sequence[int] | None = None,
    width: float = 900,
    design_going: float = 250,
    total_rise: float | None = None,
    total_run: float | None = None,
) -> Flight:
    return Flight(
        number=number,
        risers=tuple(risers),
        goings=tuple(goings),
        total_rise=total_rise,
        total_run=total_run,
        overhang=20,
        width=width,
        design_going=design_going,
        tread_thickness=40,
        posts=None if posts is None else tuple(posts),
    )


def landing(
    number: int,
    turn: Turn,
    length: float,
    *,
    well: float = 0,
    upper_offset: float = 0,
    corner: CornerJoint = CornerJoint.AUTO,
    square: bool = False,
) -> Landing:
    return Landing(
        number=number,
        length=length,
        turn=turn,
        well=well,
        upper_offset=upper_offset,
        corner=corner,
        square=square,
        thickness=40,
    )


def job(
    flights: Sequence[Flight],
    landings: Sequence[Landing] = (),
    *,
    side: Side = Side.LEFT,
    least_height: float = 900,
    bottom: RailEnd = RailEnd(finish=EndFinish.CAP, overhang=140),
    top: RailEnd = RailEnd(finish=EndFinish.CAP, overhang=100),
    lengths: PostLengths = PostLengths.EQUAL,
    setback: float = 125,
    band: tuple[float, float] = (70, 180),
    edge_offset: float = 60,
    largest_span: float = 2000,
    fittings: Hardware | None = None,
) -> Job:
    return Job(
        project=Project(id="test"),
        flights=tuple(flights),
        landings=tuple(landings),
        rail=Rail(side=side, least_height=least_height, bottom=bottom, top=top),
        posts=Posts(
            lengths=lengths,
            setback=setback,
            setback_min=band[0],
            setback_max=band[1],
            edge_offset=edge_offset,
            largest_span=largest_span,
            substrate=Substrate.TIMBER,
        ),
        hardware=fittings or hardware(),
        output_unit=Unit.MM,
    )


def worked_job(
    turn: Turn = Turn.HALF_LEFT, *, square: bool = False, corner: CornerJoint = CornerJoint.AUTO, **options: object
) -> Job:
    """The two uneven flights of tests/layout/test_worked_example.py."""
    flights = (
        flight(1, (176, 181, 178, 183, 177, 180, 179), (251, 248, 250, 253, 249, 250), posts=(1, 4, 7)),
        flight(2, (178, 180, 177, 182, 179, 178), (252, 249, 250, 251, 248), posts=(0, 3, 6)),
    )
    between = landing(
        1,
        turn,
        1000 if turn is Turn.STRAIGHT else 900,
        well=120 if turn.quarters == 2 else 0,
        square=square,
        corner=corner,
    )
    return job(flights, (between,), **options)  # type: ignore[arg-type]


def mirrored(original: Job) -> Job:
    """The same stair with left and right exchanged."""
    from dataclasses import replace

    turns = {
        Turn.STRAIGHT: Turn.STRAIGHT,
        Turn.QUARTER_LEFT: Turn.QUARTER_RIGHT,
        Turn.QUARTER_RIGHT: Turn.QUARTER_LEFT,
        Turn.HALF_LEFT: Turn.HALF_RIGHT,
        Turn.HALF_RIGHT: Turn.HALF_LEFT,
    }
    side = Side.RIGHT if original.rail.side is Side.LEFT else Side.LEFT
    return replace(
        original,
        landings=tuple(replace(item, turn=turns[item.turn]) for item in original.landings),
        rail=replace(original.rail, side=side),
    )


def setbacks(layout: Layout) -> list[Setback]:
    """Those of all posts that have one, in walking order."""
    return [post.setback for post in layout.posts if post.setback is not None]
