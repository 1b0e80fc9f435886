"""Hours quoted against hours booked, kind of work by kind of work, as small bars."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import _, in_full
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import words
from estimator.desktop.works import wording
from estimator.desktop.works.state import Took

HIGH, TRACK = 10, 4
"""Height of a bar, and of the track under it. [px]"""
NONE = Decimal(0)


class TookBar(QWidget):
    """The quoted hours as a track with its end marked, the booked ones as a bar over it."""

    def __init__(self, quoted: Decimal, booked: Decimal, most: Decimal) -> None:
        """Draw both to one scale.

        Args:
            quoted: Hours quoted. [h]
            booked: Hours booked. [h]
            most: The most hours any bar beside it shows. [h]
        """
        super().__init__()
        self._quoted, self._booked = (
            float(one / most) if most else 0.0 for one in (quoted, booked)
        )
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        LOOK.changed.connect(self._fit)
        self._fit()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        wide, high = float(self.width()), float(self.height())
        track, end = LOOK.px(TRACK), max(LOOK.px(2), 2)
        painter.setBrush(LOOK.colour("rule"))
        painter.drawRect(QRectF(0, (high - track) / 2, wide * self._quoted, track))
        is_over = self._booked > self._quoted
        painter.setBrush(LOOK.colour("caution" if is_over else "act"))
        painter.drawRect(QRectF(0, high / 4, wide * self._booked, high / 2))
        # The mark of what was quoted stays in sight under a bar that is longer.
        painter.setBrush(LOOK.colour("ink"))
        painter.drawRect(QRectF(min(wide * self._quoted, wide) - end, 0, end, high))
        painter.end()

    def _fit(self) -> None:
        self.setFixedHeight(LOOK.px(HIGH))
        self.update()


class TookBars(QWidget):
    """A line of words and a bar to each kind of work."""

    def __init__(self) -> None:
        """Begin empty."""
        super().__init__()
        self._parts: list[QWidget] = []
        self._told: Sequence[Took] = ()
        self.lines: tuple[str, ...] = ()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 8)
        self._layout.setSpacing(3)

    def show_took(self, took: Sequence[Took]) -> None:
        """Show other hours."""
        if took == self._told and self._parts:
            return
        self._told = took
        for part in self._parts:
            self._layout.removeWidget(part)
            part.hide()
            part.deleteLater()
        self._parts = []
        self.lines = tuple(said(one) for one in took)
        most = max((max(one.quoted, one.booked) for one in took), default=NONE)
        for one, text in zip(took, self.lines, strict=True):
            label = words(text, role="second")
            self._parts += [label, TookBar(one.quoted, one.booked, most)]
        for part in self._parts:
            self._layout.addWidget(part)


def said(one: Took) -> str:
    """Return hours quoted and booked of one kind of work, in words."""
    gaps = {
        "what": in_full(one.title),
        "booked": wording.hours(one.booked),
        "quoted": wording.hours(one.quoted),
    }
    if not one.booked:
        return _("{what}: {quoted} quoted").format(what=gaps["what"], quoted=gaps["quoted"])
    if one.booked > one.quoted:
        return _("{what}: {booked}, more than the {quoted} quoted").format(**gaps)
    return _("{what}: {booked} of {quoted} quoted").format(**gaps)
