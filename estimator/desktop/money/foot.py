"""The foot of the money: the one filled button, and why it waits where it must."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money import saying
from estimator.desktop.state import Sight
from estimator.desktop.widgets.buttons import main_button
from estimator.desktop.widgets.words import figures, words


class Foot(QWidget):
    """Writes the estimate or the quotation; where no price may be given, copies the words."""

    paper_wanted = Signal()
    """The paper was asked for."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make the button; ``show_sight`` says what it does."""
        super().__init__(parent)
        self.button = main_button("")
        self.keys = figures(role="second")
        self.reason = words(role="second")
        self._words = ""
        line = QHBoxLayout()
        line.setSpacing(16)
        line.addWidget(self.button, 1)
        line.addWidget(self.keys)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 8, 16, 16)
        layout.setSpacing(4)
        layout.addWidget(self.reason)
        layout.addLayout(line)
        self.button.clicked.connect(self._act)

    def show_sight(self, sight: Sight) -> None:
        """Say what the next thing to do is."""
        refused = not sight.assessment.route.allows_price
        self._words = words_to_say(sight) if refused else ""
        if refused:
            text = _("Copy the words")
        elif saying.is_firm(sight):
            text = _("Write the quotation")
        else:
            text = _("Write the estimate")
        reason = "" if refused or sight.options else _("Nothing can be priced yet.")
        if self.button.text() != text:
            self.button.setText(text)
        if self.reason.text() != reason:
            self.reason.setText(reason)
        self.reason.setVisible(bool(reason))
        self.keys.setText("" if refused else _("Ctrl Enter"))
        self.button.setEnabled(not reason)
        self.button.setAccessibleDescription(reason)

    def _act(self) -> None:
        if self._words:
            QGuiApplication.clipboard().setText(self._words)
            self.keys.setText(_("Copied"))
        else:
            self.paper_wanted.emit()


def words_to_say(sight: Sight) -> str:
    """Return what is said to the caller where no price may be given, one sentence a line."""
    return "\n".join(outcome.words for outcome in sight.assessment.outcomes if outcome.words)
