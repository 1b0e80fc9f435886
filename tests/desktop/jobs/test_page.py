"""The page of jobs over a real file: what is asked, what is shown, and keys alone."""

from __future__ import annotations

import datetime
import itertools
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from estimator.desktop import kept
from estimator.desktop.jobs.page import JobsPage
from estimator.desktop.session import Session
from estimator.store import customers, issued, jobs
from estimator.store.customers import Customer
from estimator.store.database import Database
from estimator.store.job_list import JobLine
from estimator.store.jobs import Job, Stage
from tests.desktop.fakes import TODAY, rest, session_on
from tests.store import work

HOSTILE = '<b>Bobby</b> & "Sons" <img src=x>'
PEOPLE = (
    (HOSTILE, "01632 960111", "ZZ1 4XX", Stage.ENQUIRY),
    ("Ines Marlowe", "01632 960317", "ZZ9 9AB", Stage.OFFERED),
    ("Colm Bartlett", "01632 960456", "ZZ2 7CD", Stage.ACCEPTED),
)
NOON = datetime.datetime(2026, 11, 25, 12, tzinfo=datetime.UTC)


def fill(database: Database, many: int = 0) -> None:
    """Put three people's jobs in, and as many more as are wanted."""
    with database.writing() as connection:
        for number in range(many):
            jobs.add(connection, Job(f"Wall {number}"), now=lambda: NOON)
        for at, (name, telephone, postcode, stage) in enumerate(PEOPLE):
            moment = NOON + datetime.timedelta(minutes=at)
            who = customers.add(
                connection, Customer(name, address=(postcode,), telephone=telephone)
            ).uid
            job = Job("Crack", who, ("4 Mill Lane",), stage)
            jobs.add(connection, job, now=itertools.repeat(moment).__next__)


@pytest.fixture
def session(qapp: QApplication, tmp_path: Path) -> Iterator[Session]:
    made = session_on(tmp_path)
    yield made
    made.filing.close()


def shown(session: Session, qtbot: QtBot) -> JobsPage:
    page = JobsPage(session)
    qtbot.addWidget(page, before_close_func=lambda _page: rest(session))
    page.resize(1366, 636)
    page.show()
    with qtbot.waitSignal(session.filing.opened, timeout=20_000):
        session.filing.open()
    with qtbot.waitSignal(page.model.modelReset):
        page.begin()
    return page


@pytest.fixture
def page(session: Session, tmp_path: Path, qtbot: QtBot) -> JobsPage:
    with kept.opened(tmp_path) as database:
        fill(database)
    return shown(session, qtbot)


def names(page: JobsPage) -> list[str]:
    return [page.model.data(page.model.index(row)) for row in range(page.model.rowCount())]


def held(page: JobsPage, row: int) -> JobLine:
    found = page.model.job(row)
    assert found is not None
    return found


def seek(page: JobsPage, typed: str, qtbot: QtBot) -> list[str]:
    with qtbot.waitSignal(page.model.modelReset):
        page.seek(typed)
    return names(page)


def press(page: JobsPage, *keys: Qt.Key) -> None:
    for key in keys:
        focused = page.window().focusWidget()
        assert focused is not None
        QTest.keyClick(focused, key)


def test_the_last_changed_comes_first(page: JobsPage) -> None:
    assert names(page) == ["Colm Bartlett", "Ines Marlowe", HOSTILE]


@pytest.mark.parametrize("typed", ["ines", "01632 960317", "960317", "ZZ9 9AB", "mar"])
def test_a_job_is_found_by_what_one_knows(page: JobsPage, qtbot: QtBot, typed: str) -> None:
    assert seek(page, typed, qtbot) == ["Ines Marlowe"]


def test_of_quick_typing_only_the_last_counts(page: JobsPage, qtbot: QtBot) -> None:
    for typed in ("z", "zz", "zzz", "col", "colm"):
        page.seek(typed)
    qtbot.waitUntil(lambda: names(page) == ["Colm Bartlett"])


def test_a_stage_cuts_the_list_down_and_is_counted(page: JobsPage, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.model.modelReset):
        page.filters.words["quotation"].click()
    assert names(page) == ["Ines Marlowe"]
    assert page.filters.words["quotation"].accessibleName() == "Quotation, 1 job"
    assert page.filters.words[""].accessibleName() == "All, 3 jobs"


def test_nothing_found_says_what_to_try(page: JobsPage, qtbot: QtBot) -> None:
    assert seek(page, "<i>nobody", qtbot) == []
    said = [one for one in page.findChildren(QLabel) if "nobody" in one.text()]
    assert said
    assert all(one.textFormat() is Qt.TextFormat.PlainText for one in said)
    assert not page.list.isVisible()


def test_rates_that_fit_the_same_words_are_offered(page: JobsPage, qtbot: QtBot) -> None:
    seek(page, "mortar", qtbot)
    assert page._rates.isVisible()
    with qtbot.waitSignal(page.rates_wanted) as wanted:
        page._rates.click()
    assert wanted.args == ["mortar"]


def test_keys_alone_open_a_job(page: JobsPage, qtbot: QtBot) -> None:
    page.take_focus()
    press(page, Qt.Key.Key_Down)
    with qtbot.waitSignal(page.opened) as opened:
        press(page, Qt.Key.Key_Return)
    assert opened.args == [held(page, 1).uid]


def test_a_letter_goes_on_to_the_field_above(page: JobsPage, qtbot: QtBot) -> None:
    page.take_focus()
    with qtbot.waitSignal(page.typed) as typed:
        press(page, Qt.Key.Key_M)
    assert typed.args == ["m"]


def test_the_row_one_was_on_stays_chosen(page: JobsPage, qtbot: QtBot) -> None:
    page.list.setCurrentIndex(page.model.index(2))
    with qtbot.waitSignal(page.model.modelReset):
        page.begin()
    assert page.list.currentIndex().row() == 2


def test_an_empty_file_offers_the_first_call(session: Session, qtbot: QtBot) -> None:
    page = shown(session, qtbot)
    assert page._first.isVisible()
    with qtbot.waitSignal(page.new_wanted):
        page._first.findChildren(QPushButton)[0].click()


def test_what_needs_me_stands_on_top_and_opens(
    session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    early = work.MORNING - datetime.timedelta(days=9)
    with kept.opened(tmp_path) as database:
        fill(database)
        uid = work.job_in(database, now=lambda: early)
        paper = work.issued_for(database, uid, now=lambda: early)
        jobs.move(database, uid, Stage.OFFERED, now=lambda: early)
        assert issued.find(database, paper.number)
    session.today = lambda: TODAY
    page = shown(session, qtbot)
    qtbot.waitUntil(page.needs.isVisible)
    row = page.needs.rows[0]
    assert row.accessibleName().endswith("went out 9 days ago and nobody has answered.")
    page.take_focus()
    press(page, Qt.Key.Key_Up)
    assert row.hasFocus()
    with qtbot.waitSignal(page.opened) as opened:
        press(page, Qt.Key.Key_Return)
    assert opened.args == [uid]
    press(page, Qt.Key.Key_Down)
    assert page.list.hasFocus()
    seek(page, "ines", qtbot)
    assert not page.needs.isVisible()


def test_a_long_list_is_fetched_as_it_is_walked(
    session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    with kept.opened(tmp_path) as database:
        fill(database, 700)
    page = shown(session, qtbot)
    assert page.model.rowCount() == 703
    assert page.model.job(702) is None
    page.list.scrollToBottom()
    qtbot.waitUntil(lambda: page.model.job(702) is not None)
    assert held(page, 702).title == "Wall 0"
