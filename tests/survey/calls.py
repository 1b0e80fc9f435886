"""A call, as it is told and as somebody draws over it."""

from __future__ import annotations

from dataclasses import replace

from estimator.survey import enquiry
from estimator.survey.ranges import Range
from estimator.survey.survey import Asked, Basis, Crack, Elevation, Party, Site, SteppedRun, Survey
from tests.survey.walls import OUTLINE

CALL = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party("A. Sample"), Site(travel_miles=4.0), ())


def told(call: Survey = CALL, /, **choices: str) -> Survey:
    """A call in which these choices were taken."""
    for key, choice in choices.items():
        call = enquiry.answered(call, Asked(key, (choice,)))
    return call


DRAWN = replace(
    told(place="corner", shape="stepped", growing="same"),
    drawn=True,
    elevations=(
        Elevation(
            "front",
            "Front",
            OUTLINE,
            cracks=(Crack("a", SteppedRun(2000.0, 2, Range(6.0, 9.0, 12.0)), 2.0),),
        ),
    ),
)
"""A call whose wall somebody drew over while it went on."""
