"""What a typed answer to a question about a size or a number means, and what to say of it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from estimator.desktop.inputs.sizes import Size, is_other_decimal, understood
from estimator.desktop.language import _
from estimator.desktop.questions.wordings import wording
from estimator.survey.enquiry import NOT_SURE, Question
from estimator.survey.questions import trusted
from estimator.survey.survey import Asked, Brickwork, Survey
from estimator.survey.wall import coursing_of

MM = 1000.0
METRES_BELOW = 10.0
"""A plain number with a decimal, below this, is a length in metres."""
HELD = r"\b(card|coin|pencil|finger)(?:tip)?\b.*\b"
STOPS = re.compile(
    HELD + r"(?:won'?t|will not|doesn'?t|does not|can'?t|cannot)(?: quite)? (?:go|fit)"
)
ENTERS = re.compile(HELD + r"(?:goes|fits|will go|will fit|slides)\b")
UNSURE = ("not sure", "don't know", "dont know", "no idea", "unsure", "?")
WHOLE_WORD = 3
"""So many letters of a choice name it."""


@dataclass(frozen=True, slots=True)
class Measures:
    """What a course and a brick with its joint measure on the wall that is drawn [mm]."""

    course_mm: float
    brick_mm: float
    counts_level: bool = False
    """Whether bricks are counted along a course and not up the wall."""

    @classmethod
    def of(cls, survey: Survey) -> Measures:
        """Return the measures of a survey's first wall."""
        first = next(iter(survey.elevations), None)
        coursing = coursing_of(Brickwork() if first is None else first.brickwork)
        level = any(one.question == "shape" and "level" in one.choices for one in survey.asked)
        along = coursing.brick.length_mm + coursing.perpend_mm
        return cls(coursing.gauge_mm, along if level else coursing.gauge_mm, level)


@dataclass(frozen=True, slots=True)
class Heard:
    """What was understood, with an echo of it, or why it cannot be used."""

    asked: Asked | None = None
    echo: str = ""
    note: str = ""
    """A sentence: of what was assumed, or of what has to be said otherwise."""


@dataclass(frozen=True, slots=True)
class Ear:
    """Listens to typed answers in one language, about one wall."""

    measures: Measures
    decimal: str = "."

    def hear(self, question: Question, text: str) -> Heard:
        """Return what a typed answer means; nothing at all while it may still go on."""
        said = text.strip()
        if not said:
            return Heard()
        taken = self._choice(question, said) or self._held(question, said)
        if taken is not None:
            return taken
        size = self._size(question, said)
        if size is not None and size.asked is not None:
            return size
        return self._named(question, said) or size or Heard()

    def figure(self, number: float, places: int) -> str:
        """Return a number with at most so many decimals."""
        text = f"{number:.{places}f}"
        text = text.rstrip("0").rstrip(".") if places == 1 else text
        return text.replace(".", self.decimal)

    def size(self, question: Question, asked: Asked) -> str:
        """Return the size of an answer in the unit of its question."""
        amount = asked.amount or 0.0
        if question.key == "length":
            factor = {"course": self.measures.course_mm, "brick": self.measures.brick_mm}
            metres = self.figure(amount * factor.get(asked.unit, 1.0) / MM, 2)
            return _("{n} m").format(n=metres)
        if question.unit == "mm":
            return _("{n} mm").format(n=self.figure(amount, 1))
        return self.figure(amount, 0)

    def _choice(self, question: Question, said: str) -> Heard | None:
        words = said.lower().replace("’", "'")
        if words in ("0", *UNSURE):
            return Heard(Asked(question.key, (NOT_SURE,)), _("not sure"))
        if re.fullmatch("[1-9]", said) and int(said) <= len(question.choices):
            key = question.choices[int(said) - 1].key
            return Heard(
                Asked(question.key, (key,)), _echo_of(question, key), _of_digit(question, said)
            )
        return None

    def _named(self, question: Question, said: str) -> Heard | None:
        """Return the one choice whose words begin so."""
        words = said.lower().replace("’", "'")
        labels = wording(question.key).choices
        found = [
            key
            for key, label in labels.items()
            if len(words) >= WHOLE_WORD and label.lower().startswith(words)
        ]
        if len(found) != 1:
            return None
        asked = Asked(question.key, (found[0],), said=said)
        return Heard(asked, _echo_of(question, found[0]))

    def _held(self, question: Question, said: str) -> Heard | None:
        """Return what a thing held against a crack tells of its width."""
        if question.key != "width":
            return None
        words = said.lower().replace("’", "'")
        stopped, entered = STOPS.search(words), ENTERS.search(words)
        found = stopped or entered
        if found is None:
            return None
        keys = [one.key for one in question.choices]
        key = keys[keys.index(found[1]) + (0 if stopped else 1)]
        return Heard(Asked("width", (key,), said=said), _echo_of(question, key))

    def _size(self, question: Question, said: str) -> Heard | None:
        size = understood(said, decimal=self.decimal)
        if size is None:
            is_other = is_other_decimal(said, decimal=self.decimal)
            return Heard(note=_of_decimal(said, self.decimal)) if is_other else None
        fit = _length if question.key == "length" else _width if question.unit == "mm" else _number
        fitted, note = fit(size, said, question.key)
        if fitted is None:
            return Heard(note=note)
        asked = Asked(
            question.key, amount=fitted.amount, unit=fitted.unit, about=fitted.about, said=said
        )
        outside = self._outside(question, asked)
        if outside:
            return Heard(note=outside)
        words = self.size(question, asked)
        echo = _("= about {size}") if fitted.about else _("= {size}")
        if fitted.unit == "brick" and question.key == "length" and not note:
            note = (
                _("Counted along a course.") if self.measures.counts_level else _("Counted upward.")
            )
        return Heard(asked, echo.format(size=words), note)

    def _outside(self, question: Question, asked: Asked) -> str:
        """Return why an amount is smaller or larger than makes sense, or nothing."""
        limits = trusted(question.key)
        factor = {"course": self.measures.course_mm, "brick": self.measures.brick_mm}
        amount = (asked.amount or 0.0) * (
            factor.get(asked.unit, 1.0) if question.key == "length" else 1.0
        )
        is_nothing = question.unit == "mm" and amount <= 0
        if limits.least <= amount <= limits.most and not is_nothing:
            return ""
        size = self.size(question, asked)
        if question.key == "length":
            least = _("{n} mm").format(n=self.figure(limits.least, 0))
            most = _("{n} m").format(n=self.figure(limits.most / MM, 0))
        else:
            unit = _("{n} mm") if question.unit == "mm" else "{n}"
            least, most = (
                unit.format(n=self.figure(end, 0)) for end in (limits.least, limits.most)
            )
        if is_nothing and question.key == "length":
            return _("That is no length at all. Say it like “1.2 m” or “18 courses”.")
        if is_nothing:
            return _("That is no gap at all. Say its width, such as 1 mm.")
        return _("That would be {size}. Say a figure from {least} to {most}.").format(
            size=size, least=least, most=most
        )


def not_heard(question: Question) -> str:
    """Return what to say when Enter is pressed on words that mean nothing here."""
    if question.key == "length":
        return _("That is no length yet. Say it like “1.2 m”, “12 bricks” or “18 courses”.")
    if question.unit == "mm":
        return _("That is no width yet. Say it like “2 mm”, “half an inch” or “a pound coin”.")
    return _("That is no number yet. Say it like “3” or “about a dozen”.")


Fitted = tuple[Size | None, str]
"""The size in a unit of the question, or None; and a sentence of what was assumed or is missing."""


def _length(size: Size, said: str, _key: str) -> Fitted:
    if size.unit != "nr":
        return size, ""
    if size.amount >= trusted("length").least:
        return Size(size.amount, "mm", size.about), _("Taken as millimetres.")
    if size.amount % 1 and size.amount < METRES_BELOW:
        return Size(size.amount * MM, "mm", size.about), _("Taken as metres.")
    return None, _("{said} of what? Add m, mm, courses or bricks.").format(said=said)


def _width(size: Size, _said: str, _key: str) -> Fitted:
    if size.unit in ("course", "brick"):
        return None, _("A width is a small size. Say it like “2 mm” or “a pound coin”.")
    note = _("Taken as millimetres.") if size.unit == "nr" else ""
    return Size(size.amount, "mm", size.about), note


def _number(size: Size, _said: str, key: str) -> Fitted:
    counted = ("nr", "brick") if key == "bricks" else ("nr",)
    if size.unit not in counted:
        return None, _("How many is a number. Say it like “3”.")
    amount = size.amount
    if amount % 1:
        if not size.about:
            return None, _("How many is a whole number. Say it like “3”.")
        # Between two and three of them: the more costly end is the safer.
        amount = amount - amount % 1 + 1
    return Size(amount, "nr", size.about), ""


def _of_digit(question: Question, digit: str) -> str:
    """Return how to say a plain number where a digit alone takes the answer of that digit."""
    sentence = {
        "length": _("Answer {n} below. For {n} metres, add m."),
        "width": _("Answer {n} below. For {n} millimetres, add mm."),
        "bricks": _("Answer {n} below. To count bricks, add b."),
    }.get(question.key, "")
    return sentence.format(n=digit)


def _of_decimal(said: str, decimal: str) -> str:
    if decimal == ".":
        return _("“{said}” has a comma where the point belongs. Say it like “1.5 m”.").format(
            said=said
        )
    return _("“{said}” has a point where the comma belongs. Say it like “1,5 m”.").format(said=said)


def _echo_of(question: Question, key: str) -> str:
    words = wording(question.key).said(key)
    return f"= {words[:1].lower()}{words[1:]}"
