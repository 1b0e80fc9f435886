"""A caller with a stepped crack under a window, taken from first ring to issued estimate.

The journey is driven by keys in a process of its own, which is killed half-way through the next
answer; what it told is then looked for in the file, the paper and the window opened again.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdf
import pytest
from PySide6.QtCore import QEvent, QPoint, QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop import application, kept
from estimator.desktop.application import Application
from estimator.store import issued, settings
from tests.journeys.call_by_keys import ANSWERS, FIRM, KEYS, wait_until, width
from tests.journeys.killed import killed

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("call")


@pytest.fixture(scope="module")
def told(folder: Path) -> dict[str, Any]:
    """What happened in the process that took the call and was killed."""
    return killed("call_by_keys", folder, longest_s=180)


@pytest.fixture(scope="module")
def paper(folder: Path, told: dict[str, Any]) -> str:
    """The text of the estimate as it was kept."""
    database = kept.opened(folder)
    document = issued.pdf_of(database, told["number"])
    database.close()
    pages = pypdf.PdfReader(io.BytesIO(document)).pages
    return "\n".join(page.extract_text() for page in pages)


def test_eight_answers_two_of_them_not_sure(told: dict[str, Any]) -> None:
    asked = [step["question"] for step in told["steps"]]
    assert len(set(asked)) == ANSWERS
    assert sum(KEYS.get(question, "0\r").startswith("0") for question in asked) >= 2


def test_the_suggested_question_pulls_the_range_in(told: dict[str, Any]) -> None:
    suggested = [step for step in told["steps"] if step["best"]]
    assert suggested
    assert all(step["after"] < step["before"] for step in suggested)


def test_the_paper_is_an_estimate_and_says_so(told: dict[str, Any], paper: str) -> None:
    assert told["number"].startswith("E-")
    assert told["number"] in paper
    assert "Estimate" in paper
    assert "Quotation" not in paper
    assert "Ines Marlowe" in paper
    assert "14 Tarn Street" in paper


def test_the_paper_bears_the_ranges_that_were_on_the_screen(
    told: dict[str, Any], paper: str
) -> None:
    assert len(told["bands"]) == 2
    for low, high in told["bands"]:
        assert f"£{low // 100:,} to £{high // 100:,}" in paper


@pytest.fixture
def desk(folder: Path, qapp: QApplication) -> Iterator[Application]:
    """The program opened again on the folder."""
    yield from opened(folder)


def opened(folder: Path) -> Iterator[Application]:
    application.application(["perpend"])
    looks = QSettings(str(folder / "again.ini"), QSettings.Format.IniFormat)
    shown = Application(folder, looks)
    shown.start()
    wait_until(lambda: getattr(shown, "session", None) is not None, "no session")
    wait_until(lambda: shown.filing.is_open, "the file did not open")
    yield shown
    shown.desk.close()
    shown.end()
    shown.desk.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def test_after_the_kill_it_opens_where_it_was(told: dict[str, Any], desk: Application) -> None:
    wait_until(lambda: desk.session.job.uid == told["uid"], "the job did not come back")
    survey = desk.session.work.survey
    assert [one.question for one in survey.asked] == told["asked"]
    assert survey.customer.name == "Ines Marlowe"
    assert desk.session.job.papers == (told["number"],)


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=QPoint(8, widget.height() // 2))


def test_the_same_by_mouse(tmp_path: Path, qapp: QApplication, qtbot: QtBot) -> None:
    """Choices are clicked; only what must be typed is typed, into fields that were clicked."""
    database = kept.opened(tmp_path)
    settings.keep(database, kept.FIRM, FIRM.read_text(encoding="utf-8"))
    database.close()
    for shown in opened(tmp_path):
        columns = shown.desk.columns
        assert columns is not None
        shown.desk.new_call()
        _answer_by_mouse(shown)
        wait_until(lambda: not shown.session.sight.is_settling, "the range did not settle")  # noqa: B023
        before = width(shown.session.sight)
        click(columns.questions.caller.line)
        for field, text in _fields(columns.questions.caller):
            click(field)
            QTest.keyClicks(field, text)
        click(columns.money.foot.button)
        wait_until(columns.check.page.issue.isEnabled, "the paper was not ready to go out")
        click(columns.check.page.issue)
        wait_until(lambda: bool(shown.session.job.papers), "no paper was issued")  # noqa: B023
        assert shown.session.work.survey.customer.name == "Ines Marlowe"
        assert width(shown.session.sight) == before


def _fields(caller: QWidget) -> Iterator[tuple[QLineEdit, str]]:
    fields = [one for one in caller.findChildren(QLineEdit) if one.isVisible()]
    yield from zip(fields, ("Ines Marlowe", "01632 960417", "14 Tarn Street"), strict=False)


def _answer_by_mouse(shown: Application) -> None:
    """Answer eight questions by clicking a choice each, with *not sure* for two of them."""
    columns = shown.desk.columns
    assert columns is not None
    card = columns.questions.card
    for place in range(ANSWERS):
        assert card.question is not None
        key = card.question.key
        digit = "0" if place in (3, 7) else KEYS.get(key, "1")[0]
        digit = digit if digit.isdigit() else "2"
        choices = [one for one in card.findChildren(QAbstractButton) if one.isVisible()]
        chosen = next(one for one in choices if getattr(one, "digit", "") == digit)
        click(chosen)
        if card.question is not None and card.question.key == key:
            # More than one may be so: the mouse goes on by taking up the next line.
            lines = columns.questions.open_lines.values()
            click(next(line for line in lines if line.isVisible()))
