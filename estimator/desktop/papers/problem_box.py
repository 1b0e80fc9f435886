"""What keeps a paper from going out, or is worth a look; every line leads to its field."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import counted
from estimator.desktop.papers.checks import Problem
from estimator.desktop.papers.wrapped_line import WrappedLine
from estimator.desktop.widgets.words import words


class ProblemBox(QFrame):
    """A heading and a line to each problem; hidden while there is none."""

    led_to = Signal(str)
    """The field of the line that was taken up."""

    def __init__(
        self, parent: QWidget | None = None, *, heading: Callable[[int], str] | None = None
    ) -> None:
        """Say nothing yet; ``heading`` says how many there are, otherwise than as problems."""
        super().__init__(parent)
        self._headed = heading or _problems
        self.setProperty("role", "caution")
        self._heading = words(role="strong", tone="caution")
        # Level with the words of the lines under it, which stand in from their edge.
        self._heading.setContentsMargins(7, 0, 0, 2)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(8, 8, 8, 8)
        self._layout.setSpacing(0)
        self._layout.addWidget(self._heading)
        self.lines: list[WrappedLine] = []
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
        self._heading.setText(self._headed(len(problems)))
        self.lines = [self._line(one) for one in problems]
        self.setVisible(bool(problems))

    def take_focus(self) -> None:
        """Put the keyboard on the first line."""
        if self.lines:
            self.lines[0].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _line(self, problem: Problem) -> WrappedLine:
        line = WrappedLine(problem.text)
        line.clicked.connect(lambda _ticked=False: self.led_to.emit(problem.field))
        self._layout.addWidget(line)
        return line


def _problems(count: int) -> str:
    return counted("There is a problem", "There are {n} problems", count)
