"""The small readers: what each takes, and where a mistake says it is."""

from __future__ import annotations

import pytest

from estimator.notices import UserMistake
from estimator.survey import reading
from estimator.survey.json_text import Odd, shown
from estimator.survey.limits import NUMBERS, Limit
from estimator.survey.reading import Place

FRONT = Place(("elevation 'front'", "crack 'a'", "width_mm"))
WIDTH = Limit(0, 200, "mm")


def test_a_mistake_is_one_sentence_with_its_place() -> None:
    with pytest.raises(UserMistake) as caught:
        reading.number(WIDTH)("wide", FRONT)
    assert str(caught.value) == (
        "elevation 'front', crack 'a': width_mm is 'wide'; write a number of mm from 0 to 200."
    )
    assert caught.value.field == "elevation 'front', crack 'a': width_mm"


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("x" * 99, f"'{'x' * 40}…'"),
        ("two\nlines", "'two?lines'"),
        ("turned \u202eround", "'turned ?round'"),
        ("half \ud83d", "'half ?'"),
        ("brick 🧱", "'brick 🧱'"),
        (None, "null"),
        (False, "false"),
        (0, "0"),
        (0.5, "0.5"),
        ({"a": 1}, "a group of fields"),
        (Odd("9" * 99), "99999999… (99 digits)"),
    ],
)
def test_a_value_is_shown_short_and_on_one_line(value: object, words: str) -> None:
    assert shown(value) == words


@pytest.mark.parametrize("limit", NUMBERS.values(), ids=NUMBERS.keys())
def test_the_ends_of_a_limit_are_within_it(limit: Limit) -> None:
    read = reading.number(limit)
    assert (read(limit.low, Place()), read(limit.high, Place())) == (limit.low, limit.high)
    for beyond in (limit.low - 0.001, limit.high + 0.001):
        with pytest.raises(UserMistake, match="write a number of"):
            read(beyond, Place())


def test_a_whole_number_may_be_written_with_a_point() -> None:
    assert reading.whole(WIDTH)(4.0, Place()) == 4


def test_things_in_a_list_are_named_by_id_or_counted() -> None:
    def refuse(_value: object, place: Place) -> str:
        raise place.mistake("is seen", "look")

    for value, name in (({"id": "a"}, "crack 'a'"), ({"id": 3}, "crack 1"), (None, "crack 1")):
        with pytest.raises(UserMistake, match=f"front: {name} is seen"):
            reading.listed(refuse, "crack", (0, 9))([value], Place(("front", "cracks")))


def test_the_nearest_known_word_is_offered_only_when_near() -> None:
    assert reading.nearest("FLEMISH", ["flemish", "stack"]) == "flemish"
    assert reading.nearest("colour", ["flemish", "stack"]) == ""
