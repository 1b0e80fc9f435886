"""One drawing of a wall as it will look; several beside each other are looked at as one."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QWidget

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.impression_strokes import KeptImpression
from estimator.desktop.wall.lookout import Lookout
from estimator.desktop.wall.view import View
from estimator.drawing.impression import Impression
from estimator.drawing.shapes import Picture

TAKES = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
LEAST_WIDE, LEAST_HIGH = 110, 150
SKY_PX = 20
"""Room over a wall that is not taller than its drawing [px]."""
REST_MS = 60
"""How long a view has to rest before it is painted sharp."""


class ImpressionView(Lookout):
    """Paints what will show, and is zoomed and moved like the wall."""

    taken = Signal()
    """It was clicked, or Enter was pressed on it."""
    stepped = Signal(int)
    """The arrow keys ask for the drawing before (-1) or after (1)."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with nothing to see."""
        super().__init__(parent)
        self.setMinimumSize(LEAST_WIDE, LOOK.px(LEAST_HIGH))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.impression: Impression | None = None
        self.is_chosen = False
        self._kept = KeptImpression()
        self.rest = QTimer(self)
        """Runs while the view moves; what is seen is painted sharp when it has stopped."""
        self.rest.setSingleShot(True)
        self.rest.setInterval(REST_MS)
        self.rest.timeout.connect(self.update)
        self.view_changed.connect(self.rest.start)
        LOOK.changed.connect(self._look_anew)

    def _look_anew(self) -> None:
        self.setMinimumHeight(LOOK.px(LEAST_HIGH))
        self.update()

    def show_impression(self, picture: Picture, seen: Impression) -> None:
        """Show a wall as it will look; the picture says what the view has to hold."""
        self.impression = seen
        self.look_at(picture)
        self.update()

    def fill(self, width: int) -> None:
        """Be no taller than the wall is when it fills a width: the rest would only be sky [px].

        The width is told from outside. Its own changes with the bar the drawings are scrolled by,
        which comes and goes with their height: it would never come to rest.
        """
        if self.picture is None:
            return
        left, bottom, right, top = self.picture.masonry.bounds
        work = self.picture.work
        near = width / (right - left if work is None else work[2] - work[0])
        scale = max(near, width / (right - left))
        tall = round((top - bottom) * scale) + LOOK.px(SKY_PX)
        self.setMaximumHeight(max(tall, self.minimumHeight()))

    def follow(self, seen: View, *, fitted: bool) -> None:
        """Look from where another drawing is looked from, which nobody has moved where fitted."""
        self._glide.stop()
        self._is_fitted = fitted
        self._look_from(seen)

    @property
    def is_fitted(self) -> bool:
        """Whether nobody has moved the view yet."""
        return self._is_fitted

    def set_chosen(self, *, chosen: bool) -> None:
        """Show whether this is the option whose ladder stands beside."""
        if chosen != self.is_chosen:
            self.is_chosen = chosen
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Choose, go to the next drawing, or leave the key to the view."""
        key, is_shifted = event.key(), event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        if key in TAKES:
            self.taken.emit()
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right) and not is_shifted:
            self.stepped.emit(1 if key == Qt.Key.Key_Right else -1)
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Choose where nothing was dragged."""
        was_dragged = self._is_dragged
        super().mouseReleaseEvent(event)
        if not was_dragged and event.button() == Qt.MouseButton.LeftButton:
            self.taken.emit()

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Show the ring."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Take the ring away."""
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint the wall and its frame."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.picture is not None and self.view is not None and self.impression is not None:
            what = painter, self.picture.masonry, self.impression, self.view
            if not self.rest.isActive() or not self._kept.paint_moving(*what):
                self._kept.paint(*what)
        wide = 3 if self.hasFocus() else 1
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(LOOK.colour("act" if self.hasFocus() else "edge"), wide))
        painter.drawRect(QRectF(self.rect()).adjusted(wide / 2, wide / 2, -wide / 2, -wide / 2))
        painter.end()
