"""What would change, row by row, before it is done: for an uplift and for a supplier's list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import IntEnum
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from estimator.desktop.language import _
from estimator.desktop.price_book.cells import CellDelegate, unframed
from estimator.desktop.price_book.wording import money
from estimator.desktop.theme.look import LOOK

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
RIGHT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
LEFT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
ROW = 28
WIDTHS = (104, 0, 96, 96, 0)


class Column(IntEnum):
    """The columns, from the left."""

    WHAT = 0
    TITLE = 1
    WAS = 2
    NOW = 3
    NOTE = 4


@dataclass(frozen=True, slots=True)
class Row:
    """One line: what happens to what."""

    what: str
    """New, changed, left out."""
    title: str
    was: Decimal | None = None
    """Price before [£]."""
    now: Decimal | None = None
    """Price after [£]."""
    note: str = ""


class PreviewModel(QAbstractTableModel):
    """Lines of a preview."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin with none."""
        super().__init__(parent)
        self.currency = "GBP"
        self.rows: tuple[Row, ...] = ()

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Show other lines."""
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        """Return how many lines there are."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        """Return the number of columns."""
        return 0 if parent.isValid() else len(Column)

    def headerData(  # noqa: N802 - Qt's name
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a heading, set to the side its column is set to."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(section)
        heads = (_("What happens"), _("What it is"), _("Was"), _("Becomes"), _("Note"))
        return heads[section] if role == Qt.ItemDataRole.DisplayRole else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a cell: words to show, or its typed value."""
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row, column = self.rows[index.row()], Column(index.column())
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(column)
        value = (row.what, row.title, row.was, row.now, row.note)[column]
        if role == Qt.ItemDataRole.EditRole:
            return value
        if role == Qt.ItemDataRole.ToolTipRole and column in {Column.TITLE, Column.NOTE}:
            return value
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        return money(value, self.currency) if isinstance(value, Decimal) else value or ""


class PreviewTable(QTableView):
    """A preview to read through with the arrow keys."""

    def __init__(self, model: PreviewModel, parent: QWidget | None = None) -> None:
        """Show a model."""
        super().__init__(parent)
        self.setModel(model)
        self.setAccessibleName(_("What would change"))
        self.setShowGrid(False)
        unframed(self)
        self.setItemDelegate(CellDelegate(self, (Column.WHAT, Column.NOTE)))
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionsClickable(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header.setSectionResizeMode(Column.TITLE, QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(Column.NOTE, QHeaderView.ResizeMode.Stretch)
        self._size()
        LOOK.changed.connect(self._size)

    def _size(self) -> None:
        self.verticalHeader().setMinimumSectionSize(LOOK.px(ROW))
        self.verticalHeader().setDefaultSectionSize(LOOK.px(ROW))
        for column, width in enumerate(WIDTHS):
            if width:
                self.setColumnWidth(column, LOOK.px(width))


def _side(column: int) -> Qt.AlignmentFlag:
    return RIGHT if column in {Column.WAS, Column.NOW} else LEFT
