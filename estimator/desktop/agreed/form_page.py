"""A page of the left column with a form: a head, fields that scroll, one button under them."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.agreed.following import Act, Following
from estimator.desktop.language import in_full
from estimator.desktop.papers.column_page import Contents, lay_page
from estimator.desktop.widgets.buttons import main_button
from estimator.desktop.widgets.words import retone, words
from estimator.notices import UserMistake


class FormPage(QWidget):
    """What all forms of an agreed job have in common."""

    left = Signal()
    """Back to the job."""

    def __init__(self, following: Following, title: str, act: str) -> None:
        """Begin without fields; ``add`` puts them in.

        Args:
            following: What the job has come to.
            title: What the page is.
            act: What its one filled button says.
        """
        super().__init__()
        self.following = following
        self.fields: list[QWidget] = []
        self.said = words(role="second")
        self.take = main_button(act)
        self.take.clicked.connect(self._taken)
        self.inside = QVBoxLayout()
        self.inside.setContentsMargins(20, 0, 20, 12)
        self.inside.setSpacing(2)
        inner = Contents()
        inner.setLayout(self.inside)
        self.said.setIndent(8)
        self.foot = lay_page(self, title, self.left.emit, inner, self.said, self.take)
        self.say("")

    def add(self, *parts: QWidget) -> None:
        """Put parts into the form, one under the other."""
        for part in parts:
            self.inside.addWidget(part)

    def say(self, text: str, *, tone: str = "") -> None:
        """Say something over the button, or nothing; ``stop`` for what could not be done."""
        retone(self.said, tone=tone)
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def refused(self, mistake: UserMistake) -> None:
        """Say what could not be done; what was typed stays."""
        self.say(in_full(mistake), tone="stop")

    def do(self, act: Act, then: Callable[[object], object]) -> None:
        """Have something noted; a mistake is said over the button."""
        self.say("")
        self.following.do(act, then, on_mistake=self.refused)

    def keep(self) -> None:
        """Note what stands in the form; each page its own."""
        raise NotImplementedError

    def allow(self) -> None:
        """Let the button be pressed where the file may be written."""
        self.take.setEnabled(self.following.session.filing.can_write)

    def take_focus(self) -> None:
        """Put the keyboard on the button; pages with fields put it on the first."""
        self.take.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _taken(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.keep()
