"""The page over an open file, with a job on the desk that has a price."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from estimator.desktop.price_book.page import PriceBookPage
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from tests.desktop.fakes import answered, demo_survey, rest, session_on


@pytest.fixture
def open_session(qtbot: QtBot, tmp_path: Path) -> Iterator[Session]:
    session = session_on(tmp_path / "file", demo_survey("window_lime"))
    broken: list[object] = []
    session.filing.broke.connect(broken.append)
    with qtbot.waitSignal(session.filing.opened, timeout=20_000):
        session.filing.open()
    yield session
    session.filing.close()
    assert not broken


@pytest.fixture
def page(qtbot: QtBot, open_session: Session) -> Iterator[PriceBookPage]:
    made = PriceBookPage(open_session)
    made.resize(LOOK.px(1366), LOOK.px(690))
    made.show()
    made.begin()
    qtbot.waitUntil(lambda: made.details.entry is not None, timeout=20_000)
    yield made
    # Closed here and not by qtbot, which would do it before the last answers have come.
    made.close()
    qtbot.waitUntil(lambda: not made.pane._rest.isActive())
    rest(open_session)
    made.deleteLater()


class Desk:
    """What a person does at the page."""

    def __init__(self, qtbot: QtBot, page: PriceBookPage) -> None:
        self.qtbot, self.page = qtbot, page

    def open_shelf(self, title: str) -> None:
        shelves = self.page.shelves
        names = [shelves.item(at).data(256).title for at in range(shelves.count())]
        self.page.shelves.setCurrentRow(names.index(title))
        self.wait_for_rows()

    def wait_for_rows(self) -> None:
        self.qtbot.waitUntil(lambda: self.page.pane.rates.entry(0) is not None, timeout=10_000)

    def go_to(self, title: str) -> None:
        rates = self.page.pane.rates
        titles = [getattr(rates.entry(row), "title", "") for row in range(rates.rowCount())]
        self.page.pane.table.selectRow(titles.index(title))
        self.page.pane.table.setFocus()
        self.qtbot.waitUntil(
            lambda: self.page.details.entry is not None and self.page.details.entry.title == title,
            timeout=10_000,
        )

    def editor(self) -> QLineEdit:
        found = self.page.pane.table.viewport().findChildren(QLineEdit)
        assert len(found) == 1
        return found[0]

    def settled(self) -> None:
        """Wait until the file has answered."""
        answered(self.page._session)


@pytest.fixture
def desk(qtbot: QtBot, page: PriceBookPage) -> Desk:
    made = Desk(qtbot, page)
    made.wait_for_rows()
    return made
