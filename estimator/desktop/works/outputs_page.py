"""What our own jobs took against the book, offered to be used from now on, or left."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.agreed.following import Following
from estimator.desktop.language import _, counted, in_full
from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.column_page import Contents, lay_page
from estimator.desktop.widgets.buttons import button
from estimator.desktop.widgets.words import retone, words
from estimator.documents import formats
from estimator.notices import UserMistake
from estimator.works.own_rates import OwnOutput
from estimator.works.track_record import TrackRecord

if TYPE_CHECKING:
    from estimator.desktop.works.own import Own
    from estimator.quoting.offering import Practice
    from estimator.store.database import Database


class Offer(QFrame):
    """One figure offered, how it was arrived at, and a button to use it."""

    taken = Signal()

    def __init__(self, text: str, working: str, act: str) -> None:
        """Offer something."""
        super().__init__()
        self.setProperty("role", "card")
        self.text = words(text)
        self.take = button(act)
        self.take.setAccessibleDescription(text)
        self.take.clicked.connect(lambda _ticked=False: self.taken.emit())
        layout = QVBoxLayout(self)
        layout.setContentsMargins(15, 11, 15, 13)
        layout.setSpacing(6)
        layout.addWidget(self.text)
        layout.addWidget(words(working, role="second"))
        layout.addWidget(self.take, 0, Qt.AlignmentFlag.AlignLeft)


class OutputsPage(QWidget):
    """Nothing is taken up by itself, and nothing agreed before ever changes by it."""

    left = Signal()
    used = Signal(object)
    """The ``Practice`` from now on."""

    def __init__(self, following: Following) -> None:
        """Ask nothing yet."""
        super().__init__()
        self._following = following
        self._asked = 0
        self.headline = words(role="question")
        self.about = words(role="second")
        self.said = words(tone="done")
        self.offers: list[Offer] = []
        self._offers = QVBoxLayout()
        self._offers.setSpacing(8)
        self._lay_out()

    def begin(self) -> None:
        """Ask the file what our own jobs show."""
        self.say("")
        self._clear()
        self.headline.setText(_("Working it out…"))
        self.about.clear()
        self.look()

    def look(self) -> None:
        """Ask anew."""
        self._asked += 1
        number = self._asked

        def read(database: Database) -> Own:
            from estimator.desktop.works import own  # noqa: PLC0415 - loads the database

            return own.own(database)

        ask(
            self,
            self._following.session.filing,
            read,
            lambda found: self.show_own(found) if number == self._asked else None,
            on_mistake=self._refused,
        )

    def show_own(self, found: Own) -> None:
        """Show what is offered."""
        self._clear()
        self.headline.setText(
            counted("Hours from {n} job", "Hours from {n} jobs", found.jobs)
            if found.jobs
            else _("No hours booked yet.")
        )
        self.about.setText("\n".join(_about(found)))
        for one in found.outputs:
            self._offer(offered(one), one.working, _("Use it from now on"), self._taker(one))
        if found.record is not None:
            record = found.record
            text = _(
                "{told} On the phone the range would go from {low} % below to {high} % above "
                "what is likely."
            ).format(
                told=record.words,
                low=formats.plain(record.rates_low_percent),
                high=formats.plain(record.rates_high_percent),
            )
            working = counted("From {n} finished job.", "From {n} finished jobs.", record.jobs)
            self._offer(text, working, _("Use this range from now on"), self._range_taker(record))

    def take_focus(self) -> None:
        """Put the keyboard on the first offer, or the way back."""
        if self.offers:
            self.offers[0].take.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def say(self, text: str, *, is_problem: bool = False) -> None:
        """Say what was done."""
        retone(self.said, tone="stop" if is_problem else "done")
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def _taker(self, one: OwnOutput) -> Callable[[Database], Practice]:
        def take(database: Database) -> Practice:
            from estimator.desktop.works import own  # noqa: PLC0415 - loads the database

            return own.take_outputs(database, (one,))

        return take

    def _range_taker(self, record: TrackRecord) -> Callable[[Database], Practice]:
        def take(database: Database) -> Practice:
            from estimator.desktop.works import own  # noqa: PLC0415 - loads the database

            return own.take_range(database, record)

        return take

    def _offer(
        self, text: str, working: str, act: str, take: Callable[[Database], Practice]
    ) -> None:
        offer = Offer(text, working, act)
        offer.take.setEnabled(self._following.session.filing.can_write)
        offer.taken.connect(lambda: self._use(take))
        self._offers.addWidget(offer)
        self.offers.append(offer)

    def _use(self, take: Callable[[Database], Practice]) -> None:
        for offer in self.offers:
            offer.take.setEnabled(False)
        ask(self, self._following.session.filing, take, self._used, on_mistake=self._refused)

    def _used(self, practice: Practice) -> None:
        self.used.emit(practice)
        self.say(_("It stands in a new price book. What was agreed before keeps its own."))
        self.look()

    def _refused(self, mistake: UserMistake) -> None:
        self.say(in_full(mistake), is_problem=True)
        for offer in self.offers:
            offer.take.setEnabled(self._following.session.filing.can_write)

    def _clear(self) -> None:
        for offer in self.offers:
            self._offers.removeWidget(offer)
            offer.hide()
            offer.deleteLater()
        self.offers = []

    def _lay_out(self) -> None:
        inner = Contents()
        inside = QVBoxLayout(inner)
        inside.setContentsMargins(12, 0, 12, 12)
        inside.setSpacing(8)
        for part in (self.headline, self.about, self.said):
            part.setIndent(8)
            inside.addWidget(part)
        inside.addLayout(self._offers)
        inside.addStretch(1)
        lay_page(self, _("Our own outputs"), self.left.emit, inner)


def offered(one: OwnOutput) -> str:
    """Return in a sentence what our jobs took, and what is offered."""
    return _(
        "{what}: you take {own} of the book's time, over {jobs}. Use {factor} of it from now on?"
    ).format(
        what=in_full(one.title),
        own=f"{one.own_ratio:.2f}",
        jobs=counted("{n} job", "{n} jobs", one.jobs),
        factor=f"{one.factor:.2f}",
    )


def _about(found: Own) -> tuple[str, ...]:
    said = []
    if found.jobs and not found.outputs:
        said.append(_("There are too few jobs to offer anything yet."))
    if found.since is not None:
        since = _("Since {date} outputs of our own are in the price book; only jobs after count.")
        said.append(since.format(date=agreed_wording.day(found.since)))
    if found.jobs:
        said.append(_("The fewer the jobs, the closer the offer stays to the book."))
    return tuple(said)
