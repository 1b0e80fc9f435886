"""What the firm set comes back letter for letter, alone under its name."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from estimator.notices import UserMistake, WorldFault
from estimator.store import jobs, settings
from estimator.store.database import Database, open_file, problems_in
from estimator.store.jobs import Job
from tests.store import work


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    with open_file(work.fresh(tmp_path)) as opened:
        yield opened


def test_a_setting_never_made_is_none(database: Database) -> None:
    assert settings.load(database, "firm") is None
    assert settings.every(database) == {}


def test_the_last_document_counts_and_the_others_stay(database: Database) -> None:
    settings.keep(database, "firm", '{"name": "Sample Masonry"}')
    settings.keep(database, "terms", "[]")
    settings.keep(database, "firm", '{"name": "Sample Masonry & Sons"}', now=work.at_nine)
    assert settings.load(database, "firm") == '{"name": "Sample Masonry & Sons"}'
    assert list(settings.every(database)) == ["firm", "terms"]
    at = "SELECT changed_at FROM settings WHERE key = 'firm'"
    assert database.raw.execute(at).fetchone() == ("2026-11-25T09:30:00.000000+00:00",)


def test_a_setting_that_was_dropped_is_none_again(database: Database) -> None:
    settings.keep(database, "rules", "{}")
    settings.drop(database, "rules")
    settings.drop(database, "never kept")
    assert settings.load(database, "rules") is None


def test_settings_outlive_closing_and_hold_whatever_was_typed(tmp_path: Path) -> None:
    texts = work.nasty_texts(100, seed=4)
    with open_file(work.fresh(tmp_path)) as opened, opened.writing() as connection:
        for number, text in enumerate(texts):
            settings.keep(connection, f"{number:03}", text)
    with open_file(tmp_path / "work.perpend") as opened:
        assert list(settings.every(opened).values()) == texts


def test_half_a_letter_leaves_the_setting_as_it_was(database: Database) -> None:
    settings.keep(database, "terms", "old")
    with pytest.raises(UserMistake, match="half a letter"):
        settings.keep(database, "terms", "\ud800")
    assert settings.load(database, "terms") == "old"


def test_a_file_open_to_read_only_is_not_set(tmp_path: Path) -> None:
    path = work.fresh(tmp_path)
    with (
        open_file(path, read_only=True) as opened,
        pytest.raises(WorldFault, match="open to read only"),
    ):
        settings.keep(opened, "firm", "{}")


def test_choices_of_a_job_are_kept_with_it(database: Database) -> None:
    chosen = '{"scopes": ["stitch"], "rules": {"bar_spacing_mm": 300}}'
    added = jobs.add(database, Job("Gable", choices=chosen))
    plain = jobs.add(database, Job("Pier"))
    assert jobs.find(database, added.uid).choices == chosen
    assert jobs.find(database, plain.uid).choices == ""


def test_a_lost_page_of_a_setting_is_told(database: Database) -> None:
    settings.keep(database, "firm", "{}")
    assert problems_in(database.raw) == []
    database.raw.execute("UPDATE settings SET document = CAST(zeroblob(900) AS TEXT)")
    assert problems_in(database.raw) == ["part of a document in settings is missing"]
