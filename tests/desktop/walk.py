"""What is looked at in every widget of a window: names, sizes, plain text, nothing cut off."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QFontMetrics
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QAbstractSpinBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QMenuBar,
    QSplitterHandle,
    QWidget,
)

LEAST_TARGET = 24
"""WCAG 2.2, 2.5.8, target size (minimum) [px]."""
TARGETS = (QAbstractButton, QLineEdit, QComboBox, QAbstractSpinBox)


def seen(window: QWidget) -> Iterator[QWidget]:
    """Yield every widget of a window that shows."""
    yield from (one for one in window.findChildren(QWidget) if one.isVisible())


def name_of(widget: QWidget) -> str:
    """Return what a screen reader says."""
    interface = QAccessible.queryAccessibleInterface(widget)
    return interface.text(QAccessible.Text.Name) if interface is not None else ""


def described(widget: QWidget) -> str:
    """Return enough of a widget to find it by."""
    parents, one = [], widget.parentWidget()
    while one is not None and len(parents) < 3:
        parents.append(type(one).__name__)
        one = one.parentWidget()
    text = widget.text() if isinstance(widget, QLabel | QAbstractButton) else ""
    return (
        f"{type(widget).__name__} {text!r} in {' in '.join(parents)} at {widget.size().toTuple()}"
    )


def nameless(window: QWidget) -> list[str]:
    """Return what takes the keyboard and has no name."""
    return [
        described(one)
        for one in seen(window)
        if one.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not isinstance(one, QSplitterHandle | QMenuBar)
        and not name_of(one).strip()
    ]


def too_small(window: QWidget) -> list[str]:
    """Return targets one would miss."""
    return [
        described(one)
        for one in seen(window)
        if isinstance(one, TARGETS)
        and not isinstance(one.parentWidget(), QLineEdit)
        and min(one.width(), one.height()) < LEAST_TARGET
    ]


def marked_up(window: QWidget) -> list[str]:
    """Return labels that would read what a person typed as markup."""
    return [
        described(one)
        for one in window.findChildren(QLabel)
        if one.textFormat() is not Qt.TextFormat.PlainText and one.pixmap().isNull()
    ]


def cut_off(window: QWidget) -> list[str]:
    """Return labels and buttons whose words do not fit."""
    return [described(one) for one in seen(window) if _is_cut(one)]


def _is_cut(widget: QWidget) -> bool:
    if isinstance(widget, QLabel) and widget.text():
        if widget.wordWrap():
            return widget.height() + 1 < widget.heightForWidth(widget.width()) or (
                _longest_word(widget) > widget.width() + 1
            )
        return widget.width() + 1 < _wide(widget, widget.text())
    if isinstance(widget, QAbstractButton) and widget.text():
        if widget.hasHeightForWidth():
            # It breaks its words into lines itself.
            return widget.height() + 1 < widget.heightForWidth(widget.width())
        lines = widget.text().replace("&&", "&").splitlines()
        return any(widget.width() + 1 < _wide(widget, line) for line in lines)
    return False


def _wide(widget: QWidget, text: str) -> int:
    return QFontMetrics(widget.font()).horizontalAdvance(text)


def _longest_word(label: QLabel) -> int:
    return max((_wide(label, word) for word in label.text().split()), default=0)


def off_the_edge(window: QWidget) -> list[str]:
    """Return widgets that stick out of their parents, unless the parent scrolls."""
    return [
        described(one)
        for one in seen(window)
        if (parent := one.parentWidget()) is not None
        and not isinstance(parent, QAbstractScrollArea)
        and not isinstance(parent.parentWidget(), QAbstractScrollArea)
        and one.isVisibleTo(window)
        and not one.isWindow()
        and not parent.rect().adjusted(-1, -1, 1, 1).contains(one.geometry())
    ]


def labels(window: QWidget) -> list[QLabel]:
    """Return every label that shows."""
    return [one for one in seen(window) if isinstance(one, QLabel)]
