"""A caution: words in a box with a shape, so that it is told without colour too."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.theme.icons import pixmap
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import retone, words


class CautionBox(QFrame):
    """A warning sign beside a heading and sentences; ``stop`` is louder than ``caution``."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty box; ``say`` fills it."""
        super().__init__(parent)
        self._sign = words(wrap=False)
        self._sign.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._heading = words(role="strong")
        self._text = words()
        beside = QVBoxLayout()
        beside.setSpacing(4)
        beside.addWidget(self._heading)
        beside.addWidget(self._text)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 12, 12, 12)
        row.setSpacing(12)
        row.addWidget(self._sign)
        row.addLayout(beside, 1)
        self._tone = "caution"
        self._shown: tuple[str, str, bool] | None = None
        LOOK.changed.connect(self._draw)

    def say(self, text: str, *, heading: str = "", stop: bool = False) -> None:
        """Say something, or hide when there is nothing to say."""
        said = (text, heading, stop)
        if said == self._shown:
            return
        self._shown = said
        self._tone = "stop" if stop else "caution"
        retone(self, role=self._tone)
        for label, words_said in ((self._heading, heading), (self._text, text)):
            retone(label, tone=self._tone)
            label.setText(words_said)
            label.setVisible(bool(words_said))
        self.setAccessibleName(f"{heading} {text}".strip())
        self.setVisible(bool(text or heading))
        self._draw()

    def _draw(self) -> None:
        name = "stop" if self._tone == "stop" else "caution"
        self._sign.setPixmap(pixmap(name, LOOK.px(24), self._tone))
