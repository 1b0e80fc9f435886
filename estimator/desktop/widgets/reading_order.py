"""Has Tab go from stop to stop as one reads, whenever the parts of a page were made."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLayout,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QStackedWidget,
    QWidget,
)

WHOLE = (QAbstractButton, QAbstractItemView, QComboBox, QLineEdit, QPlainTextEdit)
"""What is one stop, whatever is inside it."""


def follow(part: QWidget) -> None:
    """Put the stops of a part in the order they stand in; Qt's is the order they were made in."""
    stops = list(stops_of(part))
    if stops != list(_chained(stops)):
        for before, after in pairwise(stops):
            QWidget.setTabOrder(before, after)


def stops_of(part: QWidget) -> Iterator[QWidget]:
    """Yield what takes the keyboard by Tab, in the order it stands in."""
    if part.isHidden():
        return
    if part.focusPolicy() & Qt.FocusPolicy.TabFocus:
        yield part
    if isinstance(part, WHOLE):
        return
    if isinstance(part, QScrollArea):
        yield from _inside(part.widget())
    elif isinstance(part, QStackedWidget):
        yield from _inside(part.currentWidget())
    else:
        layout = part.layout()
        if layout is not None:
            yield from _laid(layout)


def _inside(part: QWidget | None) -> Iterator[QWidget]:
    if part is not None:
        yield from stops_of(part)


def _laid(layout: QLayout) -> Iterator[QWidget]:
    for place in range(layout.count()):
        item = layout.itemAt(place)
        if item is None:
            continue
        inner, widget = item.layout(), item.widget()
        if inner is not None:
            yield from _laid(inner)
        elif widget is not None:
            yield from stops_of(widget)


def _chained(stops: list[QWidget]) -> Iterator[QWidget]:
    """Yield the stops as Tab goes on from the first."""
    if not stops:
        return
    wanted, first = set(stops), stops[0]
    yield first
    at = first.nextInFocusChain()
    while at is not None and at is not first:
        if at in wanted:
            yield at
        at = at.nextInFocusChain()
