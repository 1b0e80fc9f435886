"""A short field for one number of a point."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QLineEdit

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.particulars.typed import Typed

REST_MS = 450
"""Rest after which what was typed counts. [ms]"""


class NumberLine(QLineEdit):
    """Reads a number while it is typed; what cannot be used stays as it was typed."""

    given = Signal()
    """Another number was typed, or the field was emptied."""
    misread = Signal(str)
    """Why what was typed is no number; empty when that is over."""

    def __init__(self, read: Callable[[str], Typed], *, wide: int) -> None:
        """Be empty."""
        super().__init__()
        self._read, self._wide = read, wide
        self._written = ""
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(REST_MS)
        self._soon.timeout.connect(self.settle)
        self.textEdited.connect(self._typed)
        self.returnPressed.connect(self.settle)
        self._fit()
        LOOK.changed.connect(self._fit)

    @property
    def amount(self) -> float | None:
        """The number that stands here, None for none."""
        return self._read(self.text()).amount if self.text().strip() else None

    def write(self, text: str) -> None:
        """Show another number, unless somebody is typing one."""
        if text == self._written and (self.hasFocus() or text == self.text()):
            return
        if self._soon.isActive():
            return
        self._written = text
        self.setText(text)

    def settle(self) -> None:
        """Let what was typed count now."""
        self._soon.stop()
        text = self.text()
        if text == self._written:
            return
        found = self._read(text) if text.strip() else Typed()
        self.misread.emit(found.why)
        if not found.why:
            self._written = text
            self.given.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Let what was typed count."""
        super().focusOutEvent(event)
        self.settle()

    def _typed(self, _text: str) -> None:
        self._soon.start()

    def _fit(self) -> None:
        self.setFixedWidth(LOOK.px(self._wide))
