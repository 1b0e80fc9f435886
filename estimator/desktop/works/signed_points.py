"""Hold points of the places that are ticked: looked at, and by whom."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.contract.works import Feature
from estimator.desktop.agreed.fields import Ticked
from estimator.desktop.language import _
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.words import words
from estimator.survey.limits import LETTERS
from estimator.works.as_built import BuiltMark

Point = tuple[Feature, str]
"""A hold point by what it makes sure of, in words: alike at many places."""


class SignedPoints(QWidget):
    """A tick to each point, and who signs for all of them; nothing where there are none."""

    changed = Signal()
    """Another is ticked."""

    def __init__(self) -> None:
        """Begin without points."""
        super().__init__()
        self.points: dict[Point, Ticked] = {}
        self.by = Written(_("Who signs"), most=LETTERS["name"])
        self._signed: set[Point] = set()
        self._list = QVBoxLayout()
        self._list.setSpacing(0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(words(_("Looked at and signed for"), role="strong"))
        layout.addLayout(self._list)
        layout.addWidget(self.by)
        self.hide()

    @property
    def signed(self) -> set[Point]:
        """The points that are ticked."""
        return {point for point, row in self.points.items() if row.is_on}

    def show_of(self, marks: Iterable[BuiltMark]) -> None:
        """Ask for the points still open at some places."""
        points = dict.fromkeys(
            (point.feature, point.text) for one in marks for point in one.missing
        )
        if list(points) != list(self.points):
            self._fill(points)
        self.setVisible(bool(points))

    def forget(self) -> None:
        """Take all ticks off."""
        self.show_told([])

    def told(self) -> list[list[str]]:
        """Return what is ticked, to be kept while it is not noted yet."""
        return sorted([feature.value, text] for feature, text in self._signed)

    def show_told(self, told: Any) -> None:
        """Show what ``told`` returned once."""
        self._signed = {(Feature(feature), text) for feature, text in told}
        for point, row in self.points.items():
            row.tick(on=point in self._signed)

    def _fill(self, points: Iterable[Point]) -> None:
        for row in self.points.values():
            self._list.removeWidget(row)
            row.hide()
            row.deleteLater()
        self.points.clear()
        for point in points:
            row = Ticked(point[1], ticked=point in self._signed)
            row.changed.connect(partial(self._ticked, point, row))
            self._list.addWidget(row)
            self.points[point] = row

    def _ticked(self, point: Point, row: Ticked) -> None:
        (self._signed.add if row.is_on else self._signed.discard)(point)
        self.changed.emit()
