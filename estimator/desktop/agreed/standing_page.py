"""A variation that went out: how it stands, what the customer said, and the papers of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.contract.contract import Manner
from estimator.contract.so_far import Varied
from estimator.contract.variation import Standing
from estimator.desktop.agreed import wording
from estimator.desktop.agreed.change_rows import ChangeRows, sum_row
from estimator.desktop.agreed.fields import Picked
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.keeping import Papers
from estimator.desktop.agreed.kept_paper import Kept
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.column_page import Contents, lay_page, set_in
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.buttons import button, main_button, quiet_button
from estimator.desktop.widgets.ways import Ways
from estimator.desktop.widgets.words import retone, words
from estimator.notices import UserMistake
from estimator.survey.limits import LETTERS

if TYPE_CHECKING:
    from estimator.store.database import Database


class AnswerForm(QFrame):
    """Who answered, and how; the moment is now."""

    given = Signal()

    def __init__(self) -> None:
        """Begin with a telephone call."""
        super().__init__()
        self.who = Written(_("Who said so"), most=LETTERS["name"])
        self.how = Picked(_("How"), wording.manner_words())
        self.words_ = Written(_("In their words, if it matters"), most=LETTERS["name"])
        self.how.pick(Manner.TELEPHONE)
        for field in (self.who, self.words_):
            field.editor.returnPressed.connect(self.given)  # type: ignore[union-attr]
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for part in (self.who, self.how, self.words_):
            layout.addWidget(part)


class StandingPage(QWidget):
    """What became of one variation, and what comes next of it."""

    left = Signal()

    def __init__(self, following: Following, papers: Papers) -> None:
        """Show nothing yet."""
        super().__init__()
        self._following, self._papers = following, papers
        self.key = ""
        self.title = words(role="question")
        self.state = words()
        self.caution = words(tone="caution")
        self.rows = ChangeRows()
        self.form = AnswerForm()
        self.said = words(tone="done")
        self.main = main_button("")
        self.decline = button(_("They decline"))
        self.withdraw = quiet_button(_("Take it back"))
        self.answers = Ways(self.decline, self.withdraw, is_spread=False)
        self.email = button(_("E-mail…"))
        self.print_ = button(_("Print…"))
        self.save = button(_("Save a copy…"))
        self._act: Callable[[], None] = self.left.emit
        self._connect()
        self._lay_out()

    def show_variation(self, key: str) -> None:
        """Show one variation; it is read by its key, so the newest word on it counts."""
        self.key = key
        self.say("")
        customer = self._following.session.work.survey.customer.name
        self.form.who.show_text(customer)
        self.form.words_.show_text("")
        self.refresh()

    def begin(self) -> None:
        """Show its paper in the middle."""
        one = self._one()
        if one is not None and one.number:
            self._papers.lay(one.number)

    def refresh(self) -> None:
        """Show how it stands now."""
        one = self._one()
        if one is None:
            return
        self.title.setText(
            _("{number}: {title}").format(number=one.number, title=in_full(one.variation.title))
        )
        self.state.setText(wording.answered(one))
        is_open = one.standing is Standing.SENT
        may_agree = is_open or one.standing is Standing.DECLINED
        wants = one.wants_confirming
        self.caution.setText(
            _("Nothing of it is in writing from them. Send a confirmation the same day.")
            if wants
            else _("Do not start this work before it is agreed.")
            if is_open
            else ""
        )
        self.caution.setVisible(bool(self.caution.text()))
        self._show_rows(one)
        self.form.setVisible(may_agree)
        can_write = self._following.session.filing.can_write
        for part in (self.decline, self.withdraw):
            part.setVisible(is_open)
            part.setEnabled(can_write)
        self.answers.look_again()
        self._say_next(one)

    def take_focus(self) -> None:
        """Put the keyboard on what comes next."""
        self.main.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def say(self, text: str, *, is_problem: bool = False) -> None:
        """Say what came of something."""
        retone(self.said, tone="stop" if is_problem else "done")
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def _one(self) -> Varied | None:
        try:
            return self._following.so_far.varied(self.key)
        except KeyError:
            return None

    def _say_next(self, one: Varied) -> None:
        if one.standing is Standing.SENT:
            text, self._act = _("They agree"), self._agree
        elif one.standing is Standing.DECLINED:
            text, self._act = _("They agree after all"), self._agree
        elif one.wants_confirming:
            text, self._act = _("Write the confirmation"), self._confirm
        else:
            text, self._act = _("Back to the job"), self.left.emit
        self.main.setText(text)
        self.main.setEnabled(
            self._following.session.filing.can_write or self._act == self.left.emit
        )

    def _show_rows(self, one: Varied) -> None:
        from estimator.contract.sums import running  # noqa: PLC0415 - loads the engine

        # What it changes is told as its paper tells it, whatever was agreed since.
        change = running(self._following.so_far, one.variation.key).change.total
        self.rows.show_lines(
            one.variation.lines, sums=(sum_row("sum", _("This variation, with VAT"), change),)
        )

    # -- what is done

    def _agree(self) -> None:
        self._answer(Standing.AGREED)

    def _answer(self, answer: Standing) -> None:
        who = self.form.who.text.strip()
        if not who and answer is not Standing.WITHDRAWN:
            self.form.who.complain(_("Say who it was."))
            self.form.who.take_focus()
            return
        self.form.who.complain("")
        key, how, told = self.key, self.form.how.value, self.form.words_.text.strip()

        def give(database: Database, uid: str) -> object:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            return asked.answer(database, uid, key, answer, (who, how, told))

        self._following.do(give, lambda _given: self._answered(), on_mistake=self._not_done)

    def _answered(self) -> None:
        self.refresh()
        self.take_focus()

    def _confirm(self) -> None:
        key, trader = self.key, self._following.session.practice.trader

        def confirm(database: Database, uid: str) -> Kept:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            return asked.confirm(database, uid, key, trader)

        self._following.do(confirm, self._confirmed, on_mistake=self._not_done)

    def _confirmed(self, kept: Kept) -> None:
        self._papers.show(kept)
        self.say(_("The confirmation is {number}. It can be sent now.").format(number=kept.number))
        self.refresh()
        self.email.setFocus(Qt.FocusReason.OtherFocusReason)

    def _not_done(self, mistake: UserMistake) -> None:
        self.say(in_full(mistake), is_problem=True)

    def _connect(self) -> None:
        self.main.clicked.connect(lambda _ticked=False: self._act())
        self.decline.clicked.connect(lambda _ticked=False: self._answer(Standing.DECLINED))
        self.withdraw.clicked.connect(lambda _ticked=False: self._answer(Standing.WITHDRAWN))
        self.email.clicked.connect(lambda _ticked=False: self._papers.email())
        self.print_.clicked.connect(lambda _ticked=False: self._papers.print_paper())
        self.save.clicked.connect(lambda _ticked=False: self._papers.save())
        self.form.given.connect(self._agree)
        self._papers.said.connect(self.say)
        self._papers.mistaken.connect(self._not_done)
        self._following.changed.connect(self.refresh)

    def _lay_out(self) -> None:
        inner = Contents()
        inside = QVBoxLayout(inner)
        inside.setContentsMargins(12, 0, 12, 12)
        inside.setSpacing(6)
        for part in (self.title, self.state, self.caution, self.rows, self.form):
            inside.addWidget(part)
            if part is not self.rows:
                set_in(part)
        answers = QVBoxLayout()
        answers.setContentsMargins(8, 4, 0, 4)
        answers.addWidget(self.answers)
        inside.addLayout(answers)
        inside.addStretch(1)
        self.said.setContentsMargins(8, 0, 8, 0)
        ways = Ways(self.email, self.print_, self.save)
        under = (self.said, ways, self.main)
        lay_page(self, _("A variation"), self.left.emit, inner, *under, apart=8)
