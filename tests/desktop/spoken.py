"""All the words of a window: those of its widgets, its menus, its lists, and those it paints."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from enum import Enum
from pathlib import PurePath
from typing import Any

from PySide6.QtCore import QAbstractItemModel, QAbstractListModel, Qt
from PySide6.QtGui import QAction, QPainter
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QGroupBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QMenu,
    QPlainTextEdit,
    QSpinBox,
    QWidget,
)

MOST_ROWS = 40
SPOKEN_ROLES = (
    Qt.ItemDataRole.DisplayRole,
    Qt.ItemDataRole.ToolTipRole,
    Qt.ItemDataRole.AccessibleTextRole,
    Qt.ItemDataRole.AccessibleDescriptionRole,
)


def of_window(window: QWidget) -> Iterator[tuple[str, str]]:
    """Yield every text a window may show or say, each with where it was found."""
    yield _place(window), window.windowTitle()
    for widget in (window, *window.findChildren(QWidget)):
        place = _place(widget)
        for text in _of_widget(widget):
            yield place, text
    for action in window.findChildren(QAction):
        for text in (action.text(), action.toolTip(), action.statusTip(), action.whatsThis()):
            yield f"action {action.objectName()}", text


def _place(widget: QWidget) -> str:
    """Return the kinds of a widget and of what it is in, from the inside out."""
    kinds, one = [type(widget).__name__], widget.parentWidget()
    while one is not None:
        kinds.append(type(one).__name__)
        one = one.parentWidget()
    return " in ".join(kinds[:4])


def _of_widget(widget: QWidget) -> Iterator[str]:
    yield from (widget.toolTip(), widget.statusTip(), widget.whatsThis())
    yield from (widget.accessibleName(), widget.accessibleDescription())
    if isinstance(widget, QLabel | QAbstractButton):
        yield widget.text()
    elif isinstance(widget, QLineEdit | QPlainTextEdit):
        yield widget.placeholderText()
    elif isinstance(widget, QComboBox):
        yield from (widget.itemText(place) for place in range(widget.count()))
    elif isinstance(widget, QMenu | QGroupBox):
        yield widget.title()
    elif isinstance(widget, QSpinBox):
        yield from (widget.prefix(), widget.suffix(), widget.specialValueText())
    elif isinstance(widget, QAbstractItemView) and not isinstance(widget, QHeaderView):
        yield from _of_model(widget.model())


def _of_model(model: QAbstractItemModel | None) -> Iterator[str]:
    if model is None:
        return
    # A list model has one column, and hides that it has.
    count = 1 if isinstance(model, QAbstractListModel) else model.columnCount()
    for column in range(count):
        yield _words(model.headerData(column, Qt.Orientation.Horizontal))
        for row in range(min(model.rowCount(), MOST_ROWS)):
            index = model.index(row, column)
            yield from (_words(index.data(role)) for role in SPOKEN_ROLES)


def _words(value: object) -> str:
    return value if isinstance(value, str) else ""


@contextmanager
def painted() -> Iterator[set[str]]:
    """Note every text that anything paints by hand."""
    found: set[str] = set()
    paint: Any = QPainter.drawText

    def noted(self: QPainter, *arguments: Any) -> Any:
        found.update(one for one in arguments if isinstance(one, str))
        return paint(self, *arguments)

    QPainter.drawText = noted  # type: ignore[method-assign, assignment]
    try:
        yield found
    finally:
        QPainter.drawText = paint  # type: ignore[method-assign]


def of_data(value: object) -> Iterator[str]:
    """Yield every text anywhere in a value of the engine or of a file."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, PurePath):
        yield from (str(value), value.name)
    elif isinstance(value, Enum):
        yield from of_data(value.value)
    elif isinstance(value, BaseException):
        yield str(value)
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from of_data(getattr(value, field.name))
    elif isinstance(value, Mapping):
        yield from of_data(list(value.values()))
    elif isinstance(value, list | tuple | set | frozenset):
        for inner in value:
            yield from of_data(inner)
