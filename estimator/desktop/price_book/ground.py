"""Where the parts of the page lie: shelves, the middle, details."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from estimator.desktop.language import _
from estimator.desktop.widgets.following import Following
from estimator.desktop.widgets.side_by_side import SideBySide
from estimator.desktop.widgets.words import hairline, words

SHARES = (236, 790, 340)
"""Widths at 1366; what is more goes to the middle. [px]"""
LEAST = (224, 480, 300)


def across(*parts: QWidget | None, spacing: int = 8) -> QHBoxLayout:
    """Return parts beside one another; None takes what room is left."""
    row = QHBoxLayout()
    row.setSpacing(spacing)
    for part in parts:
        if part is None:
            row.addStretch(1)
        else:
            row.addWidget(part)
    return row


def scrolled(widget: QWidget) -> QScrollArea:
    """Return something in a frame that scrolls up and down where it is too high."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    # What is in it takes the keyboard, and is scrolled to.
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setWidget(widget)
    Following(area)
    return area


def side_by_side(*columns: QWidget) -> QSplitter:
    """Return three columns; the middle one grows."""
    return SideBySide(columns, shares=SHARES, least=LEAST)


class LeftColumn(QFrame):
    """What the page is, its shelves, and what is done to many rates at once."""

    def __init__(self, shelves: QWidget, parent: QWidget | None = None) -> None:
        """Lay out around the list of shelves."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self.summary = words(role="second", wrap=False)
        self.hour = _row_button(_("What an hour costs"))
        self.take_in = _row_button(_("Take a price list in…"))
        self.uplift = _row_button(_("Raise prices by per cent"))
        self.export = _row_button(_("Write the prices out…"))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 16, 12, 12)
        layout.setSpacing(4)
        heading = words(_("Price book"), role="heading")
        for part in (heading, self.summary):
            part.setContentsMargins(8, 0, 8, 0)
            layout.addWidget(part)
        layout.addSpacing(8)
        layout.addWidget(shelves, 1)
        for act in self.acts:
            layout.addWidget(act)

    @property
    def acts(self) -> tuple[QPushButton, ...]:
        """What can be done, from the top."""
        return (self.hour, self.take_in, self.uplift, self.export)


def _row_button(text: str) -> QPushButton:
    made = QPushButton(text)
    made.setAutoDefault(True)
    made.setProperty("role", "row")
    return made


def reason() -> QLineEdit:
    """Return the field that asks why a figure changes."""
    made = QLineEdit()
    made.setPlaceholderText(_("Why it changes, if worth noting"))
    made.setAccessibleName(_("Why it changes"))
    made.setMaxLength(200)
    return made


def stacked(pane: QWidget, *parts: QWidget | QLayout) -> None:
    """Lay parts of a middle pane out one below another; a table takes the room that is left."""
    layout = QVBoxLayout(pane)
    layout.setContentsMargins(0, 16, 0, 16)
    layout.setSpacing(12)
    for part in parts:
        if isinstance(part, QLayout):
            part.setContentsMargins(20, 0, 20, 0)
            layout.addLayout(part)
        elif isinstance(part, QAbstractItemView):
            layout.addWidget(part, 1)
        else:
            part.setContentsMargins(20, 0, 20, 0)
            layout.addWidget(part)


def right_column(details: QWidget, why: QWidget, effect: QWidget) -> QFrame:
    """Return the right column: details that scroll, over what a change does to the open job."""
    told = QWidget()
    inside = QVBoxLayout(told)
    inside.setContentsMargins(20, 16, 20, 16)
    inside.addWidget(details)
    inside.addStretch(1)
    foot = QVBoxLayout()
    foot.setContentsMargins(20, 0, 20, 0)
    foot.setSpacing(12)
    for part in (why, hairline(), effect):
        foot.addWidget(part)
    right = QFrame()
    right.setProperty("role", "column")
    column = QVBoxLayout(right)
    column.setContentsMargins(0, 0, 0, 16)
    column.setSpacing(12)
    column.addWidget(scrolled(told), 1)
    column.addLayout(foot)
    return right
