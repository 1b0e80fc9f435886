"""What the page is made of: sections with their heading at the left, and fields that keep."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import escaped
from estimator.desktop.widgets.words import hairline, words

REST_MS = 500
"""Rest after which what was typed is read and kept. [ms]"""
HEADING = 180
LABEL = 150
"""Widths of the headings and of the labels beside fields. [px]"""
NOTES_HIGH = 84


class Section(QWidget):
    """A heading at the left and what belongs to it at the right; above it where room is short."""

    def __init__(self, title: str, about: str = "") -> None:
        """Name the section and say what it is for."""
        super().__init__()
        self.title = title
        self._heading = words(title, role="title")
        self._line = hairline()
        self.body = QVBoxLayout()
        self.body.setSpacing(12)
        if about:
            self.body.addWidget(words(about, role="second"))
        self._inside = QWidget()
        self._inside.setLayout(self.body)
        self.body.setContentsMargins(0, 0, 0, 0)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(24)
        self._grid.setVerticalSpacing(16)
        self._grid.addWidget(self._line, 0, 0, 1, 2)
        self.fit(narrow=False)

    def fit(self, *, narrow: bool) -> None:
        """Put the heading at the left or, where there is little room, above."""
        at = Qt.AlignmentFlag.AlignTop
        self._heading.setFixedWidth(LOOK.px(HEADING) if not narrow else LOOK.px(420))
        self._grid.addWidget(self._heading, 1, 0, 1, 2 if narrow else 1, at)
        row, column, span = (2, 0, 2) if narrow else (1, 1, 1)
        self._grid.addWidget(self._inside, row, column, 1, span)
        self._grid.setColumnStretch(1, 1)

    def add(self, *parts: QWidget) -> None:
        """Put parts under one another."""
        for part in parts:
            self.body.addWidget(part)


class Line(QLineEdit):
    """One line that says when the cursor came."""

    entered = Signal()

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Tell that the cursor is here."""
        super().focusInEvent(event)
        self.entered.emit()


class Notes(QPlainTextEdit):
    """A few lines that say when the cursor came and went; Tab leaves them."""

    entered = Signal()
    left = Signal()

    def __init__(self) -> None:
        """Make room for three lines."""
        super().__init__()
        self.setTabChangesFocus(True)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Tell that the cursor is here."""
        super().focusInEvent(event)
        self.entered.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Tell that the cursor is gone."""
        super().focusOutEvent(event)
        self.left.emit()


class Field(QWidget):
    """A label, what is typed beside it, and under it why that cannot be used, if it cannot."""

    settled = Signal()
    """What was typed is to be read: somebody rested, or left."""
    left_empty = Signal()
    """Somebody emptied it and left."""
    entered = Signal()

    def __init__(self, label: str, *, lines: bool = False, most: int = 200, hint: str = "") -> None:
        """Make a field of one line or a few."""
        super().__init__()
        self.label, self.hint = label, hint
        self._shown = ""
        self._is_typed = False
        self.editor: Line | Notes = Notes() if lines else Line()
        self.editor.setAccessibleName(label)
        self._label = words(label, wrap=True)
        self.mistake = words(tone="stop")
        self.mistake.hide()
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self.settled)
        LOOK.changed.connect(self.fit)
        self._hear(self.editor, most)
        self._lay_out(lines=lines)
        self.fit()

    def fit(self) -> None:
        """Take the room of the size in use."""
        self._label.setFixedWidth(LOOK.px(LABEL))
        if isinstance(self.editor, Notes):
            self.editor.setFixedHeight(LOOK.px(NOTES_HIGH))

    def text(self) -> str:
        """Return what stands there."""
        editor = self.editor
        return editor.text() if isinstance(editor, Line) else editor.toPlainText()

    def show_text(self, text: str) -> None:
        """Show what is kept, unless something else was typed that is not."""
        if not self._is_typed and text != self.text():
            self.put(text)

    def put(self, text: str) -> None:
        """Show a text whatever stands there."""
        self._rest.stop()
        if isinstance(self.editor, Line):
            self.editor.setText(text)
        else:
            self.editor.setPlainText(text)
        self._is_typed = False
        self.refuse("")

    def was_kept(self) -> None:
        """Note that what stands there is kept."""
        self._is_typed = self._rest.isActive()
        self.refuse("")

    def refuse(self, why: str) -> None:
        """Say why it cannot be used, or nothing; what was typed stays."""
        self.mistake.setText(why)
        self.mistake.setVisible(bool(why))
        self.editor.setAccessibleDescription(why)

    def lock(self, *, locked: bool) -> None:
        """Let it be read only."""
        self.editor.setReadOnly(locked)

    def leave(self) -> None:
        """Have what was typed read now."""
        if self._is_typed:
            self._rest.stop()
            self.settled.emit()
            if not self.text().strip():
                self.left_empty.emit()

    def _hear(self, editor: Line | Notes, most: int) -> None:
        editor.entered.connect(self.entered)
        if isinstance(editor, Line):
            editor.setMaxLength(most)
            editor.textEdited.connect(self._typed)
            editor.editingFinished.connect(self.leave)
        else:
            editor.textChanged.connect(self._typed)
            editor.left.connect(self.leave)

    def _lay_out(self, *, lines: bool) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(4)
        side = Qt.AlignmentFlag.AlignTop if lines else Qt.AlignmentFlag.AlignVCenter
        grid.addWidget(self._label, 0, 0, side)
        grid.addWidget(self.editor, 0, 1)
        grid.addWidget(self.mistake, 1, 1)
        grid.setColumnStretch(1, 1)

    def _typed(self) -> None:
        # Only a person's typing counts: what the page puts in has no cursor in it.
        if self.editor.hasFocus():
            self._is_typed = True
            self._rest.start()


class Choices(QWidget):
    """A few choices beside one another; exactly one holds, and the arrows walk them."""

    chosen = Signal(str)

    def __init__(self, called: str, choices: dict[str, str]) -> None:
        """Name what is chosen, and each choice by its key."""
        super().__init__()
        self.buttons: dict[str, QPushButton] = {}
        self._group = QButtonGroup(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for key, text in choices.items():
            made = QPushButton(escaped(text))
            made.setCheckable(True)
            made.setAutoDefault(True)
            made.setProperty("role", "choice")
            made.setAccessibleName(f"{called}: {text}")
            made.clicked.connect(lambda _ticked=False, key=key: self.chosen.emit(key))
            self._group.addButton(made)
            self.buttons[key] = made
            row.addWidget(made)
        row.addStretch(1)

    def show_choice(self, key: str) -> None:
        """Show which one holds."""
        if key in self.buttons:
            self.buttons[key].setChecked(True)

    @property
    def choice(self) -> str:
        """The key of the one that holds, or nothing."""
        return next((key for key, one in self.buttons.items() if one.isChecked()), "")


class Fact(QWidget):
    """Something with its label at the left, as fields have theirs."""

    def __init__(self, label: str, part: QWidget) -> None:
        """Put both beside one another."""
        super().__init__()
        self._label = words(label)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(16)
        row.addWidget(self._label)
        row.addWidget(part, 1)
        LOOK.changed.connect(self.fit)
        self.fit()

    def fit(self) -> None:
        """Take the room of the size in use."""
        self._label.setFixedWidth(LOOK.px(LABEL))


class InTurn(QObject):
    """Does things one after another and lets the window breathe between them."""

    done = Signal()

    def __init__(self, steps: Iterable[Callable[[], object]], parent: QObject) -> None:
        """Begin with the next turn of the window."""
        super().__init__(parent)
        self._steps = iter(steps)
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._step)
        self._timer.start(0)

    def _step(self) -> None:
        step = next(self._steps, None)
        if step is not None:
            step()
            return
        self._timer.stop()
        self.done.emit()
        self.deleteLater()
