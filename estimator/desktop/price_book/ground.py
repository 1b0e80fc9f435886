"""Where the parts of the page lie: shelves, the middle, details."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLayout,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from estimator.desktop.language import _
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.desktop.widgets.words import words

SHARES = (256, 750, 360)
"""Widths at 1366; what is more goes to the middle. [px]"""
LEAST = (224, 480, 300)


def column(*parts: QWidget | QLayout, role: str = "column") -> QFrame:
    """Return a column with parts one below another."""
    frame = QFrame()
    frame.setProperty("role", role)
    layout = QVBoxLayout(frame)
    layout.setContentsMargins(20, 16, 20, 16)
    layout.setSpacing(8)
    for part in parts:
        if isinstance(part, QLayout):
            layout.addLayout(part)
        else:
            layout.addWidget(part)
    return frame


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
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setWidget(widget)
    return area


def side_by_side(*columns: QWidget) -> QSplitter:
    """Return three columns; the middle one grows."""
    splitter = QSplitter(Qt.Orientation.Horizontal)
    splitter.setHandleWidth(1)
    splitter.setChildrenCollapsible(False)
    for place, part in enumerate(columns):
        part.setMinimumWidth(LEAST[place])
        splitter.addWidget(part)
        splitter.setStretchFactor(place, 1 if place == 1 else 0)
    splitter.setSizes(list(SHARES))
    return splitter


class LeftColumn(QFrame):
    """What the page is, its shelves, and what is done to many rates at once."""

    def __init__(self, shelves: QWidget, parent: QWidget | None = None) -> None:
        """Lay out around the list of shelves."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self.summary = words(role="second")
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


class RatesPane(QFrame):
    """The middle: what is shown, the table, and what was last done."""

    def __init__(self, table: QWidget, parent: QWidget | None = None) -> None:
        """Lay out around the table."""
        super().__init__(parent)
        self.setProperty("role", "middle")
        self.heading = words(role="heading", wrap=False)
        self.count = words(role="second", wrap=False)
        self.own = button(_("These are ours"))
        self.own.setToolTip(_("Space"))
        self.said = words(role="second")
        self.undo = quiet_button(_("Take back"))
        self.empty = words(role="second")
        self.empty.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.empty.setContentsMargins(20, 8, 20, 8)
        top = across(self.heading, self.count, None, self.own, spacing=12)
        top.setContentsMargins(20, 0, 20, 0)
        foot = across(self.said, self.undo)
        foot.setStretch(0, 1)
        foot.setContentsMargins(20, 0, 20, 0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 12, 0, 8)
        layout.setSpacing(8)
        layout.addLayout(top)
        layout.addWidget(self.empty)
        layout.addWidget(table, 1)
        layout.addLayout(foot)


def _row_button(text: str) -> QPushButton:
    made = QPushButton(text)
    made.setAutoDefault(False)
    made.setProperty("role", "row")
    return made
