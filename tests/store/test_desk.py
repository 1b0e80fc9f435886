"""What is on the desk is kept half typed, saved whole, and gone with the person it is about."""

from __future__ import annotations

import json
import uuid
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from estimator.notices import UserMistake
from estimator.store import customers, desk, drafts, facts, issued, jobs, people, person_export
from estimator.store.customers import Customer
from estimator.store.database import Database, open_file
from estimator.store.jobs import Job, Stage
from tests.store import people_made_up as made_up
from tests.store import work
from tests.store.people_made_up import CANARIES, TODAY


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    with open_file(work.fresh(tmp_path)) as opened:
        yield opened


def later() -> object:
    return work.MORNING + timedelta(hours=1)


def test_what_is_half_typed_outlives_closing(tmp_path: Path) -> None:
    with open_file(work.fresh(tmp_path)) as opened:
        job = jobs.add(opened, Job("Gable")).uid
        assert desk.working(opened, job) is None
        for document in ("{", '{"half": "typ'):
            desk.keep_working(opened, job, document)
    with open_file(tmp_path / "work.perpend") as opened:
        assert desk.working(opened, job) == '{"half": "typ'
        desk.drop_working(opened, job)
        desk.drop_working(opened, job)
        assert desk.working(opened, job) is None


def test_half_a_letter_leaves_what_was_kept(database: Database) -> None:
    job = jobs.add(database, Job("Gable")).uid
    desk.keep_working(database, job, "old")
    with pytest.raises(UserMistake, match="half a letter"):
        desk.keep_working(database, job, "\ud800")
    assert desk.working(database, job) == "old"


def test_nothing_is_kept_of_a_job_there_is_not(database: Database) -> None:
    with pytest.raises(UserMistake, match="there is no job"):
        desk.keep_working(database, "f" * 32, "{}")
    with pytest.raises(UserMistake, match="there is no job"):
        desk.saved_all(database, Job("Gable", uid="f" * 32), work.demo(), why="x")
    assert drafts.every(database) == ()


def test_a_job_begun_on_the_desk_keeps_its_name(database: Database) -> None:
    uid = uuid.uuid4().hex
    assert jobs.add(database, Job("Gable", uid=uid)).uid == uid
    assert jobs.find(database, uid).title == "Gable"
    with pytest.raises(ValueError, match="32 digits"):
        jobs.add(database, Job("Gable", uid="front wall"))


def test_the_job_last_opened_is_known_again(tmp_path: Path) -> None:
    with open_file(work.fresh(tmp_path)) as opened:
        assert desk.last_open(opened) is None
        desk.note_open(opened, "a" * 32)
        desk.note_open(opened, "b" * 32)
    with open_file(tmp_path / "work.perpend") as opened:
        assert desk.last_open(opened) == "b" * 32
        before = opened.raw.total_changes
        desk.note_open(opened, "b" * 32)
        assert opened.raw.total_changes == before
        assert facts.once(opened, "told of something")
        assert not facts.once(opened, "told of something")


def test_all_is_saved_at_once_and_the_draft_is_gone(database: Database) -> None:
    who = customers.add(database, Customer("Ines Marlowe"))
    job = jobs.add(database, Job("Enquiry"))
    desk.keep_working(database, job.uid, "{}")
    changed = replace(
        job, title="Gable", customer=who.uid, site=("4 Mill Lane",), stage=Stage.SURVEYED,
        choices='{"scopes": ["stitch"]}',
    )  # fmt: skip
    revision = desk.saved_all(database, changed, work.demo(), why="the call", now=later)
    found = jobs.find(database, job.uid)
    assert replace(found, changed_at=None) == replace(changed, changed_at=None)
    assert found.changed_at == later()
    assert (revision, jobs.survey(database, job.uid)) == (1, work.demo())
    assert jobs.revisions(database, job.uid)[0].why == "the call"
    assert desk.working(database, job.uid) is None


def test_a_survey_that_did_not_change_is_no_new_revision(database: Database) -> None:
    job = jobs.add(database, Job("Gable"))
    told = [
        desk.saved_all(database, job, survey, why="x")
        for survey in (work.demo(), work.demo(), work.changed_survey("louder"), work.demo())
    ]
    assert told == [1, 1, 2, 3]
    assert len(jobs.revisions(database, job.uid)) == 3


@pytest.mark.parametrize("fault", ["customer", "why"])
def test_nothing_is_saved_where_a_part_cannot_be(database: Database, fault: str) -> None:
    job = work.job_in(database)
    desk.keep_working(database, job, '{"half": 1}')
    filed = jobs.find(database, job)
    before = list(database.raw.iterdump())
    changed = replace(filed, title="Other", customer="f" * 32 if fault == "customer" else None)
    with pytest.raises(UserMistake):
        desk.saved_all(
            database, changed, work.changed_survey("louder"), why="\ud800" if fault == "why" else ""
        )
    assert list(database.raw.iterdump()) == before


def test_one_change_may_add_the_customer_too(database: Database) -> None:
    job = jobs.add(database, Job("Gable"))
    with database.writing() as connection:
        who = customers.add(connection, Customer("Ines Marlowe"))
        desk.saved_all(connection, replace(job, customer=who.uid), work.demo(), why="x")
    assert jobs.find(database, job.uid).customer == who.uid


def test_an_erasure_takes_what_is_half_typed_and_the_choices(tmp_path: Path) -> None:
    path = work.fresh(tmp_path)
    with open_file(path) as opened:
        made = made_up.customer(opened)
        job = replace(jobs.find(opened, made.job), choices=json.dumps({"scopes": [CANARIES]}))
        jobs.change(opened, job)
        # Nothing but the name of the draft tells whose it is.
        desk.keep_working(opened, made.job, json.dumps({"said": CANARIES["said"]}))
        desk.keep_form(opened, made.job, "built", json.dumps({"deviation": CANARIES["said"]}))
        desk.note_open(opened, made.job)
        held = person_export.export_customer(opened, made.uid).held
        assert held["jobs"][0]["choices"] == {"scopes": [CANARIES]}
        assert f"desk/{made.job}" in [draft["key"] for draft in held["drafts"]]
        done = people.erase_customer(opened, made.uid, today=TODAY)
        assert done.drafts == 3
        assert desk.form(opened, made.job, "built") is None
        assert desk.working(opened, made.job) is None
        assert jobs.find(opened, made.job).choices == ""
    assert made_up.found_in(tmp_path, list(CANARIES.values())) == {}


def test_a_job_still_open_does_not_bring_the_person_back(database: Database) -> None:
    made = made_up.customer(database)
    job = jobs.find(database, made.job)
    people.erase_customer(database, made.uid, today=TODAY)
    before = list(database.raw.iterdump())
    with pytest.raises(UserMistake, match="its customer was erased"):
        desk.keep_working(database, made.job, json.dumps(CANARIES))
    with pytest.raises(UserMistake, match="its customer was erased"):
        desk.keep_form(database, made.job, "built", json.dumps(CANARIES))
    with pytest.raises(UserMistake, match="its customer was erased"):
        desk.saved_all(database, job, work.demo(), why="x")
    assert list(database.raw.iterdump()) == before


def test_a_draft_of_nobodys_job_that_names_the_person_is_told(database: Database) -> None:
    words = {**CANARIES, "name": "Zoë Quillfeather"}
    made = made_up.customer(database, words=words)
    other = jobs.add(database, Job("Gable")).uid
    desk.keep_working(database, other, json.dumps({"customer": words["name"]}))
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert done.mentions == (f"draft desk/{other}",)
    assert desk.working(database, other) is not None


def test_papers_issued_from_the_desk_hang_on_the_saved_revision(database: Database) -> None:
    job = jobs.add(database, Job("Gable"))
    desk.saved_all(database, job, work.demo(), why="x")
    assert work.issued_for(database, job.uid).origin == issued.Origin(job.uid, 1)


def test_each_form_of_a_job_is_kept_by_itself(database: Database) -> None:
    one, other = (jobs.add(database, Job(title)).uid for title in ("Gable", "Yard wall"))
    desk.keep_form(database, one, "hours", '{"hours": "2"}')
    desk.keep_form(database, one, "hours", '{"hours": "2.5"}')
    desk.keep_form(database, one, "plan", '{"gang": "Jo B"}')
    desk.keep_form(database, other, "hours", '{"hours": "7"}')
    desk.drop_form(database, one, "plan")
    desk.drop_form(database, one, "plan")
    kept = [desk.form(database, job, "hours") for job in (one, other)]
    assert kept == ['{"hours": "2.5"}', '{"hours": "7"}']
    assert desk.form(database, one, "plan") is None
    with pytest.raises(UserMistake, match="there is no job"):
        desk.keep_form(database, uuid.uuid4().hex, "hours", "{}")
