"""The left column while the paper of a survey lies in the middle.

The paper is a record, made anew from the survey as it stands: it gets no number, is not kept as an
issued paper and moves no stage, since nothing is offered on it and nobody may hold anybody to it.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers import letters
from estimator.desktop.papers.heading import on_escape
from estimator.desktop.papers.letters import Enclosed
from estimator.desktop.papers.preview import PreviewColumn
from estimator.desktop.papers.recording import Recording
from estimator.desktop.papers.sending import Sending
from estimator.desktop.papers.survey_page import SurveyPage
from estimator.desktop.session import Session
from estimator.documents.wording import capital
from estimator.notices import UserMistake


class SurveyColumn(QFrame):
    """What is beside the paper of a survey."""

    left = Signal()
    """Back to the wall."""
    wall_wanted = Signal(str)
    """A mark, a side, or what of the wall is to be put right."""

    def __init__(
        self,
        session: Session,
        preview: PreviewColumn,
        option: Callable[[], int],
        parent: QWidget | None = None,
    ) -> None:
        """Follow a session, and show its survey in a preview, the work of an option on it."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session, self._preview = session, preview
        self.recording = Recording(session, option, self)
        self.sending = Sending(session.filing, self)
        self.page = SurveyPage(session)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.page)
        self.page.left.connect(self.left)
        self.page.wall_wanted.connect(self.wall_wanted)
        self.page.email_wanted.connect(self.email)
        self.page.print_wanted.connect(self.print_paper)
        self.page.save_wanted.connect(self.save)
        self.recording.begun.connect(self._begun)
        self.recording.done.connect(self._made)
        self.recording.missed.connect(self._missed)
        self.sending.said.connect(self.page.say)
        self.sending.mistaken.connect(self._not_sent)
        on_escape(self, self._escape)

    def begin(self) -> None:
        """Make the paper anew."""
        self.page.begin()
        self.recording.follow()
        self.page.take_focus()

    def show_option(self, _option: int) -> None:
        """Draw the work of another option."""
        self.recording.look()

    def take_focus(self) -> None:
        """Put the keyboard on what comes next."""
        self.page.take_focus()

    def email(self) -> None:
        """Put the paper into a message; who it goes to is written there."""
        self._send(lambda enclosed: self.sending.email(enclosed, ""))

    def print_paper(self) -> None:
        """Print the paper."""
        self._send(self.sending.print_paper)

    def save(self) -> None:
        """Save the paper where the person chooses."""
        self._send(self.sending.save)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Make no papers that nobody looks at."""
        super().hideEvent(event)
        self.recording.forget()

    def _send(self, act: Callable[[Enclosed], object]) -> None:
        """Do something with the paper; there is none while it is being made."""
        pdf, sight = self.recording.pdf, self._session.sight
        if pdf is not None:
            act(letters.of_survey(sight.work.survey, sight.practice.trader, pdf))

    def _begun(self) -> None:
        self.page.allow(is_ready=False)
        self._preview.await_paper()

    def _made(self, pdf: bytes) -> None:
        self.page.allow(is_ready=True)
        self.page.tell_lost(self.recording.lost)
        self._preview.show_paper(pdf, _("Bears no price"))

    def _missed(self, why: str) -> None:
        self._preview.show_nothing(capital(why))

    def _not_sent(self, mistake: UserMistake) -> None:
        self.page.say(capital(str(mistake)), is_problem=True)

    def _escape(self) -> None:
        if self.page.customer.is_open:
            self.page.customer.close_fields()
        else:
            self.left.emit()
