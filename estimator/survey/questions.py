"""The questions put to a caller, and what the house expects where an answer is not known.

All figures are in ``resources/enquiry.json``. What the choices are called belongs to the screen.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache
from types import MappingProxyType
from typing import Any

from estimator import resources
from estimator.survey.ranges import Range
from estimator.survey.survey import Asked

NOT_SURE = "not_sure"
NONE_OF_THESE = "none"
LENGTH = "length"
COUNTED = ("course", "brick")
"""Units a caller may count a length in; what one is long depends on the brick."""


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
    """False for questions of safety and consent, and of width: they move the route only."""
    source: str = ""

    def choice(self, key: str) -> Choice:
        """Return one of its choices.

        Raises:
            KeyError: when it has no such choice.

        >>> question("width").choice("coin").amount.high
        2.8
        """
        for one in self.choices:
            if one.key == key:
                return one
        raise KeyError(f"the question {self.key} has no choice {key}")


@dataclass(frozen=True, slots=True)
class Trusted:
    """How far a figure told on the telephone may be out, and how small and large it may be."""

    exact: float
    """Share of it, to either side."""
    about: float
    least: float
    most: float
    counted: float = 0.0
    """The same for one counted in courses or bricks."""
    counted_about: float = 0.0

    def span(self, asked: Asked, factor: float = 1.0) -> Range:
        """Return what a told figure may be, in the unit that a factor turns it to.

        >>> trusted("count").span(Asked("count", amount=3.0, unit="nr"))
        Range(low=3.0, likely=3.0, high=3.0)
        """
        if asked.unit in COUNTED:
            share = self.counted_about if asked.about else self.counted
        else:
            share = self.about if asked.about else self.exact
        amount = (asked.amount or 0.0) * factor
        return self.within(Range(amount * (1 - share), amount, amount * (1 + share)))

    def within(self, told: Range) -> Range:
        """Return a range no smaller and no larger than makes sense."""
        ends = (told.low, told.likely, told.high)
        return Range(*(min(max(end, self.least), self.most) for end in ends))


@cache
def questions() -> tuple[Question, ...]:
    """Return all questions in the order usually asked.

    >>> [question.key for question in questions()[:3]]
    ['place', 'height', 'shape']
    """
    return tuple(_question(entry) for entry in _data()["questions"])


@cache
def by_key() -> Mapping[str, Question]:
    """Return all questions by their keys.

    >>> by_key()["count"].unit
    'nr'
    """
    return MappingProxyType({one.key: one for one in questions()})


def question(key: str) -> Question:
    """Return one question.

    Raises:
        KeyError: when there is no such question.

    >>> question("place").kind
    <Kind.CHOICE: 'one of the choices'>
    """
    return by_key()[key]


@cache
def trusted(key: str) -> Trusted:
    """Return how far the told figures of a question are trusted.

    >>> trusted("length").most
    6000.0
    """
    return Trusted(**{name: float(value) for name, value in _data()["said"][key].items()})


@cache
def shares(key: str, known: str = "") -> tuple[float, ...]:
    """Return how often each choice is so, given the answer to the question it hangs on.

    >>> shares("mortar", "before_1919")[0] > shares("mortar", "later")[0]
    True
    """
    one = question(key)
    for entry in _data()["shares_given"]:
        if entry["question"] == key and known in entry["shares"]:
            given = entry["shares"][known]
            return tuple(float(given[choice.key]) for choice in one.choices)
    return tuple(choice.share for choice in one.choices)


@cache
def hangs_on(key: str) -> str:
    """Return the question whose answer makes some choices of another more likely, or nothing.

    >>> hangs_on("mortar"), hangs_on("place")
    ('house', '')
    """
    entries = _data()["shares_given"]
    return next((entry["on"] for entry in entries if entry["question"] == key), "")


@cache
def settings(name: str) -> Mapping[str, Any]:
    """Return one group of the house's settings for the wall drawn from answers.

    Raises:
        KeyError: when there is no such group.

    >>> settings("datum_mm")["low"]
    150
    """
    return MappingProxyType(_data()[name])


def _data() -> Any:
    return resources.data("enquiry.json")


def _question(entry: Mapping[str, Any]) -> Question:
    unknown = entry.get("unknown")
    return Question(
        entry["key"],
        Kind[entry["kind"]],
        tuple(_choice(one) for one in entry["choices"]),
        entry.get("unit", ""),
        _range(unknown) if unknown else None,
        entry.get("moves_price", True),
        entry["source"],
    )


def _choice(entry: Mapping[str, Any]) -> Choice:
    amount = entry.get("amount")
    return Choice(entry["key"], float(entry["share"]), _range(amount) if amount else None)


def _range(ends: list[float]) -> Range:
    return Range(*(float(end) for end in ends))
