"""The rates and articles of the price book, and what a change does to the open job."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QFrame, QLineEdit, QStackedWidget, QVBoxLayout, QWidget

from estimator.desktop.language import _, counted
from estimator.desktop.price_book import ground
from estimator.desktop.price_book.changes import Changes
from estimator.desktop.price_book.details import Details, change_words
from estimator.desktop.price_book.effect import Effect
from estimator.desktop.price_book.figure import main_figure, with_figure
from estimator.desktop.price_book.model import RatesModel
from estimator.desktop.price_book.shelf import Book, Shelf
from estimator.desktop.price_book.shelves import Shelves
from estimator.desktop.price_book.table import RatesTable
from estimator.desktop.price_book.wording import number
from estimator.desktop.session import Session
from estimator.desktop.widgets.buttons import escaped
from estimator.desktop.widgets.words import hairline, retone
from estimator.notices import UserMistake
from estimator.store.book_parts import Entry

if TYPE_CHECKING:
    from estimator.store.database import Database
    from estimator.store.price_books import Rate

DETAIL_MS = 60
"""Rest after which the details follow the cursor. [ms]"""


class PriceBookPage(QFrame):
    """Price book, as a page of its own."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session; nothing is asked of the file before the page is shown."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self.changes = Changes(session, self)
        self.book = Book()
        self._asked = 0
        self._sought = ""
        self.shelves, self.rates = Shelves(), RatesModel(self)
        self.table = RatesTable(self.rates)
        self.details, self.effect = Details(), Effect(session)
        self.why = QLineEdit()
        self.left = ground.LeftColumn(self.shelves)
        self.pane = ground.RatesPane(self.table)
        self.stack = QStackedWidget()
        self._detail_rest = QTimer(self)
        self._detail_rest.setSingleShot(True)
        self._detail_rest.setInterval(DETAIL_MS)
        self._detail_rest.timeout.connect(self._show_detail)
        self._lay_out()
        self._connect()

    def begin(self) -> None:
        """Show what there is now; called whenever the page comes to the front."""
        self.effect.rest()
        self.say("")
        self.reload()

    def seek(self, words_typed: str) -> None:
        """Show what fits the words typed into the field above."""
        self._sought = words_typed.strip()
        self.stack.setCurrentWidget(self.pane)
        if not self._sought:
            self.shelves.show_shelves(self._all_shelves())
            self._open_shelf()
            return
        self.shelves.close_all()
        self._asked += 1
        asked, typed = self._asked, self._sought

        def work(database: Database) -> tuple[Entry, ...]:
            from estimator.desktop.price_book import asked as file  # noqa: PLC0415 - loads it

            return file.found(database, typed)

        self._session.filing.ask(work, lambda found: self._show_found(asked, found))

    def reload(self) -> None:
        """Ask the file for what there is now."""

        def work(database: Database) -> Book:
            from estimator.desktop.price_book import asked as file  # noqa: PLC0415 - loads it

            return file.book(database)

        self._session.filing.ask(work, self._show_book, on_mistake=self._no_book)

    def say(self, text: str, *, tone: str = "") -> None:
        """Say below the table what was done, or why it was not."""
        retone(self.pane.said, tone=tone)
        self.pane.said.setText(text)

    # -- lay out

    def _lay_out(self) -> None:
        self.why.setPlaceholderText(_("Why it changes, if worth noting"))
        self.why.setAccessibleName(_("Why it changes"))
        self.why.setMaxLength(200)
        told = QWidget()
        inside = QVBoxLayout(told)
        inside.setContentsMargins(20, 16, 20, 16)
        inside.setSpacing(16)
        inside.addWidget(self.details)
        inside.addStretch(1)
        right = QFrame()
        right.setProperty("role", "column")
        column = QVBoxLayout(right)
        column.setContentsMargins(0, 0, 0, 16)
        column.setSpacing(12)
        column.addWidget(ground.scrolled(told), 1)
        foot = QVBoxLayout()
        foot.setContentsMargins(20, 0, 20, 0)
        foot.setSpacing(12)
        for part in (self.why, hairline(), self.effect):
            foot.addWidget(part)
        column.addLayout(foot)
        self.stack.addWidget(self.pane)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(ground.side_by_side(self.left, self.stack, right))

    def _connect(self) -> None:
        self.shelves.opened.connect(self._leave_search)
        self.rates.wanted.connect(self._fetch)
        self.rates.typed.connect(self._take_figure)
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._detail_rest.start())
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._show_acts())
        self.rates.dataChanged.connect(lambda *_: self._detail_rest.start())
        self.rates.modelReset.connect(self._detail_rest.start)
        self.table.own_wanted.connect(self._make_own)
        self.table.detail_wanted.connect(self.details.take_focus)
        self.table.figures.trying.connect(self._try_figure)
        self.table.figures.left.connect(self.effect.give_up)
        self.details.trying.connect(self._try_entry)
        self.details.changed.connect(self._change)
        self.pane.own.clicked.connect(self._make_own)
        self.pane.undo.clicked.connect(self._undo)
        self.changes.done.connect(self._done)
        self.changes.refused.connect(self._refused)

    # -- what is shown

    def _all_shelves(self) -> tuple[Shelf, ...]:
        everything = Shelf(_("Everything"), count=self.book.count, strange=self.book.strange)
        return (everything, *self.book.shelves)

    def _show_book(self, book: Book) -> None:
        self.book = book
        self.effect.text = book.text
        self.rates.currency = self._session.practice.book.currency
        self.rates.can_edit = self.changes.can_write
        strange = counted("{n} not yours yet", "{n} not yours yet", book.strange)
        self.left.summary.setText(strange if book.strange else _("All of it is yours"))
        if self._sought:
            self.seek(self._sought)
        else:
            self.shelves.show_shelves(self._all_shelves())
            self._open_shelf()
        self._show_acts()

    def _no_book(self, mistake: UserMistake) -> None:
        self.book = Book()
        self._show_rows(_("Price book"), 0, str(mistake))

    def _leave_search(self) -> None:
        self._sought = ""
        self.stack.setCurrentWidget(self.pane)
        self._open_shelf()

    def _open_shelf(self) -> None:
        shelf = self.shelves.shelf()
        if shelf is None:
            return
        self._asked += 1
        self._show_rows(
            shelf.title, shelf.count, _("Nothing stands here yet. Take a price list in to fill it.")
        )
        self.rates.begin(shelf.count)
        self.table.scrollToTop()
        if shelf.count:
            self.table.selectRow(0)

    def _show_found(self, asked: int, found: tuple[Entry, ...]) -> None:
        if asked != self._asked:
            return
        told = _("Nothing is called “{typed}”. Try fewer letters.").format(typed=self._sought)
        self._show_rows(_("Found"), len(found), told)
        self.rates.show_all(found)
        if found:
            self.table.selectRow(0)

    def _show_rows(self, title: str, count: int, empty: str) -> None:
        self.pane.heading.setText(title)
        self.pane.count.setText(number(Decimal(count)) if count else "")
        self.pane.empty.setText(empty)
        self.pane.empty.setVisible(not count)
        self.table.setVisible(bool(count))

    def _fetch(self, page: int, before: Entry | None) -> None:
        shelf = self.shelves.shelf()
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

    def _show_detail(self) -> None:
        entry = self.rates.entry(self.table.currentIndex().row())
        if entry is None:
            self.details.show_nothing()
            return
        if entry == self.details.entry:
            return
        self.details.show_entry(entry, self.rates.currency, can_edit=self.rates.can_edit)

        def work(database: Database) -> tuple[Rate, ...]:
            from estimator.desktop.price_book import asked as file  # noqa: PLC0415 - loads it

            return file.history(database, entry)

        def then(rates: tuple[Rate, ...]) -> None:
            if self.details.entry == entry:
                self.details.show_history(rates)

        self._session.filing.ask(work, then)

    def _show_acts(self) -> None:
        """Grey what cannot be done now."""
        can_write = self.rates.can_edit
        strange = [entry for entry in self.table.entries() if not entry.confirmed]
        self.pane.own.setVisible(can_write and bool(self.book.strange))
        self.pane.own.setEnabled(bool(strange))
        self.pane.undo.setVisible(can_write and bool(self.book.last_change))
        told = _("Take back: {change}").format(change=self.book.last_change[:48])
        self.pane.undo.setText(escaped(told))
        self.why.setVisible(can_write)
        for act in (self.left.take_in, self.left.uplift):
            act.setEnabled(can_write)
        if not can_write and self._session.filing.is_open:
            self.say(_("This file is only being looked at, so no price can be changed."))

    # -- what is changed

    def _try_figure(self, entry: Entry, value: Decimal | None) -> None:
        figure = main_figure(entry)
        if figure is None or value is None or value == figure.value:
            self.effect.give_up()
            return
        try:
            self.effect.try_out([with_figure(entry, figure.path, value)])
        except UserMistake as mistake:
            self.say(str(mistake), tone="stop")

    def _try_entry(self, entry: Entry | None) -> None:
        if entry is None:
            self.effect.give_up()
        else:
            self.effect.try_out([entry])

    def _take_figure(self, entry: Entry, value: Decimal) -> None:
        figure = main_figure(entry)
        if figure is None or value == figure.value:
            return
        try:
            changed = with_figure(entry, figure.path, value)
        except UserMistake as mistake:
            self.say(str(mistake), tone="stop")
            return
        self._change(changed, change_words(figure, value, self.rates.currency))

    def _change(self, entry: Entry, what: str) -> None:
        told = _("{title}. {what}").format(title=entry.title, what=what)
        reason = self.why.text().strip()
        self.effect.begin_change()
        self.changes.change([entry], f"{told}. {reason}" if reason else told)

    def _make_own(self) -> None:
        strange = [entry for entry in self.table.entries() if not entry.confirmed]
        if not self.rates.can_edit:
            return
        if strange:
            self.effect.begin_change()
            self.changes.make_own(strange)
        else:
            self.say(_("These are your own figures already."))

    def _undo(self) -> None:
        self.effect.begin_change()
        self.changes.undo(self.book.last_batch)

    def _done(self, told: str) -> None:
        self.why.clear()
        self.say(told, tone="done")
        self._refresh()

    def _refresh(self) -> None:
        """Show the rows anew where they stand, as the file has them now."""
        self.reload()

    def _refused(self, mistake: UserMistake) -> None:
        self.say(str(mistake), tone="stop")
        self.details.refuse(str(mistake))
