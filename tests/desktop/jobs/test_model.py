"""The list's model under random operations, watched by Qt's own tester."""

from __future__ import annotations

import datetime
import random

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from estimator.desktop.jobs.model import MOST_PAGES, PAGE, JobRole, JobsModel
from estimator.store.job_list import JobLine
from estimator.store.jobs import Stage

TODAY = datetime.date(2026, 11, 25)
AT = datetime.datetime(2026, 11, 24, 12, tzinfo=datetime.UTC)


def line(number: int) -> JobLine:
    return JobLine(
        uid=f"{number:032x}",
        title=f"Crack {number}",
        stage=Stage.ENQUIRY,
        site=("4 Mill Lane",),
        made_at=AT,
        changed_at=AT,
        customer=f"Caller {number}",
        customer_uid="",
        telephone="",
        revision=0,
        paper=None,
    )


def page(number: int, count: int) -> tuple[JobLine, ...]:
    return tuple(line(one) for one in range(number * PAGE, min((number + 1) * PAGE, count)))


@pytest.fixture
def model(qtbot: QtBot) -> JobsModel:
    made = JobsModel()
    made.begin(10_000, page(0, 10_000), TODAY)
    return made


def test_a_thousand_random_operations_keep_qt_content(model: JobsModel) -> None:
    tester = QAbstractItemModelTester(
        model, QAbstractItemModelTester.FailureReportingMode.Fatal, model
    )
    # Somewhat more jobs than are held at once; the tester goes through all of them at every step.
    chance, count = random.Random(25), 5_000
    assert count > MOST_PAGES * PAGE
    model.begin(count, page(0, count), TODAY)
    for _step in range(1_000):
        act = chance.randrange(6)
        if act == 0:
            count = chance.choice((0, 1, PAGE, PAGE + 1, chance.randrange(5_000)))
            model.begin(count, page(0, count), TODAY)
        elif act <= 2:
            number = chance.randrange(-1, 30)
            model.put(number, page(max(number, 0), count))
        elif act == 3:
            first = chance.randrange(-50, 5_500)
            model.want(first, first + chance.randrange(100))
        else:
            row = chance.randrange(-1, max(count, 1))
            held = model.job(row)
            assert held is None or held.uid == line(row).uid
            assert model.data(model.index(row), JobRole) is held
    assert tester.model() is model
    assert model.rowCount() == count


def test_a_page_is_asked_for_once_and_not_beyond_the_end(model: JobsModel) -> None:
    wanted: list[int] = []
    model.wanted.connect(wanted.append)
    for _time in range(2):
        model.want(PAGE - 3, PAGE * 2)
    model.want(9_990, 12_000)
    assert wanted == [1, 2, 49]


def test_no_more_pages_are_held_than_allowed(model: JobsModel) -> None:
    for number in range(50):
        model.put(number, page(number, 10_000))
    held = [number for number in range(50) if model.job(number * PAGE) is not None]
    assert len(held) == MOST_PAGES
    assert held[-1] == 49


def test_a_row_that_is_not_here_says_nothing(model: JobsModel) -> None:
    index = model.index(9_999)
    assert model.data(index) is None
    assert model.data(index, Qt.ItemDataRole.AccessibleTextRole) is None


def test_a_row_is_read_out_whole(model: JobsModel) -> None:
    said = model.data(model.index(7), Qt.ItemDataRole.AccessibleTextRole)
    assert said == "Caller 7, 4 Mill Lane · Crack 7, Enquiry, Yesterday"
