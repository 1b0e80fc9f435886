"""Every kept bad price list is told in plain words, and none of its bad rows is taken."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from estimator.exchange.matching import preview
from estimator.exchange.reading import read_sheet
from estimator.notices import UserMistake
from tests.bad_price_lists import make

FOLDER = Path(make.__file__).parent
INDEX = json.loads((FOLDER / "index.json").read_text(encoding="utf-8"))
MOST_LETTERS = 300
MACHINE_WORDS = re.compile(
    r"\w+(?:Error|Exception)\b|Traceback|\b(?:NoneType|dict|str|int|float|tuple|bool|object|utf8)\b"
    r"|\b(?:invalid|valid|please|sorry|record|entity|oops|illegal)\b"
)


def said_of(path: Path) -> list[str]:
    """All that is said against a list: the one mistake, or the problems of rows not taken."""
    try:
        found = preview(read_sheet(path.read_bytes(), path.name))
    except UserMistake as mistake:
        return [str(mistake)]
    wrong = {problem.row for problem in found.stopping}
    assert wrong.isdisjoint(row.row for row in found.rows)
    return [problem.text for problem in found.stopping]


def assert_plain(sentence: str) -> None:
    assert not re.search(r"[!?]\s|[.]\s+[A-Z]", sentence), "more than one sentence"
    assert sentence.isprintable(), "a line end or a letter nobody can see"
    assert len(sentence) <= MOST_LETTERS
    assert not MACHINE_WORDS.search(sentence)


def test_there_are_200_and_more_and_each_is_in_the_index() -> None:
    files = {path.name for kind in make.KINDS for path in FOLDER.glob(kind)}
    assert len(files) >= 200
    assert files == set(INDEX)


@pytest.mark.parametrize("name", sorted(INDEX))
def test_a_bad_list_is_told_in_plain_words(name: str) -> None:
    said = said_of(FOLDER / name)
    assert any(INDEX[name] in sentence for sentence in said)
    for sentence in said:
        assert_plain(sentence)


def test_the_kept_files_are_those_the_script_makes() -> None:
    for name, data, fragment in make.every():
        assert (FOLDER / name).read_bytes() == data, name
        assert INDEX[name] == fragment


@pytest.mark.parametrize("write", make.WRITERS.values())
def test_the_list_they_are_made_from_is_good(write: object) -> None:
    assert callable(write)
    found = preview(read_sheet(write([make.COLUMNS, *make.GOOD]), "good"))
    assert len(found.rows) == len(make.GOOD)
    assert not found.problems
