"""What was noted so far, a row each; one that was a slip can be taken back."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.language import _, counted, in_full
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words
from estimator.desktop.works.rows import Rows
from estimator.desktop.works.state import Noted


class NotedRow(QWidget):
    """What was noted, and a way to take it back."""

    back = Signal()
    """It was a slip."""

    def __init__(self) -> None:
        """Say nothing yet."""
        super().__init__()
        self.text = words(role="second")
        self.take_back = quiet_button(_("Take back"))
        self.take_back.clicked.connect(self._back)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        layout.addWidget(self.text, 1)
        layout.addWidget(self.take_back, 0, Qt.AlignmentFlag.AlignTop)

    def say(self, text: str) -> None:
        """Say what was noted."""
        self.text.setText(text)
        self.take_back.setAccessibleName(_("Take back: {what}").format(what=text))

    def _back(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.back.emit()


class NotedRows(QWidget):
    """Rows of what was noted; which one was a slip is told by its name in the file."""

    slip = Signal(str)

    def __init__(self) -> None:
        """Begin without rows."""
        super().__init__()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        self._list: Rows[NotedRow, str] = Rows(layout, self._made, NotedRow.say, self)

    @property
    def rows(self) -> dict[str, NotedRow]:
        """Every row, by what its note is called in the file."""
        return self._list.all()

    @property
    def text(self) -> str:
        """All that is said, a line each."""
        return "\n".join(row.text.text() for row in self.rows.values())

    def show_said(self, said: dict[str, str]) -> None:
        """Show what was noted, each by what the file calls it."""
        self._list.show(said)

    def allow(self, *, can_write: bool) -> None:
        """Let slips be taken back where the file may be written."""
        self.setEnabled(can_write)

    def _made(self, uid: str) -> NotedRow:
        row = NotedRow()
        row.back.connect(partial(self.slip.emit, uid))
        return row


def line(one: Noted) -> str:
    """Return what was noted at a place in one line."""
    built = one.built
    parts = [agreed_wording.day(built.on)]
    if built.batch:
        parts.append(_("batch {number}").format(number=built.batch))
    if one.shallow_mm:
        parts.append(_("{n} mm less deep than planned").format(n=one.shallow_mm))
    if built.deviation:
        parts.append(in_full(built.deviation))
    if built.photos:
        parts.append(counted("{n} photograph", "{n} photographs", len(built.photos)))
    if one.not_signed:
        parts.append(counted("{n} point not signed", "{n} points not signed", one.not_signed))
    return _("{place}: {what}").format(place=one.words, what=", ".join(parts))
