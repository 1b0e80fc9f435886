"""What a typed answer means to the question it answers, and what is said of it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.desktop.questions.heard import Ear, Measures, not_heard
from estimator.desktop.questions.wordings import wording
from estimator.survey.enquiry import Kind, questions

BY_KEY = {one.key: one for one in questions()}
EAR = Ear(Measures(75.0, 75.0))


@pytest.mark.parametrize(
    ("key", "said", "amount", "unit", "echo"),
    [
        ("length", "18 courses", 18, "course", "= 1.35 m"),
        ("length", "about twelve bricks", 12, "brick", "= about 0.90 m"),
        ("length", "1500", 1500, "mm", "= 1.50 m"),
        ("length", "1.5", 1500, "mm", "= 1.50 m"),
        ("length", "six foot", 1828.8, "mm", "= 1.83 m"),
        ("width", "2 mm", 2, "mm", "= 2 mm"),
        ("width", "12", 12, "mm", "= 12 mm"),
        ("width", "a pound coin", 2.8, "mm", "= about 2.8 mm"),
        ("bricks", "3 bricks", 3, "nr", "= 3"),
        ("bricks", "about a dozen", 12, "nr", "= about 12"),
        ("bricks", "two or three bricks", 3, "nr", "= about 3"),
        ("count", "seven", 7, "nr", "= 7"),
    ],
)
def test_a_size_is_taken_in_the_unit_of_its_question(key, said, amount, unit, echo):
    heard = EAR.hear(BY_KEY[key], said)
    assert heard.asked is not None
    assert (heard.asked.amount, heard.asked.unit, heard.echo) == (amount, unit, echo)
    assert heard.asked.said == said


@pytest.mark.parametrize(
    ("key", "said", "choice"),
    [
        ("length", "2", "metre"),
        ("width", "1", "card"),
        ("count", "3", "three"),
        ("bricks", "1", "none"),
        ("length", "0", "not_sure"),
        ("width", "not sure", "not_sure"),
        ("width", "don't know", "not_sure"),
        ("width", "a pound coin won't go in", "coin"),
        ("width", "A pound coin won’t go in", "coin"),
        ("width", "a pound coin goes in", "pencil"),
        ("width", "pencil fits in", "finger"),
        ("width", "a fingertip goes in", "wider"),
        ("bricks", "only joints", "none"),
    ],
)
def test_a_choice_can_be_typed(key, said, choice):
    heard = EAR.hear(BY_KEY[key], said)
    assert heard.asked is not None
    assert heard.asked.choices == (choice,)
    assert heard.echo


@pytest.mark.parametrize(
    ("key", "said", "told"),
    [
        ("length", "1,5 m", "comma"),
        ("length", "12", "12 of what?"),
        ("length", "50 m", "50.00 m"),
        ("length", "2 mm", "75 mm"),
        ("length", "0 m", "no length"),
        ("width", "4 bricks", "small size"),
        ("width", "3 m", "200 mm"),
        ("width", "0 mm", "no gap"),
        ("count", "2 m", "number"),
        ("count", "2.5", "whole number"),
        ("count", "99", "20"),
    ],
)
def test_what_cannot_be_is_told_in_a_sentence(key, said, told):
    heard = EAR.hear(BY_KEY[key], said)
    assert heard.asked is None
    assert told in heard.note
    assert heard.note.endswith((".", "”."))


def test_a_lone_digit_says_how_to_mean_a_size_instead():
    for key in ("length", "width", "bricks"):
        assert "Answer 2 below" in EAR.hear(BY_KEY[key], "2").note
    assert EAR.hear(BY_KEY["count"], "2").note == ""


def test_bricks_count_along_a_level_crack():
    level = Ear(Measures(75.0, 225.0, counts_level=True))
    heard = level.hear(BY_KEY["length"], "4 bricks")
    assert heard.echo == "= 0.90 m"
    assert "course" in heard.note


def test_a_comma_is_the_decimal_sign_where_the_language_has_it():
    german = Ear(Measures(75.0, 75.0), ",")
    assert german.hear(BY_KEY["length"], "1,5 m").echo == "= 1,50 m"
    assert "comma belongs" in german.hear(BY_KEY["length"], "1.5 m").note


@given(st.sampled_from([one for one in questions() if one.kind is Kind.AMOUNT]), st.text())
def test_nothing_typed_is_too_much(question, text):
    heard = EAR.hear(question, text)
    assert heard.asked is None or heard.echo
    assert not_heard(question)


def test_every_question_and_choice_has_its_words():
    for question in questions():
        said = wording(question.key)
        assert said.label and said.ask.endswith("?") and said.hint.endswith((".", "?"))
        assert set(said.choices) == {choice.key for choice in question.choices}
        assert set(said.known) <= set(said.choices)
        first = [said.said(key) for key in said.choices]
        assert len(set(first)) == len(first)
        assert question.moves_price or said.tag
