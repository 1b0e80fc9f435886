"""The rates and articles of the price book, and what a change does to the open job."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QStackedWidget, QVBoxLayout, QWidget

from estimator.desktop.language import _, counted
from estimator.desktop.price_book import ground, writing_out
from estimator.desktop.price_book.changes import Changes
from estimator.desktop.price_book.details import Details, change_words
from estimator.desktop.price_book.effect import Effect
from estimator.desktop.price_book.figure import main_figure, with_figure
from estimator.desktop.price_book.hour_sheet import HourSheet
from estimator.desktop.price_book.rates_pane import RatesPane
from estimator.desktop.price_book.shelf import Book, Shelf
from estimator.desktop.price_book.shelves import Shelves
from estimator.desktop.price_book.taking_in import TakingInPane
from estimator.desktop.price_book.uplift import UpliftPane
from estimator.desktop.session import Session
from estimator.notices import UserMistake
from estimator.store.book_parts import Entry

if TYPE_CHECKING:
    from estimator.store.database import Database


class PriceBookPage(QFrame):
    """Price book, as a page of its own."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session; nothing is asked of the file before the page is shown."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self.changes = Changes(session, self)
        self.book = Book()
        self._sought = ""
        self._is_said = False
        self.shelves = Shelves()
        self.left = ground.LeftColumn(self.shelves)
        self.pane = RatesPane(session)
        self.sheet = HourSheet()
        self.uplift = UpliftPane(session, self.changes)
        self.taking_in = TakingInPane(session, self.changes)
        self.stack = QStackedWidget()
        self.details, self.effect = Details(), Effect(session)
        self.why = ground.reason()
        self._lay_out()
        self._connect()
        self._connect_panes()
        self._show_acts()

    def begin(self) -> None:
        """Show what there is now; called whenever the page comes to the front."""
        self.effect.rest()
        self._is_said = False
        self.stack.setCurrentWidget(self.pane)
        self.reload()
        self.pane.table.setFocus()

    def seek(self, words_typed: str) -> None:
        """Show what fits the words typed into the field above."""
        self._sought = words_typed.strip()
        self._show_rates()
        if self._sought:
            self.shelves.close_all()
            self.pane.seek(self._sought)
        else:
            self.shelves.show_shelves(self._all_shelves())
            self._open_shelf()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Let Escape lead from a sheet back to the rates, and only from them to the desk."""
        if event.key() == Qt.Key.Key_Escape and self.stack.currentWidget() is not self.pane:
            self._show_rates()
            self.pane.table.setFocus()
        else:
            super().keyPressEvent(event)

    def reload(self) -> None:
        """Ask the file for what there is now."""

        def work(database: Database) -> Book:
            from estimator.desktop.price_book import asked  # noqa: PLC0415 - loads the database

            return asked.book(database)

        self._session.filing.ask(work, self._show_book, on_mistake=self._no_book)

    def take_in_file(self, path: Path) -> None:
        """Read a supplier's list, and show what it would change."""
        self._bring(self.taking_in)
        self.details.say(*_before_a_list())
        self.taking_in.read(path)

    def write_out(self, path: Path) -> None:
        """Write the prices out as a table."""
        writing_out.write(
            self._session.filing,
            path,
            then=lambda told: self.pane.say(told, tone="done"),
            on_mistake=self._refused,
        )

    # -- lay out

    def _lay_out(self) -> None:
        for pane in (self.pane, self.sheet, self.uplift, self.taking_in):
            self.stack.addWidget(pane)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        right = ground.right_column(self.details, self.why, self.effect)
        layout.addWidget(ground.side_by_side(self.left, self.stack, right))

    def _connect(self) -> None:
        table, rates = self.pane.table, self.pane.rates
        self.shelves.opened.connect(self._leave_search)
        self.pane.came_to.connect(self._show_detail)
        table.selectionModel().selectionChanged.connect(lambda *_: self._show_acts())
        rates.typed.connect(self._take_figure)
        table.own_wanted.connect(self._make_own)
        table.detail_wanted.connect(self.details.take_focus)
        table.figures.trying.connect(self._try_figure)
        table.figures.left.connect(self.effect.give_up)
        self.details.trying.connect(self._try_entries)
        self.details.changed.connect(self._change)
        self.details.supplied.connect(self.changes.buy_from)
        self.pane.own.clicked.connect(self._make_own)
        self.pane.undo.clicked.connect(self._undo)
        self.changes.done.connect(self._done)
        self.changes.noted.connect(self._noted)
        self.changes.told.connect(self.details.show_told)
        self.changes.refused.connect(self._refused)

    def _connect_panes(self) -> None:
        for pane in (self.sheet, self.uplift, self.taking_in):
            pane.left.connect(self._show_rates)
        self.sheet.trying.connect(self._try_entries)
        self.uplift.trying.connect(self._try_entries)
        self.taking_in.trying.connect(self._try_entries)
        self.sheet.taken.connect(self._change_many)
        self.left.hour.clicked.connect(self._open_sheet)
        self.left.uplift.clicked.connect(self._open_uplift)
        self.left.take_in.clicked.connect(self._open_list)
        self.left.export.clicked.connect(self._choose_where)

    # -- what is shown

    def _all_shelves(self) -> tuple[Shelf, ...]:
        everything = Shelf(_("Everything"), count=self.book.count, strange=self.book.strange)
        return (everything, *self.book.shelves)

    def _show_book(self, book: Book) -> None:
        self.book = book
        self.effect.text = book.text
        self.pane.rates.currency = self._session.practice.book.currency
        self.pane.rates.can_edit = self.changes.can_write
        strange = counted("{n} not yours yet", "{n} not yours yet", book.strange)
        self.left.summary.setText(strange if book.strange else _("All of it is yours"))
        if self._sought:
            self.pane.seek(self._sought)
        else:
            self.shelves.show_shelves(self._all_shelves())
            self._open_shelf()
        if self.stack.currentWidget() is self.sheet:
            self._begin_sheet()
        self._show_acts()
        if not self.changes.can_write:
            self.pane.say(_("This file is only being looked at, so no price can be changed."))
        elif not self._is_said:
            last = _("Last change: {change}").format(change=book.last_change)
            self.pane.say(last if book.last_change else "")

    def _no_book(self, mistake: UserMistake) -> None:
        self.book = Book()
        self.pane.show_nothing(str(mistake))

    def _leave_search(self) -> None:
        self._sought = ""
        self._show_rates()
        self._open_shelf()

    def _show_rates(self) -> None:
        self._bring(self.pane)
        self._show_detail(self.pane.current())

    def _bring(self, pane: QWidget) -> None:
        self.effect.give_up()
        self.stack.setCurrentWidget(pane)
        self._show_acts()

    def _open_shelf(self) -> None:
        shelf = self.shelves.shelf()
        if shelf is not None:
            self.pane.open(shelf)

    def _open_sheet(self) -> None:
        self._bring(self.sheet)
        self._begin_sheet()

    def _begin_sheet(self) -> None:
        rates = self.pane.rates
        self.sheet.begin(self.book.labour, rates.currency, can_edit=rates.can_edit)
        grade = self.sheet.grade
        if grade is not None:
            self._show_entry(grade, with_figures=False)

    def _open_uplift(self) -> None:
        self._bring(self.uplift)
        self.details.say(*_before_raising())
        self.uplift.begin(self.book.shelves, self.pane.rates.currency)

    def _open_list(self) -> None:
        path = self.taking_in.choose()
        if path is not None:
            self.take_in_file(path)

    def _choose_where(self) -> None:
        path = writing_out.choose(self)
        if path is not None:
            self.write_out(path)

    def _show_detail(self, entry: Entry | None) -> None:
        if self.stack.currentWidget() is not self.pane:
            return
        if entry is None:
            self.details.show_nothing()
        elif entry != self.details.entry or not self.details.has_figures:
            self._show_entry(entry)

    def _show_entry(self, entry: Entry, *, with_figures: bool = True) -> None:
        rates = self.pane.rates
        self.details.show_entry(
            entry, rates.currency, can_edit=rates.can_edit, with_figures=with_figures
        )
        # Fields made later than what stands under them would come after it.
        for before, after in pairwise((self.pane.table, *self.details.stops, self.why)):
            self.setTabOrder(before, after)

        self.changes.look_up(entry)

    def _show_acts(self) -> None:
        """Grey what cannot be done now."""
        can_write = self.pane.rates.can_edit
        self.pane.own.setVisible(can_write and bool(self.book.strange))
        self.pane.own.setEnabled(bool(self.pane.strange()))
        self.pane.undo.setVisible(can_write and bool(self.book.last_change))
        self.pane.undo.setToolTip(self.book.last_change)
        self.why.setVisible(can_write and self.stack.currentWidget() in {self.pane, self.sheet})
        for act in (self.left.take_in, self.left.uplift):
            act.setEnabled(can_write)

    # -- what is changed

    def _with(self, entry: Entry, value: Decimal | None) -> tuple[Entry, str] | None:
        """Return an entry with another figure and what that changes, if it can be had."""
        figure = main_figure(entry)
        if figure is None or value is None or value == figure.value:
            return None
        try:
            changed = with_figure(entry, figure.path, value)
        except UserMistake as mistake:
            self.pane.say(str(mistake), tone="stop")
            return None
        return changed, change_words(figure, value, self.pane.rates.currency)

    def _try_figure(self, entry: Entry, value: Decimal | None) -> None:
        changed = self._with(entry, value)
        self._try_entries((changed[0],) if changed is not None else ())

    def _try_entries(self, entries: Sequence[Entry]) -> None:
        if entries:
            self.effect.try_out(entries)
        else:
            self.effect.give_up()

    def _take_figure(self, entry: Entry, value: Decimal) -> None:
        changed = self._with(entry, value)
        if changed is not None:
            self._change(*changed)

    def _change(self, entry: Entry, what: str) -> None:
        self._change_many([entry], _("{title}. {what}").format(title=entry.title, what=what))

    def _change_many(self, entries: Sequence[Entry], told: str) -> None:
        reason = self.why.text().strip()
        why = _("{what}. {reason}").format(what=told.rstrip("."), reason=reason) if reason else told
        self.effect.begin_change()
        self.changes.change(entries, why)

    def _make_own(self) -> None:
        strange = self.pane.strange()
        if not self.pane.rates.can_edit:
            return
        if strange:
            self.effect.begin_change()
            self.changes.make_own(strange)
        else:
            self.pane.say(_("These are your own figures already."))

    def _undo(self) -> None:
        self.effect.begin_change()
        self.changes.undo(self.book.last_batch)

    def _done(self, told: str) -> None:
        self.why.clear()
        self._noted(told or _("No price has changed."))
        if self.stack.currentWidget() in {self.uplift, self.taking_in}:
            self.stack.setCurrentWidget(self.pane)

    def _noted(self, told: str) -> None:
        self._is_said = True
        self.pane.say(told, tone="done")
        self.reload()
        if self.details.entry is not None:
            self.changes.look_up(self.details.entry)

    def _refused(self, mistake: UserMistake) -> None:
        self.pane.say(str(mistake), tone="stop")
        self.details.refuse(str(mistake))


def _before_a_list() -> tuple[str, str]:
    return _("Before it is taken in"), _(
        "Rows with something wrong are left out. The rest go in as one change, after a backup, and"
        " can be taken back."
    )


def _before_raising() -> tuple[str, str]:
    return _("Before they are raised"), _(
        "Pay, outputs and settings stay as they are unless you choose their group. It is one"
        " change, after a backup, and can be taken back."
    )
