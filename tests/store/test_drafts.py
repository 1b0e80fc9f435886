"""What is half typed is kept as it stands."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from estimator.notices import UserMistake
from estimator.store import drafts
from estimator.store.database import Database, open_file
from estimator.store.drafts import Draft
from tests.store import work


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    with open_file(work.fresh(quick)) as opened:
        yield opened


def test_the_last_draft_of_a_form_is_kept(database: Database) -> None:
    drafts.keep(database, "job/1", '{"a": 1}', now=work.at_nine)
    drafts.keep(database, "customer/new", "{", now=work.at_nine)
    drafts.keep(database, "job/1", '{"a": 2}', now=work.at_nine)
    assert drafts.every(database) == (
        Draft("customer/new", "{", work.MORNING),
        Draft("job/1", '{"a": 2}', work.MORNING),
    )


def test_drafts_are_there_at_the_next_start(tmp_path: Path) -> None:
    path = tmp_path / "work.perpend"
    with open_file(path) as database:
        drafts.keep(database, "job/1", "half a wor")
    with open_file(path) as database:
        assert [one.document for one in drafts.every(database)] == ["half a wor"]


def test_a_draft_is_dropped_and_dropping_nothing_does_nothing(database: Database) -> None:
    drafts.keep(database, "job/1", "{}")
    drafts.drop(database, "job/2")
    assert len(drafts.every(database)) == 1
    drafts.drop(database, "job/1")
    assert drafts.every(database) == ()


def test_nasty_drafts_come_back_letter_for_letter(database: Database) -> None:
    texts = work.nasty_texts(200, seed=33)
    with database.writing() as connection:
        for number, text in enumerate(texts):
            drafts.keep(connection, f"{number:03}", text)
    assert [one.document for one in drafts.every(database)] == texts


def test_half_a_letter_is_refused_and_the_old_draft_stays(database: Database) -> None:
    drafts.keep(database, "job/1", "old")
    with pytest.raises(UserMistake, match="the draft holds half a letter"):
        drafts.keep(database, "job/1", "\ud800")
    assert [one.document for one in drafts.every(database)] == ["old"]
