"""Questions put to a caller, and the wall that their answers make.

Every question may be left out or answered with *not sure*: what is not known stays a range. Only
what an answer means is kept here; its words belong to the screen.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from random import Random

from estimator.survey.ranges import Range
from estimator.survey.survey import Asked, Survey

NOT_SURE = "not_sure"
NONE_OF_THESE = "none"


class Kind(Enum):
    """How a question is answered."""

    CHOICE = "one of the choices"
    SEVERAL = "any number of the choices"
    AMOUNT = "a size or a number, or one of the choices that stand for one"


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer that can be picked."""

    key: str
    share: float
    """How often it is so where nobody knows; all choices of a question make 1."""
    amount: Range | None = None
    """What it stands for, in the unit of its question."""


@dataclass(frozen=True, slots=True)
class Question:
    """One question, in the order usually asked."""

    key: str
    kind: Kind
    choices: tuple[Choice, ...]
    unit: str = ""
    """Unit of an amount: ``mm`` or ``nr``."""
    unknown: Range | None = None
    """What an amount may be where nobody knows."""
    moves_price: bool = True
    """False for questions of safety and consent, which move the route and not the price."""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """One chance draw of all that is not known: a plain survey, and what was drawn for it."""

    survey: Survey
    inputs: tuple[tuple[str, float], ...]
    """Question and the number drawn for it; a choice counts by its place. Answers known for sure
    are left out."""


def questions() -> tuple[Question, ...]:
    """Return all questions in the order usually asked."""
    raise NotImplementedError


def answered(survey: Survey, asked: Asked) -> Survey:
    """Return the survey with one more answer, or another answer to the same question."""
    raise NotImplementedError


def unanswered(survey: Survey, question: str) -> Survey:
    """Return the survey with the answer to a question taken back."""
    raise NotImplementedError


def surveyed(survey: Survey) -> Survey:
    """Return the survey with its wall, signs and site made anew from what was asked.

    Sizes not known stay ranges; of choices not known the likeliest is drawn.
    """
    raise NotImplementedError


def drawn(survey: Survey, chance: Random) -> Drawn:
    """Return the survey with everything that is not known drawn by chance."""
    raise NotImplementedError
