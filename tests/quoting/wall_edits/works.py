"""A plain wall to be edited by hand: UK metric brick, stretcher bond, 4.5 by 2.7 m."""

from __future__ import annotations

from typing import Any

import pytest

from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Work
from estimator.survey.survey import Crack, Elevation, Opening, SteppedRun
from tests.survey.walls import OUTLINE, survey

GABLE = ((0.0, 0.0), (4500.0, 0.0), (4500.0, 2700.0), (2250.0, 4200.0), (0.0, 2700.0))
WINDOW = Opening("w1", 1575.0, 900.0, 1350.0, 1200.0)
STEPS = Crack("a", SteppedRun(300.0, 2, 8.0), 2.0)


def work(**fields: Any) -> Work:
    """A job with one wall."""
    outline = fields.pop("outline", OUTLINE)
    return Work(survey(elevations=(Elevation("front", "Front", outline, **fields),)))


def wall(edit: Edit, side: str = "front") -> Elevation:
    """A wall after an edit."""
    return next(one for one in edit.after.survey.elevations if one.id == side)


def refused(words: str) -> Any:
    """Something is refused in these words, and no more is said."""
    return pytest.raises(UserMistake, match=f"^{words}")
