"""One line of the column: a label, its words, and a remark at the right; it breaks where it must.

Painted by hand: thirty of them are looked through at every key, and labels in layouts are slow.
"""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from estimator.desktop.theme.look import LOOK

LEAST = 28
LABEL = 104
"""Width of the labels; at more than half of a line they stand above their words. [px]"""
EDGE = 8
GAP = 8
MARK = 9
SECOND = 13
TALL = 10_000


class Line(QAbstractButton):
    """A line that can be taken up by a click, Enter, Space or an arrow to the right."""

    stepped = Signal(int)
    """Up (-1) or down (1) was pressed."""
    struck = Signal()
    """Delete was pressed."""

    def __init__(self, *, has_mark: bool = False, parent: QWidget | None = None) -> None:
        """Make an empty line, with a small ring before it for what is still open."""
        super().__init__(parent)
        self.has_mark = has_mark
        self.label = self.words = self.remark = ""
        self.is_quiet = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        LOOK.changed.connect(self._redress)

    def say(self, words: str, *, label: str = "", remark: str = "", quiet: bool = False) -> None:
        """Show words; nothing is drawn anew where nothing changed."""
        shown = (self.label, self.words, self.remark, self.is_quiet)
        if shown == (label, words, remark, quiet):
            return
        self.label, self.words, self.remark, self.is_quiet = label, words, remark, quiet
        self.setAccessibleName(", ".join(part for part in (label, words, remark) if part))
        self._redress()

    def be_shown(self, *, shown: bool) -> None:
        """Show or hide it, where it is not so already."""
        if self.isHidden() is shown:
            self.setVisible(shown)

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Return how high the line is when so wide [px]."""
        label, words, _remark = self._places(width)
        return max(label.bottom(), words.bottom()) + 1 + self._above(words.height())

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the size in the width it has."""
        return QSize(self.width(), self.height())

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the least size."""
        return QSize(0, self.height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Take another height in another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.setFixedHeight(self.heightForWidth(self.width()))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Move, open or strike out."""
        key = event.key()
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(1 if key == Qt.Key.Key_Down else -1)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Right):
            self.click()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.struck.emit()
        elif key == Qt.Key.Key_Space:
            super().keyPressEvent(event)
        else:
            event.ignore()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the line."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_ground(painter)
        label, words, remark = self._places(self.width())
        if self.has_mark:
            self._paint_mark(painter, words)
        for font, box, text, token in (
            (SECOND, label, self.label, "muted"),
            (14, words, self.words, "muted" if self.is_quiet else "ink"),
        ):
            painter.setFont(LOOK.font(font))
            painter.setPen(LOOK.colour(token))
            painter.drawText(box, wrapping(painter.fontMetrics(), text, box.width()), text)
        painter.setFont(LOOK.font(SECOND))
        painter.setPen(LOOK.colour("muted"))
        painter.drawText(remark, int(Qt.AlignmentFlag.AlignRight), self.remark)

    def _paint_ground(self, painter: QPainter) -> None:
        box = self.rect().adjusted(1, 1, -1, -1)
        if self.underMouse():
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(LOOK.colour("act_tint"))
            painter.drawRoundedRect(box, 6, 6)
        if self.hasFocus():
            painter.setPen(QPen(LOOK.colour("act"), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(box, 6, 6)

    def _paint_mark(self, painter: QPainter, words: QRect) -> None:
        size = LOOK.px(MARK)
        middle = words.top() + QFontMetrics(LOOK.font()).height() // 2
        painter.setPen(QPen(LOOK.colour("edge"), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(QPoint(LOOK.px(EDGE) + size // 2, middle), size // 2, size // 2)

    def _places(self, width: int) -> tuple[QRect, QRect, QRect]:
        """Return where label, words and remark stand in a line so wide."""
        left, right = LOOK.px(EDGE), width - LOOK.px(EDGE)
        small, usual = QFontMetrics(LOOK.font(SECOND)), QFontMetrics(LOOK.font())
        remark = small.horizontalAdvance(self.remark)
        if self.has_mark:
            left += LOOK.px(MARK + GAP)
        is_beside = bool(self.label) and LOOK.px(LABEL) * 2 <= right - left
        start = left + (LOOK.px(LABEL) if is_beside else 0)
        end = right - (remark + LOOK.px(GAP) if remark else 0)
        words = _broken(usual, self.words, max(end - start, 1))
        label = QRect(left, 0, 0, 0)
        above = self._above(words.height())
        if self.label and not is_beside:
            label = _broken(small, self.label, right - left).translated(left, LOOK.px(4))
            above = label.bottom() + 1
        words = words.translated(start, above)
        if is_beside:
            inner = LOOK.px(LABEL) - LOOK.px(GAP)
            drop = above + usual.ascent() - small.ascent()
            label = _broken(small, self.label, inner).translated(left, drop)
        drop = above + usual.ascent() - small.ascent()
        return label, words, QRect(right - remark, drop, remark + 1, small.height())

    def _above(self, height: int) -> int:
        """Return the room over words so high that a line is never lower than its least."""
        return max((LOOK.px(LEAST) - height) // 2, LOOK.px(3))

    def _redress(self) -> None:
        # A fixed height spares the layouts above from asking for it again and again.
        self.setFixedHeight(self.heightForWidth(self.width()))
        self.update()


def wrapping(metrics: QFontMetrics, text: str, width: int) -> int:
    """Return the flags that break a text between words, and within one only where it must."""
    longest = max(map(metrics.horizontalAdvance, text.split()), default=0)
    flag = Qt.TextFlag.TextWordWrap if longest <= width else Qt.TextFlag.TextWrapAnywhere
    return int(flag)


def _broken(metrics: QFontMetrics, text: str, width: int) -> QRect:
    flags = wrapping(metrics, text, width)
    found = metrics.boundingRect(QRect(0, 0, width, TALL), flags, text or " ")
    return QRect(0, 0, width, found.height())
