"""A call taken with the keyboard alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from time import thread_time

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QLabel, QWidget

from estimator.desktop.questions.column import QuestionsColumn
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.money import Money
from estimator.quoting import edits
from estimator.quoting.outlook import Outlook, Worth
from estimator.store import customers
from estimator.survey.survey import Asked
from estimator.survey.wall import coursing_of
from tests.desktop.fakes import SilentWorkers, session_on, settle
from tests.desktop.questions.keys import Key, Typist

WORTHS = Outlook(
    (),
    (
        Worth("length", 0.5, Money.of(260)),
        Worth("bricks", 0.3, Money.of(190)),
        Worth("below", 0.1, Money.of(80)),
    ),
    1,
)
SAFE = (
    ("8", Key.Key_Return),
    ("2", Key.Key_Return),
    ("1",),
)


class KnowsWorths(SilentWorkers):
    """Says at once what answers are worth, without working anything out."""

    def outlook(self, *_arguments, on_done, **_named):
        on_done(WORTHS)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    made = session_on(tmp_path, workers=KnowsWorths())
    yield made
    made.filing.close()


@pytest.fixture
def hand(qtbot, session) -> Iterator[Typist]:
    column = QuestionsColumn(session)
    qtbot.addWidget(column)
    column.resize(350, 700)
    with qtbot.waitExposed(column):
        column.show()
    column.activateWindow()
    qtbot.waitUntil(column.isActiveWindow)
    with qtbot.waitSignal(session.sight_changed, check_params_cb=lambda seen: bool(seen.outlook)):
        session.refresh()
    column.take_focus()
    yield Typist(column, session)
    column.hide()


def safely(hand: Typist) -> None:
    """Answer what is asked first for safety."""
    for keys in SAFE:
        for key in keys:
            hand.types(key) if isinstance(key, str) else hand.press(key)


def seen(hand: Typist, key: str) -> str:
    line = hand.column.answer_lines[key]
    return "" if line.isHidden() else line.words


def test_danger_is_asked_first_then_what_narrows_the_price_most(hand):
    assert hand.open == "warning"
    assert "may be done" in hand.column.card.why.text()
    safely(hand)
    assert hand.open == "length"
    assert hand.column.card.why.text() == "Best question to ask next"
    assert hand.column.card.worth.text() == "About £260 of the spread"
    assert hand.column.open_lines["bricks"].remark == "£190"
    assert hand.column.open_lines["indoors"].remark == "visit"


def test_a_whole_call_by_keys(hand, qtbot):
    safely(hand)
    hand.types("18 courses")
    assert hand.column.card.field.echo.text() == "= 1.35 m"
    hand.press(Key.Key_Return)
    assert hand.asked["length"] == Asked("length", (), 18.0, "course", False, "18 courses")
    assert hand.open == "bricks"
    hand.types("0")
    hand.press(Key.Key_Return)
    assert hand.open == "below"
    hand.press(Key.Key_Return)
    assert hand.asked["below"].choices == ("not_sure",)
    while hand.open:
        now = hand.open
        hand.types("1")
        # One of several, and a figure, wait for Enter; a choice does not.
        if hand.open == now:
            hand.press(Key.Key_Return)
    assert len(hand.asked) == len(hand.column.answer_lines)
    assert hand.column.card.isHidden()
    assert hand.column.count.text() == f"{len(hand.asked) - 2} of {len(hand.asked)}"
    gauge = coursing_of(hand.session.work.survey.elevations[0].brickwork).gauge_mm
    assert gauge > 75, "an old house has thicker courses"
    assert seen(hand, "length") == f"{18 * gauge / 1000:.2f} m — “18 courses”"
    assert seen(hand, "bricks") == "Not sure"


def test_every_key_prices_at_once_and_all_keys_are_one_step(hand):
    safely(hand)
    steps = hand.session.history.count()
    seen_amounts = []
    for letter in "2.5 m":
        hand.types(letter)
        answer = hand.asked.get("length")
        seen_amounts.append(answer and (answer.amount or answer.choices))
    assert seen_amounts == [("metre",), None, 2500.0, 2500.0, 2500.0]
    assert hand.session.history.count() == steps + 1
    hand.session.history.undo()
    assert "length" not in hand.asked
    assert hand.column.card.field.text() == ""


def test_words_not_understood_stay_and_leave_the_answer_as_it_was(hand):
    safely(hand)
    hand.types("18 courses")
    hand.press(Key.Key_Return)
    hand.goes_to("length")
    hand.types("1,5")
    assert hand.column.card.field.text() == "1,5"
    assert "comma" in hand.column.card.hint.text()
    assert hand.asked["length"].amount == 18.0
    hand.press(Key.Key_Return)
    assert hand.open == "length"
    hand.press(Key.Key_Backspace, Key.Key_Backspace, Key.Key_Backspace)
    hand.types("long")
    hand.press(Key.Key_Return)
    assert "no length yet" in hand.column.card.hint.text()
    hand.press(Key.Key_Escape)
    assert hand.asked["length"].amount == 18.0
    assert hand.open == "bricks"


def test_an_answer_can_be_changed_by_the_arrow_keys(hand):
    safely(hand)
    hand.goes_to("growing")
    assert hand.open == "growing"
    assert hand.column.card.choices.buttons[0].isChecked()
    hand.press(Key.Key_Return)
    assert hand.asked["growing"].choices == ("same",)
    hand.goes_to("growing")
    hand.types("b")
    assert hand.asked["growing"].choices == ("bigger",)
    assert seen(hand, "growing") == "Bigger than it was"


def test_delete_takes_an_answer_back(hand):
    safely(hand)
    line = hand.column.answer_lines["growing"]
    while hand.focus is not line:
        hand.press(Key.Key_Up)
    hand.press(Key.Key_Delete)
    assert "growing" not in hand.asked
    assert not hand.column.open_lines["growing"].isHidden()
    assert hand.open == "length", "the open question stays"
    hand.session.history.undo()
    assert seen(hand, "growing") == "The same for years"


def test_several_are_toggled_and_none_stands_alone(hand):
    hand.types("1")
    hand.types("3")
    assert hand.asked["warning"].choices == ("doors", "leaning")
    hand.types("1")
    assert hand.asked["warning"].choices == ("leaning",)
    hand.types("8")
    assert hand.asked["warning"].choices == ("none",)
    hand.types("8")
    assert "warning" not in hand.asked
    assert hand.open == "warning"
    hand.press(Key.Key_Return)
    assert hand.asked["warning"].choices == ("not_sure",)
    assert hand.open == "width"


def test_the_next_question_on_request_puts_this_one_off(hand):
    hand.column.next_question()
    assert hand.open == "width"
    assert "warning" not in hand.asked
    for _turn in range(16):
        hand.column.next_question()
    assert hand.open == "warning"


def test_nothing_jumps_while_somebody_types(hand, qtbot):
    safely(hand)
    hand.goes_to("below")
    hand.session.refresh()
    assert hand.open == "below"
    hand.goes_to("length")
    hand.types("about twelve br")
    with qtbot.waitSignal(hand.session.sight_changed):
        hand.session.refresh()
    assert (hand.open, hand.column.card.field.text()) == ("length", "about twelve br")


def test_a_stop_is_short_here_and_caution_is_said_in_words(hand):
    hand.types("7")
    assert hand.column.caution.property("role") == "stop"
    assert "at the right" in hand.column.caution.accessibleName()
    hand.types("7")
    assert hand.column.caution.isHidden()
    hand.types("8")
    assert hand.column.caution.property("role") == "caution"
    assert hand.column.caution.accessibleName()


def test_the_caller_is_named_at_any_time(hand):
    hand.column.ask_customer()
    hand.types("Ines Marlowe")
    hand.press(Key.Key_Return)
    hand.types("01632 960417")
    hand.press(Key.Key_Return)
    hand.types("14 Tarn Street, Hollin")
    hand.press(Key.Key_Return)
    hand.types("ZZ1 1ZZ")
    hand.press(Key.Key_Return)
    party = hand.session.work.survey.customer
    assert (party.name, party.telephone) == ("Ines Marlowe", "01632 960417")
    assert party.address == ("14 Tarn Street", "Hollin", "ZZ1 1ZZ")
    assert not hand.column.caller.is_open
    assert hand.column.caller.line.words == "Ines Marlowe · 01632 960417"
    hand.types("8")
    assert hand.asked["warning"].choices == ("none",), "the question has the keyboard again"
    assert hand.session.history.count() == 5


def test_a_known_caller_is_offered_and_fills_all(qtbot, hand, monkeypatch):
    known = customers.Customer(
        "Ines Marlowe",
        address=("14 Tarn Street", "ZZ1 1ZZ"),
        telephone="01632 960417",
        email="ines@example.com",
        uid="u7",
    )
    wanted = []

    def suggest(_place, typed, *, limit):
        wanted.append(typed)
        return (known,) if "Ines".startswith(typed) else ()

    monkeypatch.setattr(customers, "suggest", suggest, raising=False)
    hand.session.filing.open()
    qtbot.waitUntil(lambda: hand.session.filing.is_open)
    hand.column.ask_customer()
    hand.types("Ine")
    offer = hand.column.caller.offers[0]
    qtbot.waitUntil(offer.isVisible)
    assert offer.words == "Ines Marlowe · 14 Tarn Street · 01632 960417"
    hand.press(Key.Key_Down, Key.Key_Return)
    party = hand.session.work.survey.customer
    assert (party.name, party.email, party.telephone) == (
        known.name,
        known.email,
        known.telephone,
    )
    assert hand.session.job.customer == "u7"
    assert hand.column.caller.fields["postcode"].text() == "ZZ1 1ZZ"
    assert wanted == ["In", "Ine"]
    assert not hand.column.caller.is_open


def test_a_call_can_be_taken_with_the_pointer(hand, qtbot):
    left = Qt.MouseButton.LeftButton
    qtbot.mouseClick(hand.column.card.choices.buttons[7], left)
    qtbot.keyClick(hand.column.card, Key.Key_Return)
    qtbot.mouseClick(hand.column.card.choices.buttons[1], left)
    assert seen(hand, "width") == "A pound coin won’t go in"
    qtbot.mouseClick(hand.column.open_lines["works"], left)
    qtbot.mouseClick(hand.column.card.choices.buttons[0], left)
    qtbot.mouseClick(hand.column.answer_lines["width"], left)
    assert hand.open == "width"
    qtbot.mouseClick(hand.column.caller.line, left)
    assert hand.column.caller.is_open
    qtbot.mouseClick(hand.column.more, left)
    assert hand.column.more.isHidden()
    assert not hand.column.open_lines["owners"].isHidden()


def test_a_refreshed_range_sorts_what_is_left_but_not_under_a_cursor(hand, qtbot, qapp):
    safely(hand)
    settle(hand.session)
    rows = hand.column.open_lines
    raised = (*WORTHS.worths[:2], replace(WORTHS.worths[2], pounds=Money.of(200)))
    hand.session.sight = replace(hand.session.sight, outlook=replace(WORTHS, worths=raised))

    def is_below_first() -> bool:
        hand.column.show_sight(hand.session.sight)
        qapp.processEvents()
        return rows["below"].y() < rows["bricks"].y()

    rows["bricks"].setFocus()
    assert not is_below_first()
    hand.column.take_focus()
    assert is_below_first()
    assert hand.open == "length", "the open question stays"


def test_another_job_begins_with_its_own_best_question(hand):
    safely(hand)
    hand.session.new_job()
    assert hand.open == "warning"
    assert hand.asked == {}
    assert hand.column.count.text() == f"0 of {len(hand.column.answer_lines)}"


def clipped(column: QuestionsColumn) -> list[str]:
    """Texts with less room than they need."""
    found = []
    for label in column.findChildren(QLabel):
        if not label.isVisible() or not label.text():
            continue
        metrics = QFontMetrics(label.font())
        flags = int(Qt.TextFlag.TextWordWrap) if label.wordWrap() else 0
        box = metrics.boundingRect(0, 0, label.width(), 10_000, flags, label.text())
        if box.width() > label.width() + 1 or box.height() > label.height() + 1:
            found.append(label.text())
    lines = (*column.answer_lines.values(), *column.open_lines.values(), column.caller.line)
    return found + [
        f"{line.words}: {line.width()}x{line.height()} of {line.heightForWidth(line.width())}"
        for line in lines
        if line.isVisible() and line.height() < line.heightForWidth(line.width())
    ]


def overflowing(column: QuestionsColumn) -> list[QWidget]:
    """Parts that stick out of the column at a side."""
    return [
        child
        for child in column.findChildren(QWidget)
        if child.isVisible()
        and not 0 <= child.mapTo(column, QPoint()).x() <= column.width() - child.width()
    ]


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("width", [300, 420])
def test_nothing_is_clipped(hand, qtbot, qapp, width, scale):
    LOOK.apply(Scheme.DARK, scale=scale)
    hand.column.resize(width, 640)
    for key in hand.column.answer_lines:
        hand.column.open(key)
        qapp.processEvents()
        assert clipped(hand.column) == []
        assert overflowing(hand.column) == []
    hand.column.ask_customer()
    qapp.processEvents()
    assert clipped(hand.column) == []
    assert overflowing(hand.column) == []


def test_everything_that_takes_the_keyboard_has_a_name_and_is_large_enough(hand, qapp):
    hand.column.ask_customer()
    qapp.processEvents()
    for child in hand.column.findChildren(QWidget):
        if child.isVisible() and child.focusPolicy() != Qt.FocusPolicy.NoFocus:
            assert child.accessibleName(), child
            assert child.height() >= 28, (child, child.height())


def test_a_sight_is_shown_in_place_and_fast(hand):
    safely(hand)
    sight = hand.session.sight
    lines = dict(hand.column.answer_lines)
    answers = [
        Asked("length", amount=float(n), unit="course", said=f"{n} courses") for n in range(4, 24)
    ]
    sights = [
        replace(sight, job=replace(sight.job, work=edits.answer(sight.work, one).after))
        for one in answers
    ]
    spent = []
    for one in sights:
        begun = thread_time()
        hand.column.show_sight(one)
        spent.append(thread_time() - begun)
    assert hand.column.answer_lines == lines
    assert sorted(spent)[len(spent) // 2] < 0.003
