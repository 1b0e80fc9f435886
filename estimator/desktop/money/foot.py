"""The foot of the money: the one filled button, and why it waits where it must."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money import saying
from estimator.desktop.money.beside import Beside
from estimator.desktop.state import Sight
from estimator.desktop.widgets.buttons import main_button
from estimator.desktop.widgets.words import figures, words


class Foot(QWidget):
    """Writes the estimate or the quotation; where no price may be given, copies the words."""

    paper_wanted = Signal()
    """The paper was asked for."""
    other_wanted = Signal()
    """What stands in for it was asked for."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make the button; ``show_sight`` says what it does."""
        super().__init__(parent)
        self.button = main_button("")
        self.keys = figures(role="second")
        self.reason = words(role="second")
        self._words = ""
        self._stands_in = False
        self._line = Beside(self.button, self.keys, gap=16)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 8, 20, 16)
        layout.setSpacing(4)
        layout.addWidget(self.reason)
        layout.addWidget(self._line)
        self.button.clicked.connect(self._act)

    def stand_in(self, text: str, reason: str = "") -> None:
        """Do something else from now on; ``reason`` says why it cannot be done yet."""
        self._stands_in, self._words = True, ""
        self._say(text, reason, _("Ctrl Enter"))

    def stand_back(self, sight: Sight) -> None:
        """Write the estimate or the quotation again."""
        if self._stands_in:
            self._stands_in = False
            self.show_sight(sight)

    def show_sight(self, sight: Sight) -> None:
        """Say what the next thing to do is."""
        if self._stands_in:
            return
        refused = not sight.assessment.route.allows_price
        self._words = words_to_say(sight) if refused else ""
        if refused:
            text = _("Copy the words")
        elif saying.is_firm(sight):
            text = _("Write the quotation")
        else:
            text = _("Write the estimate")
        reason = "" if refused or sight.options else _("Nothing can be priced yet.")
        self._say(text, reason, "" if refused else _("Ctrl Enter"))

    def _say(self, text: str, reason: str, keys: str) -> None:
        if self.button.text() != text:
            self.button.setText(text)
        if self.reason.text() != reason:
            self.reason.setText(reason)
        self.reason.setVisible(bool(reason))
        self._beside(keys)
        self.button.setEnabled(not reason)
        self.button.setAccessibleDescription(reason)

    def _beside(self, text: str) -> None:
        if text != self.keys.text() or self.keys.isHidden() == bool(text):
            self.keys.setText(text)
            self.keys.setVisible(bool(text))
            layout = self.layout()
            if layout is not None:
                layout.setContentsMargins(12, 8, 20 if text else 12, 16)
            self._line.look_again()

    def _act(self) -> None:
        if self._words:
            QGuiApplication.clipboard().setText(self._words)
            self._beside(_("Copied"))
        elif self._stands_in:
            self.other_wanted.emit()
        else:
            self.paper_wanted.emit()


def words_to_say(sight: Sight) -> str:
    """Return what is said to the caller where no price may be given, one sentence a line."""
    return "\n".join(outcome.words for outcome in sight.assessment.outcomes if outcome.words)
