"""Plates held by bolts that go right through: holes as deep as what they go through, bolts long enough for a nut."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import railgen
from railgen.catalogue.models import Substrate
from railgen.errors import ImpossibleError
from railgen.job.model import Job
from railgen.job.strength_model import Fixing
from railgen.members.pieces import StairBody
from tests.jobs import worked_job


def bolted(length: float, substrate: Substrate = Substrate.TIMBER) -> Job:
    """The worked stair on bolts of a length."""
    job = worked_job()
    anchor = job.hardware.anchor.model_copy(update={"length": length, "substrate": substrate})
    return replace(
        job,
        hardware=replace(job.hardware, anchor=anchor),
        ground=job.ground.model_copy(update={"fixing": Fixing.THROUGH_BOLT}),
        posts=replace(job.posts, substrate=substrate),
    )


def bodies(job: Job) -> list[StairBody]:
    fabrication = railgen.fabricate(job, railgen.solve(job))
    return [piece for piece in fabrication.pieces.values() if isinstance(piece, StairBody) and piece.holes]


def test_a_bolts_hole_goes_through_what_the_plate_stands_on() -> None:
    drilled = bodies(bolted(150.0))
    assert drilled
    assert all(hole.depth == body.thickness for body in drilled for hole in body.holes)
    blind = bodies(worked_job())
    assert all(hole.depth < body.thickness for body in blind for hole in body.holes)


def test_the_solid_of_a_tread_is_bored_right_through() -> None:
    """Its volume is the slab less four full cylinders, and each has a rim on the underside."""
    from railgen.solids.plates import stair_body

    body = bodies(bolted(150.0))[0]
    turned = [*body.outline[1:], body.outline[0]]
    area = sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(body.outline, turned, strict=True)) / 2
    bores = sum(math.pi / 4 * hole.diameter**2 for hole in body.holes)
    solid = stair_body(body)
    assert solid.isValid()
    assert solid.Volume() == pytest.approx((area - bores) * body.thickness, rel=1e-6)
    low = solid.BoundingBox().zmin
    rims = [edge for edge in solid.Edges() if edge.geomType() == "CIRCLE" and abs(edge.Center().z - low) < 1e-6]
    assert len(rims) == len(body.holes)


def test_a_bolt_too_short_for_its_nut_is_refused() -> None:
    job = bolted(150.0)
    plate, bolt = job.hardware.base_plate, job.hardware.anchor
    thickest = max(*(flight.tread_thickness for flight in job.flights), *(land.thickness for land in job.landings))
    needed = plate.thickness + thickest + 1.5 * bolt.diameter
    assert bodies(bolted(needed))
    with pytest.raises(ImpossibleError) as caught:
        railgen.solve(bolted(needed - 0.1))
    assert {fault.code for fault in caught.value.faults} == {"bolt-length"}


def test_concrete_is_never_bolted_through() -> None:
    assert not bolted(150.0, Substrate.CONCRETE).bolted_through


def test_the_installation_says_right_through() -> None:
    from railgen.report.content import Content, Worked

    job = bolted(150.0)
    layout = railgen.solve(job)
    content = Content(job=job, layout=layout, fabrication=railgen.fabricate(job, layout), checks=())
    told = "\n".join(line for step in Worked(content).steps for line in step.do)
    assert "right through" in told
