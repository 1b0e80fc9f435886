from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from estimator.desktop.money.column import MoneyColumn
from estimator.desktop.session import Session
from tests.desktop.fakes import SilentWorkers, WorkersAtOnce, demo_survey, session_on


def settled_on(folder: Path, name: str, qtbot: QtBot) -> Session:
    """Return a session over a survey of the demonstration, its range worked out."""
    session = session_on(folder, demo_survey(name), workers=WorkersAtOnce())
    qtbot.waitUntil(lambda: not session.sight.is_settling)
    return session


def column_on(session: Session, qtbot: QtBot) -> MoneyColumn:
    """Return the column over a session, shown at its usual size."""
    column = MoneyColumn(session)
    qtbot.addWidget(column)
    column.resize(376, 760)
    column.show()
    return column


def test_a_call_gets_a_range_without_pence(qtbot: QtBot, tmp_path: Path) -> None:
    session = settled_on(tmp_path, "phone_call", qtbot)
    column = column_on(session, qtbot)
    card = column.cards.cards[0]
    assert session.sight.outlook is not None
    band = session.sight.outlook.bands[0]
    assert card.price.text() == f"£{band.low.pounds:,.0f} to £{band.high.pounds:,.0f}"
    assert "." not in card.price.text() + card.likely.text()
    assert column.foot.button.text() == "Write the estimate"
    session.filing.close()


def test_a_measured_wall_gets_a_firm_price(qtbot: QtBot, tmp_path: Path) -> None:
    session = settled_on(tmp_path, "window_lime", qtbot)
    column = column_on(session, qtbot)
    total = session.sight.options[0].offer.total
    assert column.cards.cards[0].price.text() == f"£{total.pounds:,.2f}"
    assert "about" not in column.cards.difference.text()
    assert column.foot.button.text() == "Write the quotation"
    session.filing.close()


def test_before_the_range_is_known_the_price_is_about(qtbot: QtBot, tmp_path: Path) -> None:
    session = session_on(tmp_path, demo_survey("phone_call"), workers=SilentWorkers())
    column = column_on(session, qtbot)
    card = column.cards.cards[0]
    assert card.price.text().startswith("about £")
    assert card.likely.text() == ""
    session.filing.close()


@pytest.mark.parametrize("name", ["phone_call", "window_lime"])
def test_the_paper_is_asked_for(name: str, qtbot: QtBot, tmp_path: Path) -> None:
    session = settled_on(tmp_path, name, qtbot)
    column = column_on(session, qtbot)
    with qtbot.waitSignal(column.paper_wanted):
        column.foot.button.click()
    session.filing.close()
