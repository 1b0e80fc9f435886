"""What keeps a paper from going out, at the top; every line leads to its field."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from estimator.desktop.language import counted
from estimator.desktop.papers.checks import Problem
from estimator.desktop.widgets.words import words


class ProblemBox(QFrame):
    """A heading and a line to each problem; hidden while there is none."""

    led_to = Signal(str)
    """The field of the line that was taken up."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Say nothing yet."""
        super().__init__(parent)
        self.setProperty("role", "caution")
        self._heading = words(role="strong", tone="caution")
        # Level with the words of the lines under it, which stand in from their edge.
        self._heading.setContentsMargins(7, 0, 0, 2)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(8, 8, 8, 8)
        self._layout.setSpacing(0)
        self._layout.addWidget(self._heading)
        self.lines: list[QPushButton] = []
        self._said: tuple[Problem, ...] = ()
        self.hide()

    def say(self, problems: tuple[Problem, ...]) -> None:
        """List the problems; lines that stay the same stay where they are, with their focus."""
        if problems == self._said:
            return
        self._said = problems
        for line in self.lines:
            self._layout.removeWidget(line)
            line.hide()
            line.deleteLater()
        self._heading.setText(
            counted("There is a problem", "There are {n} problems", len(problems))
        )
        self.lines = [self._line(one) for one in problems]
        self.setVisible(bool(problems))

    def take_focus(self) -> None:
        """Put the keyboard on the first line."""
        if self.lines:
            self.lines[0].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _line(self, problem: Problem) -> QPushButton:
        line = WrappedLine(problem.text)
        line.clicked.connect(lambda _ticked=False: self.led_to.emit(problem.field))
        self._layout.addWidget(line)
        return line


class WrappedLine(QPushButton):
    """A line that can be taken up, with words that wrap where a button's own would be cut off."""

    def __init__(self, text: str) -> None:
        """Say something."""
        super().__init__()
        self.setAutoDefault(False)
        self.setProperty("role", "row")
        self.setAccessibleName(text)
        self._words = words(text)
        self._words.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(7, 5, 7, 5)
        layout.addWidget(self._words)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be as large as the words."""
        return self._words.sizeHint() + QSize(14, 10)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be no smaller than the words at their narrowest."""
        return self._words.minimumSizeHint() + QSize(14, 10)

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Be as high as the words are at a width."""
        return self._words.heightForWidth(width - 14) + 10
