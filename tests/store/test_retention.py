"""How long people are kept, by the calendar, and who is due for another look."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.store import customers, people, retention
from estimator.store.customers import Customer
from estimator.store.database import Database, open_file
from estimator.store.jobs import Stage
from estimator.store.retention import Keeping
from tests.store import people_made_up as made_up
from tests.store.people_made_up import LATELY, LONG_AGO, TODAY

KEPT = Keeping(paper_years=6, year_ends=(4, 5), unaccepted_months=12)


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    path = quick / "work.perpend"
    path.write_bytes(made_up.fresh())
    with open_file(path) as opened:
        yield opened


def self_employed_until(issued: date) -> date:
    """The fifth 31 January after the one that follows the tax year, as HMRC tells sole traders.

    Worked out by another way than the program's: "for the 2018-19 tax year, sent by 31 January
    2020, until at least the end of January 2025" (an accountant's page of 2019, read).
    """
    tax_year_ends = date(issued.year, 4, 5)
    if issued > tax_year_ends:
        tax_year_ends = date(issued.year + 1, 4, 5)
    return date(tax_year_ends.year + 1 + 5, 1, 31)


def test_the_published_example_is_covered() -> None:
    assert self_employed_until(date(2019, 1, 15)) == date(2025, 1, 31)
    assert retention.kept_until(date(2019, 1, 15), KEPT) == date(2025, 4, 5)


@given(st.dates(date(2000, 1, 1), date(2090, 1, 1)))
def test_no_paper_goes_before_any_of_the_three_rules_lets_it(issued: date) -> None:
    until = retention.kept_until(issued, KEPT)
    six_years_on = date(issued.year + 6, issued.month, min(issued.day, 28))
    assert until >= six_years_on - timedelta(days=1)
    assert until >= self_employed_until(issued)
    assert until <= issued + timedelta(days=7 * 366)


@given(st.dates(date(2000, 1, 1), date(2090, 1, 1)))
def test_a_company_counts_from_its_own_year(issued: date) -> None:
    # Six years from the end of the financial year they relate to.
    until = retention.kept_until(issued, Keeping(6, (2, 29), 12))
    year_ends = next(
        day
        for ahead in range(370)
        if (day := issued + timedelta(days=ahead))
        and (day + timedelta(days=1)).strftime("%m%d") == "0301"
    )
    assert (until.year - year_ends.year, until.month) == (6, 2)


@pytest.mark.parametrize(
    ("today", "months", "before"),
    [
        (date(2026, 11, 25), 12, date(2025, 11, 25)),
        (date(2024, 2, 29), 12, date(2023, 2, 28)),
        (date(2026, 1, 31), 2, date(2025, 11, 30)),
        (date(2026, 12, 1), 12, date(2025, 12, 1)),
    ],
)
def test_months_are_counted_back_by_the_calendar(today: date, months: int, before: date) -> None:
    assert retention.months_before(today, months) == before


@pytest.mark.parametrize("stage", [Stage.ENQUIRY, Stage.SURVEYED, Stage.OFFERED, Stage.LOST])
def test_what_nobody_took_up_is_due(database: Database, stage: Stage) -> None:
    made = made_up.customer(database, stage=stage)
    (one,) = retention.due(database, today=TODAY)
    assert (one.uid, one.last_touched) == (made.uid, LONG_AGO.date())
    assert (one.jobs, one.surveys, one.papers_emptied, one.papers_kept) == (1, 2, 1, 0)


@pytest.mark.parametrize("stage", [Stage.ACCEPTED, Stage.DONE])
def test_what_was_taken_up_is_not_due(database: Database, stage: Stage) -> None:
    made_up.customer(database, stage=stage)
    assert retention.due(database, today=TODAY) == ()


def test_the_period_may_be_changed(database: Database) -> None:
    made_up.customer(database, stage=Stage.LOST, issued_at=LATELY)
    assert retention.due(database, today=TODAY) == ()
    (one,) = retention.due(database, today=TODAY, kept=Keeping(6, (4, 5), 3))
    assert (one.papers_kept, one.kept_until) == (1, date(2033, 4, 5))


def test_a_customer_without_any_job_is_due_too(database: Database) -> None:
    def long_ago() -> datetime:
        return datetime(2020, 1, 1, tzinfo=UTC)

    added = customers.add(database, Customer("Called once"), now=long_ago)
    customers.add(database, Customer("Called today"), now=lambda: datetime.now(UTC))
    assert [one.uid for one in retention.due(database, today=TODAY)] == [added.uid]


def test_the_erased_are_due_again_once_their_papers_are_old(database: Database) -> None:
    made = made_up.customer(database, issued_at=LATELY)
    people.erase_customer(database, made.uid, today=TODAY)
    assert retention.due(database, today=date(2033, 4, 5)) == ()
    (one,) = retention.due(database, today=date(2033, 4, 6))
    assert (one.uid, one.papers_emptied) == (made.uid, 1)


def test_looking_changes_nothing(database: Database) -> None:
    made_up.customer(database, stage=Stage.LOST)
    before = list(database.raw.iterdump())
    retention.due(database, today=TODAY)
    assert list(database.raw.iterdump()) == before
