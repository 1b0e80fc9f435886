from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from estimator.desktop.money import ladder_rows, saying
from estimator.desktop.money.ladder import Ladder
from estimator.desktop.session import Session
from estimator.money import Money, total
from estimator.pricing import price_book
from estimator.pricing.offer import Offer
from estimator.quoting import offering
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Trader
from estimator.takeoff import rules
from estimator.takeoff.scope import USUAL
from tests.desktop.fakes import demo_survey, session_on

PRICED = ("phone_call", "window_lime", "quoin_cavity", "terrace")
PRACTICE = Practice(price_book.shipped(), rules.shipped(), Trader("Sample Masonry"))
DAY = datetime.date(2026, 11, 25)


def offers(name: str) -> list[Offer]:
    """Return what the demonstration is offered."""
    found = offering.priced(demo_survey(name), PRACTICE, scopes=USUAL, date=DAY)
    return [option.offer for option in found]


def pence(shown: str) -> int:
    """Return a sum read off the screen."""
    return round(float(shown.replace("£", "").replace(",", "")) * 100)


@given(st.lists(st.integers(-(10**7), 10**8), max_size=12))
def test_whole_pounds_still_add_up(amounts: list[int]) -> None:
    shown = saying.in_whole_pounds([Money(one) for one in amounts])
    assert all(one.pence % 100 == 0 for one in shown)
    assert abs(total(shown).pence - sum(amounts)) <= 50
    assert all(abs(one.pence - was) < 100 for one, was in zip(shown, amounts, strict=True))


@given(st.lists(st.integers(0, 10**9), min_size=1, max_size=4))
def test_the_scale_ends_above_every_price(amounts: list[int]) -> None:
    end = saying.scale_end([Money(one) for one in amounts])
    assert max(amounts) * 1.1 < end.pence
    assert end.pence <= max(max(amounts) * 1.6, 10_000)


@pytest.mark.parametrize("name", PRICED)
@pytest.mark.parametrize("firm", [True, False])
def test_what_stands_in_the_ladder_adds_up(name: str, firm: bool) -> None:  # noqa: FBT001
    for offer in offers(name):
        closed = ladder_rows.rows_of(offer, (), firm=firm)
        groups = [row for row in closed if row.level == 0 and row.is_open is False][:-1]
        struck = [row for row in closed if row.key.startswith("sum/") and row.amount]
        sums = {row.key: pence(row.amount) for row in struck}
        assert sum(pence(row.amount) for row in groups) == sums["sum/net"]
        taxes = sum(was for key, was in sums.items() if key.startswith("sum/tax"))
        assert sums["sum/net"] + taxes == sums["sum/total"]
        step = 1 if firm else 100
        assert abs(sums["sum/net"] - offer.net.pence) < step
        assert abs(sums["sum/total"] - offer.total.pence) < step


@pytest.mark.parametrize("name", PRICED)
@pytest.mark.parametrize("firm", [True, False])
def test_the_lines_of_an_open_group_add_up_to_it(name: str, firm: bool) -> None:  # noqa: FBT001
    for offer in offers(name):
        closed = ladder_rows.rows_of(offer, (), firm=firm)
        for group in closed:
            if group.is_open is None or group.key == ladder_rows.RUNGS:
                continue
            opened = ladder_rows.rows_of(offer, {group.key}, firm=firm)
            within = [row for row in opened if row.level == 1]
            assert sum(pence(row.amount) for row in within) == pence(group.amount)


def test_a_line_opens_to_minutes_litres_and_packs() -> None:
    offer = offers("phone_call")[0]
    grout = next(
        n for n, one in enumerate(ladder_rows.lines_of(offer, "BARS")) if one.item == "grout"
    )
    opened = {"BEDS", "BEDS/0", "BARS", f"BARS/{grout}"}
    notes = " ".join(row.note for row in ladder_rows.rows_of(offer, opened, firm=False))
    for unit in (" min at £", " L, waste in", "one tub"):
        assert unit in notes


@pytest.mark.parametrize("firm", [True, False])
def test_the_rungs_from_cost_add_up_to_the_net(firm: bool) -> None:  # noqa: FBT001
    for offer in offers("quoin_cavity"):
        rows = ladder_rows.rows_of(offer, {ladder_rows.RUNGS}, firm=firm)
        rungs = [row for row in rows if row.key.startswith("rungs/")]
        net = next(row for row in rows if row.key == "sum/net")
        assert sum(pence(row.amount) for row in rungs) == pence(net.amount)


@pytest.fixture
def call(tmp_path: Path) -> Iterator[Session]:
    """The call of the demonstration, its range still being worked out."""
    session = session_on(tmp_path, demo_survey("phone_call"))
    yield session
    session.filing.close()


@pytest.fixture
def ladder(qtbot: QtBot, call: Session) -> Ladder:
    """A ladder over the call of the demonstration."""
    made = Ladder()
    qtbot.addWidget(made)
    made.resize(352, 700)
    # Before its window is the active one, a row that takes the keyboard does not hear of it.
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.show_option(call.sight.options[0], call.sight)
    return made


def keys(ladder: Ladder) -> list[str]:
    return [row.row.key for row in ladder.rows if row.isVisibleTo(ladder)]


def test_rows_open_and_close_by_keys(ladder: Ladder, qtbot: QtBot) -> None:
    first = ladder.rows[0]
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_Right)
    assert "BEDS/0" in keys(ladder)
    assert "open" in first.accessibleName()
    qtbot.keyClick(first, Qt.Key.Key_Right)
    assert ladder.rows[1].hasFocus()
    qtbot.keyClick(ladder.rows[1], Qt.Key.Key_Return)
    assert "BEDS/0/0" in keys(ladder)
    qtbot.keyClick(ladder.rows[1], Qt.Key.Key_Left)
    assert "BEDS/0/0" not in keys(ladder)
    qtbot.keyClick(ladder.rows[1], Qt.Key.Key_Left)
    assert first.hasFocus()
    qtbot.keyClick(first, Qt.Key.Key_Left)
    assert "BEDS/0" not in keys(ladder)


def test_tab_stops_once_in_the_ladder(ladder: Ladder, qtbot: QtBot) -> None:
    ladder.rows[0].setFocus()
    for _turn in range(3):
        row = next(one for one in ladder.rows if one.hasFocus())
        qtbot.keyClick(row, Qt.Key.Key_Down)
    stops = [row.row.key for row in ladder.rows if row.focusPolicy() is Qt.FocusPolicy.StrongFocus]
    assert stops == [ladder.rows[3].row.key]


def test_the_row_with_the_keyboard_points_at_its_marks(ladder: Ladder, qtbot: QtBot) -> None:
    assert not any(row.underMouse() for row in ladder.rows)
    with qtbot.waitSignal(ladder.pointed) as pointed:
        ladder.rows[0].setFocus()
    assert pointed.args == [ladder.rows[0].row.marks]
    assert all("/bar/" in mark for mark in ladder.rows[0].row.marks)
    with qtbot.waitSignal(ladder.pointed) as pointed:
        ladder.rows[0].clearFocus()
    assert pointed.args == [frozenset()]


def test_pointing_at_a_bar_lights_its_share(ladder: Ladder) -> None:
    beds = ladder.rows[0]
    bar = sorted(beds.row.marks)[0]
    ladder.light(frozenset({bar}))
    lit = {row.row.key for row in ladder.rows if row.is_lit}
    assert {"BEDS", "BARS"} <= lit
    assert "VISITS" not in lit
    share = pence(beds.share.split()[0])
    assert abs(share - pence(beds.row.amount) / len(beds.row.marks)) <= 100
    ladder.light(frozenset())
    assert not any(row.is_lit or row.share for row in ladder.rows)


def test_the_keyboard_stays_on_its_row_when_a_row_above_goes(ladder: Ladder) -> None:
    ladder.open("BEDS")
    bars = next(row for row in ladder.rows if row.row.key == "BARS")
    bars.setFocus()
    ladder.open("BEDS")
    focused = next(row for row in ladder.rows if row.hasFocus())
    assert focused.row.key == "BARS"
