"""Settings over a real file: they hold at once, are kept, and survive reopening."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QPlainTextEdit, QPushButton
from pytestqt.qtbot import QtBot

from estimator.desktop import kept
from estimator.desktop.session import Session
from estimator.desktop.settings import asked
from estimator.desktop.settings.page import SettingsPage
from estimator.desktop.settings.parts import REST_MS, Field
from estimator.desktop.settings.rule_rows import RuleField
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.takeoff import rules
from tests.desktop.fakes import demo_survey, rest, session_on

HOSTILE = '<b>Tarn</b> & Sons "Ltd" <img src=x>'


@pytest.fixture
def session(qapp: QApplication, tmp_path: Path) -> Iterator[Session]:
    made = session_on(tmp_path, demo_survey("window_lime"))
    yield made
    made.filing.close()


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[SettingsPage]:
    made = SettingsPage(session)
    qtbot.addWidget(made, before_close_func=lambda _page: rest(session))
    made.resize(1366, 636)
    made.show()
    with qtbot.waitSignal(session.filing.opened, timeout=20_000):
        session.filing.open()
    session.filing.ask(kept.practice, session.use)
    with qtbot.waitSignal(made.shown, timeout=20_000):
        made.begin()
    yield made
    session.filing.close()
    QApplication.processEvents()


def type_in(field: Field, text: str, *, then_rest: bool = True) -> None:
    """Type as a person does: the cursor there, all marked, then letter by letter, then rest."""
    editor = field.editor
    field._rest.setInterval(REST_MS)
    editor.setFocus()
    editor.selectAll()
    QTest.keyClick(editor, Qt.Key.Key_Delete)
    QTest.keyClicks(editor, text)
    if then_rest:
        assert field._rest.isActive()
        # As if that long had gone by; half a second for each of these tests is too much.
        field._rest.setInterval(0)


def rule(page: SettingsPage, key: str, qtbot: QtBot) -> RuleField:
    group = next(one for one in page.rules.groups if key in one.keys)
    if not group.fields:
        with qtbot.waitSignal(group.filled):
            QTest.keyClick(group.head, Qt.Key.Key_Space)
    found = page.rules.field(key)
    assert isinstance(found, RuleField)
    return found


def kept_in(tmp_path: Path, session: Session) -> asked.Seen:
    session.filing.close()
    with kept.opened(tmp_path) as database:
        return asked.seen(database)


def test_what_is_typed_of_the_firm_survives_reopening(
    page: SettingsPage, session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    type_in(page.firm.fields["name"], HOSTILE)
    type_in(page.firm.fields["telephone"], "01632 960111")
    qtbot.waitUntil(lambda: session.practice.trader.telephone == "01632 960111")
    assert session.practice.trader.name == HOSTILE
    seen = kept_in(tmp_path, session)
    assert (seen.firm.name, seen.firm.telephone) == (HOSTILE, "01632 960111")


def test_a_firm_without_a_name_is_kept_aside(
    page: SettingsPage, session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    type_in(page.firm.fields["trade"], "Masonry repair")
    qtbot.waitUntil(lambda: "Kept" in page._says.text() and ":" in page._says.text())
    assert session.practice.trader.name == ""
    assert kept_in(tmp_path, session).firm.trade == "Masonry repair"


def test_every_label_is_plain_text(page: SettingsPage, qtbot: QtBot) -> None:
    type_in(page.firm.fields["name"], HOSTILE)
    qtbot.waitUntil(lambda: HOSTILE in page.firm.head.accessibleName())
    labels = [one for one in page.findChildren(QLabel) if one.text()]
    assert any(one.text() == HOSTILE for one in labels)
    assert {one.textFormat() for one in labels} == {Qt.TextFormat.PlainText}


def test_a_changed_rule_reprices_the_open_job(
    page: SettingsPage, session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    before = session.sight.options[0].offer.total
    field = rule(page, "spacing_courses", qtbot)
    with qtbot.waitSignal(session.sight_changed):
        type_in(field, "1")
    assert session.practice.rules.spacing_courses == 1
    assert session.sight.options[0].offer.total > before
    assert field._back.isVisible()
    assert kept_in(tmp_path, session).changes == {"spacing_courses": 1}


def test_an_emptied_rule_goes_back_to_what_ships(
    page: SettingsPage, session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    field = rule(page, "anchorage_mm", qtbot)
    type_in(field, "600")
    qtbot.waitUntil(lambda: session.practice.rules.anchorage_mm == 600)
    type_in(field, "")
    page.firm.fields["name"].editor.setFocus()
    qtbot.waitUntil(lambda: session.practice.rules.anchorage_mm == 500)
    assert field.text() == "500"
    qtbot.waitUntil(lambda: not field._back.isVisible())
    assert kept_in(tmp_path, session).changes == {}


@pytest.mark.parametrize(
    ("key", "typed", "why"),
    [
        ("anchorage_mm", "lots", "is not a figure; type a number from 50 to 3,000 mm."),
        ("anchorage_mm", "1e5", "is not a figure; type a number from 50 to 3,000 mm."),
        ("anchorage_mm", "4", "cannot be 4; type a number from 50 to 3,000 mm."),
        ("spacing_courses", "2.5", "cannot be 2.5; type a number from 1 to 12 courses."),
        ("pointing_over_slot_mm", "38", "a slot 25 mm deep does not hold the bar"),
        ("stock_lengths_mm", "1000; x", "is not a figure"),
        ("stock_lengths_mm", ";", "cannot be ()"),
    ],
)
def test_a_bad_figure_is_refused_beside_its_field_and_stays(
    page: SettingsPage, session: Session, qtbot: QtBot, key: str, typed: str, why: str
) -> None:
    before = session.practice.rules
    field = rule(page, key, qtbot)
    type_in(field, typed)
    qtbot.waitUntil(field.mistake.isVisible)
    assert why in field.mistake.text()
    assert field.text() == typed
    with qtbot.waitSignal(page.shown):
        page.begin()
    assert field.text() == typed
    assert session.practice.rules == before


@pytest.mark.parametrize("typed", ["0", "366", "2.5", "thirty", "-4"])
def test_offers_stand_a_whole_number_of_days(
    page: SettingsPage, session: Session, qtbot: QtBot, typed: str
) -> None:
    type_in(page.terms.days, typed)
    qtbot.waitUntil(page.terms.days.mistake.isVisible)
    assert page.terms.days.mistake.text().endswith("type a whole number of days from 1 to 365.")
    assert page.terms.days.text() == typed
    assert session.practice.validity_days == 30


def test_days_are_kept(page: SettingsPage, session: Session, tmp_path: Path, qtbot: QtBot) -> None:
    type_in(page.terms.days, "45")
    qtbot.waitUntil(lambda: session.practice.validity_days == 45)
    assert kept_in(tmp_path, session).validity == 45


def test_a_firm_that_is_not_registered_adds_no_vat(
    page: SettingsPage, session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    before = session.sight.options[0].offer
    assert any(tax.charged and tax.amount.pence for tax in before.taxes)
    with qtbot.waitSignal(page.shown, timeout=20_000):
        QTest.keyClick(page.terms.box, Qt.Key.Key_Space)
    after = session.sight.options[0].offer
    assert not session.practice.book.tax.registered
    assert not any(tax.charged and tax.amount.pence for tax in after.taxes)
    assert after.total < before.total
    session.filing.close()
    again = kept.opened(tmp_path)
    assert not kept.practice(again).book.tax.registered
    again.close()


def test_every_rule_is_in_one_group_and_says_where_it_is_from(
    page: SettingsPage, qtbot: QtBot
) -> None:
    keys = [key for group in page.rules.groups for key in group.keys]
    assert keys == list(rules.rule_keys())
    field = rule(page, "anchorage_mm", qtbot)
    field.editor.setFocus()
    for told in ("Bar beyond the crack", "common practice, no source", "Ships as 500"):
        assert told in page._hint.text()


def test_the_measuring_rule_is_chosen(page: SettingsPage, session: Session, qtbot: QtBot) -> None:
    rule(page, "nrm2_void_m2", qtbot)
    field = page.rules.field("void_method")
    assert field is not None
    field.choices.buttons["smm7"].click()  # type: ignore[union-attr]
    qtbot.waitUntil(lambda: session.practice.rules.void_method is rules.VoidMethod.SMM7)


def test_words_above_open_the_rules_they_fit(page: SettingsPage) -> None:
    page.seek("scaffold")
    assert [one.title for one in page.rules.groups if one.is_open] == ["Reaching the work"]


def test_a_logo_is_kept_and_taken_off_and_put_back(
    page: SettingsPage, session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    image = QImage(1600, 400, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.darkGreen)
    image.save(str(tmp_path / "logo.png"))
    page.logo.picked.emit(tmp_path / "logo.png")
    qtbot.waitUntil(page.logo.take_off.isVisible)
    page.logo.take_off.click()
    qtbot.waitUntil(page.logo.put_back.isVisible)
    page.logo.put_back.click()
    qtbot.waitUntil(page.logo.take_off.isVisible)
    found = QImage.fromData(kept_in(tmp_path, session).logo)
    assert (found.width(), found.height()) == (800, 200)


def test_what_is_no_picture_is_refused(page: SettingsPage, tmp_path: Path, qtbot: QtBot) -> None:
    (tmp_path / "notes.png").write_text("not a picture")
    page.logo.picked.emit(tmp_path / "notes.png")
    qtbot.waitUntil(lambda: "notes.png" in page.logo.says.text())
    assert page.logo.says.text().endswith("choose a PNG or JPEG picture.")


def test_the_look_is_told_and_not_put_into_the_file(
    page: SettingsPage, session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(page.look_changed) as told:
        page.look.colours.buttons["system"].click()
    assert told.args == ["system", 1.0]
    with qtbot.waitSignal(page.look_changed) as told:
        page.look.sizes.buttons["1.5"].click()
    assert told.args == ["system", 1.5]
    session.filing.close()
    with kept.opened(tmp_path) as database:
        from estimator.store import settings  # noqa: PLC0415 - the file is looked into here alone

        assert json.dumps(settings.every(database)) == "{}"


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_everything_has_a_name_and_fits(page: SettingsPage, qtbot: QtBot, scale: float) -> None:
    LOOK.apply(Scheme.DARK, scale=scale)
    rule(page, "anchorage_mm", qtbot)
    inside = page.area.widget()
    assert inside is not None
    qtbot.waitUntil(lambda: inside.width() <= page.area.viewport().width())
    for kind in (QLineEdit, QPlainTextEdit, QPushButton):
        for one in page.findChildren(kind):
            assert one.accessibleName() or (isinstance(one, QPushButton) and one.text())
            if one.isVisible():
                assert one.height() >= 28


def test_tab_alone_reaches_the_end(page: SettingsPage) -> None:
    page.firm.fields["name"].editor.setFocus()
    reached = set()
    for _press in range(60):
        focused = page.window().focusWidget()
        assert focused is not None
        reached.add(focused)
        QTest.keyClick(focused, Qt.Key.Key_Tab)
    assert page.whereabouts.open_folder in reached
    assert all(group.head in reached for group in page.rules.groups)


def test_what_was_just_typed_is_not_lost_when_the_window_closes(
    page: SettingsPage, session: Session, tmp_path: Path
) -> None:
    type_in(page.firm.fields["name"], "Tarn Masonry", then_rest=False)
    page.close()
    assert kept_in(tmp_path, session).firm.name == "Tarn Masonry"
