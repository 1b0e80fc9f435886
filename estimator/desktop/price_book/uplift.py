"""Prices raised by so much per cent: what would change is shown while it is typed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QComboBox, QFrame, QLineEdit, QVBoxLayout, QWidget

from estimator.desktop.language import _, counted
from estimator.desktop.price_book.changes import Changes
from estimator.desktop.price_book.ground import across
from estimator.desktop.price_book.preview import PreviewModel, PreviewTable, Row
from estimator.desktop.price_book.shelf import Shelf
from estimator.desktop.price_book.wording import number, understood
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import main_button, quiet_button
from estimator.desktop.widgets.words import retone, words
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.desktop.price_book.asked import Done
    from estimator.store.book_parts import Entry
    from estimator.store.bulk import Change
    from estimator.store.database import Database

REST_MS = 150
"""Rest in typing after which the file is asked. [ms]"""


class UpliftPane(QFrame):
    """Which prices, by how much, and what becomes of each."""

    left = Signal()
    """It is done with."""
    trying = Signal(object)
    """The entries as they would be."""

    def __init__(self, session: Session, changes: Changes, parent: QWidget | None = None) -> None:
        """Ask the file of a session."""
        super().__init__(parent)
        self.setProperty("role", "middle")
        self._session, self._changes = session, changes
        self._asked = 0
        self.group = QComboBox()
        self.group.setAccessibleName(_("Which prices"))
        self.percent = QLineEdit()
        self.percent.setAccessibleName(_("By how many per cent"))
        self.percent.setFixedWidth(LOOK.px(88))
        self.echo = words(role="second")
        self.model = PreviewModel(self)
        self.table = PreviewTable(self.model)
        self.apply = main_button(_("Raise them"))
        self.leave = quiet_button(_("Leave it"))
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._ask)
        self._lay_out()
        self.percent.textEdited.connect(lambda _text: self._look())
        self.percent.returnPressed.connect(self._take)
        self.group.currentIndexChanged.connect(lambda _place: self._look())
        self.apply.clicked.connect(self._take)
        self.leave.clicked.connect(self.left)

    def begin(self, shelves: Sequence[Shelf], currency: str) -> None:
        """Start anew, the cursor where the percentage goes."""
        self.model.currency = currency
        self.group.blockSignals(True)
        self.group.clear()
        self.group.addItem(_("Everything that is bought"), "")
        for name in dict.fromkeys(shelf.group for shelf in shelves if shelf.group):
            self.group.addItem(name, name)
        self.group.blockSignals(False)
        self.percent.clear()
        self._show((), _("Write by how many per cent: 4 for dearer, −3 for cheaper."))
        self.percent.setFocus()

    def _lay_out(self) -> None:
        heading = words(_("Raise prices by per cent"), role="heading")
        line = across(self.group, self.percent, words("%", wrap=False), None)
        foot = across(self.apply, self.leave, None)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 16, 0, 16)
        layout.setSpacing(12)
        for part in (heading, self.echo):
            part.setContentsMargins(20, 0, 20, 0)
        for row in (line, foot):
            row.setContentsMargins(20, 0, 20, 0)
        layout.addWidget(heading)
        layout.addLayout(line)
        layout.addWidget(self.echo)
        layout.addWidget(self.table, 1)
        layout.addLayout(foot)

    def _typed(self) -> Decimal | None:
        """Return the percentage, or say why what is typed is none."""
        typed = self.percent.text().strip().removesuffix("%").strip()
        sign = -1 if typed[:1] in {"-", "−", "–"} else 1
        bare = typed.lstrip("-−–+").strip()
        found = understood(bare, _("Per cent"))
        if found.value is None:
            self._show((), found.why_not if typed else "", tone="stop")
            return None
        return sign * found.value

    def _look(self) -> None:
        self._asked += 1
        if self._typed() is not None:
            self.apply.setEnabled(False)
            self._rest.start()

    def _ask(self) -> None:
        percent, group, asked = self._typed(), self.group.currentData(), self._asked
        if percent is None:
            return

        def work(database: Database) -> tuple[Change, ...]:
            from estimator.desktop.price_book import asked as file  # noqa: PLC0415 - loads it

            return file.uplifted(database, percent, group)

        def then(found: tuple[Change, ...]) -> None:
            if asked == self._asked:
                self._found(found)

        def mistaken(mistake: UserMistake) -> None:
            if asked == self._asked:
                self._show((), str(mistake), tone="stop")

        self._session.filing.ask(work, then, on_mistake=mistaken)

    def _found(self, changes: tuple[Change, ...]) -> None:
        rows = tuple(row for one in changes for row in _rows(one))
        told = counted("{n} rate changes.", "{n} rates change.", len(changes))
        self._show(rows, told)
        self.trying.emit(tuple(one.new for one in changes))

    def _show(self, rows: Sequence[Row], told: str, *, tone: str = "") -> None:
        self.model.show_rows(rows)
        retone(self.echo, tone=tone)
        self.echo.setText(told)
        self.apply.setEnabled(bool(rows))
        if not rows:
            self.trying.emit(())

    def _take(self) -> None:
        percent, group = self._typed(), self.group.currentData()
        if percent is None or not self.apply.isEnabled():
            return
        self.apply.setEnabled(False)

        def work(database: Database) -> Done:
            from estimator.desktop.price_book import asked as file  # noqa: PLC0415 - loads it

            return file.uplift(database, percent, group)

        def mistaken(mistake: UserMistake) -> None:
            self._show((), str(mistake), tone="stop")

        self._changes.ask(work, on_mistake=mistaken)


def _rows(change: Change) -> Iterator[Row]:
    """Yield a line for every sum in an entry that changes."""
    is_only = len(change.amounts) == 1
    for name, was, now in change.amounts:
        title = change.new.title if is_only else f"{change.new.title}, {_place(name)}"
        yield Row(_("Changed"), title, was, now, _grown(change.old, was, now))


def _place(path: str) -> str:
    return path.rpartition(".")[2].replace("_", " ")


def _grown(_old: Entry | None, was: Decimal | None, now: Decimal) -> str:
    """Return how much more it is, as it came out in whole pence."""
    if not was:
        return ""
    percent = ((now - was) / was * 100).quantize(Decimal("0.1"))
    mark = "+" if percent > 0 else "−"
    return f"{mark}{number(abs(percent))} %"
