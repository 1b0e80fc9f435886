"""Plain walls and answers, for tests that are about one thing each."""

from __future__ import annotations

from typing import Any

from estimator.survey.ranges import Told
from estimator.survey.survey import (
    Answer,
    Basis,
    Crack,
    CrackRun,
    Elevation,
    EngineersReport,
    Party,
    Signs,
    Site,
    SteppedRun,
    Survey,
)

OUTLINE = ((0.0, 0.0), (4500.0, 0.0), (4500.0, 2700.0), (0.0, 2700.0))
REPORT = EngineersReport("B. Hall", "R7", "2026-10-01")


def crack(
    identity: str,
    width_mm: Told,
    run: CrackRun | None = None,
    both_faces: Answer = Answer.NO,
    tapers: Answer = Answer.NO,
) -> Crack:
    """A crack, stepped unless said otherwise, and known to be on one face."""
    return Crack(identity, run or SteppedRun(2000.0, 2, 8.0), width_mm, both_faces, tapers)


def elevation(*cracks: Crack, **more: Any) -> Elevation:
    """A wall of 4.5 by 2.7 m."""
    return Elevation("front", "Front", OUTLINE, cracks=cracks, **more)


def signs(**answers: Answer) -> Signs:
    """Every sign denied, but for those given."""
    return Signs(**{**dict.fromkeys(Signs.__slots__, Answer.NO), **answers})


def survey(*cracks: Crack, basis: Basis = Basis.MEASURED, **more: Any) -> Survey:
    """A survey of one wall, measured, every sign denied, unless said otherwise."""
    known = {"signs": signs(), "site": Site(), "elevations": (elevation(*cracks),)}
    return Survey("T-1", "Wall", "2026-11-25", basis, Party(), **{**known, **more})
