"""A job with no wall yet: what counts as that, and the wall one begins with."""

from __future__ import annotations

from estimator.masonry.region import Point
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits import outline, sides
from estimator.quoting.wall_edits.changing import change
from estimator.survey import enquiry
from estimator.survey.survey import Basis, Elevation
from estimator.survey.wall import coursing_of

WIDTH_MM, HEIGHT_MM = 4500.0, 2700.0
"""A wall begun without a size: 20 bricks by 36 courses; house rule [mm]."""


def is_blank(work: Work) -> bool:
    """Return whether nobody has told or drawn anything of the wall yet.

    >>> from estimator.survey.survey import Party, Site, Survey
    >>> call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> is_blank(Work(enquiry.surveyed(call)))
    True
    """
    survey = work.survey
    return not survey.asked and survey.basis is Basis.TOLD and enquiry.is_made(survey)


def begin_wall(work: Work, side: str, size: Point = (WIDTH_MM, HEIGHT_MM)) -> Edit:
    """Return the edit that puts a bare wall in place of the one nobody told of [mm]."""
    if not work.survey.elevations:
        return sides.add_side(work, name="Front", width_mm=size[0], height_mm=size[1])
    plain = Elevation(side, "", ())
    return change(
        work,
        side,
        Step.WALL,
        outline=outline.rectangle(0.0, 0.0, *size),
        openings=(),
        cracks=(),
        hidden_bricks=0.0,
        left_end=plain.left_end,
        right_end=plain.right_end,
        datum_height_mm=plain.datum_height_mm,
    )


def whole_bricks(wall: Elevation, start: Point, end: Point) -> Point:
    """Return the size of a box in whole bricks and courses, one of each at the least [mm]."""
    coursing = coursing_of(wall.brickwork)
    brick = coursing.brick.length_mm + coursing.perpend_mm
    across, up = abs(end[0] - start[0]), abs(end[1] - start[1])
    return (
        max(round(across / brick), 1) * brick,
        max(round(up / coursing.gauge_mm), 1) * coursing.gauge_mm,
    )
