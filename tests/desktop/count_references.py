"""Run in a process of its own: does a call into Qt take references to ``None`` away, or keep them?

    python -m tests.desktop.count_references TIMES
    python -m tests.desktop.count_references TIMES --with-thief

Before Python 3.12 ``None`` is counted like any object; a binding that gives back one reference too
many ends the program hours later, far from the call. The counts lost in so many calls are printed
as one line of JSON by the name of the call. With ``--with-thief`` a call that gives back one too
many is among them, to show that it would be noticed.
"""

from __future__ import annotations

import ctypes
import gc
import json
import os
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import (
    QAbstractTableModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QSettings,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import (
    QAction,
    QColor,
    QFontMetrics,
    QImage,
    QPainter,
    QPaintEvent,
    QStandardItem,
    QStandardItemModel,
    QTransform,
    QUndoCommand,
    QUndoStack,
)
from PySide6.QtWidgets import (
    QApplication,
    QGraphicsScene,
    QLabel,
    QLineEdit,
    QMessageBox,
    QPushButton,
    QTableView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

Calls = dict[str, Callable[[], object]]
THIEF = "gives back one too many"
Index = QModelIndex | QPersistentModelIndex


class Rows(QAbstractTableModel):
    """Answers ``None`` to whatever it has no answer for, as Qt's models do."""

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008, N802
        return 50

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008, N802
        return 5

    def data(self, index: Index, role: int = 0) -> object:
        return "a" if role == Qt.ItemDataRole.DisplayRole else None

    def headerData(self, *_asked: object) -> object:  # noqa: N802
        return None


class Painted(QWidget):
    """Paints itself, in Python."""

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        painter = QPainter(self)
        painter.drawRect(0, 0, 10, 10)
        painter.end()


class Heard(QObject):
    """Emits, and filters events."""

    told = Signal(int)
    handed = Signal(object)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        return False


class Step(QUndoCommand):
    """A step that does nothing."""

    def redo(self) -> None:
        self.isObsolete()

    def undo(self) -> None:
        self.isObsolete()


def of_widgets(app: QApplication) -> Calls:
    """Return calls on widgets, layouts and actions."""
    widget, label, field, action = QWidget(), QLabel("x"), QLineEdit(), QAction("a")
    layout = QVBoxLayout(widget)
    layout.addWidget(label)
    layout.addWidget(field)
    button = QPushButton("b")
    button.clicked.connect(lambda: None)

    def show_and_hide() -> None:
        widget.show()
        widget.hide()

    return {
        "QLabel.setText": lambda: label.setText("y"),
        "QLabel.text": label.text,
        "QLineEdit.setText": lambda: field.setText("1"),
        "QWidget.update": widget.update,
        "QWidget()": QWidget,
        "QWidget(None)": lambda: QWidget(None),
        "QWidget.parent": label.parent,
        "QWidget.parent, none": widget.parent,
        "QWidget.setParent(None)": lambda: button.setParent(None),
        "QWidget.layout, none": label.layout,
        "QWidget.focusWidget": widget.focusWidget,
        "QWidget.findChild, none": lambda: widget.findChild(QPushButton),
        "QWidget.setProperty(None)": lambda: widget.setProperty("a", None),
        "QWidget.property, none": lambda: widget.property("zz"),
        "QWidget.setStyleSheet": lambda: label.setStyleSheet(""),
        "QWidget.show and hide": show_and_hide,
        "QMessageBox()": lambda: QMessageBox(widget).deleteLater(),
        "QAction.triggered.connect": lambda: action.triggered.connect(lambda: None),
        "QAbstractButton.click": button.click,
        "QApplication.activeWindow": app.activeWindow,
    }


def of_models() -> Calls:
    """Return calls on models, items and views."""
    table, rows, view = QTableWidget(3, 3), Rows(), QTableView()
    item, standard = QTableWidgetItem("x"), QStandardItemModel()
    table.setItem(0, 0, item)
    standard.appendRow(QStandardItem("s"))
    view.setModel(rows)
    view.resize(400, 300)
    role = Qt.ItemDataRole.UserRole

    def reset() -> None:
        rows.beginResetModel()
        rows.endResetModel()

    return {
        "QTableWidget.item": lambda: table.item(0, 0),
        "QTableWidget.item, none": lambda: table.item(2, 2),
        "QTableWidgetItem()": lambda: QTableWidgetItem("q"),
        "QTableWidgetItem.setData(None)": lambda: item.setData(role, None),
        "QTableWidgetItem.data, none": lambda: item.data(role),
        "QStandardItemModel.data, none": lambda: standard.data(standard.index(0, 0), role),
        "QModelIndex.data, none": lambda: rows.index(0, 0).data(Qt.ItemDataRole.FontRole),
        "QModelIndex.parent": lambda: rows.index(0, 0).parent(),
        "QAbstractItemModel.reset": reset,
        "dataChanged.emit": lambda: rows.dataChanged.emit(rows.index(0, 0), rows.index(1, 1)),
        "QTableView.grab": view.grab,
    }


def of_drawing() -> Calls:
    """Return calls that paint."""
    picture = QImage(50, 50, QImage.Format.Format_ARGB32)
    picture.fill(0)
    painted, scene = Painted(), QGraphicsScene()
    painted.resize(50, 50)

    def paint() -> None:
        painter = QPainter(picture)
        painter.drawRect(1, 1, 5, 5)
        painter.fillRect(0, 0, 3, 3, QColor(1, 2, 3))
        painter.end()

    return {
        "QWidget.grab, painted in Python": painted.grab,
        "QPainter": paint,
        "QGraphicsScene.addRect": lambda: scene.removeItem(scene.addRect(0, 0, 1, 1)),
        "QGraphicsScene.itemAt, none": lambda: scene.itemAt(QPointF(999, 999), QTransform()),
        "QRect.adjusted": lambda: QRect(0, 0, 1, 1).adjusted(1, 1, 1, 1),
        "QFontMetrics": lambda: QFontMetrics(QApplication.font()).horizontalAdvance("abc"),
    }


def of_objects(app: QApplication, folder: Path) -> Calls:
    """Return calls on signals, timers, settings, undo and the event loop."""
    heard, filtered, stack = Heard(), QWidget(), QUndoStack()
    heard.told.connect(lambda _number: None)
    heard.handed.connect(lambda _thing: None)
    filtered.installEventFilter(heard)
    looks = QSettings(str(folder / "looks.ini"), QSettings.Format.IniFormat)
    # A step is kept by the stack, and with it whatever it holds: the stack forgets at once.
    stack.setUndoLimit(1)

    def go_round() -> None:
        QTimer.singleShot(0, app.quit)
        app.exec()

    return {
        "Signal.emit": lambda: heard.told.emit(1),
        "Signal.emit(None)": lambda: heard.handed.emit(None),
        "QTimer.singleShot": lambda: QTimer.singleShot(0, lambda: None),
        "QApplication.processEvents": app.processEvents,
        "QApplication.exec": go_round,
        "eventFilter": lambda: app.sendEvent(filtered, QEvent(QEvent.Type.User)),
        "QSettings.value, none": lambda: looks.value("a"),
        "QUndoStack.push": lambda: stack.push(Step("s")),
        "QUndoStack.undo": stack.undo,
        "QUndoStack.redo": stack.redo,
    }


def steal() -> None:
    """Give back a reference to ``None`` that nobody took."""
    ctypes.pythonapi.Py_DecRef(ctypes.py_object(None))


def lost(call: Callable[[], object], app: QApplication, times: int) -> int:
    """Return by how much the count fell in so many calls; negative where it grew."""
    for _ in range(20):
        call()
    gc.collect()
    before = sys.getrefcount(None)
    for _ in range(times):
        call()
    app.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    app.processEvents()
    gc.collect()
    return before - sys.getrefcount(None)


def main() -> None:
    times = int(sys.argv[1])
    app = QApplication([])
    with tempfile.TemporaryDirectory() as folder:
        calls = of_widgets(app) | of_models() | of_drawing() | of_objects(app, Path(folder))
        if "--with-thief" in sys.argv:
            calls[THIEF] = steal
        print(json.dumps({name: lost(call, app, times) for name, call in calls.items()}))


if __name__ == "__main__":
    main()
