"""Jobs, and every accepted revision of their surveys."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from estimator.notices import UserMistake
from estimator.store import customers, jobs
from estimator.store.customers import Customer
from estimator.store.database import Database, open_file
from estimator.store.jobs import Job, Stage
from tests.store import work


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    with open_file(work.fresh(quick)) as opened:
        yield opened


def test_a_job_comes_back_as_added(database: Database) -> None:
    who = customers.add(database, Customer("Ines Marlowe"))
    asked = Job("Crack under the bay", customer=who.uid, site=("1 Elm Row", "Tyn"), notes="Gate.")
    added = jobs.add(database, asked, now=work.at_nine)
    assert jobs.find(database, added.uid) == added
    assert added == replace(asked, uid=added.uid, made_at=work.MORNING, changed_at=work.MORNING)


def test_five_hundred_nasty_texts_come_back_letter_for_letter(database: Database) -> None:
    seed = 31
    texts = work.nasty_texts(500, seed)
    asked = [Job(text, site=(text, "1 Elm Row"), notes=f"{text}\n{text}") for text in texts]
    with database.writing() as connection:
        added = [jobs.add(connection, one) for one in asked]
    with database.reading() as connection:
        found = [jobs.find(connection, one.uid) for one in added]
        listed = {row.uid: row.title for row in jobs.list_jobs(connection, limit=1000)}
    assert found == added, f"seed {seed}"
    for one, text in zip(found, texts, strict=True):
        assert (one.title, one.site, one.notes) == (text, (text, "1 Elm Row"), f"{text}\n{text}")
        assert listed[one.uid] == text, f"seed {seed}"


def test_half_a_letter_and_a_stranger_are_refused(database: Database) -> None:
    with pytest.raises(UserMistake, match="the title holds half a letter"):
        jobs.add(database, Job("\udc00"))
    with pytest.raises(UserMistake, match="customer is not in the file; add the customer first"):
        jobs.add(database, Job("Wall", customer="nobody"))
    assert jobs.list_jobs(database) == ()


def test_a_job_is_changed_and_moved_on(database: Database) -> None:
    added = jobs.add(database, Job("Wall"), now=work.at_nine)
    later = work.MORNING + timedelta(hours=1)
    jobs.change(database, replace(added, title="Garden wall"), now=lambda: later)
    jobs.move(database, added.uid, Stage.LOST, now=lambda: later)
    found = jobs.find(database, added.uid)
    assert (found.title, found.stage, found.changed_at) == ("Garden wall", Stage.LOST, later)


@pytest.mark.parametrize(
    "ask",
    [
        lambda at: jobs.find(at, "nothing"),
        lambda at: jobs.full_uid(at, "nothing"),
        lambda at: jobs.full_uid(at, ""),
        lambda at: jobs.full_uid(at, "%%%%%"),
        lambda at: jobs.survey(at, "nothing"),
        lambda at: jobs.revisions(at, "nothing"),
        lambda at: jobs.move(at, "nothing", Stage.DONE),
        lambda at: jobs.change(at, Job("Wall", uid="nothing")),
        lambda at: jobs.accept_survey(at, "nothing", work.demo(), why="visit"),
    ],
)
def test_a_job_there_is_not_is_told_in_words(database: Database, ask: object) -> None:
    jobs.add(database, Job("Wall"))
    with pytest.raises(UserMistake, match=r"there is no job '.*' in the file; see the list"):
        ask(database)


def test_a_few_letters_name_a_job_unless_two_begin_so(database: Database) -> None:
    first, second = (jobs.add(database, Job(title)).uid for title in ("One", "Two"))
    assert jobs.full_uid(database, first[:8]) == first
    database.raw.execute("UPDATE jobs SET uid = ? || 'f' WHERE uid = ?", (first[:8], second))
    with pytest.raises(UserMistake, match="more than one job begins"):
        jobs.full_uid(database, first[:8])


def test_every_accepted_revision_can_be_opened(database: Database) -> None:
    job = jobs.add(database, Job("Wall")).uid
    notes = ["first", "second", "third"]
    for number, note in enumerate(notes, start=1):
        given = jobs.accept_survey(database, job, work.changed_survey(note), why=f"visit {number}")
        assert given == number
    assert jobs.survey(database, job) == work.changed_survey("third")
    for number, note in enumerate(notes, start=1):
        assert jobs.survey(database, job, revision=number) == work.changed_survey(note)
    assert [(one.revision, one.why) for one in jobs.revisions(database, job)] == [
        (1, "visit 1"), (2, "visit 2"), (3, "visit 3"),
    ]  # fmt: skip


@pytest.mark.parametrize("name", ["window_lime", "terrace", "quoin_cavity", "phone_call", "refer"])
def test_every_demo_survey_comes_back_whole(database: Database, name: str) -> None:
    job = work.job_in(database, name)
    assert jobs.survey(database, job) == work.demo(name)


def test_a_revision_there_is_not_is_told_in_words(database: Database) -> None:
    job = jobs.add(database, Job("Wall")).uid
    with pytest.raises(UserMistake, match="the job has no survey yet"):
        jobs.survey(database, job)
    jobs.accept_survey(database, job, work.demo(), why="visit")
    with pytest.raises(UserMistake, match="has no revision 2"):
        jobs.survey(database, job, revision=2)


def test_the_list_tells_customer_and_latest_survey_the_last_changed_first(
    database: Database,
) -> None:
    old = work.job_in(database, "terrace")
    bare = jobs.add(database, Job("No survey"), now=lambda: work.MORNING + timedelta(hours=1)).uid
    renamed = replace(work.demo("terrace"), title="Terrace, again")
    later = work.MORNING + timedelta(hours=2)
    jobs.accept_survey(database, old, renamed, why="second visit", now=lambda: later)
    first, second = jobs.list_jobs(database)
    assert (first.uid, first.survey, first.revision) == (old, "Terrace, again", 2)
    assert first.customer == work.demo("terrace").customer.name
    assert (second.uid, second.customer, second.survey, second.revision) == (bare, "", "", 0)
    assert jobs.list_jobs(database, limit=1, offset=1) == (second,)


def test_stores_share_one_transaction_and_lose_it_together(database: Database) -> None:
    with pytest.raises(RuntimeError), database.writing() as connection:
        work.job_in(connection)
        raise RuntimeError
    assert jobs.list_jobs(database) == ()
    assert customers.list_customers(database) == ()


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE surveys SET document = '{}'",
        "UPDATE surveys SET revision = 7",
        "UPDATE OR REPLACE surveys SET why = 'x'",
        "DELETE FROM surveys",
        "INSERT OR REPLACE INTO surveys SELECT id, job_id, revision, '{}', why, made_at"
        " FROM surveys",
        "REPLACE INTO surveys SELECT id + 9, job_id, revision, '{}', why, made_at FROM surveys",
    ],
)
def test_the_file_itself_keeps_accepted_surveys(database: Database, statement: str) -> None:
    job = work.job_in(database)
    with pytest.raises(Exception, match="an accepted survey is never"):
        database.raw.execute(statement)
    assert jobs.survey(database, job) == work.demo()
