"""Answers in words, for their lines and for what a question is worth."""

from __future__ import annotations

from estimator.desktop.language import _
from estimator.desktop.questions.heard import Ear
from estimator.desktop.questions.wordings import wording
from estimator.money import Money
from estimator.survey.enquiry import NOT_SURE, Question
from estimator.survey.survey import Asked


def in_words(question: Question, asked: Asked, ear: Ear) -> str:
    """Return an answer as its line shows it, with what was said where that says more."""
    if asked.amount is not None:
        size = ear.size(question, asked)
        plain = "".join(asked.said.lower().split())
        if not asked.said or plain in ("".join(size.split()), f"{asked.amount:g}"):
            return size
        return _("{answer} — “{said}”").format(answer=size, said=asked.said)
    said = [wording(question.key).said(choice) for choice in asked.choices]
    words = ", ".join(said)
    return words[:1].upper() + words[1:]


def is_known(asked: Asked) -> bool:
    """Return whether an answer tells anything."""
    return asked.amount is not None or NOT_SURE not in asked.choices


def worth(pounds: Money | None) -> str:
    """Return what an answer is worth, short; nothing where it is worth nothing."""
    return _("£{n}").format(n=f"{int(pounds.pounds):,}") if pounds else ""
