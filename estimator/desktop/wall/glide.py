"""A short way from one view to the next, so that nobody loses the place."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEasingCurve, QVariantAnimation
from PySide6.QtWidgets import QStyle, QWidget

from estimator.desktop.wall.view import View

LONGEST_MS = 140


class Glide:
    """Moves a view in small steps; at once where the system wants no motion."""

    def __init__(self, owner: QWidget, show: Callable[[View], None]) -> None:
        """Show views on an owner."""
        self._owner, self._show = owner, show
        self._start: View | None = None
        self.end: View | None = None
        """Where it is going; None while nothing moves."""
        self._motion = QVariantAnimation(owner)
        self._motion.setStartValue(0.0)
        self._motion.setEndValue(1.0)
        self._motion.setEasingCurve(QEasingCurve.Type.OutCubic)
        self._motion.valueChanged.connect(self._between)
        self._motion.finished.connect(self._arrive)

    def to(self, start: View | None, end: View) -> None:
        """Go from one view to another."""
        self.stop()
        hint = QStyle.StyleHint.SH_Widget_Animation_Duration
        lasts = min(self._owner.style().styleHint(hint, None, self._owner), LONGEST_MS)
        if start is None or lasts <= 0 or not self._owner.isVisible():
            self._show(end)
            return
        self._start, self.end = start, end
        self._motion.setDuration(lasts)
        self._motion.start()

    def stop(self) -> None:
        """Stay where it is."""
        self._motion.stop()
        self._start = self.end = None

    def _between(self, share: float) -> None:
        start, end = self._start, self.end
        if start is None or end is None:
            return
        self._show(
            View(
                start.left_mm + (end.left_mm - start.left_mm) * share,
                start.top_mm + (end.top_mm - start.top_mm) * share,
                start.per_mm + (end.per_mm - start.per_mm) * share,
            )
        )

    def _arrive(self) -> None:
        end, self._start, self.end = self.end, None, None
        if end is not None:
            self._show(end)
