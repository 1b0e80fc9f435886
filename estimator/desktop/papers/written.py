"""Something written down for a paper: a label, and under it a line or a few."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QTextCursor
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QVBoxLayout, QWidget

from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import words

NOTES_HIGH = 96
"""Room for four lines. [px]"""


class Written(QWidget):
    """A label over what is typed; every key counts."""

    typed = Signal(str)
    """All that stands there now."""
    left = Signal()
    """Enter was pressed in a field of one line, or it lost the keyboard."""

    def __init__(self, label: str, *, most: int, lines: bool = False, hint: str = "") -> None:
        """Make a field of one line or a few.

        Args:
            label: What is written there.
            most: Letters it holds.
            lines: Whether it has room for a few lines.
            hint: Shown while nothing stands there.
        """
        super().__init__()
        self._most = most
        self.label = words(label, role="second")
        self.problem = words(tone="stop")
        self.problem.hide()
        self.editor: QLineEdit | QPlainTextEdit = self._few(hint) if lines else self._one(hint)
        self.editor.setAccessibleName(label)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 6, 0, 6)
        layout.setSpacing(4)
        for part in (self.label, self.editor, self.problem):
            layout.addWidget(part)
        LOOK.changed.connect(self._fit)
        self._fit()

    @property
    def text(self) -> str:
        """What stands there."""
        editor = self.editor
        return editor.text() if isinstance(editor, QLineEdit) else editor.toPlainText()

    def show_text(self, text: str) -> None:
        """Show what is known; the cursor stays where it is if nothing is new."""
        if text == self.text:
            return
        editor = self.editor
        before = editor.blockSignals(True)
        if isinstance(editor, QLineEdit):
            editor.setText(text)
            editor.setCursorPosition(0)
        else:
            editor.setPlainText(text)
        editor.blockSignals(before)

    def complain(self, text: str) -> None:
        """Say why what stands there cannot be used, or nothing."""
        self.problem.setText(text)
        self.problem.setVisible(bool(text))

    def take_focus(self) -> None:
        """Put the cursor here."""
        self.editor.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _one(self, hint: str) -> QLineEdit:
        line = QLineEdit()
        line.setMaxLength(self._most)
        line.setPlaceholderText(hint)
        line.textEdited.connect(self.typed)
        line.editingFinished.connect(self.left)
        return line

    def _few(self, hint: str) -> QPlainTextEdit:
        notes = QPlainTextEdit()
        notes.setTabChangesFocus(True)
        notes.setPlaceholderText(hint)
        notes.textChanged.connect(self._notes_changed)
        return notes

    def _notes_changed(self) -> None:
        """Hold no more than fits into the file, and tell."""
        notes = self.editor
        assert isinstance(notes, QPlainTextEdit)
        if len(notes.toPlainText()) > self._most:
            self.show_text(notes.toPlainText()[: self._most])
            notes.moveCursor(QTextCursor.MoveOperation.End)
        self.typed.emit(notes.toPlainText())

    def _fit(self) -> None:
        if isinstance(self.editor, QPlainTextEdit):
            self.editor.setFixedHeight(LOOK.px(NOTES_HIGH))
