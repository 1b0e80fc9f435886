"""All jobs: found by name, place or number; what needs me today first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QStackedLayout, QVBoxLayout, QWidget

from estimator.desktop.jobs import wording
from estimator.desktop.jobs.filter_row import FilterRow
from estimator.desktop.jobs.list_view import JobList
from estimator.desktop.jobs.model import JobsModel
from estimator.desktop.jobs.needs import Needs
from estimator.desktop.language import _, counted
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import main_button, quiet_button
from estimator.desktop.widgets.words import words
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.desktop.jobs.asked import Found
    from estimator.store.attention import Needed
    from estimator.store.database import Database
    from estimator.store.job_list import JobLine

MANY = 100
"""Rates from which they are no longer counted."""
WIDEST = 1180
"""Beyond this a line is too long to follow with the eye. [px]"""


class JobsPage(QFrame):
    """Jobs, as a page of its own."""

    opened = Signal(str)
    """The uid of the job somebody wants on the desk."""
    new_wanted = Signal()
    """Somebody wants a new call."""
    typed = Signal(str)
    """A letter typed in the list, which belongs to the field above."""
    rates_wanted = Signal(str)
    """Somebody wants to see the rates that fit the same words."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session; nothing is asked of the file before the page is shown."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self._words_typed = ""
        self._asked = self._answered = 0
        self._ask_again = False
        self.model = JobsModel(self)
        self.list = JobList(self.model)
        self.filters = FilterRow()
        self.needs = Needs()
        self._heading = words(_("Jobs"), role="heading")
        self._says = words(role="second", wrap=False)
        self._rates = quiet_button("")
        self._rates.hide()
        self._first, self._nothing = _Nothing(), words(role="second")
        self._lay_out()
        self._follow()

    def begin(self) -> None:
        """Show what there is now; called whenever the page comes to the front."""
        self._ask()
        today = self._session.today()

        def needed(database: Database) -> tuple[Needed, ...]:
            from estimator.desktop.jobs import asked  # noqa: PLC0415 - loads the database library

            return asked.needed(database, today)

        self._session.filing.ask(needed, self._show_needed)
        self.take_focus()

    def seek(self, words_typed: str) -> None:
        """Show what fits the words typed into the field above."""
        if words_typed != self._words_typed:
            self._words_typed = words_typed
            self._ask()

    def take_focus(self) -> None:
        """Put the cursor into the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def take_first(self) -> None:
        """Open the job one is on, for Enter in the field above."""
        job = self.model.job(max(self.list.currentIndex().row(), 0))
        if job is not None:
            self.opened.emit(job.uid)

    # -- the file

    def _ask(self) -> None:
        """Ask for what fits; while an answer is awaited, only the newest wish is kept."""
        if self._asked != self._answered:
            self._ask_again = True
            return
        self._asked += 1
        stage, typed = self.filters.stage, self._words_typed

        def found(database: Database) -> Found:
            from estimator.desktop.jobs import asked  # noqa: PLC0415 - loads the database library

            return asked.found(database, stage, typed)

        self._session.filing.ask(
            found, lambda found: self._show(found, stage), on_mistake=self._not_found
        )

    def _settle(self) -> bool:
        """Note an answer, and say whether it is still the one that is wanted."""
        self._answered = self._asked
        again, self._ask_again = self._ask_again, False
        if again:
            self._ask()
        return not again

    def _show(self, found: Found, stage: str) -> None:
        if not self._settle():
            return
        current = self.model.job(self.list.currentIndex().row())
        self.model.begin(found.count(stage), found.first, self._session.today())
        row = max(self.model.row_of(current.uid) if current else 0, 0)
        self.list.setCurrentIndex(self.model.index(row))
        self.filters.show_counts({one: found.count(one) for one in self.filters.words})
        self._show_rates(found.rates)
        self._show_nothing(found.count(stage), found.count(""))

    def _not_found(self, mistake: UserMistake) -> None:
        self._settle()
        self._session.mistaken.emit(mistake)

    def _fetch(self, number: int) -> None:
        stage, typed, asked_then = self.filters.stage, self._words_typed, self._asked

        def page(database: Database) -> tuple[JobLine, ...]:
            from estimator.desktop.jobs import asked  # noqa: PLC0415 - loads the database library

            return asked.page(database, stage, typed, number)

        def put(jobs: tuple[JobLine, ...]) -> None:
            if asked_then == self._asked:
                self.model.put(number, jobs)

        self._session.filing.ask(page, put)

    # -- what is shown

    def _show_needed(self, found: tuple[Needed, ...]) -> None:
        self.needs.show_needed(found, self._session.today())
        self._needs_in_sight()

    def _needs_in_sight(self) -> None:
        """Make way for what was found while somebody is looking for something."""
        self.needs.setVisible(bool(self.needs.rows) and not self._words_typed.strip())

    def _show_rates(self, count: int) -> None:
        self._rates.setVisible(count > 0)
        told = counted("{n} rate in the price book", "{n} rates in the price book", count)
        self._rates.setText(told if count < MANY else _("Many rates in the price book"))

    def _show_nothing(self, shown: int, fitting: int) -> None:
        self._needs_in_sight()
        typed = wording.plain(self._words_typed)
        self._says.setText(wording.counted_jobs(shown) if shown else "")
        if shown:
            self._stack.setCurrentWidget(self.list)
            return
        is_first = not typed and not fitting
        self._stack.setCurrentWidget(self._first if is_first else self._nothing_here)
        self._nothing.setText(
            _("No job fits “{typed}”. Try the name, the telephone number or the postcode.").format(
                typed=typed
            )
            if typed
            else _("No job is at this stage.")
        )

    def _lay_out(self) -> None:
        self._nothing_here = QWidget()
        beside = QVBoxLayout(self._nothing_here)
        beside.setContentsMargins(LOOK.px(16), LOOK.px(24), LOOK.px(16), 0)
        beside.addWidget(self._nothing)
        beside.addStretch()
        # In a widget of its own: a bare layout shows its first page as a window for a moment.
        pages = QWidget()
        self._stack = QStackedLayout(pages)
        for part in (self.list, self._first, self._nothing_here):
            self._stack.addWidget(part)
        head = QHBoxLayout()
        head.addWidget(self._heading)
        head.addStretch(1)
        head.addWidget(self._rates)
        head.addWidget(self._says)
        self._holder = holder = QWidget()
        self._measure()
        LOOK.changed.connect(self._measure)
        inner = QVBoxLayout(holder)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.setSpacing(12)
        inner.addLayout(head)
        inner.addWidget(self.needs)
        inner.addWidget(self.filters)
        inner.addWidget(pages, 1)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(20, 16, 20, 16)
        outer.addStretch(1)
        outer.addWidget(holder, 100)
        outer.addStretch(1)

    def _measure(self) -> None:
        self._holder.setMaximumWidth(LOOK.px(WIDEST))

    def _follow(self) -> None:
        self.list.taken.connect(self.opened)
        self.list.typed.connect(self.typed)
        self.list.left_up.connect(self._up_from_list)
        self.needs.taken.connect(self.opened)
        self.needs.left_down.connect(self.take_focus)
        self.filters.chosen.connect(lambda _stage: self._ask())
        self.model.wanted.connect(self._fetch)
        self._first.new_wanted.connect(self.new_wanted)
        self._rates.clicked.connect(lambda: self.rates_wanted.emit(self._words_typed))

    def _up_from_list(self) -> None:
        if not self.needs.take_focus(last=True):
            self.filters.words[self.filters.stage].setFocus(Qt.FocusReason.OtherFocusReason)


class _Nothing(QWidget):
    """What goes here, and the button that makes the first one."""

    new_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        take = main_button(_("Take a call"))
        take.clicked.connect(self.new_wanted)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(LOOK.px(16), LOOK.px(48), LOOK.px(16), 0)
        layout.setSpacing(LOOK.px(12))
        layout.addWidget(words(_("No jobs yet"), role="title"))
        layout.addWidget(
            words(
                _(
                    "Every call you take is kept here from its first answer on: who called, "
                    "where the wall is, and what was quoted."
                ),
                role="second",
            )
        )
        layout.addWidget(take, 0, Qt.AlignmentFlag.AlignLeft)
        layout.addStretch()
