"""Columns side by side that grow with the type, as far as the window has room."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QSplitter, QWidget

from estimator.desktop.theme.look import LOOK

LEAST_GROWTH, GROWTH = 0.25, 0.5
"""How much of what the type grows by is added to a column: surely, and where there is room."""


class SideBySide(QSplitter):
    """Three columns; the middle one takes what is left."""

    def __init__(
        self, columns: Sequence[QWidget], *, shares: Sequence[int], least: Sequence[int]
    ) -> None:
        """Lay columns out by their usual and least widths at the usual type [px]."""
        super().__init__(Qt.Orientation.Horizontal)
        self._columns = tuple(columns)
        self._shares, self._least = tuple(shares), tuple(least)
        self._scale = 0.0
        self.setHandleWidth(1)
        self.setChildrenCollapsible(False)
        for place, part in enumerate(self._columns):
            self.addWidget(part)
            self.setStretchFactor(place, 1 if place == 1 else 0)
        self._fit()
        LOOK.changed.connect(self._fit)

    def _fit(self) -> None:
        if LOOK.scale == self._scale:
            return
        self._scale = LOOK.scale
        for place, least in enumerate(self._least):
            grown = 1.0 if place == 1 else 1 + LEAST_GROWTH * (LOOK.scale - 1)
            self._columns[place].setMinimumWidth(round(least * grown))
        grown = 1 + GROWTH * (LOOK.scale - 1)
        left, middle, right = (round(share * grown) for share in self._shares)
        room = self.width() - left - right
        self.setSizes([left, room if self.isVisible() and room > 0 else middle, right])
