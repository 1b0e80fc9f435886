"""The page that is read before a paper goes out."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import _, in_context
from estimator.desktop.papers import checks
from estimator.desktop.papers.checks import Problem
from estimator.desktop.papers.column_page import Contents, scrolled, set_in
from estimator.desktop.papers.customer import CustomerRow
from estimator.desktop.papers.heading import heading
from estimator.desktop.papers.made import Draft
from estimator.desktop.papers.offer_row import OfferRow
from estimator.desktop.papers.paper_list import PaperList
from estimator.desktop.papers.problem_box import ProblemBox
from estimator.desktop.papers.rows import Row
from estimator.desktop.session import Session
from estimator.desktop.widgets.buttons import main_button, quiet_button
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import retone, words
from estimator.quoting.quotation import Paper


class CheckPage(QWidget):
    """What the paper will say, line by line, each with a way to change it."""

    issue_wanted = Signal()
    """The one button was pressed, and nothing stands against it."""
    left = Signal()
    """Back to the wall."""
    wall_wanted = Signal(str)
    """A mark or a side to be looked at."""

    def __init__(self, session: Session) -> None:
        """Follow a session."""
        super().__init__()
        self._session = session
        self._draft: Draft | None = None
        self._said, self._is_issuing = "", False
        self.kind = words(role="question")
        self.problems = ProblemBox()
        self.by_hand = ProblemBox(heading=lambda _count: in_context("bars", "By hand"))
        self.customer = CustomerRow(session)
        self.firm = Row(_("From"), change=_("Change your firm"), act=lambda: self._give("settings"))
        self._offered_head = words(_("Offered"), role="second")
        self.offers = OfferRow(session)
        self.date = Row(_("Date"))
        self.until = Row(
            checks.until_named(Paper.ESTIMATE),
            change=_("Change how long an offer stands"),
            act=lambda: self._give("settings"),
        )
        self.supersedes = Row(_("Replaces"))
        self.rates = CautionBox()
        self.to_rates = quiet_button(_("Look at the rates"))
        self.cautions = words(role="second")
        self._cautions_head = words(_("Cautions the customer will read"), role="second")
        self.papers = PaperList(session)
        self.issue = main_button(checks.number_comes(Paper.ESTIMATE))
        self.note = words(role="second")
        self._lay_out()
        self.problems.led_to.connect(self.lead_to)
        self.by_hand.led_to.connect(self.wall_wanted)
        self.customer.closed.connect(self.take_focus)
        self.offers.changed.connect(self.refresh)
        self.to_rates.clicked.connect(lambda _ticked=False: self._give("price_book"))
        self.issue.clicked.connect(lambda _ticked=False: self._issue())
        session.sight_changed.connect(lambda _sight: self.refresh())
        session.filing.opened.connect(lambda _database: self.refresh())

    def begin(self) -> None:
        """Show what is known of the open job before its paper is made."""
        self.offers.begin()
        self.customer.close_fields()
        self.papers.clear()
        self.papers.refresh()
        self.say("")
        self.refresh()

    def show_draft(self, draft: Draft | None, *, is_missing: bool = False) -> None:
        """Show what stands on the paper; what stood on the one before until it is made."""
        self._draft = draft
        if draft is not None:
            self.date.say(draft.date)
            self.until.say(draft.valid_until)
            self.cautions.setText("\n".join(draft.cautions))
        elif is_missing:
            for row in (self.date, self.until):
                row.say("")
            self.cautions.clear()
        for row in (self.date, self.until):
            row.setVisible(bool(row.value.text()))
        for label in (self.cautions, self._cautions_head):
            label.setVisible(bool(self.cautions.text()))
        self.offers.show_draft(draft)
        self.refresh()
        if draft is not None and self.hasFocus():
            self.take_focus()

    def refresh(self) -> None:
        """Show what is known, and what is missing."""
        sight = self._session.sight
        found = self.found
        trader, paper = sight.practice.trader, checks.paper_of(sight)
        self.kind.setText(checks.kind_and_reason(sight))
        self.until.label.setText(checks.until_named(paper))
        self.issue.setText(checks.number_comes(paper))
        self.customer.show_party(sight.work.survey.customer, found)
        self.firm.say(trader.name.strip(), ", ".join(trader.address))
        self.firm.complain(_said(found, checks.FIRM))
        self.offers.complain(_said(found, checks.OFFER))
        self.problems.say(found)
        self.by_hand.say(checks.by_hand(sight))
        numbers = sight.job.papers
        self.supersedes.say(numbers[-1] if numbers else "")
        self.supersedes.setVisible(bool(numbers))
        has_price = not any(one.field == checks.WALL for one in found)
        for part in (self._offered_head, self.offers, self.issue):
            part.setVisible(has_price)
        are_theirs = sight.practice.book.confirmed or not has_price
        warning = _("Some rates are illustrations, not yours yet. The paper says so on every page.")
        self.rates.say("" if are_theirs else warning)
        self.to_rates.setVisible(not are_theirs)
        self._allow()

    @property
    def found(self) -> tuple[Problem, ...]:
        """What keeps the paper from going out."""
        return checks.problems(self._session.sight, offers_any=self.offers.offers_any)

    def say(self, text: str, *, is_problem: bool = False) -> None:
        """Say something over the button."""
        self._said = text
        retone(
            self.note, role="text" if is_problem else "second", tone="stop" if is_problem else ""
        )
        self._allow()

    def hold(self, *, is_issuing: bool) -> None:
        """Let nothing be issued twice: the button rests while the file is at it."""
        self._is_issuing = is_issuing
        self._allow()

    def take_focus(self) -> None:
        """Put the keyboard on what comes next: the first problem, or the one button."""
        if self.found:
            self.problems.take_focus()
        elif self.issue.isEnabled():
            self.issue.setFocus(Qt.FocusReason.ShortcutFocusReason)
        else:
            # Handed on to the button once there is something to issue.
            self.setFocus(Qt.FocusReason.OtherFocusReason)

    def lead_to(self, field: str) -> None:
        """Go to where a problem is put right."""
        if field in (checks.NAME, checks.ADDRESS):
            self.customer.open(field)
        elif field == checks.FIRM:
            self._give("settings")
        elif field == checks.OFFER:
            self.offers.take_focus()
        else:
            self.left.emit()

    def _allow(self) -> None:
        filing = self._session.filing
        can_only_look = filing.is_open and not filing.can_write
        is_ready = self._draft is not None or bool(self.found)
        self.issue.setEnabled(filing.can_write and is_ready and not self._is_issuing)
        note = self._said
        if can_only_look:
            note = _("This file can only be looked at here, so nothing can be issued.")
        self.note.setText(note)
        self.note.setVisible(bool(note))

    def _issue(self) -> None:
        """Issue, or go to what stands against it."""
        if self.found:
            self.problems.take_focus()
        elif self._draft is not None:
            self.issue_wanted.emit()

    def _give(self, command: str) -> None:
        """Give one of the window's commands; they hang on the window by name."""
        action = self.window().findChild(QAction, command)
        if action is not None:
            action.trigger()

    def _lay_out(self) -> None:
        inner = Contents()
        inside = QVBoxLayout(inner)
        inside.setContentsMargins(12, 0, 12, 12)
        inside.setSpacing(4)
        self._offered_head.setContentsMargins(0, 8, 0, 0)
        self._cautions_head.setContentsMargins(0, 12, 0, 0)
        for part in (
            self.kind,
            self.problems,
            self.by_hand,
            self.customer,
            self.firm,
            self.date,
            self.until,
            self.supersedes,
            self._offered_head,
            self.offers,
            self.rates,
            self.to_rates,
            self._cautions_head,
            self.cautions,
            self.papers,
        ):
            inside.addWidget(part)
            if part not in (self.problems, self.by_hand, self.rates, self.to_rates, self.papers):
                set_in(part)
        inside.setAlignment(self.to_rates, Qt.AlignmentFlag.AlignLeft)
        inside.addStretch(1)
        inside.insertSpacing(1, 8)
        foot = QVBoxLayout()
        foot.setContentsMargins(12, 0, 12, 0)
        foot.setSpacing(8)
        self.note.setContentsMargins(8, 0, 8, 0)
        foot.addWidget(self.note)
        foot.addWidget(self.issue)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 16, 0, 16)
        layout.setSpacing(12)
        layout.addLayout(heading(_("Check before it goes out"), self.left.emit))
        layout.addWidget(scrolled(inner), 1)
        layout.addLayout(foot)


def _said(found: tuple[Problem, ...], field: str) -> str:
    return next((one.text for one in found if one.field == field), "")
