"""The middle of the page: the rates of a shelf or of a search, fetched as they come into sight."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.price_book.ground import across
from estimator.desktop.price_book.model import RatesModel
from estimator.desktop.price_book.shelf import Shelf
from estimator.desktop.price_book.table import RatesTable
from estimator.desktop.price_book.wording import number
from estimator.desktop.session import Session
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.desktop.widgets.words import retone, words
from estimator.store.book_parts import Entry

if TYPE_CHECKING:
    from estimator.store.database import Database

DETAIL_MS = 60
"""Rest after which the details follow the cursor. [ms]"""


class RatesPane(QFrame):
    """What is shown, the table, and what was last done."""

    came_to = Signal(object)
    """The ``Entry`` the cursor rests on, or None."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Ask the file of a session."""
        super().__init__(parent)
        self.setProperty("role", "middle")
        self._session = session
        self._asked = 0
        self._shelf: Shelf | None = None
        self.rates = RatesModel(self)
        self.table = RatesTable(self.rates)
        self.heading = words(role="heading", wrap=False)
        self.count = words(role="second", wrap=False)
        self.own = button(_("These are ours"))
        self.own.setToolTip(_("Space"))
        self.said = words(role="second")
        self.undo = quiet_button(_("Take it back"))
        self.empty = words(role="second")
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(DETAIL_MS)
        self._rest.timeout.connect(self._tell)
        self._lay_out()
        self._show_rows("", 0, _("Opening the file…"))
        self.rates.wanted.connect(self._fetch)
        self.table.selectionModel().currentRowChanged.connect(self._moved)
        self.rates.dataChanged.connect(self._moved)
        self.rates.modelReset.connect(self._rest.start)

    def open(self, shelf: Shelf) -> None:
        """Show a shelf from its top; where it is the one shown, the cursor stays where it is."""
        is_same = self._shelf is not None and self._shelf.same_as(shelf)
        row = self.table.currentIndex().row() if is_same else 0
        is_there = is_same and self.rates.rowCount() == shelf.count
        self._asked += 1
        self._shelf = shelf
        told = _("Nothing stands here yet. Take a price list in to fill it.")
        self._show_rows(shelf.title, shelf.count, told)
        if is_there:
            self.rates.renew(shelf.count)
        else:
            self.rates.begin(shelf.count)
            if shelf.count:
                self.table.selectRow(min(max(row, 0), shelf.count - 1))
        self.table.ask_for_shown()

    def seek(self, typed: str) -> None:
        """Show what fits some words."""
        self._asked += 1
        self._shelf = None
        asked = self._asked

        def work(database: Database) -> tuple[Entry, ...]:
            from estimator.desktop.price_book import asked as file  # noqa: PLC0415 - loads it

            return file.found(database, typed)

        def then(found: tuple[Entry, ...]) -> None:
            if asked == self._asked:
                self._show_found(typed, found)

        self._session.filing.ask(work, then)

    def show_nothing(self, why: str) -> None:
        """Say why there are no rates."""
        self._asked += 1
        self._show_rows(_("Price book"), 0, why)

    def say(self, text: str, *, tone: str = "") -> None:
        """Say below the table what was done, or why it was not."""
        retone(self.said, tone=tone)
        self.said.setText(text)

    def current(self) -> Entry | None:
        """Return the entry the cursor is on, if it is here."""
        return self.rates.entry(self.table.currentIndex().row())

    def strange(self) -> tuple[Entry, ...]:
        """Return what is selected and not yet one's own."""
        return tuple(entry for entry in self.table.entries() if not entry.confirmed)

    def _lay_out(self) -> None:
        self.empty.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.empty.setContentsMargins(20, 8, 20, 8)
        top = across(self.heading, self.count, None, self.own, spacing=12)
        top.setContentsMargins(20, 0, 20, 0)
        foot = across(self.said, self.undo)
        foot.setStretch(0, 1)
        foot.setContentsMargins(20, 0, 12, 0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 12, 0, 8)
        layout.setSpacing(8)
        layout.addLayout(top)
        layout.addWidget(self.empty, 1)
        layout.addWidget(self.table, 1)
        layout.addLayout(foot)

    def _show_found(self, typed: str, found: tuple[Entry, ...]) -> None:
        told = _("Nothing is called “{typed}”. Try fewer letters.").format(typed=typed)
        self._show_rows(_("Found"), len(found), told)
        self.rates.show_all(found)
        if found and not self.table.currentIndex().isValid():
            self.table.selectRow(0)

    def _show_rows(self, title: str, count: int, empty: str) -> None:
        self.heading.setText(title)
        self.count.setText(number(Decimal(count)) if count else "")
        self.empty.setText(empty)
        self.empty.setVisible(not count)
        self.table.setVisible(bool(count))

    def _fetch(self, page: int, before: Entry | None) -> None:
        shelf = self._shelf
        if shelf is None:
            return
        asked = self._asked

        def work(database: Database) -> tuple[Entry, ...]:
            from estimator.desktop.price_book import asked as file  # noqa: PLC0415 - loads it

            return file.page(database, shelf, page * file.PAGE, before)

        def then(entries: tuple[Entry, ...]) -> None:
            if asked == self._asked:
                self.rates.put(page, entries)

        self._session.filing.ask(work, then)

    def _moved(self, *_indexes: object) -> None:
        self._rest.start()

    def _tell(self) -> None:
        self.came_to.emit(self.current())
