"""How this job is made and put up, step by step, and the record that is filled in at hand-over."""

from railgen.schedules.install.assumed import stated_by_the_job
from railgen.schedules.install.model import Asked, Caution, Limit, Measure, Phase, Quantity, RecordRow, Step, StepPiece
from railgen.schedules.install.record import HandOver, hand_over
from railgen.schedules.install.sequence import installation, installation_table, installation_text

__all__ = [
    "Asked",
    "Caution",
    "HandOver",
    "Limit",
    "Measure",
    "Phase",
    "Quantity",
    "RecordRow",
    "Step",
    "StepPiece",
    "hand_over",
    "installation",
    "installation_table",
    "installation_text",
    "stated_by_the_job",
]
