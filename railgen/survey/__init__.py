"""The stair as measured, placed in space: nosings, projected treads, pitch, closure."""

from railgen.survey.flight import CLOSURE, Closure, FlightSurvey
from railgen.survey.stair import SurfaceId, SurfaceKind, Survey, surface_at, survey_job

__all__ = [
    "CLOSURE",
    "Closure",
    "FlightSurvey",
    "SurfaceId",
    "SurfaceKind",
    "Survey",
    "surface_at",
    "survey_job",
]
