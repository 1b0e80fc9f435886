"""The whole program, from place to place: what is left behind, and the way back."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel

from estimator.desktop import application, kept
from estimator.desktop.application import Application
from estimator.desktop.price_book.model import Column
from estimator.desktop.strip import STAGES
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.notices import UserMistake
from estimator.quoting import edits
from estimator.quoting.wall_edits import sides
from estimator.store import settings
from estimator.store.faults import DamagedFile
from estimator.survey.survey import Asked, Basis, Party
from tests.desktop.fakes import DEMO
from tests.desktop.test_walk import settle
from tests.journeys.call_by_keys import wait_until

pytestmark = pytest.mark.slow
STEPPED = Asked("shape", ("stepped",))


@pytest.fixture(scope="module")
def desk(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Application]:
    """The whole program on a file with a firm in it."""
    folder = tmp_path_factory.mktemp("places")
    database = kept.opened(folder)
    settings.keep(database, kept.FIRM, (DEMO / "firm.json").read_text(encoding="utf-8"))
    database.close()
    application.application(["perpend"])
    shown = Application(folder, QSettings(str(folder / "x.ini"), QSettings.Format.IniFormat))
    shown.start()
    wait_until(lambda: getattr(shown, "session", None) is not None, "no session")
    wait_until(lambda: shown.filing.is_open, "the file did not open")
    shown.desk.resize(1366, 768)
    yield shown
    shown.desk.close()
    shown.end()
    shown.desk.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()


@pytest.fixture(autouse=True)
def dressed() -> Iterator[None]:
    """Take the place of the fixture that looks for windows left open: this one stays."""
    yield
    LOOK.apply(Scheme.LIGHT)


def call(shown: Application, name: str) -> str:
    """Take a call from somebody, and return the uid of the job."""
    session = shown.session
    shown.desk.new_call()
    session.apply(edits.name_customer(session.work, Party(name, address=("14 Tarn Street",))))
    session.apply(edits.answer(session.work, STEPPED))
    settle(shown)
    return session.job.uid


def lay_paper(shown: Application) -> None:
    assert shown.desk.columns is not None
    shown.desk.actions_["paper"].trigger()
    wait_until(shown.desk.columns.check.page.issue.isEnabled, "no paper came")


@pytest.mark.parametrize("place", ["jobs", "price_book", "settings", "restore"])
@pytest.mark.parametrize("by_key", [True, False])
def test_every_place_has_a_way_back_to_the_desk(
    desk: Application, place: str, *, by_key: bool
) -> None:
    desk.desk.new_call()
    desk.desk.actions_[place].trigger()
    settle(desk)
    assert desk.desk.strip.back.isVisible()
    if by_key:
        focused = QApplication.focusWidget()
        assert focused is not None
        QTest.keyClick(focused, Qt.Key.Key_Escape)
    else:
        QTest.mouseClick(desk.desk.strip.back, Qt.MouseButton.LeftButton)
    assert desk.desk.pages.currentWidget() is desk.desk.columns
    assert not desk.desk.strip.back.isVisible()


def test_escape_empties_what_was_looked_for_before_it_leaves(desk: Application) -> None:
    desk.desk.new_call()
    desk.desk.actions_["find"].trigger()
    QTest.keyClicks(desk.desk.strip.seek, "tarn")
    QTest.keyClick(desk.desk.strip.seek, Qt.Key.Key_Escape)
    assert desk.desk.strip.seek.text() == ""
    assert desk.desk.pages.currentWidget() is desk.places.jobs
    QTest.keyClick(desk.desk.strip.seek, Qt.Key.Key_Escape)
    assert desk.desk.pages.currentWidget() is desk.desk.columns


def test_a_paper_never_lies_beside_another_job(desk: Application) -> None:
    assert desk.desk.columns is not None
    first = call(desk, "Ines Marlowe")
    call(desk, "Rosa Quill")
    lay_paper(desk)
    desk.desk.actions_["jobs"].trigger()
    desk.places.open_job(first)
    wait_until(lambda: desk.session.job.uid == first, "the job did not open")
    assert not desk.desk.columns.has_paper


def test_the_list_of_jobs_names_who_is_on_the_line(desk: Application) -> None:
    call(desk, "Vera Lathe")
    desk.desk.actions_["jobs"].trigger()
    settle(desk)
    settle(desk)
    model = desk.places.jobs.list.jobs
    wait_until(lambda: model.job(0) is not None, "no job is listed")
    first = model.job(0)
    assert first is not None
    assert first.customer == "Vera Lathe"


def test_a_backup_put_back_is_not_written_over_by_the_job_on_the_desk(desk: Application) -> None:
    uid = call(desk, "Vera Lathe")
    desk.desk.actions_["back_up"].trigger()
    settle(desk)
    desk.session.apply(edits.name_customer(desk.session.work, Party("Spoilt")))
    settle(desk)
    page = desk.places.backups
    desk.desk.actions_["restore"].trigger()
    settle(desk)
    wait_until(page.put_back.isEnabled, "there is no backup")
    page.put_back.click()
    wait_until(lambda: desk.filing.is_open and desk.session.job.uid == uid, "not put back")
    assert desk.session.work.survey.customer.name == "Vera Lathe"


def test_good_news_of_a_backup_is_no_caution(desk: Application) -> None:
    call(desk, "Vera Lathe")
    desk.desk.actions_["back_up"].trigger()
    settle(desk)
    assert not desk.desk.notice.isVisible()


def test_a_mistake_is_no_longer_said_once_all_is_kept(desk: Application) -> None:
    desk.desk.tell(UserMistake("the disk is full"))
    assert desk.desk.notice.isVisible()
    saved: list[object] = []
    desk.session.saved.connect(saved.append)
    call(desk, "Vera Lathe")
    wait_until(lambda: bool(saved), "nothing was kept")
    assert not desk.desk.notice.isVisible()


@pytest.mark.parametrize(("width", "scale"), [(1100, 1.0), (1280, 1.0), (1366, 2.0), (1920, 2.0)])
def test_no_stage_is_cut_off_however_long_the_name(
    desk: Application, width: int, scale: float
) -> None:
    LOOK.apply(Scheme.LIGHT, scale=scale)
    call(desk, "Ines " + "W" * 200)
    desk.desk.resize(width, 768)
    QApplication.processEvents()
    line = desk.desk.strip.stages
    widths = line.widths()
    assert sum(widths.values()) <= line.width() + 1
    assert widths["enquiry"] >= line.needed("enquiry")
    assert set(widths) == set(STAGES)
    assert desk.desk.width() == width


@pytest.mark.parametrize("key", ["length", "place", "warning"])
def test_tab_goes_from_a_question_through_its_answers(desk: Application, key: str) -> None:
    assert desk.desk.columns is not None
    call(desk, "Vera Lathe")
    questions = desk.desk.columns.questions
    questions.open(key)
    buttons = questions.card.choices.buttons
    buttons[0].setFocus()
    for expected in buttons[1:]:
        QTest.keyClick(desk.desk.focusWidget() or desk.desk, Qt.Key.Key_Tab)
        assert QApplication.focusWidget() is expected
    if questions.card.field.isVisible():
        questions.card.field.setFocus()
        QTest.keyClick(questions.card.field, Qt.Key.Key_Tab)
        assert QApplication.focusWidget() is buttons[0]


def test_tab_goes_through_the_figures_of_a_rate_before_the_reason(desk: Application) -> None:
    desk.desk.actions_["price_book"].trigger()
    settle(desk)
    page = desk.places.price_book
    wait_until(page.details.bought_from.field.isVisible, "no rate is shown")
    page.pane.table.setFocus()
    stops = [one for one in page.details.stops if one.isVisible()]
    for expected in (*stops, page.why):
        QTest.keyClick(desk.desk.focusWidget() or desk.desk, Qt.Key.Key_Tab)
        assert QApplication.focusWidget() is expected


def test_escape_leads_from_a_sheet_of_the_price_book_to_the_rates(desk: Application) -> None:
    desk.desk.actions_["price_book"].trigger()
    settle(desk)
    page = desk.places.price_book
    page.left.hour.click()
    QTest.keyClick(page.sheet, Qt.Key.Key_Escape)
    assert page.stack.currentWidget() is page.pane
    assert desk.desk.pages.currentWidget() is page


def test_redo_has_either_of_its_two_usual_keys(desk: Application) -> None:
    keys = {key.toString() for key in desk.desk.actions_["redo"].shortcuts()}
    assert "Ctrl+Shift+Z" in keys
    assert len(keys) == len(desk.desk.actions_["redo"].shortcuts())


@pytest.mark.parametrize("by_key", [True, False])
def test_the_readings_have_a_way_back_to_the_wall(desk: Application, *, by_key: bool) -> None:
    columns = desk.desk.columns
    assert columns is not None
    desk.desk.new_call()
    desk.desk.actions_["readings"].trigger()
    QApplication.processEvents()
    assert columns.readings.isVisible()
    if by_key:
        QTest.keyClick(columns.readings.width_mm, Qt.Key.Key_Escape)
    else:
        columns.readings.back.click()
    assert columns.wall.isVisible()


@pytest.mark.parametrize("told", [Asked("growing", ("bigger",)), None])
def test_the_survey_paper_is_laid_by_its_key_and_printed_and_mailed_by_theirs(
    desk: Application, told: Asked | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also for a wall an engineer has to see first: that is when it is wanted most."""
    columns = desk.desk.columns
    assert columns is not None
    call(desk, "Ines Marlowe")
    if told is not None:
        desk.session.apply(edits.answer(desk.session.work, told))
        settle(desk)
        assert not desk.session.sight.options
    columns.take_focus()
    focused = QApplication.focusWidget()
    assert focused is not None
    QTest.keyClick(focused, Qt.Key.Key_F7)
    wait_until(columns.survey.page.email.isEnabled, "no paper came")
    assert columns.has_survey_paper
    went: list[tuple[str, bytes]] = []
    sending = columns.survey.sending
    monkeypatch.setattr(sending, "print_paper", lambda one: went.append(("print", one.pdf)))
    monkeypatch.setattr(sending, "email", lambda one, _to: went.append(("email", one.pdf)))
    desk.desk.actions_["print"].trigger()
    desk.desk.actions_["email"].trigger()
    desk.desk.actions_["paper"].trigger()
    pdf = columns.survey.recording.pdf
    assert went == [("print", pdf), ("email", pdf), ("email", pdf)]
    desk.desk.go_back()
    assert columns.survey.isAncestorOf(QApplication.focusWidget())
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    assert not columns.has_paper


def test_the_strip_shows_survey_as_soon_as_the_wall_is_drawn_or_measured(
    desk: Application,
) -> None:
    call(desk, "Ines Marlowe")
    assert "Enquiry" in desk.desk.strip.stages.accessibleName()
    desk.session.apply(sides.set_basis(desk.session.work, Basis.MEASURED))
    assert "Survey" in desk.desk.strip.stages.accessibleName()
    desk.session.history.undo()
    assert "Enquiry" in desk.desk.strip.stages.accessibleName()


def test_where_a_drawing_was_saved_is_said_until_something_is_typed(
    desk: Application, tmp_path: Path
) -> None:
    columns = desk.desk.columns
    assert columns is not None
    call(desk, "Ines Marlowe")
    columns.elevation.choose_path = lambda _name, then: then(str(tmp_path / "drawing.svg"))
    desk.desk.actions_["elevation"].trigger()
    wait_until(desk.desk.news.isVisible, "nothing was said")
    assert str(tmp_path) in desk.desk.news.text()
    assert not desk.desk.notice.isVisible()
    assert (tmp_path / "drawing.svg").read_bytes().startswith(b"<?xml")
    desk.session.apply(edits.note(desk.session.work, said="It grew."))
    wait_until(lambda: not desk.desk.news.isVisible(), "it is said for ever")


def test_a_damaged_file_says_what_the_page_can_do_and_that_nothing_is_kept(
    desk: Application,
) -> None:
    fault = DamagedFile("work.perpend is damaged", do="restore it with the command data restore")
    desk.filing.refused.emit(fault)
    settle(desk)
    said = [label.text() for label in desk.places.backups.findChildren(QLabel)]
    assert "Work.perpend is damaged." in said
    assert not any("command" in text for text in said)
    assert not desk.desk.notice.isVisible()
    desk.desk.new_call()
    assert desk.desk.notice.isVisible()
    desk.filing.opened.emit(desk.filing._database)
    settle(desk)
    assert not desk.desk.notice.isVisible()


def test_the_name_of_a_rate_keeps_its_room_at_large_type(desk: Application) -> None:
    LOOK.apply(Scheme.LIGHT, scale=2.0)
    desk.desk.resize(1366, 768)
    desk.desk.actions_["price_book"].trigger()
    settle(desk)
    table = desk.places.price_book.pane.table
    assert table.isColumnHidden(Column.SOURCE)
    assert not table.isColumnHidden(Column.RATE)
    LOOK.apply(Scheme.LIGHT)
    desk.desk.resize(1920, 1080)
    QApplication.processEvents()
    assert not table.isColumnHidden(Column.SOURCE)
    assert table.columnWidth(Column.TITLE) >= 200


def test_one_long_word_cuts_off_nothing_on_the_page_that_is_checked(desk: Application) -> None:
    assert desk.desk.columns is not None
    LOOK.apply(Scheme.LIGHT)
    desk.desk.resize(1366, 768)
    call(desk, "W" * 60)
    lay_paper(desk)
    QApplication.processEvents()
    page = desk.desk.columns.check.page
    column = page.rates.mapTo(page, page.rates.rect().topRight()).x()
    assert column <= page.width()
