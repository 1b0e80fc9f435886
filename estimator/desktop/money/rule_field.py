"""One practice rule of this job: its figure, why it is what it is, and the firm's own."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words
from estimator.documents import formats
from estimator.exchange import figures
from estimator.takeoff.rules import RuleInfo

FIELD, UNIT = 76, 56
"""Widths. [px]"""
DECIMALS = "."
"""What begins the decimals of a figure typed in the language of the paper."""


class _Figure(QLineEdit):
    """A field in which one key puts the firm's own figure back."""

    usual_wanted = Signal()
    entered = Signal()

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        super().focusInEvent(event)
        self.entered.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        if event.key() == Qt.Key.Key_U and event.modifiers() == Qt.KeyboardModifier.ControlModifier:
            self.usual_wanted.emit()
        else:
            super().keyPressEvent(event)


class RuleField(QWidget):
    """What is typed is taken at once; what cannot be stays as typed, with a sentence under it."""

    typed = Signal(object)
    """A number was typed, whole or not; whether it will do is for the rules to say."""
    usual_wanted = Signal()
    """The firm's own figure is to hold again."""
    entered = Signal()
    """The keyboard came to the field, so its reason is wanted."""

    def __init__(self, info: RuleInfo, parent: QWidget | None = None) -> None:
        """Make the field of one rule."""
        super().__init__(parent)
        self.info = info
        self._shown: float | None = None
        self._held: float | None = None
        self._is_falling_back = False
        self.field = _Figure()
        self.field.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.field.setAccessibleName(f"{info.label}, {info.unit}" if info.unit else info.label)
        self.message = words(role="second", tone="caution")
        self.reason = words(_reason(info), role="second")
        self.usual = quiet_button("")
        for part in (self.message, self.reason, self.usual):
            part.hide()
        self._lay_out()
        self.refuse("")
        self.field.textEdited.connect(self._take)
        self.field.usual_wanted.connect(self.usual_wanted)
        self.usual.clicked.connect(self.usual_wanted)
        self.field.entered.connect(self._enter)

    def show_value(self, value: float, usual: float) -> None:
        """Show what holds now, and the firm's own where that is another."""
        if self._is_falling_back:
            return
        # What was refused stays as typed, until the rule itself becomes another.
        is_kept = bool(self.message.text()) and value == self._shown
        if not is_kept and self._number(self.field.text()) != value:
            self.field.setText(formats.plain(value))
            self.refuse("")
        self._shown = value
        changed = value != usual
        text = _("Back to our usual {figure}").format(figure=_with_unit(usual, self.info.unit))
        if self.usual.text() != text:
            self.usual.setText(text)
        self.usual.setVisible(changed)

    def refuse(self, sentence: str) -> None:
        """Say why what is typed cannot be taken; nothing where it was."""
        if self._is_falling_back:
            return
        if sentence:
            self._fall_back()
        self.message.setText(sentence)
        self.message.setVisible(bool(sentence))
        self.field.setAccessibleDescription(sentence or self.reason.text())

    def _enter(self) -> None:
        self._held = self._shown
        self.entered.emit()

    def _fall_back(self) -> None:
        """Have what held before the typing hold again: the 9 of a refused 99 is nobody's rule."""
        if self._held is None or self._held == self._shown:
            return
        self._shown, self._is_falling_back = self._held, True
        self.typed.emit(self._held)
        self._is_falling_back = False

    def give_reason(self, *, shown: bool) -> None:
        """Show why the figure is what it is, or put that away."""
        self.reason.setVisible(shown)

    def _take(self, text: str) -> None:
        number = self._number(text)
        if number is None:
            self.refuse(
                _("{rule} needs a number; type {bounds}.").format(
                    rule=self.info.label, bounds=self.info.bounds
                )
            )
        else:
            self.refuse("")
            self.typed.emit(int(number) if number.is_integer() else number)

    def _number(self, text: str) -> float | None:
        number = figures.number(text, DECIMALS)
        return None if isinstance(number, figures.Reading) else float(number)

    def _lay_out(self) -> None:
        line = QHBoxLayout()
        line.setSpacing(8)
        line.addWidget(words(self.info.label), 1)
        line.addWidget(self.field)
        unit = words(self.info.unit, role="second", wrap=False)
        line.addWidget(unit)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(line)
        for part in (self.message, self.reason):
            layout.addWidget(part)
        layout.addWidget(self.usual, 0, Qt.AlignmentFlag.AlignRight)
        self._unit = unit
        LOOK.changed.connect(self._fit)
        self._fit()

    def _fit(self) -> None:
        self.field.setFixedWidth(LOOK.px(FIELD))
        self._unit.setMinimumWidth(LOOK.px(UNIT))


def _reason(info: RuleInfo) -> str:
    gaps = {"source": str(info.source), "bounds": info.bounds, "note": info.note}
    if info.note:
        return _("{note} Source: {source}. It may be {bounds}.").format(**gaps)
    return _("Source: {source}. It may be {bounds}.").format(**gaps)


def _with_unit(value: float, unit: str) -> str:
    return f"{formats.plain(value)} {unit}".rstrip()
