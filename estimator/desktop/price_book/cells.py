"""How the rows of the page's tables are drawn: in line with their headings, on hairlines."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTableView

from estimator.desktop.price_book.model import Index
from estimator.desktop.theme.look import LOOK

SIDE = 8
"""Room at either side of a cell, as the headings have it. [px]"""
MARK = 3
"""Width of the mark at the row the cursor is in. [px]"""


class CellDelegate(QStyledItemDelegate):
    """Draws one line of words or figures to a cell."""

    def __init__(self, table: QTableView, quiet: tuple[int, ...] = ()) -> None:
        """Draw for a table; some columns are said more quietly than others."""
        super().__init__(table)
        self._view, self._quiet = table, quiet

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw the ground of a cell, what it says, and a hairline under its row."""
        inner = self.paint_ground(painter, option, index)
        text = index.data(Qt.ItemDataRole.DisplayRole)
        if not text:
            return
        is_quiet = index.column() in self._quiet
        painter.setFont(LOOK.font(13 if is_quiet else 14))
        painter.setPen(LOOK.colour("muted" if is_quiet else "ink"))
        cut = Qt.TextElideMode.ElideRight
        shown = painter.fontMetrics().elidedText(str(text), cut, inner.width())
        painter.drawText(inner, index.data(Qt.ItemDataRole.TextAlignmentRole), shown)

    def paint_ground(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> QRect:
        """Draw everything but what the cell says, and return the room for that."""
        area: QRect = option.rect
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(area, LOOK.colour("act_tint"))
        painter.setPen(QPen(LOOK.colour("rule"), 0))
        painter.drawLine(area.bottomLeft(), area.bottomRight())
        is_current = index.row() == self._view.currentIndex().row()
        if index.column() == 0 and is_current and self._view.hasFocus():
            mark = QRect(area.left(), area.top(), LOOK.px(MARK), area.height() - 1)
            painter.fillRect(mark, LOOK.colour("act"))
        return area.adjusted(LOOK.px(SIDE), 0, -LOOK.px(SIDE), 0)


def unframed(table: QTableView) -> None:
    """Take the frame off a table: the mark at its current row shows where the focus is."""
    table.setStyleSheet("QTableView, QTableView:focus { border: 0; }")


def draw_state(painter: QPainter, box: QRectF, *, is_own: bool) -> None:
    """Draw a tick for one's own figure, a hollow ring for one that is not yet."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(LOOK.colour("done" if is_own else "caution"), 1.6))
    if not is_own:
        painter.drawEllipse(box)
        return
    low = QPointF(box.left() + box.width() * 0.38, box.bottom() - 1)
    ends = [QPointF(box.left(), box.center().y() + 1), low, QPointF(box.right(), box.top() + 1)]
    painter.drawPolyline(QPolygonF(ends))
