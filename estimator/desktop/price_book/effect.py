"""What a change of rates does to the open job: each choice before and after."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from estimator.desktop.courier import Courier
from estimator.desktop.language import _
from estimator.desktop.price_book import trial
from estimator.desktop.price_book.trial import Total
from estimator.desktop.price_book.wording import money, signed
from estimator.desktop.session import Session
from estimator.desktop.widgets.words import figures, retone, words
from estimator.notices import UserMistake
from estimator.store.book_parts import Entry

REST_MS = 90
"""Rest in typing after which a change is tried. [ms]"""


class Effect(QWidget):
    """The totals of the open job, as they are or would be."""

    refused = Signal(str)
    """Why the engine could not price with what is tried."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self._session, self._courier = session, Courier(self)
        self.text = ""
        """The newest price book, as a price book file."""
        self._before: dict[str, Total] = {}
        self._asked = 0
        self._entries: tuple[Entry, ...] = ()
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._try)
        self._heading = words(_("What this does to the open job"), role="title")
        self._empty = words(
            _("No job on the desk has a price yet. Answer its questions, and it stands here."),
            role="second",
        )
        # The range on the desk is another figure: nothing there is at its likeliest all at once.
        self._basis = words(_("With all at its likeliest"), role="second")
        self._note = words(role="second")
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(0, 1)
        self._rows: list[tuple[QLabel, QLabel, QLabel, QLabel]] = []
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        layout.addWidget(self._heading)
        layout.addWidget(self._basis)
        layout.addWidget(self._empty)
        layout.addLayout(self._grid)
        layout.addWidget(self._note)
        session.sight_changed.connect(lambda _sight: self._follow())
        self._job = session.job.uid
        self.rest()

    def rest(self) -> None:
        """Show the job as it is now; what comes next is measured against it."""
        self._stop_trying()
        totals = trial.totals_of(self._session.sight.options)
        self._before = {one.key: one for one in totals}
        self._show(totals, "")

    def try_out(self, entries: Sequence[Entry]) -> None:
        """Show what some changed entries would do, after a short rest."""
        self._entries = tuple(entries)
        self._asked += 1
        self._rest.start()

    def give_up(self) -> None:
        """Show the job as it is: nothing is being tried any more."""
        if self._rest.isActive() or self._entries:
            self._stop_trying()
            self._show(trial.totals_of(self._session.sight.options), "")

    def begin_change(self) -> None:
        """Measure what comes next against the job as it is now."""
        self._stop_trying()
        totals = trial.totals_of(self._session.sight.options)
        self._before = {one.key: one for one in totals}

    def _stop_trying(self) -> None:
        self._rest.stop()
        self._entries = ()
        self._asked += 1

    def _follow(self) -> None:
        """Show the prices of the session, against those before the last change of rates."""
        if self._session.job.uid != self._job:
            self._job = self._session.job.uid
            self.rest()
        elif not self._entries:
            self._show(trial.totals_of(self._session.sight.options), "")

    def _try(self) -> None:
        asked, session = self._asked, self._session
        if not session.sight.options or not self.text:
            return

        def done(found: tuple[Total, ...]) -> None:
            self._courier.carry(lambda: self._tried(asked, found))

        def failed(error: BaseException) -> None:
            self._courier.carry(lambda: self._failed(asked, error))

        session.workers.run(
            trial.tried,
            self.text,
            self._entries,
            session.work,
            session.sight.practice,
            session.today(),
            on_done=done,
            on_failed=failed,
        )

    def _tried(self, asked: int, found: tuple[Total, ...]) -> None:
        if asked == self._asked:
            now = trial.totals_of(self._session.sight.options)
            self._before = {one.key: one for one in now}
            self._show(found, _("Tried out, not kept yet."))

    def _failed(self, asked: int, error: BaseException) -> None:
        if asked == self._asked and isinstance(error, UserMistake):
            self._note.setText(str(error))
            retone(self._note, tone="stop")
            self._note.show()
            self.refused.emit(str(error))

    def _show(self, totals: Sequence[Total], note: str) -> None:
        while len(self._rows) < len(totals):
            self._add_row()
        currency = self._session.practice.book.currency
        for place, labels in enumerate(self._rows):
            title, total, was, change = labels
            is_used = place < len(totals)
            for label in labels:
                label.setVisible(is_used)
            if not is_used:
                continue
            now = totals[place]
            before = self._before.get(now.key, now)
            title.setText(now.title)
            total.setText(money(now.pounds, currency))
            differs = now.pounds - before.pounds
            was.setText(_("was {was}").format(was=money(before.pounds, currency)))
            change.setText(signed(differs, currency))
            for label in (was, change):
                label.setVisible(bool(differs))
        self._empty.setVisible(not totals)
        self._basis.setVisible(bool(totals))
        retone(self._note, tone="quiet")
        self._note.setText(note)
        self._note.setVisible(bool(note))

    def _add_row(self) -> None:
        row = 2 * len(self._rows)
        title, total = words(), figures()
        was, change = words(role="second", wrap=False), figures(role="strong")
        self._grid.addWidget(title, row, 0)
        self._grid.addWidget(total, row, 1)
        self._grid.addWidget(was, row + 1, 0)
        self._grid.addWidget(change, row + 1, 1)
        self._rows.append((title, total, was, change))
