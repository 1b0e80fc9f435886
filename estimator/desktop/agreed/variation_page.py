"""A variation while it is written: typed at the left, the paper itself in the middle."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.contract.contract import Manner
from estimator.contract.variation import Standing, Valued, Variation
from estimator.desktop.agreed import wording
from estimator.desktop.agreed.fields import Picked
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.papers import VariationPaper
from estimator.desktop.agreed.reckoning import with_tax
from estimator.desktop.agreed.valuing import Valuing
from estimator.desktop.agreed.variation_form import VariationForm
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.column_page import Contents, lay_page
from estimator.desktop.session import SAVE_AFTER_MS
from estimator.desktop.state import OpenJob
from estimator.desktop.widgets.buttons import main_button, quiet_button
from estimator.desktop.widgets.words import retone, words
from estimator.documents import formats
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.store.database import Database


class VariationPage(QWidget):
    """The form, what it comes to, and the button that sends it."""

    left = Signal()
    """Back to the job."""
    hours_wanted = Signal()
    """A sheet of hours is to be written; what is typed here is kept."""
    sent = Signal(str)
    """The key of a variation that has just gone out under its number."""

    def __init__(self, valuing: Valuing) -> None:
        """Write nothing yet."""
        super().__init__()
        self._valuing = valuing
        self._following: Following = valuing.following
        self._key, self._uid = "", valuing.session.job.uid
        self._kept: Variation | None = None
        self._is_open = False
        self.form = VariationForm(valuing)
        self.paper = VariationPaper(valuing.session, self)
        self.how = Picked(_("How it goes out"), wording.sending_words())
        self.sum = words(role="strong")
        self.sums = words(role="second")
        self.note = words(role="second")
        self.send = main_button(_("Send it"))
        self.drop = quiet_button(_("Drop this draft"))
        self.drop.clicked.connect(self._drop)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(SAVE_AFTER_MS)
        self._rest.timeout.connect(self.keep)
        self.form.changed.connect(self._changed)
        self.form.hours_wanted.connect(self.hours_wanted)
        valuing.changed.connect(self._valued)
        valuing.session.job_changed.connect(self._job_changed)
        valuing.session.closing.connect(self._keep_last)
        self._following.busy_changed.connect(self._busy)
        self.send.clicked.connect(self._send)
        self._lay_out()

    # -- the page comes and goes

    def begin(self) -> None:
        """Take up the draft there is, or begin one."""
        draft = draft_of(self._following)
        self._is_open = True
        self._key = "" if draft is None else draft.key
        self._kept = None if draft is None else replace(draft, revision=0)
        self.form.begin(draft)
        self.say("")
        self.paper.follow()
        self._changed()

    def rest(self) -> None:
        """Keep what is typed; make no paper that nobody looks at."""
        if self._is_open:
            self.keep()
        self._is_open = False
        self.paper.rest()

    def take_focus(self) -> None:
        """Put the cursor where one writes first."""
        self.form.take_focus()

    def write_in(self, line: Valued) -> None:
        """Put a line under the measured ones."""
        self.form.ticks.write_in(line)

    def say(self, text: str, *, is_problem: bool = False) -> None:
        """Say something over the button."""
        retone(
            self.note, role="text" if is_problem else "second", tone="stop" if is_problem else ""
        )
        self.note.setText(text)
        self.note.setVisible(bool(text))

    # -- the variation as it stands

    def drawn_up(self) -> Variation | None:
        """Return the variation as it would go out now; None where nothing is changed."""
        from estimator.contract.drafting import drawn_up, next_key  # noqa: PLC0415 - the engine

        valuation, written = self._valuing.valuation, self.form.wording
        if valuation is None:
            return None
        try:
            return drawn_up(
                self._valuing.so_far,
                valuation,
                date=self._valuing.session.today(),
                asked_by=written.asked_by,
                reason=written.reason,
                revision=0,
                key=self._key or next_key(self._following.so_far),
                title=written.title,
                left_out=written.left_out,
                added=written.added,
                photos=written.photos,
            )
        except UserMistake:
            return None

    def keep(self, then: Callable[[], object] | None = None) -> None:
        """Keep the draft in the file, if anything of it is new."""
        self._rest.stop()
        variation = self.drawn_up() if self._is_open else None
        if variation is None or variation == self._kept:
            if then is not None:
                then()
            return
        self._key, self._kept = variation.key, variation
        job = self._valuing.session.job

        def draft(database: Database, _uid: str) -> None:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            asked.draft(database, job, variation)

        after = None if then is None else lambda _done: then()
        self._following.do(draft, after, is_pressed=False)

    def _keep_last(self) -> None:
        """Keep the last words before the window goes."""
        if self._is_open:
            self.keep()

    def _changed(self) -> None:
        variation = self.drawn_up() if self._following.has_contract else None
        self._show_sums(variation)
        can_write = self._following.session.filing.can_write
        is_settled = not self._valuing.is_settling
        self.send.setEnabled(variation is not None and can_write and is_settled)
        self.drop.setEnabled(can_write)
        self.paper.show_variation(self._following.so_far, variation)
        self._rest.start()

    def _job_changed(self, job: OpenJob) -> None:
        if job.uid != self._uid:
            self._uid, self._is_open = job.uid, False
            self._rest.stop()
            self.form.forget()

    def _valued(self) -> None:
        if self._is_open:
            self.form.refresh()
            self._changed()

    def _show_sums(self, variation: Variation | None) -> None:
        so_far = self._following.so_far
        if so_far.contract is None or variation is None:
            self.sum.setText(_("Nothing is changed yet."))
            self.sums.setText(_("Mark on the wall what is found, or take another choice."))
            return
        from estimator.contract.sums import price_of  # noqa: PLC0415 - loads the engine

        change = with_tax(so_far, variation.net)
        before = price_of(so_far.contract, so_far.net).total
        days = wording.days(variation.extra_days)
        amount = wording.signed(change)
        self.sum.setText(
            _("This variation: {amount}, {days}").format(amount=amount, days=days)
            if days
            else _("This variation: {amount}").format(amount=amount)
        )
        gaps = {"before": formats.money(before), "after": formats.money(before + change)}
        self.sums.setText(_("Sum before {before}, after {after}").format(**gaps))

    def _send(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        if self.drawn_up() is not None:
            self.keep(self._send_kept)
            self._say_sending()

    def _say_sending(self) -> None:
        self.send.setEnabled(False)
        self.say(_("Sending…"))

    def _busy(self, is_busy: bool) -> None:  # noqa: FBT001 - Qt's
        """Let it be sent again where nothing more comes of the first try."""
        if not is_busy and self._is_open and self.note.text() == _("Sending…"):
            self.say("")
            self._changed()

    def _send_kept(self) -> None:
        self._say_sending()
        key, how, session = self._key, self.how.value, self._valuing.session
        trader = session.practice.trader

        def send(database: Database, uid: str) -> object:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            return asked.send(database, uid, key, how, trader)

        self._following.do(send, lambda _sent: self._went(key), on_mistake=self._not_sent)

    def _drop(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        """Take the draft back; the wall stays as it is marked."""
        key, self._is_open = self._key, False
        self._rest.stop()
        self.form.forget()
        if draft_of(self._following) is None:
            self.left.emit()
            return

        def drop(database: Database, uid: str) -> object:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            by = (self._following.session.practice.trader.name, Manner.IN_PERSON, "")
            return asked.answer(database, uid, key, Standing.WITHDRAWN, by)

        self._following.do(drop, lambda _done: self.left.emit(), on_mistake=self._not_sent)

    def _went(self, key: str) -> None:
        self._is_open = False
        self.form.forget()
        self.sent.emit(key)

    def _not_sent(self, mistake: UserMistake) -> None:
        self.send.setEnabled(True)
        self.say(in_full(mistake), is_problem=True)

    def _lay_out(self) -> None:
        inner = Contents()
        inside = QVBoxLayout(inner)
        inside.setContentsMargins(20, 0, 20, 12)
        inside.addWidget(self.form)
        inside.addWidget(self.how)
        inside.addWidget(self.drop, 0, Qt.AlignmentFlag.AlignLeft)
        inside.addStretch(1)
        said = (self.sum, self.sums, self.note)
        for part in said:
            part.setContentsMargins(8, 0, 8, 0)
        lay_page(self, _("A variation"), self.left.emit, inner, *said, self.send)


def draft_of(following: Following) -> Variation | None:
    """Return the variation that is being written, if there is one."""
    drafts = [one for one in following.so_far.variations if one.standing is Standing.DRAFTED]
    return drafts[-1].variation if drafts else None
