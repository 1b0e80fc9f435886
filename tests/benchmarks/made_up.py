"""Walls built in code, of any size, and never twice the same to a cache."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import count
from pathlib import Path

from estimator.pricing import price_book
from estimator.quoting import offering
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Option, Trader
from estimator.survey import survey_file
from estimator.survey.survey import (
    Answer,
    Basis,
    Crack,
    CrackedBrick,
    Elevation,
    Opening,
    Party,
    Signs,
    Site,
    SteppedRun,
    StraightRun,
    Survey,
    Treatment,
)
from estimator.takeoff import rules
from estimator.takeoff.scope import USUAL

DEMO = Path(__file__).resolve().parents[2] / "demo"
FIRM = Trader("Sample Masonry")
DAY = date(2026, 11, 25)
WIDTH_MM, HEIGHT_MM = 9000.0, 5400.0
_hairs = count(1)


def practice() -> Practice:
    """The shipped rates and rules."""
    return Practice(price_book.shipped(), rules.shipped(), FIRM)


def demo(name: str) -> Survey:
    """One of the invented jobs."""
    return survey_file.load(DEMO / f"{name}.json")


def street(elevations: int, cracks: int) -> Survey:
    """A row of equal fronts with so many cracks shared out among them."""
    per_front = [cracks // elevations + (n < cracks % elevations) for n in range(elevations)]
    return Survey(
        "S-1",
        "A street",
        DAY.isoformat(),
        Basis.MEASURED,
        Party(),
        Site(),
        tuple(_front(n, number) for n, number in enumerate(per_front)),
        Signs(**dict.fromkeys(Signs.__dataclass_fields__, Answer.NO)),
    )


def _front(number: int, cracks: int) -> Elevation:
    openings = tuple(
        Opening(f"w{n}", 1350 + 2700 * (n % 3), 900 + 2700 * (n // 3), 1350, 1200) for n in range(6)
    )
    return Elevation(
        f"front-{number}",
        f"Number {2 * number + 1}",
        ((0, 0), (WIDTH_MM, 0), (WIDTH_MM, HEIGHT_MM), (0, HEIGHT_MM)),
        openings=openings,
        cracks=tuple(_crack(n) for n in range(cracks)),
        bricks=(CrackedBrick(2, 3, Treatment.REPLACE), CrackedBrick(4, 3, Treatment.PATCH)),
    )


def _crack(number: int) -> Crack:
    x_mm = 300 + 1800 * (number % 5) + 90 * (number // 10)
    course = 3 + 36 * (number // 5 % 2)
    if number % 4 == 3:
        return Crack(f"c{number}", StraightRun(x_mm, course, 9), 2.0, both_faces=Answer.NO)
    return Crack(f"c{number}", SteppedRun(x_mm, course, 8), 2.0, both_faces=Answer.NO)


def anew(survey: Survey) -> Survey:
    """Return the same survey a hair's breadth different, so that nothing of it is remembered."""
    hair = next(_hairs) * 1e-4
    return replace(
        survey, elevations=tuple(_moved(elevation, hair) for elevation in survey.elevations)
    )


def _moved(elevation: Elevation, hair: float) -> Elevation:
    cracks = tuple(
        replace(crack, run=replace(crack.run, x_mm=crack.run.x_mm + hair))
        if isinstance(crack.run, SteppedRun | StraightRun)
        else crack
        for crack in elevation.cracks
    )
    top = max(y for _x, y in elevation.outline)
    outline = tuple((x, y + hair if y == top else y) for x, y in elevation.outline)
    return replace(elevation, cracks=cracks, outline=outline)


def priced(survey: Survey, practised: Practice) -> tuple[Option, ...]:
    """Both usual choices, measured and priced."""
    return offering.priced(survey, practised, scopes=USUAL, date=DAY)
