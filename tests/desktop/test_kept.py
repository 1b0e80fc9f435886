"""What the desk asks of the file, asked as the file's own thread asks it."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from estimator.desktop import kept
from estimator.desktop.session import fresh_job
from estimator.desktop.state import OpenJob
from estimator.quoting import edits
from estimator.store import customers
from estimator.store.database import Database
from estimator.survey.survey import Asked, Party

INES = Party("Ines Marlowe", telephone="01632 960417", address=("14 Tarn Street",))
ZED = Party("Zed Quarrel", telephone="01632 960999")


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    opened = kept.opened(tmp_path)
    yield opened
    opened.close()


def job_for(party: Party, *, customer: str = "") -> OpenJob:
    fresh = fresh_job(datetime.date(2026, 11, 25))
    work = edits.answer(fresh.work, Asked("shape", ("stepped",))).after
    return replace(fresh, work=edits.name_customer(work, party).after, customer=customer)


def renamed(job: OpenJob, party: Party) -> OpenJob:
    return replace(job, work=edits.name_customer(job.work, party).after)


def filed(database: Database, job: OpenJob) -> OpenJob:
    kept.keep_working(database, job)
    return kept.accept(database, job)


def test_another_name_over_a_known_customer_leaves_their_other_jobs_alone(
    database: Database,
) -> None:
    first = filed(database, job_for(INES))
    wrongly_chosen = job_for(INES, customer=first.customer)
    second = filed(database, renamed(wrongly_chosen, ZED))
    assert second.customer != first.customer
    assert customers.find(database, first.customer).name == "Ines Marlowe"
    assert customers.find(database, first.customer).telephone == "01632 960417"
    assert customers.find(database, second.customer).name == "Zed Quarrel"


def test_a_name_put_right_in_its_only_job_makes_no_second_customer(database: Database) -> None:
    first = filed(database, job_for(replace(INES, name="Innes Marlow")))
    again = filed(database, renamed(first, INES))
    assert again.customer == first.customer
    assert [one.name for one in customers.list_customers(database)] == ["Ines Marlowe"]


def test_a_new_number_is_kept_for_a_known_customer(database: Database) -> None:
    first = filed(database, job_for(INES))
    filed(database, job_for(replace(INES, telephone="01632 960418"), customer=first.customer))
    assert customers.find(database, first.customer).telephone == "01632 960418"


def test_a_name_taken_back_takes_the_job_from_the_customer(database: Database) -> None:
    first = filed(database, job_for(INES))
    second = filed(database, job_for(INES, customer=first.customer))
    assert filed(database, renamed(second, Party())).customer == ""
    assert kept.open_job(database, second.uid).customer == ""


def test_a_customer_the_file_no_longer_knows_is_added_anew(database: Database) -> None:
    job = filed(database, job_for(INES, customer="gone with another file"))
    assert customers.find(database, job.customer).name == "Ines Marlowe"


def test_a_job_only_looked_at_is_the_one_come_back_to(database: Database) -> None:
    first = filed(database, job_for(INES))
    filed(database, job_for(ZED))
    kept.take_up(database, first.uid)
    found = kept.last_open(database)
    assert found is not None
    assert found.uid == first.uid
