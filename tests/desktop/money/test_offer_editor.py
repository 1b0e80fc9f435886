from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from estimator.desktop.money.column import MoneyColumn
from estimator.desktop.money.offer_editor import RULES, OfferEditor
from estimator.desktop.session import Session
from estimator.takeoff import scope
from estimator.takeoff.rules import rule_info
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT, Work
from tests.desktop.fakes import SilentWorkers, demo_survey, session_on


@pytest.fixture
def call(tmp_path: Path) -> Iterator[Session]:
    """A call of the demonstration."""
    session = session_on(tmp_path, demo_survey("phone_call"), workers=SilentWorkers())
    yield session
    session.filing.close()


@pytest.fixture
def editor(qtbot: QtBot, call: Session) -> OfferEditor:
    """The editor over the call, following it as the column has it."""
    made = OfferEditor(call)
    call.sight_changed.connect(made.show_sight)
    qtbot.addWidget(made)
    made.show()
    return made


def type_in(editor: OfferEditor, key: str, text: str, qtbot: QtBot) -> None:
    field = editor.fields[key].field
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)


def test_a_choice_ticked_is_offered(editor: OfferEditor, call: Session) -> None:
    editor.choices["repoint"].click()
    assert call.work.scopes == (LOCAL, PANEL, REPOINT)
    editor.choices["local"].click()
    assert call.work.scopes == (PANEL, REPOINT)


def test_the_last_choice_stays_and_says_why(editor: OfferEditor, call: Session) -> None:
    editor.choices["panel"].click()
    editor.choices["local"].click()
    assert call.work.scopes == (LOCAL,)
    assert editor.choices["local"].isChecked()
    assert editor.message.text()


def test_a_choice_of_our_own(editor: OfferEditor, call: Session, qtbot: QtBot) -> None:
    editor.own.click()
    mine = call.work.scopes[-1]
    assert mine.key not in scope.ALL
    assert mine.works == {Work.STITCH}
    editor.works[Work.BRICKS].click()
    editor.title.setFocus()
    editor.title.selectAll()
    qtbot.keyClicks(editor.title, "Bars & bricks")
    assert call.work.scopes[-1].works == {Work.STITCH, Work.BRICKS}
    assert call.work.scopes[-1].title == "Bars & bricks"
    editor.works[Work.BRICKS].click()
    editor.works[Work.STITCH].click()
    assert call.work.scopes[-1].works == {Work.STITCH}
    assert editor.works[Work.STITCH].isChecked()
    assert editor.message.text()


def test_a_rule_changes_the_price(editor: OfferEditor, call: Session, qtbot: QtBot) -> None:
    before = call.sight.options[0].offer.total
    type_in(editor, "anchorage_mm", "700", qtbot)
    assert dict(call.work.rule_changes) == {"anchorage_mm": 700}
    assert call.sight.options[0].offer.total > before
    assert editor.fields["anchorage_mm"].usual.isVisibleTo(editor)


@pytest.mark.parametrize("by", ["key", "button", "typing"])
def test_the_usual_figure_comes_back(
    editor: OfferEditor, call: Session, qtbot: QtBot, by: str
) -> None:
    type_in(editor, "anchorage_mm", "700", qtbot)
    field = editor.fields["anchorage_mm"]
    if by == "key":
        qtbot.keyClick(field.field, Qt.Key.Key_U, Qt.KeyboardModifier.ControlModifier)
    elif by == "button":
        field.usual.click()
    else:
        type_in(editor, "anchorage_mm", "500", qtbot)
    assert call.work.rule_changes == ()
    assert field.field.text() == "500"
    assert not field.usual.isVisibleTo(editor)


@pytest.mark.parametrize("text", ["abc", "5000", "-3", "1e5", "5,00", ""])
def test_what_cannot_be_stays_as_typed_and_says_why(
    editor: OfferEditor, call: Session, qtbot: QtBot, text: str
) -> None:
    field = editor.fields["anchorage_mm"]
    field.field.setText("500")
    field.field.selectAll()
    field.field.insert(text)
    field.field.textEdited.emit(text)
    assert call.work.rule_changes == ()
    assert field.field.text() == text
    call.refresh()
    assert field.field.text() == text
    assert rule_info("anchorage_mm").bounds in field.message.text()
    assert field.message.isVisibleTo(editor)
    assert field.field.accessibleDescription() == field.message.text()


def test_undo_shows_in_the_fields(editor: OfferEditor, call: Session, qtbot: QtBot) -> None:
    type_in(editor, "anchorage_mm", "700", qtbot)
    editor.choices["repoint"].click()
    call.history.undo()
    assert not editor.choices["repoint"].isChecked()
    call.history.undo()
    assert editor.fields["anchorage_mm"].field.text() == "500"


def test_every_rule_gives_its_reason_and_source(editor: OfferEditor) -> None:
    for key in RULES:
        field = editor.fields[key]
        assert not field.reason.isVisibleTo(editor)
        field.field.setFocus()
        assert field.reason.isVisibleTo(editor)
        assert rule_info(key).note in field.reason.text()
        assert str(rule_info(key).source) in field.reason.text()


def test_the_offer_opens_with_the_keyboard_in_it(call: Session, qtbot: QtBot) -> None:
    column = MoneyColumn(call)
    qtbot.addWidget(column)
    column.resize(376, 760)
    column.show()
    column.edit_offer()
    editor = column.offer.editor
    qtbot.waitUntil(editor.choices["local"].hasFocus)
    qtbot.waitUntil(lambda: column.offer.mapTo(column, column.offer.rect().topLeft()).y() < 600)


def test_half_a_refused_figure_is_nobodys_rule(
    editor: OfferEditor, call: Session, qtbot: QtBot
) -> None:
    field = editor.fields["spacing_courses"].field
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "99")
    assert dict(call.work.rule_changes) == {}
    assert field.text() == "99"
    assert "cannot be 99" in editor.fields["spacing_courses"].message.text()
    field.selectAll()
    qtbot.keyClicks(field, "4")
    assert dict(call.work.rule_changes) == {"spacing_courses": 4}
