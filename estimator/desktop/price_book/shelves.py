"""The shelves of the price book: how much stands on each, and how much is not yours yet."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from estimator.desktop.language import _, counted
from estimator.desktop.price_book.cells import draw_state
from estimator.desktop.price_book.model import Index
from estimator.desktop.price_book.shelf import Shelf
from estimator.desktop.price_book.wording import number
from estimator.desktop.theme.look import LOOK

SHELF = int(Qt.ItemDataRole.UserRole)
ROW = 32


class ShelfDelegate(QStyledItemDelegate):
    """Draws a shelf: its name, a ring and how many are not one's own, and how many there are."""

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:  # noqa: N802
        """Return room for one line."""
        return QSize(LOOK.px(120), LOOK.px(ROW))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one line."""
        shelf = index.data(SHELF)
        state = option.state
        area = QRectF(option.rect)
        is_chosen = bool(state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if is_chosen:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(LOOK.colour("act_tint"))
            painter.drawRoundedRect(area, LOOK.px(6), LOOK.px(6))
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(LOOK.colour("act"), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(area.adjusted(1, 1, -1, -1), LOOK.px(6), LOOK.px(6))
        middle = Qt.AlignmentFlag.AlignVCenter
        right = middle | Qt.AlignmentFlag.AlignRight
        painter.setPen(LOOK.colour("ink"))
        painter.setFont(LOOK.font(14, strong=is_chosen))
        room = area.adjusted(LOOK.px(10), 0, -self._told_width(), 0)
        title = painter.fontMetrics().elidedText(
            shelf.title, Qt.TextElideMode.ElideRight, int(room.width())
        )
        painter.drawText(room, middle, title)
        painter.setFont(LOOK.font(13))
        painter.setPen(LOOK.colour("muted"))
        if shelf.kind is not None or shelf.count:
            count = number(Decimal(shelf.count))
            painter.drawText(area.adjusted(0, 0, -LOOK.px(10), 0), right, count)
        if shelf.strange:
            self._paint_strange(painter, area, shelf.strange)
        painter.restore()

    def _told_width(self) -> int:
        """Return the room of ring and figures at the right; type grows faster than they must."""
        return round(96 * (1 + LOOK.scale) / 2)

    def _paint_strange(self, painter: QPainter, area: QRectF, strange: int) -> None:
        size = LOOK.px(10)
        left = area.right() - self._told_width() + LOOK.px(4)
        draw_state(painter, QRectF(left, area.center().y() - size / 2, size, size), is_own=False)
        painter.setPen(LOOK.colour("caution"))
        text = QRectF(left + LOOK.px(16), area.top(), LOOK.px(40), area.height())
        painter.drawText(text, Qt.AlignmentFlag.AlignVCenter, number(Decimal(strange)))


class Shelves(QListWidget):
    """A list of shelves, one of them open."""

    opened = Signal(object)
    """The ``Shelf`` that is wanted."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin empty."""
        super().__init__(parent)
        self.setAccessibleName(_("Shelves of the price book"))
        self.setItemDelegate(ShelfDelegate(self))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # The line with the cursor shows the focus, so the list needs no frame and no ground.
        self.setStyleSheet("QListWidget, QListWidget:focus { background: transparent; border: 0; }")
        self.currentItemChanged.connect(self._open)

    def show_shelves(self, shelves: Sequence[Shelf]) -> None:
        """Show shelves, keeping the one that is open."""
        before = self.shelf()
        self.blockSignals(True)
        self.clear()
        for shelf in shelves:
            item = QListWidgetItem()
            item.setData(SHELF, shelf)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, _said(shelf))
            self.addItem(item)
            if before is not None and shelf.same_as(before):
                self.setCurrentItem(item)
        if self.currentItem() is None and shelves:
            self.setCurrentRow(0)
        self.blockSignals(False)

    def shelf(self) -> Shelf | None:
        """Return the shelf that is open."""
        item = self.currentItem()
        found = item.data(SHELF) if item is not None else None
        return found if isinstance(found, Shelf) else None

    def close_all(self) -> None:
        """Open none: what is shown comes from all of them."""
        self.blockSignals(True)
        self.setCurrentRow(-1)
        self.clearSelection()
        self.blockSignals(False)

    def _open(self, *_items: object) -> None:
        shelf = self.shelf()
        if shelf is not None:
            self.opened.emit(shelf)


def _said(shelf: Shelf) -> str:
    """Return a line of the list in words."""
    there = counted("{n} rate", "{n} rates", shelf.count)
    strange = counted("{n} not yours yet", "{n} not yours yet", shelf.strange)
    return ", ".join(
        part for part in (shelf.title, there, strange if shelf.strange else "") if part
    )
