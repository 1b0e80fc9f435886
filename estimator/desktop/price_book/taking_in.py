"""Taking a supplier's list in: read, columns matched, every row told before anything is written."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QComboBox, QFileDialog, QFrame, QGridLayout, QLineEdit, QWidget

from estimator.desktop.courier import Courier
from estimator.desktop.language import _, counted
from estimator.desktop.price_book import supplier_list
from estimator.desktop.price_book.changes import Changes
from estimator.desktop.price_book.ground import across, stacked
from estimator.desktop.price_book.preview import PreviewModel, PreviewTable, Row
from estimator.desktop.price_book.supplier_list import COLUMNS, Listed
from estimator.desktop.price_book.wording import number
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import button, main_button, quiet_button
from estimator.desktop.widgets.words import retone, words
from estimator.exchange.price_list import PriceRow, Problem
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.desktop.price_book.asked import Done
    from estimator.store.bulk import Arrival, Change
    from estimator.store.database import Database

REST_MS = 300
"""Rest in typing the supplier after which the list is read again. [ms]"""


def column_words() -> dict[str, str]:
    """Return what a column can hold, in words."""
    return {
        "title": _("Description"),
        "price": _("Price"),
        "code": _("Code"),
        "unit": _("Unit"),
        "pack_size": _("In a pack"),
        "supplier": _("Supplier"),
        "group": _("Group"),
        "notes": _("Notes"),
    }


class TakingInPane(QFrame):
    """One list, from its file to the price book."""

    left = Signal()
    """It is done with."""
    trying = Signal(object)
    """The entries as they would be."""

    def __init__(self, session: Session, changes: Changes, parent: QWidget | None = None) -> None:
        """Read in the workers of a session, and ask its file."""
        super().__init__(parent)
        self.setProperty("role", "middle")
        self._session, self._changes = session, changes
        self._courier = Courier(self)
        self._path: Path | None = None
        self._listed: Listed | None = None
        self._asked = 0
        self._stop = threading.Event()
        self.heading = words(role="heading")
        self.how = words(role="second")
        self.told = words()
        self.supplier = QLineEdit()
        self.supplier.setPlaceholderText(_("Whose list it is"))
        self.supplier.setAccessibleName(_("Supplier"))
        self.supplier.setMinimumWidth(LOOK.px(240))
        self.choices = {name: QComboBox() for name in COLUMNS}
        self.model = PreviewModel(self)
        self.table = PreviewTable(self.model)
        self.take = main_button(_("Take in"))
        self.stop = button(_("Stop"))
        self.other = quiet_button(_("Choose another list…"))
        self.leave = quiet_button(_("Leave it"))
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._read_again)
        self._lay_out()
        self._connect()

    def choose(self) -> Path | None:
        """Have a file chosen; return nothing where none is."""
        name, _kind = QFileDialog.getOpenFileName(
            self, _("Choose a price list"), "", _("Price lists (*.csv *.tsv *.txt *.xlsx *.ods)")
        )
        return Path(name) if name else None

    def read(self, path: Path) -> None:
        """Read a list; nothing is written."""
        self._path, self._listed = path, None
        self.supplier.clear()
        self.heading.setText(_("Take in {file}").format(file=path.name))
        self._ask(None, 0)

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        for place, (name, said) in enumerate(column_words().items()):
            self.choices[name].setAccessibleName(said)
            label = words(said, role="second", wrap=False)
            label.setBuddy(self.choices[name])
            row, column = divmod(place, 4)
            grid.addWidget(label, 2 * row, column)
            grid.addWidget(self.choices[name], 2 * row + 1, column)
            grid.setColumnStretch(column, 1)
        top = across(self.supplier, self.other, None)
        foot = across(self.take, self.stop, self.leave, None)
        stacked(self, self.heading, top, self.how, grid, self.told, self.table, foot)

    def _connect(self) -> None:
        self.other.clicked.connect(self._choose_other)
        self.leave.clicked.connect(self._leave)
        self.stop.clicked.connect(self._stop_now)
        self.take.clicked.connect(self._take)
        self.supplier.textEdited.connect(lambda _text: self._rest.start())
        for choice in self.choices.values():
            choice.activated.connect(lambda _place: self._read_again())

    def _choose_other(self) -> None:
        path = self.choose()
        if path is not None:
            self.read(path)

    # -- reading

    def _chosen(self) -> dict[str, int]:
        columns = ((name, choice.currentData()) for name, choice in self.choices.items())
        return {name: column for name, column in columns if column is not None and column >= 0}

    def _read_again(self) -> None:
        found = self._listed.preview if self._listed is not None else None
        heading_row = found.matching.heading_row if found is not None else 1
        self._ask(self._chosen(), heading_row)

    def _ask(self, chosen: dict[str, int] | None, heading_row: int) -> None:
        if self._path is None:
            return
        self._asked += 1
        asked = self._asked
        self._show_busy(_("Reading the list…"))

        def done(found: Listed) -> None:
            self._courier.carry(lambda: self._read(asked, found))

        def failed(error: BaseException) -> None:
            self._courier.carry(lambda: self._failed(asked, error))

        self._session.workers.run(
            supplier_list.read,
            self._path,
            self.supplier.text().strip(),
            chosen,
            heading_row,
            on_done=done,
            on_failed=failed,
        )

    def _failed(self, asked: int, error: BaseException) -> None:
        if asked != self._asked:
            return
        if isinstance(error, UserMistake):
            self._show_idle(str(error), tone="stop")
        else:
            self._show_idle("")
            self._session.filing.broke.emit(error)

    def _read(self, asked: int, found: Listed) -> None:
        if asked != self._asked:
            return
        self._listed = found
        self._show_columns(found)
        if found.preview is None:
            self.model.show_rows(())
            self._show_idle(found.why_not, tone="stop")
            return
        self.how.setText(found.sheet.how)
        rows = found.preview.rows

        def work(database: Database) -> Arrival:
            from estimator.desktop.price_book import asked as file  # noqa: PLC0415 - loads it

            return file.arriving(database, rows)

        def then(arrival: Arrival) -> None:
            if asked == self._asked:
                self._show_arrival(found, arrival)

        def mistaken(mistake: UserMistake) -> None:
            if asked == self._asked:
                self._show_idle(str(mistake), tone="stop")

        self._session.filing.ask(work, then, on_mistake=mistaken)

    def _show_columns(self, found: Listed) -> None:
        matched = found.preview.matching if found.preview is not None else None
        held = supplier_list.columns_in(matched) if matched is not None else self._chosen()
        names = supplier_list.names_of_columns(found.sheet, matched)
        for name, choice in self.choices.items():
            choice.clear()
            choice.addItem(_("not in this list"), -1)
            for at, column in enumerate(names):
                choice.addItem(column, at)
            choice.setCurrentIndex(held.get(name, -1) + 1)

    def _show_arrival(self, found: Listed, arrival: Arrival) -> None:
        problems = found.preview.problems if found.preview is not None else ()
        rows = (
            *(_problem(one) for one in problems if one.stops),
            *(_problem(one) for one in problems if not one.stops),
            *_changes(arrival.changed, _("Changed")),
            *_changes(arrival.new, _("New")),
        )
        self.model.currency = self._session.practice.book.currency
        self.model.show_rows(rows)
        out = len({one.row for one in problems if one.stops})
        told = (
            counted("{n} new", "{n} new", len(arrival.new)),
            counted("{n} changed", "{n} changed", len(arrival.changed)),
            counted("{n} as before", "{n} as before", arrival.unchanged),
            counted("{n} row left out", "{n} rows left out", out),
        )
        self._show_idle(" · ".join(told), tone="caution" if out else "")
        self.trying.emit(tuple(one.new for one in arrival.changed))
        count = len(arrival.new) + len(arrival.changed)
        self.take.setEnabled(bool(count))
        taken = counted("Take in {n} price", "Take in {n} prices", count)
        self.take.setText(taken)
        self.take.setFocus()

    # -- writing

    def _take(self) -> None:
        preview = self._listed.preview if self._listed is not None else None
        if preview is None or self._path is None:
            return
        self._stop.clear()
        self._show_busy(_("Writing…"))
        rows, title = preview.rows, self._path.name
        self._changes.ask(
            lambda database: self._write(database, rows, title), on_mistake=self._not_written
        )

    def _write(self, database: Database, rows: tuple[PriceRow, ...], title: str) -> Done:
        """Write in the file's thread, telling how far it is and stopping when asked to."""
        from estimator.desktop.price_book import asked as file  # noqa: PLC0415 - loads it

        def progress(done: int, count: int) -> None:
            if self._stop.is_set():
                raise UserMistake(_("stopped, and nothing was taken in"))
            self._courier.carry(lambda: self._show_progress(done, count))

        return file.take_in(database, rows, title, progress=progress)

    def _show_progress(self, done: int, count: int) -> None:
        shown = number(Decimal(done)), number(Decimal(count))
        self.told.setText(_("{done} of {count} written").format(done=shown[0], count=shown[1]))

    def _not_written(self, mistake: UserMistake) -> None:
        self._show_idle(str(mistake), tone="stop")
        self.take.setEnabled(True)

    def _stop_now(self) -> None:
        self._asked += 1
        self._stop.set()
        self._show_idle(_("Stopped. Nothing was taken in."))

    def _leave(self) -> None:
        self._asked += 1
        self._stop.set()
        self.left.emit()

    def _show_busy(self, told: str) -> None:
        self.take.setEnabled(False)
        self.stop.show()
        retone(self.told, tone="")
        self.told.setText(told)

    def _show_idle(self, told: str, *, tone: str = "") -> None:
        self.stop.hide()
        self.take.setEnabled(False)
        retone(self.told, tone=tone)
        self.told.setText(told)


def _problem(problem: Problem) -> Row:
    where = _("Row {row}").format(row=problem.row)
    title = f"{where}, {problem.column}" if problem.column else where
    return Row(_("Left out") if problem.stops else _("Look at it"), title, note=problem.text)


def _changes(changes: tuple[Change, ...], what: str) -> Iterator[Row]:
    for one in changes:
        was, now = one.prices
        note = _("Row {row}").format(row=one.row)
        yield Row(what, one.new.title, was.pounds if was else None, now.pounds, note)
