"""The table of rates: a figure is edited where it stands, and only what is read one way is kept."""

from __future__ import annotations

from decimal import Decimal

from PySide6.QtCore import QEvent, QObject, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QLineEdit,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from estimator.desktop.language import _
from estimator.desktop.price_book.cells import CellDelegate, draw_state, unframed
from estimator.desktop.price_book.figure import main_figure
from estimator.desktop.price_book.model import Column, EntryRole, Index, RatesModel, state_words
from estimator.desktop.price_book.wording import Understood, money, number, typed_as, understood
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import retone, words
from estimator.store.book_parts import Entry

ROW = 28
"""Height of a row. [px]"""
QUIET = (Column.UNIT, Column.PACK, Column.DATED, Column.SOURCE)
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
WIDTHS = {
    Column.UNIT: 44,
    Column.PACK: 88,
    Column.RATE: 108,
    Column.DATED: 96,
    Column.SOURCE: 84,
    Column.STATE: 120,
}
LEAST_TITLE = 200
"""Room the name of a rate needs at least. [px]"""
SHAPE = 26
"""Width of a tick or ring without its words. [px]"""
SPARED = (Column.SOURCE, Column.DATED, Column.PACK, Column.UNIT)
"""Columns left out where there is no room, the first to go first."""


class FigureDelegate(CellDelegate):
    """Draws rows on hairlines, and edits a figure with an echo of what was understood."""

    trying = Signal(object, object)
    """An entry and a figure being typed for it; the figure is None when it is none."""
    left = Signal()
    """The editor closed."""

    def __init__(self, table: RatesTable) -> None:
        """Draw for one table."""
        super().__init__(table, QUIET)
        self._table = table
        self._editor: QLineEdit | None = None
        self._echo: QLabel | None = None

    # -- drawing

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw a cell; whose figure it is in words and a shape."""
        if index.column() != Column.STATE:
            super().paint(painter, option, index)
            return
        inner = self.paint_ground(painter, option, index)
        entry = index.data(EntryRole)
        if not isinstance(entry, Entry):
            return
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        size = LOOK.px(10)
        box = QRectF(inner.left(), inner.center().y() - size / 2 + 0.5, size, size)
        draw_state(painter, box, is_own=entry.confirmed)
        painter.setPen(LOOK.colour("muted" if entry.confirmed else "caution"))
        painter.setFont(LOOK.font(13))
        text, said = inner.adjusted(LOOK.px(18), 0, 0, 0), state_words(entry)
        if painter.fontMetrics().horizontalAdvance(said) <= text.width():
            painter.drawText(text, Qt.AlignmentFlag.AlignVCenter, said)
        painter.restore()

    # -- editing

    def createEditor(  # noqa: N802 - Qt's name
        self, parent: QWidget, _option: QStyleOptionViewItem, index: Index
    ) -> QWidget:
        """Open a field over the cell, and a line under it for what was understood."""
        editor = QLineEdit(parent)
        editor.setAlignment(Qt.AlignmentFlag.AlignRight)
        editor.setAccessibleName(_("New figure"))
        editor.setFrame(True)
        self._editor = editor
        self._echo = words(role="second", wrap=False)
        self._echo.setParent(parent)
        # It lies over other rows, so it needs a ground of its own.
        self._echo.setStyleSheet(
            "QLabel { background: palette(base); border: 1px solid palette(mid);"
            " border-radius: 4px; }"
        )
        self._echo.setContentsMargins(8, 2, 8, 2)
        editor.textEdited.connect(lambda _text: self._look(editor, index.data(EntryRole)))
        editor.destroyed.connect(self._closed)
        return editor

    def setEditorData(self, editor: QWidget, index: Index) -> None:  # noqa: N802 - Qt's name
        """Put the figure in as it is now, chosen whole so that typing replaces it."""
        value = index.data(Qt.ItemDataRole.EditRole)
        if isinstance(editor, QLineEdit) and isinstance(value, Decimal) and not editor.isModified():
            entry = index.data(EntryRole)
            figure = main_figure(entry) if isinstance(entry, Entry) else None
            is_money = figure is not None and figure.is_money
            editor.setText(typed_as(value, is_money=is_money))
            editor.selectAll()

    def updateEditorGeometry(  # noqa: N802 - Qt's name
        self, editor: QWidget, option: QStyleOptionViewItem, _index: Index
    ) -> None:
        """Keep the field over its cell."""
        area: QRect = option.rect
        editor.setGeometry(area.adjusted(0, -2, 0, 2))

    def setModelData(  # noqa: N802 - Qt's name
        self, editor: QWidget, model: QObject, index: Index
    ) -> None:
        """Hand on a figure that was understood."""
        found = self._read(editor, index.data(EntryRole))
        if found.value is not None and isinstance(model, RatesModel):
            model.setData(index, found.value)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Keep the field open until what is typed can be kept, or is given up."""
        if watched is not self._editor or self._editor is None:
            return super().eventFilter(watched, event)
        if event.type() == QEvent.Type.FocusOut:
            return not self._is_touched()
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in (*ENTER, Qt.Key.Key_Tab):
                self._finish(self._editor)
                return True
            if event.key() == Qt.Key.Key_Escape:
                self.closeEditor.emit(self._editor, QAbstractItemDelegate.EndEditHint.NoHint)
                return True
        return False

    def _finish(self, editor: QLineEdit) -> None:
        entry = self._table.currentIndex().data(EntryRole)
        if self._read(editor, entry).value is None:
            self._look(editor, entry)
            return
        self.commitData.emit(editor)
        self.closeEditor.emit(editor, QAbstractItemDelegate.EndEditHint.NoHint)

    def _is_touched(self) -> bool:
        return self._editor is not None and self._editor.isModified()

    def _read(self, editor: QWidget, entry: object) -> Understood:
        if not isinstance(editor, QLineEdit) or not isinstance(entry, Entry):
            return Understood(None)
        figure = main_figure(entry)
        if figure is None:
            return Understood(None)
        return understood(editor.text(), figure.label, whole=figure.whole)

    def _look(self, editor: QLineEdit, entry: object) -> None:
        """Say under the field what was understood, or why nothing was."""
        if self._echo is None or not isinstance(entry, Entry):
            return
        found = self._read(editor, entry)
        retone(self._echo, tone="stop" if found.value is None else "done")
        self._echo.setText(found.why_not or self._understood_words(entry, found.value))
        self._place_echo(editor)
        self.trying.emit(entry, found.value)

    def _understood_words(self, entry: Entry, value: Decimal | None) -> str:
        figure = main_figure(entry)
        if value is None or figure is None:
            return ""
        if not figure.is_money:
            return f"= {number(value)}"
        return f"= {money(value, self._table.rates.currency)}"

    def _place_echo(self, editor: QLineEdit) -> None:
        if self._echo is None:
            return
        self._echo.adjustSize()
        right, below = editor.geometry().right(), editor.geometry().bottom() + 2
        parent = self._echo.parentWidget()
        if parent is not None and below + self._echo.height() > parent.height():
            below = editor.geometry().top() - self._echo.height() - 2
        self._echo.move(max(right - self._echo.width(), 4), below)
        self._echo.show()
        self._echo.raise_()

    def _closed(self) -> None:
        self._editor = None
        if self._echo is not None:
            self._echo.hide()
            self._echo.deleteLater()
            self._echo = None
        self.left.emit()


class RatesTable(QTableView):
    """Rows of rates under the keyboard: F2 or Enter edits, Space makes a figure one's own."""

    own_wanted = Signal()
    """Space was pressed on what is selected."""
    detail_wanted = Signal()
    """Enter was pressed on something with more than one figure."""

    def __init__(self, rates: RatesModel, parent: QWidget | None = None) -> None:
        """Show a model."""
        super().__init__(parent)
        self.rates = rates
        self.setModel(rates)
        self.figures = FigureDelegate(self)
        self.setItemDelegate(self.figures)
        self.setAccessibleName(_("Rates"))
        self.setShowGrid(False)
        unframed(self)
        self.setWordWrap(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.DoubleClicked)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionsClickable(False)
        header.setSectionResizeMode(Column.TITLE, QHeaderView.ResizeMode.Stretch)
        self._size()
        LOOK.changed.connect(self._size)
        self.verticalScrollBar().valueChanged.connect(self.ask_for_shown)
        rates.modelReset.connect(self.ask_for_shown)

    def ask_for_shown(self) -> None:
        """Have the pages fetched that hold what is seen, and a little around it."""
        first = max(self.rowAt(0), 0)
        shown = self.viewport().height() // max(self.verticalHeader().defaultSectionSize(), 1) + 1
        if self.rates.rowCount():
            self.rates.want(first - shown, first + 2 * shown)

    def edit_current(self) -> None:
        """Edit the figure of the row the cursor is in, or go to its figures where it has more."""
        index = self.rates.index(self.currentIndex().row(), Column.RATE)
        if not index.isValid():
            return
        if index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.setCurrentIndex(index)
            self.edit(index)
        else:
            self.detail_wanted.emit()

    def entries(self) -> tuple[Entry, ...]:
        """Return what is selected, as far as it is here."""
        rows = sorted(one.row() for one in self.selectionModel().selectedRows())
        held = (self.rates.entry(row) for row in rows)
        return tuple(entry for entry in held if entry is not None)

    def event(self, event: QEvent) -> bool:
        """Take F2 before the window does: here it edits."""
        is_asked = event.type() == QEvent.Type.ShortcutOverride
        if is_asked and isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_F2:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Edit, make one's own, or move."""
        if event.key() in (*ENTER, Qt.Key.Key_F2):
            self.edit_current()
        elif event.key() == Qt.Key.Key_Space:
            self.own_wanted.emit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Ask for the rows that came into sight."""
        super().resizeEvent(event)
        self._spare()
        self.ask_for_shown()

    def _size(self) -> None:
        self.verticalHeader().setDefaultSectionSize(LOOK.px(ROW))
        self.verticalHeader().setMinimumSectionSize(LOOK.px(ROW))
        header = self.horizontalHeader()
        header.setMinimumSectionSize(LOOK.px(44))
        for column, width in WIDTHS.items():
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(column, LOOK.px(width))
        self._spare()

    def _spare(self) -> None:
        """Leave out columns the details tell too, where the name of a rate would have no room."""
        room = self.viewport().width() - LOOK.px(LEAST_TITLE) - sum(map(LOOK.px, WIDTHS.values()))
        # Whose figure it is stays in sight, by its shape alone.
        self.setColumnWidth(Column.STATE, LOOK.px(WIDTHS[Column.STATE] if room >= 0 else SHAPE))
        room += LOOK.px(WIDTHS[Column.STATE] - SHAPE) if room < 0 else 0
        for column in SPARED:
            self.setColumnHidden(column, room < 0)
            if room < 0:
                room += LOOK.px(WIDTHS[column])
