"""One row of the ladder, painted by hand: it opens in place and lights what it belongs to."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QEnterEvent,
    QFocusEvent,
    QFont,
    QFontMetrics,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from estimator.desktop.language import _
from estimator.desktop.money.ladder_rows import LadderRow
from estimator.desktop.theme.look import LOOK

LEAST = 28
"""Height of a row of one line. [px]"""
GUTTER, INDENT, EDGE, GAP = 16, 12, 8, 12
"""Room for the chevron, for each level, at the right, and between columns. [px]"""
AMOUNT, QUANTITY = 58, 74
"""Widths of the columns at the right, where there is room for them. [px]"""
NARROW = 290
"""Under this width the quantity goes under the title. [px]"""
WRAPPED = int(Qt.TextFlag.TextWordWrap)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
OPEN = ((-1.0, -0.5), (0.0, 0.5), (1.0, -0.5))
CLOSED = ((-0.5, -1.0), (0.5, 0.0), (-0.5, 1.0))
"""A chevron down and one to the right, in halves of its width."""

DEEPEST = 2
"""The level of a part of a build-up."""
STEPS = {
    Qt.Key.Key_Up: "up",
    Qt.Key.Key_Down: "down",
    Qt.Key.Key_Home: "home",
    Qt.Key.Key_End: "end",
    Qt.Key.Key_Left: "left",
    Qt.Key.Key_Right: "right",
}


class RowWidget(QAbstractButton):
    """Title, quantity and amount; a chevron where it opens."""

    pointed = Signal(bool)
    """The pointer or the keyboard came to this row, or left it."""
    stepped = Signal(str)
    """A key that moves: ``up``, ``down``, ``home``, ``end``, ``left`` or ``right``."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty row."""
        super().__init__(parent)
        self.row = LadderRow("", "")
        self.share = ""
        """What of the amount belongs to what is pointed at on the wall, as it is shown."""
        self.is_lit = self.is_held = False
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self._places: dict[int, tuple[QRect, QRect]] = {}
        LOOK.changed.connect(self._forget_places)

    def show_row(self, row: LadderRow) -> None:
        """Show a row; nothing happens where it is the same."""
        if row == self.row:
            return
        before, self.row = self.row, row
        self._places.clear()
        if row.said != before.said:
            self.setAccessibleName(row.said)
        if (before.title, before.note, before.level) != (row.title, row.note, row.level):
            self.updateGeometry()
        self.update()

    def light(self, *, lit: bool, share: str) -> None:
        """Light this row up, or put the light out."""
        if (lit, share) != (self.is_lit, self.share):
            self.is_lit, self.share = lit, share
            self._describe()
            self.update()

    def hold(self, *, held: bool) -> None:
        """Show whether this row's marks are kept lit on the wall."""
        if held != self.is_held:
            self.is_held = held
            self._describe()
            self.update()

    def _describe(self) -> None:
        held = _("Kept lit on the wall") if self.is_held else ""
        self.setAccessibleDescription(". ".join(part for part in (self.share, held) if part))

    def make_tab_stop(self, *, stop: bool) -> None:
        """Have Tab stop here, or leave the row to the arrow keys and the pointer."""
        policy = Qt.FocusPolicy.StrongFocus if stop else Qt.FocusPolicy.ClickFocus
        self.setFocusPolicy(policy)

    # -- size

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for one line."""
        return QSize(LOOK.px(NARROW), self.heightForWidth(max(self.width(), LOOK.px(200))))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the least room: words break where they must."""
        return QSize(LOOK.px(120), LOOK.px(LEAST))

    def hasHeightForWidth(self) -> bool:  # noqa: N802 - Qt's name
        """Titles wrap."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Return how tall the row is when so wide [px]."""
        title, note = self._texts(width)
        tall = title.height() + note.height() + LOOK.px(8)
        return max(tall, LOOK.px(LEAST))

    def _forget_places(self) -> None:
        self._places.clear()
        self.updateGeometry()

    def _texts(self, width: int) -> tuple[QRect, QRect]:
        """Return where title and note stand; layouts ask for the same width over and over."""
        if width not in self._places:
            self._places[width] = self._measured(width)
        return self._places[width]

    def _measured(self, width: int) -> tuple[QRect, QRect]:
        left = LOOK.px(GUTTER + INDENT * self.row.level)
        right = width - LOOK.px(EDGE)
        taken = self._amount_width() + LOOK.px(GAP)
        if not self._is_narrow(width) and (self.row.quantity or self.row.marks):
            taken += LOOK.px(QUANTITY)
        room = QRect(left, LOOK.px(4), max(right - left - taken, LOOK.px(40)), 10_000)
        title = QFontMetrics(self._title_font()).boundingRect(room, WRAPPED, self.row.title)
        note = QRect(left, title.bottom() + 1, 0, 0)
        if under := self._under(width):
            below = QRect(left, title.bottom() + 1, max(right - left, LOOK.px(40)), 10_000)
            note = QFontMetrics(LOOK.font(13)).boundingRect(below, WRAPPED, under)
            note.setWidth(below.width())
        title.setWidth(room.width())
        return title, note

    def _is_narrow(self, width: int) -> bool:
        return width < LOOK.px(NARROW)

    def _under(self, width: int) -> str:
        moved = self.row.quantity if self._is_narrow(width) else ""
        return "\n".join(part for part in (moved, self.row.note) if part)

    def _amount_width(self) -> int:
        font = LOOK.font(14, strong=self.row.is_sum)
        advance = QFontMetrics(font).horizontalAdvance(self.row.amount)
        return max(advance, LOOK.px(AMOUNT)) if self.row.amount else 0

    def _title_font(self) -> QFont:
        return LOOK.font(13 if self.row.level == DEEPEST else 14, strong=self.row.is_sum)

    # -- painting

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw ground, chevron, title, quantity and amount."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_ground(painter)
        self._paint_chevron(painter)
        title, note = self._texts(self.width())
        painter.setPen(LOOK.colour("ink"))
        painter.setFont(self._title_font())
        painter.drawText(title, WRAPPED, self.row.title)
        painter.setPen(LOOK.colour("muted"))
        painter.setFont(LOOK.font(13))
        painter.drawText(note, WRAPPED, self._under(self.width()))
        self._paint_figures(painter, title.top())
        painter.end()

    def _paint_figures(self, painter: QPainter, top: int) -> None:
        wide = self._amount_width()
        right = self.width() - LOOK.px(EDGE)
        if self.share and self._paint_share(painter, right, top):
            return
        amount = QRect(right - wide, top, wide, 10_000)
        painter.setPen(LOOK.colour("muted" if self.row.level == DEEPEST else "ink"))
        painter.setFont(LOOK.font(14, strong=self.row.is_sum))
        painter.drawText(amount, RIGHT, self.row.amount)
        if self.row.quantity and not self._is_narrow(self.width()):
            wide = LOOK.px(QUANTITY)
            place = QRect(amount.left() - LOOK.px(GAP) - wide, top, wide, 10_000)
            painter.setPen(LOOK.colour("muted"))
            painter.setFont(LOOK.font(14))
            painter.drawText(place, RIGHT, self.row.quantity)

    def _paint_share(self, painter: QPainter, right: int, top: int) -> bool:
        """Paint what of the amount is meant, over both columns; false where it has no room."""
        font = LOOK.font(14, strong=True)
        room = right - self._texts(self.width())[0].right()
        if QFontMetrics(font).horizontalAdvance(self.share) > room:
            return False
        painter.setPen(LOOK.colour("act"))
        painter.setFont(font)
        painter.drawText(QRect(right - room, top, room, 10_000), RIGHT, self.share)
        return True

    def _paint_ground(self, painter: QPainter) -> None:
        box = self.rect()
        if self.row.is_struck:
            painter.setPen(QPen(LOOK.colour("edge"), 1))
            left, right = LOOK.px(GUTTER), box.right() - LOOK.px(EDGE)
            painter.drawLine(left, 0, right, 0)
        if self.is_lit or self.is_held or self.underMouse() or self.hasFocus():
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(LOOK.colour("act_tint"))
            painter.drawRoundedRect(box, 4, 4)
        if self.is_lit or self.is_held:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(LOOK.colour("act"))
            wide = LOOK.px(6 if self.is_held else 3)
            painter.drawRect(0, LOOK.px(4), wide, box.height() - LOOK.px(8))
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(LOOK.colour("act"), 2))
            painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), 4, 4)

    def _paint_chevron(self, painter: QPainter) -> None:
        if self.row.is_open is None:
            return
        wide = LOOK.px(3)
        middle = QPointF(LOOK.px(GUTTER + INDENT * self.row.level) - LOOK.px(7), LOOK.px(LEAST) / 2)
        turned = OPEN if self.row.is_open else CLOSED
        points = [middle + QPointF(x * wide, y * wide) for x, y in turned]
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(LOOK.colour("edge"), LOOK.scale * 1.5))
        painter.drawPolyline(QPolygonF(points))

    # -- acts

    def enterEvent(self, event: QEnterEvent) -> None:  # noqa: N802 - Qt's name
        """Tell that the pointer came."""
        self.pointed.emit(True)
        super().enterEvent(event)

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Tell that the pointer left."""
        self.pointed.emit(False)
        super().leaveEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Tell that the keyboard came."""
        super().focusInEvent(event)
        self.pointed.emit(True)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Tell that the keyboard left."""
        super().focusOutEvent(event)
        self.pointed.emit(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Move, open or close."""
        key = Qt.Key(event.key())
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
        elif key in STEPS:
            self.stepped.emit(STEPS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)
