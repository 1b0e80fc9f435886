"""A line of a list that can be taken up, and wraps."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy

from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import figures, words

EDGE, RISE, GAP, CHEVRON = 7, 5, 10, 16
"""Room at the sides, over and under, between words and figure, and for the chevron. [px]"""
POINTS = ((-0.5, -1.0), (0.5, 0.0), (-0.5, 1.0))
"""A chevron to the right, in halves of its height."""


class WrappedLine(QPushButton):
    """A line that can be taken up, with words that wrap where a button's own would be cut off.

    Nothing else tells that bare words can be pressed, so each line ends in a chevron.
    """

    def __init__(self, text: str, figure: str = "", *, said: str = "") -> None:
        """Say something, with a figure at the right where there is one.

        Args:
            text: The words.
            figure: What stands at the right, on one line.
            said: Both as one sentence, for a screen reader.
        """
        super().__init__()
        # Only so does Enter press it.
        self.setAutoDefault(True)
        self.setProperty("role", "row")
        self.setAccessibleName(said or text)
        self._words = words(text)
        self._figure = figures(figure)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(EDGE, RISE, EDGE + CHEVRON, RISE)
        layout.setSpacing(GAP)
        layout.addWidget(self._words, 1)
        layout.addWidget(self._figure, 0, Qt.AlignmentFlag.AlignTop)
        for part in (self._words, self._figure):
            part.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._figure.setVisible(bool(figure))
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def _beside(self) -> int:
        figure = self._figure.sizeHint().width() + GAP if self._figure.text() else 0
        return 2 * EDGE + CHEVRON + figure

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be as large as the words."""
        return self._words.sizeHint() + QSize(self._beside(), 2 * RISE)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be no smaller than the words at their narrowest."""
        return self._words.minimumSizeHint() + QSize(self._beside(), 2 * RISE)

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Be as high as the words are at a width."""
        return self._words.heightForWidth(width - self._beside()) + 2 * RISE

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the line, and the chevron that tells it opens something."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(LOOK.colour("act"), LOOK.scale * 1.5))
        half = LOOK.px(3)
        first = self._words.fontMetrics().height()
        middle = QPointF(self.width() - EDGE - CHEVRON / 2, RISE + first / 2)
        painter.drawPolyline(QPolygonF([middle + QPointF(x * half, y * half) for x, y in POINTS]))
