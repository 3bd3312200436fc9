"""What the job itself asks for, and the survey's own consistency."""

from __future__ import annotations

from collections.abc import Iterator

from railgen.checks.model import Certainty, Check
from railgen.checks.steps import odd_steps
from railgen.job.model import Job
from railgen.layout.model import Layout
from railgen.survey import CLOSURE

__all__ = ["BAR", "job_checks"]

BAR = "job-bar"


def job_checks(job: Job, layout: Layout) -> Iterator[Check]:
    """Closure of each flight, steps that may be none, rail height over each covered nosing, spans between supports."""
    for flight in layout.survey.flights:
        closure = flight.closure()
        for name, error in (("rise", closure.rise_error), ("run", closure.run_error)):
            if error is not None:
                yield Check(
                    code=f"closure-{name}",
                    title=f"measured total {name} less the sum of the steps",
                    where=f"flight {flight.flight.number}",
                    value=error,
                    unit="mm",
                    least=-CLOSURE,
                    most=CLOSURE,
                    certainty=Certainty.PRACTICE,
                    advice="" if abs(error) <= CLOSURE else "measure the flight again before cutting",
                )
    for where, question in odd_steps(job):
        yield Check(
            code="odd-step",
            title="a step that may be none",
            where=where,
            value=None,
            unit="",
            certainty=Certainty.PRACTICE,
            missing=question,
        )
    for height in layout.heights:
        if height.height is not None:
            yield Check(
                code="job-height",
                title="rail height above the nosing",
                where=f"flight {height.flight}, nosing {height.nosing}",
                value=height.height,
                unit="mm",
                least=job.rail.least_height,
                certainty=Certainty.JOB,
            )
    for span in layout.spans:
        met = span.length <= job.posts.largest_span
        yield Check(
            code="job-span",
            title="span between supports (layout habit, not strength)",
            where=f"{span.from_post} to {span.to_post}",
            value=span.length,
            unit="mm",
            most=job.posts.largest_span,
            certainty=Certainty.PRACTICE,
            advice="" if met else "put a post between them, or leave posts out of the flight to let the tool choose",
        )
    yield from _bar_checks(job, layout)


def _bar_checks(job: Job, layout: Layout) -> Iterator[Check]:
    """Each tube against the longest bar, or piece on the rack, that it could be cut from."""
    stock, hardware = job.order.stock, job.hardware
    tubes = [(f"rail {rail.id}", rail.length, hardware.tube.id) for rail in layout.rails]
    tubes += [(f"post {post.id}", post.length, hardware.post_tube.id) for post in layout.posts]
    usual = job.left_out("stock.lengths")
    splice = "a longer bar (stock.lengths), or a splice, which railgen does not lay out"
    for where, length, section in tubes:
        longest = stock.longest(section)
        yield Check(
            code=BAR,
            title="tube in one piece, from the longest bar",
            where=where,
            value=length,
            unit="mm",
            most=longest,
            certainty=Certainty.PRACTICE if usual else Certainty.JOB,
            formula=f"{'usual bar' if usual else 'stock'} of {section}, less what is trimmed at both ends",
            advice="" if length <= longest else splice,
        )
