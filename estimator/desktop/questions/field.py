"""The field an answer is typed into; what was understood stands at its right."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import figures

EDGE = 12
LEAST_ROOM = 96
"""Room that is left for typing before an echo goes without its place. [px]"""


class AnswerField(QLineEdit):
    """A line edit with an echo inside; Enter, Esc and the arrows belong to the question."""

    done = Signal()
    left = Signal()
    stepped = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty field."""
        super().__init__(parent)
        self.setProperty("role", "answer")
        self.echo = figures(role="strong", tone="done")
        self.echo.setParent(self)
        self.echo.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        LOOK.changed.connect(self._place)

    def say(self, echo: str) -> None:
        """Show what was understood; ``has_room`` tells whether it is seen here."""
        if echo != self.echo.text():
            self.echo.setText(echo)
            self.setAccessibleDescription(echo)
            self._place()

    @property
    def has_room(self) -> bool:
        """Whether the echo stands in the field whole, with room to type beside it."""
        return self._wanted() <= self.width() - LOOK.px(LEAST_ROOM)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Pass on what moves between questions."""
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.done.emit()
        elif key == Qt.Key.Key_Escape:
            self.left.emit()
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and not event.modifiers():
            self.stepped.emit(1 if key == Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the echo at the right."""
        super().resizeEvent(event)
        self._place()

    def _wanted(self) -> int:
        return QFontMetrics(LOOK.font(strong=True)).horizontalAdvance(self.echo.text())

    def _place(self) -> None:
        is_shown = bool(self.echo.text()) and self.has_room
        width = self._wanted() + LOOK.px(4)
        self.echo.setVisible(is_shown)
        self.echo.setGeometry(self.width() - LOOK.px(EDGE) - width, 0, width, self.height())
        self.setTextMargins(0, 0, width + LOOK.px(8) if is_shown else 0, 0)
