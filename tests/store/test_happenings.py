"""Deeds in the file: only ever added, each as it was noted, none that makes no sense."""

from __future__ import annotations

import datetime
import random
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from sqlalchemy import delete

from estimator.contract.account import Paying, Payment
from estimator.contract.contract import Manner
from estimator.contract.deeds import (
    Accepted,
    Answered,
    Booked,
    CalledOff,
    Credited,
    Deed,
    Drafted,
    Invoiced,
    Paid,
    Sent,
    Struck,
)
from estimator.contract.lengths import LONGEST_TEXT
from estimator.contract.so_far import SoFar
from estimator.contract.so_far import so_far as folded
from estimator.contract.variation import Standing
from estimator.contract.works import Booking
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.store import happenings, jobs, photos
from estimator.store.database import Database, open_file
from estimator.store.faults import DamagedFile
from estimator.store.tables import Photos
from tests.store import deeds_made_up as made_up
from tests.store import work

FLIPS = 200


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    with open_file(work.fresh(quick)) as opened:
        yield opened


@pytest.fixture
def job(database: Database) -> str:
    return work.job_in(database)


def noted(database: Database, job: str, *deeds: Deed) -> None:
    for deed in deeds:
        happenings.add(database, job, deed, now=work.at_nine)


def test_every_kind_of_deed_comes_back_as_it_was_noted(database: Database, job: str) -> None:
    added = [happenings.add(database, job, deed) for deed in made_up.journey()]
    assert happenings.of_job(database, job) == tuple(added)
    assert [one.deed for one in added] == list(made_up.journey())
    assert happenings.so_far(database, job) == folded(added)
    assert happenings.damaged(database) == ()
    kinds = {type(one).__name__ for one in made_up.journey()} | {"Struck"}
    assert kinds == {one.__name__ for one in Deed.__args__}


def test_reopening_finds_what_the_job_had_come_to_at_every_state(quick: Path) -> None:
    path = work.fresh(quick)
    with open_file(path) as database:
        job = work.job_in(database)
    states: list[SoFar] = [SoFar()]
    for deed in made_up.journey():
        with open_file(path) as database:
            assert happenings.so_far(database, job) == states[-1]
            happenings.add(database, job, deed)
            states.append(happenings.so_far(database, job))
    with open_file(path, read_only=True) as database:
        assert happenings.so_far(database, job) == states[-1]
    assert len(set(map(id, states))) == len(made_up.journey()) + 1


def test_deeds_of_one_job_are_not_those_of_another(database: Database, job: str) -> None:
    other = work.job_in(database)
    noted(database, job, Accepted(made_up.contract()))
    assert happenings.of_job(database, other) == ()
    assert happenings.jobs_with(database) == (job,)


def test_a_job_that_something_happened_to_was_touched(database: Database, job: str) -> None:
    later = work.MORNING + datetime.timedelta(days=3)
    happenings.add(database, job, Accepted(made_up.contract()), now=lambda: later)
    assert jobs.find(database, job).changed_at == later


def test_a_job_there_is_not_is_told_in_words(database: Database) -> None:
    with pytest.raises(UserMistake, match="there is no job 'nobody' in the file"):
        happenings.add(database, "nobody", Accepted(made_up.contract()))
    with pytest.raises(UserMistake, match="there is no job 'nobody' in the file"):
        happenings.of_job(database, "nobody")


PAID = Paid(Payment(made_up.DAY, Money.of(1), Paying.CASH))
YES = Answered("a", Standing.AGREED, made_up.WHO, Manner.SIGNED, made_up.EVENING)
START = (Accepted(made_up.contract()),)
SENT = (*START, Drafted(made_up.variation()), Sent("a", "V-0001", made_up.DAY, Manner.EMAIL))


@pytest.mark.parametrize(
    ("before", "deed", "said"),
    [
        ((), PAID, "nothing has been agreed"),
        (START, Accepted(made_up.contract()), "Q-0001 is accepted already"),
        (START, Sent("a", "V-0001", made_up.DAY, Manner.EMAIL), "no such variation"),
        (START, YES, "no such variation"),
        ((*START, Drafted(made_up.variation())), YES, "cannot be agreed now"),
        (SENT, Drafted(made_up.variation()), "V-0001 went out already"),
        (SENT, Sent("a", "V-0002", made_up.DAY, Manner.EMAIL), "V-0001 went out already"),
        ((*SENT, YES), replace(YES, answer=Standing.DECLINED), "cannot be declined now"),
        (SENT, replace(YES, who=" "), "nobody is named"),
        (START, Credited(made_up.credit()), "no invoice 'I-0001'"),
        (
            (*START, Invoiced(made_up.invoice())),
            Invoiced(made_up.invoice("I-0002")),
            "that part of the price was invoiced already",
        ),
        (START, Struck("0" * 32, "a slip"), "nothing to strike out"),
        (
            (*START, CalledOff(made_up.DAY, made_up.WHO, Manner.EMAIL)),
            Drafted(made_up.variation()),
            "the contract is cancelled",
        ),
    ],
)
def test_a_deed_that_makes_no_sense_is_refused_and_leaves_nothing(
    database: Database, job: str, before: tuple[Deed, ...], deed: Deed, said: str
) -> None:
    noted(database, job, *before)
    there = happenings.of_job(database, job)
    changed_at = jobs.find(database, job).changed_at
    with pytest.raises(UserMistake, match=said):
        happenings.add(database, job, deed)
    assert happenings.of_job(database, job) == there
    assert jobs.find(database, job).changed_at == changed_at


def test_a_slip_is_struck_out_and_kept(database: Database, job: str) -> None:
    noted(database, job, *START)
    slip = happenings.add(database, job, PAID)
    happenings.add(database, job, Struck(slip.uid, "typed twice"))
    assert happenings.so_far(database, job).payments == ()
    assert [type(one.deed).__name__ for one in happenings.of_job(database, job)] == [
        "Accepted", "Paid", "Struck",
    ]  # fmt: skip
    with pytest.raises(UserMistake, match="nothing to strike out"):
        happenings.add(database, job, Struck(slip.uid, "once more"))


@pytest.mark.parametrize("place", [1, 2])
def test_a_draft_that_went_out_is_not_struck_out(database: Database, job: str, place: int) -> None:
    """Or the draft before it would stand where another one went out."""
    noted(database, job, *START, Drafted(made_up.variation(amount="1")), *SENT[1:])
    uid = happenings.of_job(database, job)[place].uid
    with pytest.raises(UserMistake, match="cannot be struck out"):
        happenings.add(database, job, Struck(uid, "a slip"))
    assert happenings.so_far(database, job).varied("a").variation == made_up.variation()


def test_a_deed_of_another_job_is_not_struck_out(database: Database, job: str) -> None:
    other = work.job_in(database)
    noted(database, job, *START)
    noted(database, other, *START)
    slip = happenings.add(database, other, PAID)
    with pytest.raises(UserMistake, match="nothing to strike out"):
        happenings.add(database, job, Struck(slip.uid, "a slip"))


def test_bookings_of_all_jobs_are_told_but_for_slips(database: Database, job: str) -> None:
    other = work.job_in(database)
    hours = [Booked(Booking(made_up.DAY, None, Decimal(number))) for number in (1, 2, 3)]
    noted(database, job, *START, hours[0])
    noted(database, other, *START, hours[1])
    slip = happenings.add(database, other, hours[2])
    happenings.add(database, other, Struck(slip.uid, "not that day"))
    assert [(one.job, one.booking) for one in happenings.bookings(database)] == [
        (job, hours[0].booking),
        (other, hours[1].booking),
    ]


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE happenings SET document = '{}'",
        "UPDATE happenings SET at = '2026-01-01T00:00:00.000000+00:00'",
        "UPDATE OR REPLACE happenings SET id = 1 WHERE id = 2",
        "DELETE FROM happenings WHERE id = 2",
        "DELETE FROM happenings",
        "REPLACE INTO happenings SELECT id, uid, job_id, kind, '{}', sha256, at FROM happenings",
        "REPLACE INTO happenings SELECT id + 90, uid, job_id, kind, '{}', sha256, at"
        " FROM happenings",
        "INSERT OR REPLACE INTO happenings SELECT id, uid || 'x', job_id, kind, '{}', sha256, at"
        " FROM happenings",
    ],
)
def test_the_file_itself_keeps_deeds_as_they_are(
    database: Database, job: str, statement: str
) -> None:
    noted(database, job, *SENT)
    before = happenings.of_job(database, job)
    with pytest.raises(sqlite3.IntegrityError, match="what happened is never"):
        database.raw.execute(statement)
    assert happenings.of_job(database, job) == before


def test_even_an_erasure_changes_only_words(database: Database, job: str) -> None:
    noted(database, job, *SENT)
    database.raw.execute("INSERT INTO facts VALUES ('erasing', '1')")
    for statement in (
        "DELETE FROM happenings",
        "UPDATE happenings SET kind = 'Paid'",
        "UPDATE happenings SET at = '2026-01-01T00:00:00.000000+00:00'",
        "UPDATE happenings SET job_id = 2",
    ):
        with pytest.raises(sqlite3.IntegrityError, match="what happened is never"):
            database.raw.execute(statement)


CELLS = ("uid", "kind", "document", "sha256", "at")


def test_each_of_200_flipped_bits_is_told_with_its_job(database: Database, job: str) -> None:
    noted(database, job, *SENT)
    database.raw.execute("DROP TRIGGER tr_happenings_frozen")
    seed = 5
    chance = random.Random(seed)
    for turn in range(FLIPS):
        column, row = CELLS[turn % len(CELLS)], chance.randint(1, len(SENT))
        (old,) = database.raw.execute(
            f"SELECT {column} FROM happenings WHERE id = ?", (row,)
        ).fetchone()
        raw = bytearray(old.encode())
        raw[chance.randrange(len(raw))] ^= 1 << chance.randrange(8)
        change = f"UPDATE happenings SET {column} = CAST(? AS TEXT) WHERE id = ?"
        database.raw.execute(change, (bytes(raw), row))
        found = happenings.damaged(database)
        assert [one.job for one in found] == [job], f"seed {seed}, turn {turn}: {column} of {row}"
        database.raw.execute(change, (old.encode(), row))
    assert happenings.damaged(database) == ()


@pytest.mark.parametrize(
    "change",
    [
        "document = replace(document, '147.64', '947.64')",
        "document = 'no deed at all'",
        "kind = 'Paid'",
        "uid = 'f' || uid",
        "at = '2026-01-01T00:00:00.000000+00:00'",
        "job_id = 2",
    ],
)
def test_a_changed_deed_is_handed_out_to_nobody(database: Database, job: str, change: str) -> None:
    other = work.job_in(database)
    noted(database, job, *SENT)
    database.raw.execute("DROP TRIGGER tr_happenings_frozen")
    database.raw.execute(f"UPDATE happenings SET {change} WHERE id = 2")
    owner = other if "job_id" in change else job
    with pytest.raises(DamagedFile, match=r"no longer as it was noted.*good backup"):
        happenings.of_job(database, owner)
    with pytest.raises(DamagedFile, match="no longer as it was noted"):
        happenings.add(database, owner, PAID)
    assert len(happenings.damaged(database)) == 1


def test_a_deed_of_a_newer_program_is_no_deed_here(database: Database, job: str) -> None:
    noted(database, job, *START)
    text = '{"kind":"Unheard"}'
    at = "2026-11-25T09:30:00.000000+00:00"
    digest = happenings._hash("x" * 32, job, "Unheard", at, text)
    database.raw.execute(
        "INSERT INTO happenings VALUES (9, ?, 1, 'Unheard', ?, ?, ?)", ("x" * 32, text, digest, at)
    )
    with pytest.raises(DamagedFile, match="a newer program noted it"):
        happenings.of_job(database, job)
    assert [one.uid for one in happenings.damaged(database)] == ["x" * 32]


def test_a_photograph_that_a_deed_names_is_kept(database: Database, job: str) -> None:
    name = photos.keep(database, job, b"\xff\xd8\xff picture", width_px=9, height_px=9)
    loose = photos.keep(database, job, b"\xff\xd8\xff another", width_px=9, height_px=9)
    noted(database, job, *START, Drafted(replace(made_up.variation(), photos=(name,))))
    assert photos.drop_unused(database, job, ()) == (loose,)
    with (
        pytest.raises(Exception, match="a photograph of a survey is never thrown away"),
        database.writing() as connection,
    ):
        connection.execute(delete(Photos))
    assert photos.load(database, job, name) is not None


def test_text_of_any_kind_is_kept_to_the_letter(database: Database, job: str) -> None:
    noted(database, job, *START)
    for number, text in enumerate(one[:LONGEST_TEXT] for one in work.nasty_texts(60, seed=3)):
        deed = Paid(Payment(made_up.DAY, Money(number), Paying.CASH, note=text))
        happenings.add(database, job, deed)
        assert happenings.of_job(database, job)[-1].deed == deed
    assert happenings.damaged(database) == ()


def test_half_a_letter_is_refused_in_words(database: Database, job: str) -> None:
    noted(database, job, *START)
    half = Paid(Payment(made_up.DAY, Money(1), Paying.CASH, note="\ud83e"))
    with pytest.raises(UserMistake, match="holds half a letter"):
        happenings.add(database, job, half)
    assert len(happenings.of_job(database, job)) == 1


def test_numbered_deeds_without_a_number_are_a_fault_of_ours(database: Database, job: str) -> None:
    noted(database, job, *START)
    with pytest.raises(ValueError, match="a number of its own"):
        happenings.add(database, job, Invoiced(made_up.invoice(number="")))
