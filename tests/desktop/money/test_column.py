from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, ClassVar, Protocol

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QHBoxLayout, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop.money import saying
from estimator.desktop.money.column import MoneyColumn
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.quoting import edits, offering
from estimator.quoting.edits import Work
from estimator.quoting.outlook import Outlook
from estimator.quoting.quotation import Paper
from estimator.survey.survey import Answer, CustomerKind, Survey
from estimator.survey.triage import Route
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT
from tests.desktop.fakes import (
    SilentWorkers,
    Ticket,
    WorkersAtOnce,
    demo_survey,
    session_on,
    settle,
)


class WorkersOnce(WorkersAtOnce):
    """Works each range out once in a test run; it is the same every time."""

    known: ClassVar[dict[Any, Outlook]] = {}

    def outlook(self, survey: Survey, practice: Any, scopes: Any, date: Any, **named: Any) -> Any:
        key = (survey, tuple(scopes))
        if key in self.known:
            named["on_done"](self.known[key])
            return Ticket()

        def done(found: Outlook) -> None:
            self.known[key] = found
            named["on_done"](found)

        return super().outlook(
            survey, practice, scopes, date, on_done=done, on_failed=named["on_failed"]
        )


class MakeColumn(Protocol):
    """Makes the column over a survey, its range worked out where that is wanted."""

    def __call__(self, survey: Survey, *, settled: bool = False) -> MoneyColumn: ...


@pytest.fixture
def column_of(qtbot: QtBot, tmp_path: Path) -> Iterator[MakeColumn]:
    """Make the column over a survey, shown at its usual size."""
    made: list[Session] = []

    def make(survey: Survey, *, settled: bool = False) -> MoneyColumn:
        workers = WorkersOnce() if settled else SilentWorkers()
        session = session_on(tmp_path, survey, workers=workers)
        made.append(session)
        if settled:
            settle(session)
        column = MoneyColumn(session)
        qtbot.addWidget(column)
        column.resize(376, 760)
        column.show()
        return column

    yield make
    for session in made:
        session.filing.close()


def said_in(widget: QWidget) -> str:
    """Return all that can be read in a widget."""
    labels = [one.text() for one in widget.findChildren(QLabel) if one.isVisibleTo(widget)]
    return "\n".join(labels)


def test_a_call_gets_a_range_without_pence(column_of: MakeColumn) -> None:
    column = column_of(demo_survey("phone_call"), settled=True)
    card, outlook = column.cards.cards[0], column._session.sight.outlook
    assert outlook is not None
    band = outlook.bands[0]
    assert card.price.text() == f"£{band.low.pounds:,.0f} to £{band.high.pounds:,.0f}"
    assert card.likely.text() == f"likely £{band.likely.pounds:,.0f}"
    assert "." not in "".join(row.row.amount for row in column.ladder.rows)
    assert column.foot.button.text() == "Write the estimate"


def test_a_measured_wall_gets_a_firm_price(column_of: MakeColumn) -> None:
    column = column_of(demo_survey("window_lime"))
    total = column._session.sight.options[0].offer.total
    assert column.cards.cards[0].price.text() == f"£{total.pounds:,.2f}"
    assert "about" not in column.cards.difference.text()
    assert column.foot.button.text() == "Write the quotation"


@pytest.mark.parametrize("name", ["phone_call", "window_lime", "quoin_cavity", "terrace"])
def test_the_button_names_the_paper_that_would_be_written(column_of: MakeColumn, name: str) -> None:
    survey = demo_survey(name)
    column = column_of(survey)
    paper = offering.prepare(survey, column._session.practice).paper
    named = {Paper.QUOTATION: "Write the quotation", Paper.ESTIMATE: "Write the estimate"}
    assert column.foot.button.text() == named[paper]


def test_before_the_range_is_known_the_price_is_about(qtbot: QtBot, tmp_path: Path) -> None:
    session = session_on(tmp_path, demo_survey("phone_call"), workers=SilentWorkers())
    column = MoneyColumn(session)
    qtbot.addWidget(column)
    card = column.cards.cards[0]
    assert card.price.text().startswith("about £")
    assert card.likely.text() == ""
    session.filing.close()


def test_an_old_range_is_shown_lighter(column_of: MakeColumn) -> None:
    column = column_of(demo_survey("phone_call"), settled=True)
    column.grab()
    before = column.cards.cards[0].band.grab().toImage()
    column.show_sight(replace(column._session.sight, is_settling=True))
    after = column.cards.cards[0].band.grab().toImage()
    assert before != after
    assert column.cards.cards[0].price.property("tone") == "quiet"
    column.show_sight(column._session.sight)
    assert column.cards.cards[0].band.grab().toImage() == before


def test_all_bands_stand_on_one_scale_from_nothing(column_of: MakeColumn) -> None:
    column = column_of(demo_survey("phone_call"), settled=True)
    one, two = (card.band for card in column.cards.cards[:2])
    column.grab()
    outlook = column._session.sight.outlook
    assert outlook is not None
    for band in outlook.bands:
        assert one.x_of(band.high) == two.x_of(band.high) < one.width()
    assert one.x_of(outlook.bands[0].high) < one.x_of(outlook.bands[1].high)


def test_arrow_keys_choose_the_option_whose_ladder_stands_below(
    column_of: MakeColumn, qtbot: QtBot
) -> None:
    column = column_of(demo_survey("phone_call"))
    column.take_focus()
    with qtbot.waitSignal(column.chosen) as chosen:
        qtbot.keyClick(column.cards.cards[0], Qt.Key.Key_Down)
    assert chosen.args == [1]
    titles = [row.row.title for row in column.ladder.rows if row.isVisibleTo(column)]
    assert "Rake out and repoint the panel" in titles
    assert "chosen" in column.cards.cards[1].accessibleName()
    with qtbot.waitSignal(column.chosen) as chosen:
        qtbot.mouseClick(column.cards.cards[0], Qt.MouseButton.LeftButton)
    assert chosen.args == [0]


def test_the_paper_is_asked_for(column_of: MakeColumn, qtbot: QtBot) -> None:
    column = column_of(demo_survey("phone_call"))
    with qtbot.waitSignal(column.paper_wanted):
        column.foot.button.click()


def test_a_referred_wall_shows_words_and_no_sum_of_money(
    column_of: MakeColumn, qtbot: QtBot
) -> None:
    survey = demo_survey("refer")
    column = column_of(survey)
    shown = said_in(column)
    outcomes = column._session.sight.assessment.outcomes
    assert outcomes
    for outcome in outcomes:
        assert outcome.words in shown
    assert "not designed or certified" in shown
    assert "insurer" in said_in(column.refusal.acts)
    assert "£" not in shown
    with qtbot.assertNotEmitted(column.paper_wanted):
        column.foot.button.click()
    assert QGuiApplication.clipboard().text() == "\n".join(one.words for one in outcomes)


def test_danger_stops_everything(column_of: MakeColumn) -> None:
    survey = demo_survey("window_lime")
    signs = replace(survey.signs, loose_or_falling=Answer.YES)
    column = column_of(replace(survey, signs=signs))
    assert column.refusal.isVisibleTo(column)
    assert "999" in column.refusal.first.text()
    assert "£" not in said_in(column)
    assert not any(card.isVisibleTo(column) for card in column.cards.cards)
    assert not column.offer.isVisibleTo(column)


def test_prices_come_back_when_the_danger_was_a_slip(column_of: MakeColumn) -> None:
    survey = demo_survey("window_lime")
    signs = replace(survey.signs, loose_or_falling=Answer.YES)
    column = column_of(replace(survey, signs=signs))
    session = column._session
    session.job = replace(session.job, work=Work(survey))
    session.refresh()
    assert not column.refusal.isVisibleTo(column)
    assert column.cards.cards[0].isVisibleTo(column)
    assert "£" in column.cards.cards[0].price.text()


def test_a_wall_to_be_watched_is_said_so_above_the_money(column_of: MakeColumn) -> None:
    survey = demo_survey("phone_call")
    (wall,) = survey.elevations
    hairline = replace(wall, cracks=(replace(wall.cracks[0], width_mm=0.05),), hidden_bricks=0.0)
    column = column_of(replace(survey, elevations=(hairline,)))
    assert column._session.sight.assessment.route is Route.MONITOR
    assert column.caution.isVisibleTo(column)
    assert "Watch it first" in column.caution.accessibleName()


def test_nothing_to_price_is_said_and_the_button_waits(column_of: MakeColumn) -> None:
    column = column_of(replace(demo_survey("window_lime"), elevations=()))
    assert not column.foot.button.isEnabled()
    assert column.foot.reason.text()
    assert column.problem.isVisibleTo(column)
    assert column.foot.button.accessibleDescription() == column.foot.reason.text()


def test_a_reverse_charge_is_said_truly(column_of: MakeColumn) -> None:
    survey = demo_survey("window_lime")
    trade = replace(
        survey.customer, kind=CustomerKind.TRADE, vat_number="GB123456789", is_end_user=False
    )
    column = column_of(replace(survey, customer=trade))
    offer = column._session.sight.options[0].offer
    assert offer.taxes and not any(tax.charged for tax in offer.taxes)
    assert "accounted for by the customer" in said_in(column)
    assert "with VAT" not in said_in(column)


@pytest.mark.parametrize("scale", [1.0, 2.0])
@pytest.mark.parametrize("name", ["phone_call", "refer"])
def test_nothing_is_wider_than_the_narrowest_column(
    column_of: MakeColumn, qtbot: QtBot, name: str, scale: float
) -> None:
    LOOK.apply(Scheme.LIGHT, scale=scale)
    column = column_of(demo_survey(name), settled=True)
    column.resize(330, 640)
    column.ladder.open("BARS")
    QApplication.processEvents()
    column.grab()
    # Large type takes a wider column; the splitter grants it, and it stays under the widest.
    assert column.width() <= (330 if scale == 1.0 else 460)
    for label in column.findChildren(QLabel):
        if label.isVisibleTo(column) and label.text():
            right = label.mapTo(column, label.rect().topRight()).x()
            assert right <= column.width(), label.text()
            if not label.wordWrap():
                assert label.width() >= label.sizeHint().width(), label.text()
            else:
                assert label.height() >= label.heightForWidth(label.width()), label.text()


def test_updating_keeps_every_widget(column_of: MakeColumn) -> None:
    column = column_of(demo_survey("phone_call"))
    before = column.findChildren(QWidget)
    column._session.refresh()
    assert column.findChildren(QWidget) == before


def test_the_difference_is_the_likely_sums(column_of: MakeColumn) -> None:
    column = column_of(demo_survey("window_lime"))
    one, two = (option.offer.total for option in column._session.sight.options)
    assert f"£{(two - one).pounds}" in column.cards.difference.text()
    assert saying.difference(column._session.sight.options[:1], column._session.sight) == ""


def test_the_same_option_stays_chosen_when_others_come_and_go(
    column_of: MakeColumn, qtbot: QtBot
) -> None:
    column = column_of(demo_survey("phone_call"))
    session = column._session
    session.apply(edits.offer(session.work, (LOCAL, PANEL, REPOINT)))
    column.cards.choose(1)
    with qtbot.waitSignal(column.chosen) as chosen:
        session.apply(edits.offer(session.work, (PANEL, REPOINT)))
    assert chosen.args == [0]
    assert session.sight.options[column.cards.at].measure.scope.key == PANEL.key
    assert column.ladder.head.text == session.sight.options[0].offer.scope.title
    session.apply(edits.offer(session.work, (LOCAL, REPOINT)))
    assert column.cards.at == 0


def test_tab_goes_from_the_cards_through_the_ladder_to_the_button(
    column_of: MakeColumn, qtbot: QtBot
) -> None:
    column = column_of(demo_survey("phone_call"))
    column.take_focus()
    qtbot.waitUntil(column.cards.cards[0].hasFocus)
    stops = [column.cards.compare, column.ladder.rows[0], column.offer.row, column.foot.button]
    for stop in stops:
        qtbot.keyClick(column.focusWidget(), Qt.Key.Key_Tab)
        assert column.focusWidget() is stop
    column.edit_offer()
    editor = column.offer.editor
    editor.fields["pointing_waste"].field.setFocus()
    qtbot.keyClick(column.focusWidget(), Qt.Key.Key_Tab)
    assert column.focusWidget() is column.foot.button


def test_what_the_keyboard_comes_to_is_in_sight(column_of: MakeColumn, qtbot: QtBot) -> None:
    column = column_of(demo_survey("phone_call"))
    column.resize(376, 500)
    column.ladder.rows[0].setFocus()
    qtbot.keyClick(column.ladder.rows[0], Qt.Key.Key_End)
    last = column.focusWidget()

    def is_in_sight() -> bool:
        view = column._scroll.viewport()
        return view.rect().contains(last.mapTo(view, last.rect().center()))

    qtbot.waitUntil(is_in_sight)


def test_nothing_is_pointed_at_once_there_is_no_price(column_of: MakeColumn, qtbot: QtBot) -> None:
    column = column_of(demo_survey("phone_call"))
    session = column._session
    with qtbot.waitSignal(column.pointed):
        column.ladder.rows[0].setFocus()
    signs = replace(session.work.survey.signs, loose_or_falling=Answer.YES)
    survey = replace(session.work.survey, signs=signs)
    session.job = replace(session.job, work=replace(session.work, survey=survey))
    with qtbot.waitSignal(column.pointed) as pointed:
        session.refresh()
    assert pointed.args == [frozenset()]


def test_a_long_list_of_what_is_seen_stands_in_the_ladder(column_of: MakeColumn) -> None:
    column = column_of(demo_survey("quoin_cavity"))
    visible = column._session.sight.options[0].offer.visible
    assert len(visible) > saying.ON_A_CARD
    card = column.cards.cards[0].seen.text()
    assert visible[0] in card and visible[-1] not in card
    column.ladder.open("seen")
    titles = [row.row.title for row in column.ladder.rows]
    assert all(sentence in titles for sentence in visible)


def test_tab_keeps_its_order_between_other_columns(column_of: MakeColumn, qtbot: QtBot) -> None:
    column = column_of(demo_survey("phone_call"))
    column.hide()
    window, before, after = QWidget(), QPushButton("before"), QPushButton("after")
    qtbot.addWidget(window)
    line = QHBoxLayout(window)
    for part in (before, column, after):
        line.addWidget(part)
    column.show()
    window.show()
    before.setFocus()
    for stop in (
        column.cards.cards[0],
        column.cards.compare,
        column.ladder.rows[0],
        column.offer.row,
        column.foot.button,
        after,
    ):
        qtbot.keyClick(window.focusWidget(), Qt.Key.Key_Tab)
        assert window.focusWidget() is stop
