"""Sights of invented walls, and a session that shows them and does nothing else."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, Signal

from estimator.desktop.state import OpenJob, Sight
from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import Picture
from estimator.pricing import price_book
from estimator.quoting import offering
from estimator.quoting.edits import Work
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Option, Trader
from estimator.survey import enquiry, survey_file
from estimator.survey.survey import Asked, Basis, Party, Site, Survey
from estimator.survey.triage import assess
from estimator.takeoff import rules
from estimator.takeoff.scope import USUAL

DEMO = Path(__file__).resolve().parents[3] / "demo"
DAY = datetime.date(2026, 11, 25)


class Shown(QObject):
    """What the wall asks of a session."""

    sight_changed = Signal(object)

    def __init__(self, sight: Sight) -> None:
        super().__init__()
        self.sight = sight

    def show(self, sight: Sight) -> None:
        self.sight = sight
        self.sight_changed.emit(sight)


def shown(survey: Survey) -> Any:
    return Shown(sight_of(survey))


def sight_of(survey: Survey) -> Sight:
    practice = Practice(price_book.shipped(), rules.shipped(), Trader(""))
    assessment = assess(survey)
    options: tuple[Option, ...] = ()
    if assessment.route.allows_price:
        options = offering.priced(survey, practice, scopes=USUAL, date=DAY)
    return Sight(OpenJob(Work(survey), "1"), practice, assessment, options)


def pictured(sight: Sight, elevation: int = 0, option: int = 0) -> Picture | None:
    """The drawing of one side of what is seen, with the work of one option."""
    return picture_of(sight.work.survey, elevation, sight.measure(option))


def demo(name: str) -> Survey:
    return survey_file.read((DEMO / f"{name}.json").read_text(encoding="utf-8"))


def call(*asked: Asked) -> Survey:
    """A call with so many answers."""
    survey = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    survey = enquiry.surveyed(survey)
    for one in asked:
        survey = enquiry.answered(survey, one)
    return survey
