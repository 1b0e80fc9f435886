"""The choices of a question, each with the digit that takes it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from estimator.desktop.questions.line import wrapping
from estimator.desktop.theme.look import LOOK

GAP = 4
PAD = 8
ROW = 30
TALL = 44
DIGIT = 20
SECOND = 13
MOST_ABREAST = 5
MOST_PAIRED = 6
TICK = 12
BESIDE = PAD + DIGIT + 4 + TICK + PAD
"""What a button needs beside its label. [px]"""


class ChoiceButton(QAbstractButton):
    """One choice. Keys it has no use for go on to the question."""

    def __init__(self, parent: QWidget) -> None:
        """Make a button with no words yet."""
        super().__init__(parent)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.digit = ""
        self.is_tall = False
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    def say(self, digit: str, label: str) -> None:
        """Show a digit and a choice."""
        self.digit = digit
        self.setText(label)
        self.setAccessibleName(f"{digit} {label}")

    def hasHeightForWidth(self) -> bool:  # noqa: N802 - Qt's name
        """Return that it grows as its words break."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Return how high it is when so wide [px]."""
        if self.is_tall:
            return LOOK.px(TALL)
        metrics = QFontMetrics(LOOK.font(SECOND, strong=True))
        room = max(width - LOOK.px(BESIDE), 1)
        flags = wrapping(metrics, self.text(), room)
        needed = metrics.boundingRect(QRect(0, 0, room, 10_000), flags, self.text()).height()
        return max(LOOK.px(ROW), needed + LOOK.px(8))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take the space bar; the question knows what other keys mean."""
        if event.key() == Qt.Key.Key_Space:
            super().keyPressEvent(event)
        else:
            event.ignore()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the button: heavier and with a tick where it is taken."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = self.rect().adjusted(1, 1, -1, -1)
        is_near = self.hasFocus() or self.underMouse()
        marked = self.isChecked() or self.hasFocus()
        pen = QPen(LOOK.colour("act"), 2 if marked else 1)
        painter.setPen(pen if marked or is_near else Qt.PenStyle.NoPen)
        painter.setBrush(LOOK.colour("act_tint"))
        painter.drawRoundedRect(box, 6, 6)
        digit, label = self._places()
        middle = int(Qt.AlignmentFlag.AlignCenter)
        aside = middle if self.is_tall else int(Qt.AlignmentFlag.AlignVCenter)
        painter.setFont(LOOK.font(SECOND, strong=True))
        painter.setPen(LOOK.colour("act"))
        painter.drawText(digit, middle, self.digit)
        painter.setFont(LOOK.font(SECOND, strong=self.isChecked()))
        painter.setPen(LOOK.colour("ink"))
        flags = wrapping(painter.fontMetrics(), self.text(), label.width())
        painter.drawText(label, flags | aside, self.text())
        if self.isChecked():
            self._paint_tick(painter)

    def _paint_tick(self, painter: QPainter) -> None:
        size = LOOK.px(TICK)
        right = self.width() - LOOK.px(PAD)
        top = LOOK.px(6) if self.is_tall else (self.height() - size) // 2
        painter.setPen(QPen(LOOK.colour("act"), LOOK.px(2)))
        painter.drawLine(right - size, top + size // 2, right - size * 2 // 3, top + size * 5 // 6)
        painter.drawLine(right - size * 2 // 3, top + size * 5 // 6, right, top + size // 6)

    def _places(self) -> tuple[QRect, QRect]:
        box = self.rect()
        if self.is_tall:
            half = box.height() // 2
            return (
                QRect(0, LOOK.px(3), box.width(), half - LOOK.px(3)),
                QRect(0, half - LOOK.px(2), box.width(), half - LOOK.px(2)),
            )
        digit = LOOK.px(PAD + DIGIT)
        tick = LOOK.px(TICK + PAD)
        return QRect(0, 0, digit, box.height()), box.adjusted(digit, 0, -tick - LOOK.px(4), 0)


class Choices(QWidget):
    """Choices side by side where they are short, else one under another."""

    taken = Signal(int)
    """Place of the choice that was pressed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make room for none yet."""
        super().__init__(parent)
        self._made: list[ChoiceButton] = []
        self.buttons: list[ChoiceButton] = []
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        LOOK.changed.connect(self._arrange)

    def offer(self, choices: Sequence[tuple[str, str]]) -> None:
        """Show choices, each with its digit; buttons made before are used again."""
        while len(self._made) < len(choices):
            made = ChoiceButton(self)
            place = len(self._made)
            made.clicked.connect(lambda _on=False, place=place: self.taken.emit(place))
            self._made.append(made)
        for place, button in enumerate(self._made):
            button.setVisible(place < len(choices))
            if place < len(choices):
                button.say(*choices[place])
        self.buttons = self._made[: len(choices)]
        self._arrange()

    def mark(self, places: Sequence[int]) -> None:
        """Show which choices are taken."""
        for place, button in enumerate(self.buttons):
            button.setChecked(place in places)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Lay out anew in another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._arrange()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the width it has and the height it takes."""
        return QSize(LOOK.px(240), self.minimumHeight())

    def _arrange(self) -> None:
        count, gap = len(self.buttons), LOOK.px(GAP)
        if not count or not self.width():
            return
        metrics = QFontMetrics(LOOK.font(SECOND, strong=True))
        widest = max(metrics.horizontalAdvance(one.text()) for one in self.buttons)
        abreast, is_tall = self._abreast(widest)
        top = 0
        width = (self.width() - gap * (abreast - 1)) // abreast
        for place, button in enumerate(self.buttons):
            button.is_tall = is_tall
            height = button.heightForWidth(width)
            column = place % abreast
            button.setGeometry(column * (width + gap), top, width, height)
            button.update()
            if column == abreast - 1 or place == count - 1:
                top += height + gap
        self.setFixedHeight(top - gap)
        self.updateGeometry()

    def _abreast(self, widest: int) -> tuple[int, bool]:
        """Return how many stand side by side, each label on one line, and whether in tall form."""
        count, gap = len(self.buttons), LOOK.px(GAP)
        room = (self.width() - gap * (count - 1)) // count - LOOK.px(PAD)
        if count <= MOST_ABREAST and widest <= room:
            return count, True
        room = (self.width() - gap) // 2 - LOOK.px(BESIDE)
        return (2, False) if count <= MOST_PAIRED and widest <= room else (1, False)
