"""Every change a person can make to what is known and offered, as one frozen value to the next.

An edit carries its name, so that it can be undone by name, and what it is about, so that typing in
one place is one edit and not forty.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import TYPE_CHECKING

from estimator.survey import enquiry
from estimator.survey.survey import Asked, Party, Reading, Survey
from estimator.takeoff.scope import USUAL, Scope

if TYPE_CHECKING:
    from estimator.takeoff.rules import Rules


@dataclass(frozen=True, slots=True)
class Work:
    """What a price follows from: what is known of the wall, what is offered, whose rules."""

    survey: Survey
    scopes: tuple[Scope, ...] = USUAL
    rule_changes: tuple[tuple[str, float], ...] = ()
    """Rules of this job that differ from the firm's, by name."""

    def rules(self, usual: Rules) -> Rules:
        """Return the rules of this job."""
        if not self.rule_changes:
            return usual
        # Loaded only now: a call can be taken down before the takeoff is in.
        from estimator.takeoff.rules import changed  # noqa: PLC0415

        return changed(usual, **dict(self.rule_changes))


class Step(Enum):
    """The kinds of edit; the screen has words for each."""

    ANSWER = "answer a question"
    TAKE_BACK = "take an answer back"
    CUSTOMER = "change the customer"
    OFFER = "change what is offered"
    RULE = "change a rule for this job"
    NOTE = "change the notes"
    READING = "write down a reading"
    SITE = "change the site"
    WALL = "change the wall"
    SIDE = "change the sides of the building"
    OPENING = "change an opening"
    CRACK = "draw a crack"
    WIDTH = "measure a width"
    BRICK = "mark a brick"
    BAR = "set a bar by hand"
    AREA = "draw an area to repoint"
    BED = "mark a thin bed"
    PHOTO = "change a photograph"
    BASIS = "say who took the sizes"


@dataclass(frozen=True, slots=True)
class Edit:
    """One step from a work to the next."""

    step: Step
    about: str
    """The question, field or rule; steps of one kind about one thing follow on as one."""
    after: Work


def answer(work: Work, asked: Asked) -> Edit:
    """Take down the answer to a question."""
    survey = enquiry.answered(work.survey, asked)
    return Edit(Step.ANSWER, asked.question, replace(work, survey=survey))


def take_back(work: Work, question: str) -> Edit:
    """Take the answer to a question back."""
    survey = enquiry.unanswered(work.survey, question)
    return Edit(Step.TAKE_BACK, question, replace(work, survey=survey))


def name_customer(work: Work, party: Party, *, about: str = "") -> Edit:
    """Write down who is calling, and where the wall is."""
    return Edit(Step.CUSTOMER, about, replace(work, survey=replace(work.survey, customer=party)))


def offer(work: Work, scopes: tuple[Scope, ...]) -> Edit:
    """Offer other choices.

    Raises:
        ValueError: for no choice at all.
    """
    if not scopes:
        raise ValueError("at least one choice is offered")
    return Edit(Step.OFFER, "", replace(work, scopes=scopes))


def set_rule(work: Work, name: str, value: float | None) -> Edit:
    """Give this job a rule of its own, or with None the firm's again."""
    others = tuple(one for one in work.rule_changes if one[0] != name)
    changes = others if value is None else (*others, (name, value))
    return Edit(Step.RULE, name, replace(work, rule_changes=changes))


def note(work: Work, *, said: str | None = None, not_seen: str | None = None) -> Edit:
    """Write down what the customer said, or what could not be seen."""
    survey = work.survey
    if said is not None:
        survey = replace(survey, said=said)
    if not_seen is not None:
        survey = replace(survey, not_seen=not_seen)
    about = "said" if said is not None else "not_seen"
    return Edit(Step.NOTE, about, replace(work, survey=survey))


def describe(work: Work, *, title: str | None = None, date: str | None = None) -> Edit:
    """Name the survey, or say on which day the wall was seen or told of (ISO 8601)."""
    survey = work.survey
    if title is not None:
        survey = replace(survey, title=title)
    if date is not None:
        survey = replace(survey, date=date)
    return Edit(Step.NOTE, "title" if title is not None else "date", replace(work, survey=survey))


def note_reading(work: Work, reading: Reading) -> Edit:
    """Write down one reading of a crack that is being watched."""
    survey = replace(work.survey, readings=(*work.survey.readings, reading))
    about = f"{reading.crack}/{reading.point}/{reading.date}"
    return Edit(Step.READING, about, replace(work, survey=survey))


def drop_reading(work: Work, reading: Reading) -> Edit:
    """Strike a reading out."""
    kept = tuple(one for one in work.survey.readings if one != reading)
    return Edit(Step.READING, "", replace(work, survey=replace(work.survey, readings=kept)))
