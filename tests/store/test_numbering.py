"""Numbers are given once, rise whatever the clock says, and explain their gaps."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from estimator.notices import UserMistake, WorldFault
from estimator.store import issued, numbering
from estimator.store.database import Database, open_file
from estimator.store.issued import Origin
from estimator.store.numbering import Explained, Fate, Series
from tests.store import work

BST = timezone(timedelta(hours=1))
CLOCKS = (
    work.MORNING,
    work.MORNING - timedelta(days=365),
    work.MORNING + timedelta(days=365),
    datetime(2038, 1, 20, tzinfo=UTC),
    datetime(2028, 2, 29, 23, 59, 59, 999_999, tzinfo=UTC),
    # The UK goes back at 02:00 BST and forward at 01:00 GMT; one hour comes twice, one never.
    datetime(2026, 10, 25, 1, 30, tzinfo=BST),
    datetime(2026, 10, 25, 1, 30, tzinfo=UTC),
    datetime(2026, 10, 25, 1, 15, tzinfo=BST),
    datetime(2027, 3, 28, 0, 59, 59, tzinfo=UTC),
    datetime(2027, 3, 28, 2, 0, 0, tzinfo=BST),
    datetime(1999, 12, 31, 23, 59, tzinfo=timezone(timedelta(hours=-11))),
)
"""A year back, a year on, past the 32-bit clock, a leap day, both nights the clocks change."""


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    with open_file(work.fresh(quick)) as opened:
        yield opened


@pytest.fixture
def path(quick: Path) -> Path:
    return work.fresh(quick)


def test_clock_changes_leave_numbers_unique_and_rising(path: Path) -> None:
    with open_file(path) as database:
        job = work.job_in(database)
    given = []
    for moment in (*CLOCKS, *reversed(CLOCKS)):
        # Each in a session of its own, as the clock may be changed between two.
        with open_file(path) as database:
            given.append(work.issued_for(database, job, now=lambda at=moment: at).number)
    assert given == [f"Q-{value:04}" for value in range(1, len(given) + 1)]
    with open_file(path) as database:
        moments = [paper.issued_at for paper in issued.list_papers(database)]
        assert moments == [*CLOCKS, *reversed(CLOCKS)]
        assert issued.verify(database) == ()


def test_each_series_counts_by_itself(database: Database) -> None:
    job = work.job_in(database)
    told = work.job_in(database, "phone_call")
    numbers = [
        work.issued_for(database, job).number,
        work.issued_for(database, told, name="phone_call").number,
        work.issued_for(database, job).number,
    ]
    assert numbers == ["Q-0001", "E-0001", "Q-0002"]


def test_a_paper_that_fails_uses_up_no_number(database: Database) -> None:
    job = work.job_in(database)

    def fails(_quotation: object) -> bytes:
        raise WorldFault("the disk is full")

    with pytest.raises(WorldFault):
        issued.issue(database, work.quotation(), origin=Origin(job, 1), make_pdf=fails)
    assert numbering.explain(database, Series.QUOTATION) == ()
    assert work.issued_for(database, job).number == "Q-0001"


def test_a_number_left_out_says_why(database: Database) -> None:
    job = work.job_in(database)
    work.issued_for(database, job)
    with database.writing() as connection:
        left = numbering.leave_out(
            connection, Series.QUOTATION, why="written by hand on site", now=work.at_nine
        )
    assert str(left) == "Q-0002"
    assert work.issued_for(database, job).number == "Q-0003"
    assert numbering.explain(database, Series.QUOTATION)[1] == Explained(
        "Q-0002", "Q-0002", Fate.LEFT_OUT, "written by hand on site", work.MORNING
    )


@pytest.mark.parametrize("why", ["", "  \n"])
def test_no_number_is_left_out_without_a_reason(database: Database, why: str) -> None:
    with pytest.raises(UserMistake, match="without a reason"), database.writing() as connection:
        numbering.leave_out(connection, Series.QUOTATION, why=why)
    assert numbering.next_value(database, Series.QUOTATION) == 1


def test_numbers_go_on_from_an_earlier_book(database: Database) -> None:
    with database.writing() as connection:
        numbering.go_on_from(connection, Series.QUOTATION, 148, why="in the paper book")
    assert work.issued_for(database, work.job_in(database)).number == "Q-0148"
    run, paper = numbering.explain(database, Series.QUOTATION)
    assert (run.first, run.last, run.fate, run.why) == (
        "Q-0001", "Q-0147", Fate.LEFT_OUT, "in the paper book",
    )  # fmt: skip
    assert (paper.first, paper.fate) == ("Q-0148", Fate.ISSUED)


@pytest.mark.parametrize("value", [0, -1, 4, 200_000])
def test_numbers_never_go_back_nor_far_ahead(database: Database, value: int) -> None:
    with database.writing() as connection:
        numbering.go_on_from(connection, Series.QUOTATION, 5, why="in the paper book")
    with (
        pytest.raises(UserMistake, match=r"cannot go on from .* because the next one is 5"),
        database.writing() as connection,
    ):
        numbering.go_on_from(connection, Series.QUOTATION, value, why="a slip")
    assert numbering.next_value(database, Series.QUOTATION) == 5


def test_going_on_from_the_next_one_changes_nothing(database: Database) -> None:
    with database.writing() as connection:
        numbering.go_on_from(connection, Series.ESTIMATE, 1, why="nothing before")
    assert numbering.explain(database, Series.ESTIMATE) == ()


def test_a_number_that_went_missing_is_told(database: Database) -> None:
    with database.writing() as connection:
        for _ in range(3):
            numbering.take(connection, Series.QUOTATION)
        numbering.leave_out(connection, Series.QUOTATION, why="a test")
        numbering.take(connection, Series.QUOTATION)
    told = numbering.explain(database, Series.QUOTATION)
    assert [(one.first, one.last, one.fate) for one in told] == [
        ("Q-0001", "Q-0003", Fate.MISSING),
        ("Q-0004", "Q-0004", Fate.LEFT_OUT),
        ("Q-0005", "Q-0005", Fate.MISSING),
    ]


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM numbers",
        "UPDATE numbers SET number = 'Q-9'",
        "UPDATE OR REPLACE numbers SET value = 1",
        "UPDATE numbers SET paper_id = NULL, reason = 'lost'",
        "INSERT OR REPLACE INTO numbers VALUES ('quotation', 1, 'Q-9', NULL, 'lost', '')",
        "INSERT OR REPLACE INTO numbers VALUES ('quotation', 9, 'Q-0001', NULL, 'lost', '')",
        "UPDATE number_series SET next_value = 1",
        "UPDATE number_series SET prefix = 'X'",
        "DELETE FROM number_series",
        "INSERT OR REPLACE INTO number_series VALUES ('quotation', 'Q-', 1)",
        "DELETE FROM issued_papers",
    ],
)
def test_the_file_itself_gives_no_number_twice(database: Database, statement: str) -> None:
    job = work.job_in(database)
    for _ in range(2):
        work.issued_for(database, job)
    before = numbering.explain(database, Series.QUOTATION)
    with pytest.raises(sqlite3.IntegrityError, match=r"number|never thrown away"):
        database.raw.execute(statement)
    assert numbering.explain(database, Series.QUOTATION) == before
    assert work.issued_for(database, job).number == "Q-0003"


def restored(path: Path, aside: Path) -> None:
    """Put a file of one paper in the place of a later one with three quotations and an estimate."""
    with open_file(path) as database:
        job, told = work.job_in(database), work.job_in(database, "phone_call")
        work.issued_for(database, job)
    backup = path.read_bytes()
    with open_file(path) as database:
        for _ in range(2):
            work.issued_for(database, job)
        work.issued_for(database, told, name="phone_call")
    path.replace(aside)
    path.write_bytes(backup)


def test_no_number_is_given_again_after_a_restore(path: Path, quick: Path) -> None:
    aside = quick / "aside #1?.perpend"
    restored(path, aside)
    with open_file(path) as database:
        gone_on = numbering.go_on_after(database, [aside], now=work.at_nine)
        assert [str(number) for number in gone_on] == ["Q-0004", "E-0002"]
        run = numbering.explain(database, Series.QUOTATION)[-1]
        assert (run.first, run.last, run.fate) == ("Q-0002", "Q-0003", Fate.LEFT_OUT)
        assert "restored backup" in run.why
        assert numbering.go_on_after(database, [aside]) == ()


def test_a_restored_file_gives_no_number_of_a_later_paper_again(quick: Path) -> None:
    aside = quick / "aside.perpend"
    path = work.fresh(quick)
    with open_file(path) as database, database.writing() as connection:
        for series in Series:
            numbering.leave_out(connection, series, why="spoilt")
    path.rename(aside)
    with open_file(work.fresh(quick)) as database:
        gone_on = numbering.go_on_after(database, [aside], now=work.at_nine)
        assert {str(number) for number in gone_on} == {f"{one.prefix}0002" for one in Series}
        assert len({one.prefix for one in Series}) == len(Series)


@pytest.mark.parametrize("content", [b"", b"hello", b"SQLite format 3\x00" + b"\xff" * 5000, None])
def test_a_replaced_file_that_tells_nothing_changes_nothing(
    database: Database, quick: Path, content: bytes | None
) -> None:
    aside = quick / "aside"
    if content is not None:
        aside.write_bytes(content)
    assert numbering.go_on_after(database, [aside]) == ()
    assert numbering.next_value(database, Series.QUOTATION) == 1


@pytest.mark.parametrize("typed", ["", "Q-", "X-1", "Q-1.5", "Q--1", "148", "Q-٣", "Q-9999999999"])
def test_what_is_no_number_is_told_in_words(typed: str) -> None:
    with pytest.raises(UserMistake, match="is not a number of ours; write it such as Q-0148"):
        numbering.read(typed)
