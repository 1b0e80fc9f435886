"""One block of the job: a heading, a headline figure, a few quiet lines, the next thing to do."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.money.beside import Beside
from estimator.desktop.papers.wrapped_line import EDGE
from estimator.desktop.widgets.buttons import button
from estimator.desktop.widgets.ways import Ways
from estimator.desktop.widgets.words import figures, retone, words


class Section(QFrame):
    """A calm block; what belongs to it alone goes into ``body``."""

    wanted = Signal()
    """The next thing to do was asked for."""

    def __init__(self, title: str) -> None:
        """Say nothing yet."""
        super().__init__()
        self.setProperty("role", "card")
        self.title = words(title, role="title", wrap=False)
        self.state = figures(role="second")
        self.headline = words(role="question")
        self.lines = words(role="second")
        self.caution = words(role="second", tone="caution")
        self.act = button("")
        self.act.clicked.connect(self._act)
        self.body = QVBoxLayout()
        self.body.setSpacing(2)
        self._head = Beside(self.title, self.state)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(15 - EDGE, 11, 15 - EDGE, 13)
        layout.setSpacing(4)
        self._foot = Ways(self.act, is_spread=False)
        for part in (self._head, self.headline, self.lines, self.caution, self._foot):
            _inset(part)
        for part in (self._head, self.headline, self.lines, self.caution):
            layout.addWidget(part)
        layout.addLayout(self.body)
        layout.addSpacing(4)
        layout.addWidget(self._foot)
        self.say("")

    def say(
        self,
        headline: str,
        lines: str = "",
        *,
        state: str = "",
        caution: str = "",
        act: str = "",
        tone: str = "",
    ) -> None:
        """Say how it stands.

        Args:
            headline: The figure or the sentence that matters.
            lines: What is worth knowing beside it, a sentence a line.
            state: A word at the right of the heading.
            caution: What must not be overlooked.
            act: What the button says; none without.
            tone: Of the word at the right.
        """
        retone(self.state, tone=tone)
        for label, text in (
            (self.state, state),
            (self.headline, headline),
            (self.lines, lines),
            (self.caution, caution),
        ):
            if label.text() != text:
                label.setText(text)
            label.setVisible(bool(text))
        self.act.setText(act)
        self.act.setVisible(bool(act))
        self._head.look_again()
        self._foot.look_again()

    def add(self, part: QWidget) -> None:
        """Put something into the block, over its button."""
        _inset(part)
        self.body.addWidget(part)

    def add_row(self, part: QWidget) -> None:
        """Put a row that can be pressed into the block, whose words keep their own distance."""
        self.body.addWidget(part)

    def beside(self, part: QWidget) -> None:
        """Put something at the right of the button."""
        self._foot.add(part)

    def take_focus(self) -> None:
        """Put the keyboard on the next thing to do."""
        if not self.act.isHidden():
            self.act.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _act(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.wanted.emit()


def _inset(part: QWidget) -> None:
    """Have words stand in line with those of the rows that can be pressed."""
    part.setContentsMargins(EDGE, 0, EDGE, 0)
