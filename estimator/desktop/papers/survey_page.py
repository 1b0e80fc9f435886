"""The page beside the paper of a survey: what to look at, what can be added, where it goes."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _, counted
from estimator.desktop.papers import checks, survey_checks
from estimator.desktop.papers.column_page import Contents, lay_page, set_in
from estimator.desktop.papers.customer import CustomerRow
from estimator.desktop.papers.problem_box import ProblemBox
from estimator.desktop.papers.rows import Row
from estimator.desktop.papers.survey_notes import SurveyNotes
from estimator.desktop.session import Session
from estimator.desktop.state import Sight
from estimator.desktop.widgets.buttons import button, main_button
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import retone, words


class SurveyPage(QWidget):
    """What the paper is, what it lacks, and the ways it goes on from here."""

    left = Signal()
    """Back to the wall."""
    wall_wanted = Signal(str)
    """A mark, a side, or what of the wall is to be put right."""
    email_wanted = Signal()
    save_wanted = Signal()
    print_wanted = Signal()

    def __init__(self, session: Session) -> None:
        """Follow a session."""
        super().__init__()
        self._session = session
        self._lost: frozenset[str] = frozenset()
        self.kind = words(role="question")
        self.route = CautionBox()
        self.to_look_at = ProblemBox(heading=_things)
        self.customer = CustomerRow(session)
        self.firm = Row(_("By"), change=_("Change your firm"), act=lambda: self._give("settings"))
        self.notes = SurveyNotes(session)
        self.said = words(tone="done")
        self.email = main_button(_("E-mail…"))
        self.save = button(_("Save as PDF…"))
        self.print_ = button(_("Print…"))
        self._lay_out()
        for made, signal in (
            (self.email, self.email_wanted),
            (self.save, self.save_wanted),
            (self.print_, self.print_wanted),
        ):
            made.clicked.connect(lambda _ticked=False, signal=signal: signal.emit())
        self.to_look_at.led_to.connect(self.lead_to)
        self.customer.closed.connect(self.take_focus)
        session.sight_changed.connect(lambda _sight: self.refresh())

    def begin(self) -> None:
        """Show what is known of the open job before its paper is made."""
        self._lost = frozenset()
        self.notes.begin()
        self.customer.close_fields()
        self.say("")
        self.allow(is_ready=False)
        self.refresh()

    def refresh(self) -> None:
        """Show what is written down, and what is not; a page nobody sees waits."""
        if not self.isVisible():
            return
        sight = self._session.sight
        survey, found = sight.work.survey, self.found
        self.kind.setText(survey_checks.kind(survey))
        self.route.say(_route(sight))
        self.to_look_at.say(found)
        self.customer.show_party(survey.customer, ())
        trader = sight.practice.trader
        self.firm.say(trader.name.strip(), ", ".join(trader.address))
        self.notes.show_survey(survey)

    @property
    def found(self) -> tuple[checks.Problem, ...]:
        """What is worth a look."""
        return survey_checks.to_look_at(self._session.sight, lost=self._lost)

    def tell_lost(self, lost: frozenset[str]) -> None:
        """Take in which photographs the file does not have."""
        self._lost = lost
        self.refresh()

    def allow(self, *, is_ready: bool) -> None:
        """Let the paper be sent, once there is one."""
        for way in (self.email, self.save, self.print_):
            way.setEnabled(is_ready)

    def say(self, text: str, *, is_problem: bool = False) -> None:
        """Say what came of sending it."""
        retone(self.said, tone="stop" if is_problem else "done")
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def take_focus(self) -> None:
        """Put the keyboard on what to look at first, or on the way to send it."""
        if self.found:
            self.to_look_at.take_focus()
        elif self.email.isEnabled():
            self.email.setFocus(Qt.FocusReason.ShortcutFocusReason)
        else:
            self.notes.not_seen.take_focus()

    def lead_to(self, field: str) -> None:
        """Go to where something can be added."""
        if field in (checks.NAME, checks.ADDRESS):
            self.customer.open(field)
        elif field == checks.FIRM:
            self._give("settings")
        elif field == survey_checks.NOT_SEEN:
            self.notes.not_seen.take_focus()
        else:
            self.wall_wanted.emit(field)

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
        for part in (self.kind, self.route, self.to_look_at, self.notes, self.customer, self.firm):
            inside.addWidget(part)
            if part not in (self.route, self.to_look_at):
                set_in(part)
        inside.addStretch(1)
        inside.insertSpacing(1, 8)
        self.said.setContentsMargins(8, 0, 8, 0)
        beside = QHBoxLayout()
        beside.setSpacing(8)
        beside.addWidget(self.print_)
        beside.addWidget(self.save)
        under = (self.said, beside, self.email)
        lay_page(self, _("Survey paper"), self.left.emit, inner, *under, apart=8)


def _things(count: int) -> str:
    return counted("One thing to look at", "{n} things to look at", count)


def _route(sight: Sight) -> str:
    """Return what is said of a wall that is not ours to price."""
    if sight.assessment.route.allows_price:
        return ""
    return _("Not ours to price yet: an engineer looks first. The paper says so, without bars.")
